"""Slide, bench and pupil in inches where the head is marked in them, or where no head says otherwise."""

from __future__ import annotations

import re
from typing import Any

import pytest
from cases import HEAD, solve, text_of

from forescale.engine.answer import Answer
from forescale.engine.answer.natural_step import stepped
from forescale.engine.bench.bench_entry import read_slide
from forescale.engine.bench.bench_report import report
from forescale.engine.bench.pupil_store import zero_to_set
from forescale.engine.compare.differences import chief_answers
from forescale.engine.findings.words import Words
from forescale.engine.kit.profiles import Head
from forescale.engine.kit.slide_scale import SlideScale, marked_in_inches, scale_of
from forescale.engine.sheet.text import sheet_text
from forescale.engine.shot.records import Shot
from forescale.engine.solve.slip_check import slide_goal
from forescale.engine.units import parse_length

INCH = 25.4
INCHES: dict[str, Any] = {
    "slide_min": "0 in",
    "slide_max": "4 3/4 in",
    "slide_step": "1/16 in",
    "sensor_at_zero": "-3 1/2 in",
}


def head(changes: dict[str, Any]) -> Head:
    return Head.model_validate({"schema": 1, **HEAD, **changes})


PAN = {"move.axis": "pan", "move.sweep": "12 deg", "kit.head": "plain-head"}
ROWS = [{"slide": f"{at} in", "slip_px": slip} for at, slip in ((1, -15), (2, -4.9), (3, 5.1))]


@pytest.mark.parametrize(
    ("step", "inches"),
    [("1/16 in", True), ("1/32 in", True), ("1/8 in", True), ("1 in", True), ("1 mm", False), ("0.5 mm", False)],
)  # fmt: skip
def test_a_slide_is_marked_in_what_its_step_is_whole_in(step: str, inches: bool) -> None:
    assert marked_in_inches(head({"slide_step": step})) is inches


def test_without_a_head_bare_numbers_are_in_the_unit_the_shot_shows() -> None:
    assert (scale_of(None, "imperial").unit, scale_of(None, "metric").unit) == ("in", "mm")
    of_inches = head(INCHES)
    assert read_slide("2 1/2", of_inches, "metric") == pytest.approx(2.5 * INCH)
    assert read_slide("50 mm", of_inches, "metric") == 50
    with pytest.raises(ValueError, match=r"5 in is off the slide of plain-head, which runs 0 in to 4 3/4 in"):
        read_slide("5", of_inches, "metric")


@pytest.mark.parametrize(
    ("units", "inches", "text"),
    [
        ("metric", False, "0 mm"),
        ("imperial", False, "0 mm (0 in)"),
        ("metric", True, "0 in (0 mm)"),
        ("imperial", True, "0 in"),
    ],
)
def test_a_slide_next_to_zero_stands_at_zero(units: str, inches: bool, text: str) -> None:
    words = Words(solve(PAN | {"units": units}, head=INCHES if inches else {}))
    for mm in (0.0, 1e-9, -1e-300, 0.0004):
        assert words.reading(mm) == words.slide(mm).replace("0.000 in", "0 in") == text


def test_one_reading_has_one_size_in_inches() -> None:
    """61.1 mm are 2.4055 in, and so is 61.06 mm where it is told as 61.1, though it alone would be 2.404."""
    words = Words(solve(PAN | {"units": "imperial"}, head={}))
    assert words.reading(61.1) == words.slide(61.06) == words.slide_text("61.1", 61.06) == "61.1 mm (2.41 in)"


@pytest.mark.parametrize(("mm", "text"), [(2.4375 * INCH, "2 7/16 in"), (62.1, "2.4449 in"), (-INCH / 2, "-1/2 in")])
def test_a_mark_is_told_as_a_fraction_and_what_lies_between_in_decimals(mm: float, text: str) -> None:
    assert SlideScale(inches=True).mark(mm) == text


def test_a_reading_typed_in_inches_is_told_to_a_hundredth_of_a_millimetre() -> None:
    found = solve(PAN | {"move.slide": "2 7/16 in"}, head={})  # 61.9125 mm
    assert Words(found).reading(2.4375 * INCH) == "61.91 mm"
    assert SlideScale(inches=False).mark(2.4375 * INCH, 9) == "61.9125 mm"  # an entry goes on from what was typed


def inch_bench(**more: Any) -> Answer:
    return solve({**PAN, "bench": ROWS, "move.slide": "2 in", **more}, head=INCHES)


def test_the_bench_the_findings_and_the_pupil_speak_the_heads_inches() -> None:
    found = inch_bench()
    told = " ".join(text for text, _ in report(found)) + text_of(found, "slip-over")
    assert re.search(r"Zero at 2\.\d\d\d in ± ", told)
    assert re.search(r"Entrance pupil \d\.\d+ in ahead of the sensor plane", told)
    assert not re.search(r"\d mm", told.replace("25 mm at", "").replace("300 mm", ""))
    goal = slide_goal(found)
    assert goal is not None
    assert goal.place_text.endswith(" in")
    assert chief_answers(found)["best slide"] == goal.place_text
    assert isinstance(found.setting, Shot)
    assert re.search(r"Slope read \.+ \d+\.\d+ px an inch +the geometry says \d", sheet_text(found.setting, found))
    assert goal.to_set_mm == pytest.approx(float(goal.place_text.removesuffix(" in")) * INCH, abs=1e-9)
    assert zero_to_set(found)[0] / INCH == pytest.approx(round(zero_to_set(found)[0] / INCH, 4), abs=1e-9)
    assert Words(found).reading(2 * INCH) == "2 in (50.8 mm)"  # a metric shot has its own beside it


def test_a_step_is_the_heads_own() -> None:
    held = stepped(inch_bench(), "move.slide", 1, large=False)
    assert parse_length(held) == pytest.approx(2.0625 * INCH)
    assert (
        stepped(solve(PAN | {"move.slide": "60 mm"}, head={"slide_step": "0.5 mm"}), "move.slide", -1, large=False)
        == "59.5 mm"
    )
