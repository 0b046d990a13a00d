"""Words of the panes that hang on numbers, each in a case worked by hand."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest

from forescale.engine.answer import Answer, answer, answer_file
from forescale.engine.kit import library
from forescale.engine.shot.edit import changed
from forescale.tui.diagrams.bars import lettered
from forescale.tui.panes import arrange, each_pane
from forescale.tui.session import State, with_setting

LEVEL: dict[str, Any] = {"place.aim": None, "point": None, "outline": None, "bench": ()}


def demo(changes: dict[str, Any]) -> Answer:
    """Return the answer to the kiln stack with a level lens and these changes."""
    _, found = answer_file(library.shelf_file("shots", "kiln-stack").path)
    return answer(changed(found.setting, LEVEL | changes), found.kit, found.system)


@pytest.mark.parametrize(("slide", "says"), [("80 mm", "model outruns by"), ("40 mm", "model lags by")])
def test_what_slips_most_at_the_end_is_not_said_to_slip_on_the_way(slide: str, says: str) -> None:
    found = demo({"move.slide": slide})
    assert abs(found.slip.slip_px or 0.0) > 1.5
    assert found.slip.largest_slip_px == pytest.approx(found.slip.slip_px)
    row = each_pane.slip(found).answers[0]
    assert (row.text.startswith(says), row.text.endswith(" px"), row.key) == (True, True, "slip.slip_px")


@pytest.mark.parametrize(
    ("kind", "says"),
    [
        ("driven", "drive the model at 18.3 ft/s"),
        ("driven, falling", "gravity looks 0.96 × real"),
        ("still", "nothing falls: any rate serves"),
    ],
)
def test_how_fast_a_thing_is_driven_is_told_where_nothing_falls(kind: str, says: str) -> None:
    """60 mph at 1:24 and five times the rate: 60 · 5/24 = 12.5 mph, 18.33 ft/s; 24/25 of gravity."""
    found = demo({"action.kind": kind, "action.real_speed": "60 mph", "action.fps": 120})
    assert each_pane.speed(found).answers[0].text == says


@pytest.mark.parametrize(("shutter", "says"), [("144 deg", "flicker-free"), ("180 deg", "will flicker"), (None, "")])
def test_the_lamps_are_told_beside_the_mains(shutter: str | None, says: str) -> None:
    """Lamps on 60 Hz at 24 fps take 144°; common practice, no source."""
    mains = {} if shutter is None else {"light.mains": 60, "action.shutter": shutter}
    found = demo({"action.kind": "still", "action.fps": 24} | mains)
    (row,) = (one for one in each_pane.speed(found).more_fields if one.path == "light.mains")
    assert row.hint == says


def test_the_light_of_lamps_is_told_beside_that_which_was_metered() -> None:
    """500 lx at 3 m give 1125 at 2 m, added to what the meter read without it."""
    lamp = {"name": "key", "gives": "500 lx", "at": "3 m", "stands": "2 m"}
    found = demo({"light.available": "2000 lx", "lamp": [lamp]})
    (row,) = (one for one in each_pane.speed(found).fields if one.path == "light.available")
    over = found.light.over_stops
    assert over == pytest.approx(math.log2(3125 / found.light.lux_needed))
    assert row.hint == f"{over:+.1f} stops with lamps"


def test_water_with_a_speed_is_driven_at_it_too() -> None:
    found = demo({"action.kind": "water", "action.real_speed": "60 mph", "action.fps": 120})
    assert [row.text for row in each_pane.speed(found).answers][1] == "drive the model at 18.3 ft/s"


@pytest.mark.parametrize(
    ("near", "mark", "says"),
    [("1 ft", "9000 ft", "no stop holds the zone"), ("10 ft", "10 ft", "any stop holds the zone")],
)
def test_a_stop_beyond_all_sense_is_told_in_words(near: str, mark: str, says: str) -> None:
    far = {"place.model_near": near, "focus.distance": mark, "place.background_far": None}
    far |= {"place.background": "10 ft", "place.seems_at": "240 ft"} if near == "10 ft" else {}
    (row,) = (one for one in each_pane.focus(demo(far)).answers if one.key == "focus.stop_needed")
    assert (row.text, row.brief) == (says, "")


def test_what_the_slide_is_best_set_to_is_told_apart_from_where_it_is_set() -> None:
    (row,) = (one for one in each_pane.slip(demo({"move.slide": "38 mm"})).fields if one.path == "move.slide")
    assert re.fullmatch(r"best 6\d\.\d mm", row.hint)


def test_a_field_reads_as_its_mark_in_the_drawing() -> None:
    """Taped to a 64th, as a rig that moved may be: 16 ft 3 59/64 in is set to 16 ft 3 15/16 in."""
    shot, found = answer_file(library.shelf_file("shots", "kiln-stack").path)
    shot = with_setting(shot, changed(shot, {"place.model": "16 ft 3 59/64 in"}))
    state = State(shot, found.kit, answer(shot, found.kit, found.system))
    mark = lettered("M", state.answer.lineup.model_mm, state.answer)[0]
    assert mark == f"M {arrange.field_text(state, 'place.model')}" == "M 16 ft 3 15/16 in"


@pytest.mark.parametrize(
    ("axis", "start", "says"),
    [
        ("pan", "10 deg", ("right, 25 deg in all", "left")),
        ("tilt down", "5 deg", ("down, 20 deg in all", "up")),
        ("pan", "0 deg", ("", "")),
    ],
)
def test_a_move_to_both_sides_says_where_it_goes_and_what_it_is_in_all(
    axis: str, start: str, says: tuple[str, str]
) -> None:
    pane = each_pane.slip(demo({"move.axis": axis, "move.start": start}))
    hints = {one.path: one.hint for one in (*pane.fields, *pane.more_fields)}
    assert (hints["move.sweep"], hints["move.start"]) == says


def test_a_pupil_on_the_axis_has_no_sign_and_no_distance() -> None:
    best = demo({}).slip.slide_for_zero_mm
    told = [row.text for row in each_pane.slip(demo({"move.slide": f"{best!r} mm"})).answers]
    assert "pupil on the axis" in told
    assert not [text for text in told if "-0.0" in text]


def test_how_many_points_leave_the_frame_is_said_in_short() -> None:
    """The kiln stack's roof is lost at either side by a pan of 15 degrees."""
    _, found = answer_file(library.shelf_file("shots", "kiln-stack").path)
    (leaves,) = (one for one in found.findings if one.code == "point-leaves-frame")
    assert leaves.short == "2 points leave the frame"
    assert leaves.text.endswith("15 deg, the first of 2")
