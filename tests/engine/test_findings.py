"""Every finding in a shot made for it, with its numbers by hand, and its absence in the good shot beside it."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest
from cases import codes, fields_of, solve, text_of
from hypothesis import given
from shown import PAN, Shown, slips
from shown_all import SHOWN
from strategies import kits, shot_changes

from forescale.engine.answer import Answer, Finding
from forescale.engine.answer.jsonable import jsonable
from forescale.engine.files.faults import BadInput
from forescale.engine.findings.words import FINDINGS, Words
from forescale.engine.shot import edit
from forescale.engine.units import illuminance_text

Table = dict[str, Any]
DEFER = "follow local codes and the licensed person on set"
NAMES = [f"{shown.code} {number}" for number, shown in enumerate(SHOWN)]


@pytest.mark.parametrize("shown", SHOWN, ids=NAMES)
def test_a_finding_appears_in_the_shot_made_for_it_with_its_numbers(shown: Shown) -> None:
    found = shown.answer()
    text = text_of(found, shown.code)
    for words in shown.says:
        assert re.search(rf"(?<![\d.]){re.escape(words)}(?!\d|\.\d)", text), (words, text)  # no number cut short
    assert {finding.level for finding in found.findings if finding.code == shown.code} == {shown.level}


@pytest.mark.parametrize("shown", SHOWN, ids=NAMES)
def test_a_finding_is_gone_in_the_good_shot_beside_it(shown: Shown) -> None:
    assert shown.code not in codes(shown.neighbour())


def test_readings_with_other_kit_are_said_to_be_left_out() -> None:
    rows = slips((40, -2), (60, 0), (80, 2))
    rows[1]["lens"] = "another-lens"
    found = solve(PAN | {"bench": rows}, head={})
    assert text_of(found, "bench-other-kit").startswith("Reading 2 was taken with another lens")
    assert "bench-other-kit" not in codes(solve(PAN | {"bench": slips((40, -2), (60, 0), (80, 2))}, head={}))


def test_every_finding_that_the_program_can_utter_is_tried() -> None:
    assert set(FINDINGS) - {"bench-other-kit"} == {shown.code for shown in SHOWN}


def test_the_gravest_come_first_and_within_a_level_the_panes_order() -> None:
    found = solve({"action.fps": 48, "place.model": "3530 mm", "focus.stop": "f/4", "light.mains": 50})
    levels = [finding.level for finding in found.findings]
    assert levels == sorted(levels, key=["stop", "warn", "note", "ok"].index)
    assert [finding.pane for finding in found.findings if finding.level == "stop"][:2] == ["scale", "speed"]
    assert found.stopped
    assert not solve().stopped


# What holds for any shot

PANES = ["scale", "speed", "focus", "slip"]


def is_path(found: Answer, path: str) -> bool:
    """Whether a path leads to a section or a field of the shot."""
    try:
        edit.value_at(found.setting, path)
    except AttributeError:
        return False
    return True


def check(found: Answer, finding: Finding) -> None:
    assert finding.text
    for text in (finding.text, finding.short):
        assert "\n" not in text
        assert text == text.strip()
        assert not re.search(r"\b(nan|inf|None|null)\b", text), text
        assert not re.search(r"\de[+-]?\d", text), text  # nobody reads an exponent
    assert finding.pane in PANES
    assert finding.field == "" or is_path(found, finding.field), finding.field
    assert finding.code.startswith("caution-") == finding.text.endswith(DEFER)


def numbers(value: Any) -> list[float]:
    if isinstance(value, float):
        return [value]
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else []
    return [number for part in inner for number in numbers(part)]


@given(shot_changes(), kits())
def test_any_shot_is_answered_in_sound_sentences_or_refused_in_lines(changes: Table, kit: Table) -> None:
    if kit["head"] is not None:
        changes = changes | {"kit.head": "plain-head"}
    try:
        found = solve(changes, **kit)
    except BadInput as refusal:
        lines = refusal.lines
    else:
        lines = ()
        for finding in found.findings:
            check(found, finding)
        assert {finding.pane for finding in found.findings} == set(PANES)
        for group in (found.scale, found.lineup, found.speed, found.focus, found.light, found.slip, found.survey):
            for field_name in fields_of(group):
                value = getattr(group, field_name)
                assert not (isinstance(value, float) and math.isnan(value)), field_name
            assert all(math.isfinite(number) for number in numbers(jsonable(group)))
    assert all(line and "\n" not in line for line in lines)
    assert not any(re.search(r"\b(nan|None|Traceback)\b", line) for line in lines)


@pytest.mark.parametrize(
    ("changes", "code", "says"),
    [
        ({"action.fps": 1, "scale.ratio": "1:16"}, "rate-low", "falls over 1000 times as hard"),
        ({"action.heft": 0.1, "mode": {}}, "rate-chosen", "falls 0.16 times as hard"),
        ({"light.available": "1e7 lx", "light.iso": 1}, "light-over", "over"),
    ],
)
def test_a_number_beyond_sense_is_said_in_words(changes: Table, code: str, says: str) -> None:
    found = solve({path: value for path, value in changes.items() if path != "mode"}, mode={"fps": [1, 24, 96]})
    assert says in text_of(found, code)


def test_no_finding_writes_a_number_that_nobody_reads() -> None:
    """Stops that no meter tells, light that no lamp gives, falls beyond all measure."""
    assert Words.stops(0.04) == "under 0.1 stops"
    assert Words.stops(-0.06) == "0.1 stops"
    assert (Words.weight(999.4), Words.weight(1000), Words.weight(0.001)) == ("999", "over 1000", "under 1/1000")
    assert illuminance_text(1.1e10, "imperial") == "over a million fc"
    assert illuminance_text(1e7, "metric") == "10000000 lx"
