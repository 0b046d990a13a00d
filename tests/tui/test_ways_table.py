"""The table of ways: tolerances never rounded up and all alike, columns that go, rows found, reasons in few words."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.files.faults import At, sentence
from forescale.engine.options.search import REASONS
from forescale.engine.units import UnitSystem, parse_length
from forescale.tui.tasks.frame.columns import Column, paged
from forescale.tui.tasks.ways.ways_search import in_app
from forescale.tui.tasks.ways.ways_table import BRIEF, build_text, drift_text, in_brief, place_text, rows_with

SYSTEMS = st.sampled_from(["imperial", "metric"])


@given(st.floats(1e-4, 1e5), SYSTEMS)
def test_a_tolerance_is_never_shown_as_more_than_it_is(mm: float, system: UnitSystem) -> None:
    shown = parse_length(drift_text(mm, system))
    step = 0.0254 if system == "imperial" else 0.01
    assert shown <= mm * (1 + 1e-9)
    assert shown > 0
    assert mm - shown <= max(step, mm * 0.1) * (1 + 1e-6)


@given(st.floats(0.03, 1e4), SYSTEMS)
def test_tolerances_are_written_alike(mm: float, system: UnitSystem) -> None:
    assert re.fullmatch(r"\d+\.\d{3} in" if system == "imperial" else r"\d+\.\d\d mm", drift_text(mm, system))


@pytest.mark.parametrize(
    ("mm", "system", "said"),
    [
        (0.8199, "imperial", "0.032 in"),  # a 32nd of an inch and a little; the nearest 16th would be twice that
        (0.0254, "imperial", "0.001 in"),
        (0.8199, "metric", "0.81 mm"),
        (0.004, "metric", "0.004 mm"),
        (math.inf, "metric", "any"),
    ],
)
def test_a_tolerance_in_words(mm: float, system: UnitSystem, said: str) -> None:
    assert drift_text(mm, system) == said


def test_places_and_parts_are_written_alike_in_a_column() -> None:
    assert [place_text(mm, "metric") for mm in (980, 4530, 12345)] == ["0.98 m", "4.53 m", "12.35 m"]
    assert [build_text(mm, "metric") for mm in (75.25, 750, 1500)] == ["75 mm", "750 mm", "1500 mm"]
    assert [place_text(mm, "imperial") for mm in (3048, 8178.8)] == ["10 ft", "26 ft 10 in"]
    assert build_text(None, "imperial") == "-"


def columns(scale: tuple[str, ...]) -> list[Column]:
    """A table of two rows whose modes are alike but for their ends."""
    return [
        Column("lens", "lens", ("my-zoom", "my-zoom")),
        Column("scale", "scale", scale, 2),
        Column("mode", "mode", ("4K open gate, slow", "4K open gate, fast"), 1),
        Column("camera", "camera", ("a-camera-of-long-name", "another"), 4),
        Column("stop", "stop", ("T8", "T11"), 5),
    ]


def shown(scale: tuple[str, ...], width: int) -> list[list[str]]:
    """The columns that are shown by turns in a width."""
    return [[one.id for one in page] for page in paged(in_brief(columns(scale), width), width)]


def test_a_column_that_tells_no_row_apart_goes_first_and_none_is_lost() -> None:
    assert shown(("1:24", "1:24"), 46) == [["lens", "mode", "camera", "stop"], ["lens", "scale"]]
    assert shown(("1:24", "1:16"), 46) == [["lens", "scale", "mode", "camera"], ["lens", "stop"]]
    assert shown(("1:24", "1:24"), 60) == [["lens", "scale", "mode", "camera", "stop"]]


def test_names_are_shortened_on_a_narrow_screen() -> None:
    cells = {one.id: one.cells for one in in_brief(columns(("1:24", "1:16")), 50)}
    assert cells["camera"] == ("a-camera-of…", "another")
    assert all(len(cell) <= 14 for cell in cells["mode"])
    assert in_brief(columns(("1:24", "1:16")), 140) == columns(("1:24", "1:16"))


def test_rows_are_found_by_words_in_any_order_and_column() -> None:
    found = columns(("1:24", "1:16"))
    assert rows_with(found, "") == [0, 1]
    assert rows_with(found, "FAST zoom") == [1]
    assert rows_with(found, "1:2") == [0]
    assert rows_with(found, "6") == []


def test_each_reason_has_few_words_and_no_name_of_a_file() -> None:
    assert BRIEF.keys() == REASONS.keys()
    assert max(map(len, BRIEF.values())) <= 16
    assert len(set(BRIEF.values())) == len(BRIEF)
    assert not any(re.search(r"[a-z]\.[a-z]|_", why.spelt(in_app)) for why in REASONS.values())


def test_a_sentence_calls_fields_by_their_labels_and_nothing_else() -> None:
    found = sentence(
        "without ", At("limits.build_max"), " 5 ways of my.camera would work, without ", At("scale.ratio"), " 7."
    )
    assert str(found) == "without limits.build_max 5 ways of my.camera would work, without scale.ratio 7."
    assert found.spelt(in_app) == 'without the limit "largest part" 5 ways of my.camera would work, without "scale" 7.'
