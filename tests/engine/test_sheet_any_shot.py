"""Whatever the shot: a sound one prints within 80 columns and never a nan; a faulty one names its field in one line."""

from __future__ import annotations

import json
import re
from typing import Any
from xml.etree import ElementTree

import pytest
from cases import solve
from hypothesis import example, given, reject
from shot_strategies import faulty_shots, worded_changes
from strategies import kits, shot_changes

from forescale.engine.answer import Answer, answer
from forescale.engine.files.faults import BadInput
from forescale.engine.kit.kit import load_kit
from forescale.engine.sheet.cells import width
from forescale.engine.sheet.data import build_csv, sheet_json
from forescale.engine.sheet.drawing.page import sheet_svg
from forescale.engine.sheet.page import sheet_html
from forescale.engine.sheet.templates.pages import sheet_templates
from forescale.engine.sheet.text import sheet_text
from forescale.engine.shot.records import Shot

COLUMNS = 80
A_FEW_SHEETS_MM = 2000  # lines of sight run on past the paper's edge, where they are clipped


def answered(changes: dict[str, Any], kit: dict[str, Any]) -> tuple[Shot, Answer]:
    """Return the shot and its answer; a shot that this kit cannot be set to is passed over, not a failure."""
    try:
        found = solve(changes, mode=kit["mode"], lens=kit["lens"], head=kit["head"])
    except BadInput:
        reject()
    assert isinstance(found.setting, Shot)
    return found.setting, found


def refuse_constant(name: str) -> None:
    raise AssertionError(f"{name} is no JSON")


@given(worded_changes(), kits())
def test_any_words_stay_within_the_columns(changes: dict[str, Any], kit: dict[str, Any]) -> None:
    lines = sheet_text(*answered(changes, kit)).split("\n")
    assert max(map(width, lines)) <= COLUMNS
    assert all(line.isprintable() for line in lines)


@given(shot_changes(), kits())
def test_any_sound_shot_says_only_numbers(changes: dict[str, Any], kit: dict[str, Any]) -> None:
    shot, found = answered(changes, kit)
    text = sheet_text(shot, found)
    assert not {"nan", "None", "inf", "-inf"} & set(re.split(r"[^\w-]+", text))
    assert max(map(width, text.split("\n"))) <= COLUMNS
    data = json.loads(sheet_json(shot, found), parse_constant=refuse_constant)
    assert data["focus"]["f_number"] == found.focus.f_number


@given(worded_changes(), kits())
def test_any_sound_shot_draws_well_formed_on_the_paper(changes: dict[str, Any], kit: dict[str, Any]) -> None:
    shot, found = answered(changes, kit)
    drawn = ElementTree.fromstring(sheet_svg(shot, found))
    named = ("x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "width", "height")
    numbers = [float(element.get(name, "0").removesuffix("mm")) for element in drawn.iter() for name in named]
    assert all(abs(number) < A_FEW_SHEETS_MM for number in numbers)
    ElementTree.fromstring(sheet_templates(shot, found).removeprefix("<!DOCTYPE html>\n"))
    ElementTree.fromstring(sheet_html(shot, found).removeprefix("<!DOCTYPE html>\n"))
    assert build_csv(shot, found).startswith("part,quantity,")


def answer_data(data: dict[str, Any]) -> None:
    shot = Shot.read(data)
    answer(shot, load_kit(shot.kit), shot.units)


@given(faulty_shots())
@example(({"schema": 1, "title": "t", "kit": {}, "place": {}}, "kit.camera"))
def test_any_faulty_shot_is_refused_by_its_field(broken: tuple[dict[str, Any], str]) -> None:
    data, field = broken
    with pytest.raises(BadInput) as refused:
        answer_data(data)
    assert all("\n" not in fault for fault in refused.value.lines)
    assert any(field in fault for fault in refused.value.lines), (field, refused.value.lines)
