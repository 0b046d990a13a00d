"""One label a number: what the sheet, the list of what to set and the comparison call a number is its name in `e`."""

from __future__ import annotations

import pytest

from forescale.engine.answer import answer_file
from forescale.engine.answer.to_set import to_set
from forescale.engine.compare.differences import chief_answers
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.kit.library import shot_path
from forescale.engine.sheet.blocks import Row
from forescale.engine.sheet.sections import sections
from forescale.engine.workings import WORKINGS

NAMES = {working.name.lower() for working in WORKINGS.values()} | {field.label.lower() for field in FIELD_HELP.values()}
# Rows of several numbers, of a verdict or of none.
APART = {
    *(
        "frame at the model",
        "model must cover",
        "must be sharp",
        "is sharp",
        "contrast",
        "stop beside stop",
        "recorded",
        "angle of view",
    ),
    *(
        "pan, on set",
        "rolling-shutter skew",
        "too little",
        "too much",
        "lamps on 50 hz mains",
        "95 of 100 times within",
    ),
}
DEMOS = ("kiln-stack", "lock-gate", "signal-lamp")


@pytest.mark.parametrize("demo", DEMOS)
def test_the_sheet_calls_each_number_by_its_name(demo: str) -> None:
    shot, answer = answer_file(shot_path(demo))
    rows = [row for part in sections(shot, answer) for row in part.blocks if isinstance(row, Row)]
    assert {row.label.lower() for row in rows} <= NAMES | APART | {point.name.lower() for point in shot.point}


@pytest.mark.parametrize("demo", DEMOS)
def test_what_is_set_and_what_is_compared_go_by_the_same_names(demo: str) -> None:
    shot, answer = answer_file(shot_path(demo))
    assert {item.label.lower() for item in to_set(answer)} <= NAMES | {point.name.lower() for point in shot.point}
    assert {name.lower() for name in chief_answers(answer)} <= NAMES | {"light"}
