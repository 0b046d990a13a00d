"""What may be off is shown as no more than it is: with a value off by what is printed, no warning turns."""

from __future__ import annotations

import pytest

from forescale.engine.answer import Answer, answer, answer_file
from forescale.engine.kit import library
from forescale.engine.margins.sensitivity import Sensitivity, as_it_stands, sensitivity
from forescale.engine.sheet.sections.whole_shot import NOTHING, margin_cells
from forescale.engine.shot.edit import value_at
from forescale.engine.shot.records import Setting
from forescale.engine.units import UnitSystem, parse_length

SHOTS = ("kiln-stack", "lock-gate", "signal-lamp")
SYSTEMS: tuple[UnitSystem, ...] = ("imperial", "metric")


def _warnings(setting: Setting, of: Answer) -> set[str]:
    found = answer(setting, of.kit, of.system)
    # What diffraction costs turns on contrast, which a margin follows for the stop alone.
    return {said.code for said in found.findings if said.level in {"warn", "stop"} and said.code != "past-best-stop"}


def _off_by(setting: Setting, row: Sensitivity, mm: float) -> Setting:
    section, _, name = row.path.partition(".")
    record = getattr(setting, section).model_copy(update={name: value_at(setting, row.path) + mm})
    return setting.model_copy(update={section: record})


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", SHOTS)
def test_a_value_off_by_what_is_printed_turns_nothing(name: str, system: UnitSystem) -> None:
    _, of = answer_file(library.shelf_file("shots", name).path, system)
    fixed = as_it_stands(of)
    as_set = _warnings(fixed, of)
    tried = 0
    for row in sensitivity(of.setting, of.kit, system):
        less, more = margin_cells(row, system, of.kit)[2:4]
        for text, sign in ((less, -1), (more, 1)):
            if row.unit == "mm" and text != NOTHING:
                tried += 1
                assert _warnings(_off_by(fixed, row, sign * parse_length(text)), of) == as_set, (row.path, sign, text)
    assert tried > 4
