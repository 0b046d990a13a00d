"""Advice and what explains a choice, each in a case by hand: which way to turn, what is offered from where on."""

from __future__ import annotations

import re
from typing import Any

import pytest
from cases import shipped, solve, text_of

from forescale.engine.answer import Answer, answer_file
from forescale.engine.compare.differences import answers_that_differ
from forescale.engine.mends import mends
from forescale.engine.sheet.text import sheet_text
from forescale.engine.survey.survey_rows import share_text
from forescale.engine.workings import explain


def offered(found: Answer, code: str) -> list[str]:
    """Return the remedies under a code, each as it is told."""
    (finding,) = (one for one in found.findings if one.code == code)
    return [mend.text for mend in mends(found, finding)]


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_head_is_turned_to_where_the_points_are(side: str) -> None:
    """Between 36 and 40 m aside at 60 m: atan(38/60), less what the near points' middle takes, is 32.4°."""
    points = [{"name": f"{at}", "distance": "60 m", "aside": f"{at} m {side}", "height": "2 m"} for at in (36, 40)]
    found = solve({"place.lens_height": "1.5 m", "point": points})
    assert f"turn the head 32.4 deg to the {side} and line up anew" in offered(found, "point-out-of-frame")


@pytest.mark.parametrize(("ratio", "larger"), [("1:4", False), ("1:16", True)])
def test_a_larger_model_is_offered_where_all_goes_more_than_twice_as_fast(ratio: str, larger: bool) -> None:
    """At 48 fps, twice the playback, a larger model would slow nothing that the background needs."""
    found = solve({"scale.ratio": ratio, "place.model": None, "build": []})
    assert found.speed.time_factor == (4 if larger else 2)
    says = "build larger: 1:4 takes half the frame rate of 1:16, and the place moves half as slowly"
    assert (says in offered(found, "background-slow")) is larger


STOPS: list[tuple[dict[str, Any], str]] = [
    ({}, "the first third of a stop at or past f/4.93"),
    ({"focus.stop": "f/8"}, "as set"),
    ({"place.model_near": "900 mm", "place.background_far": "inf"}, "the lens's smallest: none reaches f/24.45"),
]


@pytest.mark.parametrize(("changes", "why"), STOPS)
def test_a_stop_says_how_it_was_chosen(changes: dict[str, Any], why: str) -> None:
    assert explain("focus.f_number", solve(changes)).put_in.endswith(f", {why}")


def test_a_bench_read_on_one_side_is_sent_beyond_the_place() -> None:
    pan = {"move.axis": "pan", "move.sweep": "10 deg", "move.screen_time": "10 s"}
    rows = [{"slide": f"{at} mm", "slip_px": px} for at, px in ((70, 1), (80, 2), (90, 3))]
    told = text_of(solve(pan | {"bench": rows}, head={}), "bench-outside")
    assert told.endswith("to one side of the place without slip: read on beyond it, where the sign changes")


def test_a_share_is_told_with_the_pixels_that_it_is_of() -> None:
    assert share_text(0.25) == "25 % of the frame's width"
    assert share_text(0.25, "height", 1080) == "25 % of the frame's height, 270 px"


def test_an_answer_that_only_one_of_two_has_is_told_once() -> None:
    still, pan = solve(head={}), solve({"move.axis": "pan", "move.sweep": "10 deg", "move.slide": "63 mm"}, head={})
    for first, second in ((still, pan), (pan, still)):
        names = [one.what for one in answers_that_differ(first, second)]
        assert len(names) == len(set(names)) > 0
    there = {one.what: (one.first, one.second) for one in answers_that_differ(still, pan)}
    back = {one.what: (one.second, one.first) for one in answers_that_differ(pan, still)}
    assert there == back


def test_the_sheet_lists_what_turns_to_one_side_only() -> None:
    """Taped farther off than its 9 ft 4 in, the nearest part loses nothing, so "any" stands there."""
    shot, found = answer_file(shipped("shots", "kiln-stack"))
    rows = sheet_text(shot, found).split("\nTOLERANCES -")[1].split("\n\n")
    table = "\n".join(rows[:3])
    assert re.search(r"nearest part +9 ft 4 in +\S.* any ", table), table


def test_light_that_is_a_stop_short_opens_the_lens_by_one() -> None:
    """At f/11 with half the light: f/8."""
    set_so = {"focus.stop": "f/11", "focus.distance": "6 m"}
    half = f"{solve(set_so).light.lux_needed / 2!r} lx"
    assert "set f/8" in offered(solve(set_so | {"light.available": half}), "light-short")


def test_a_remedy_names_the_lamp_that_it_moves() -> None:
    lamp = {"gives": "2000 lx", "at": "3 m", "stands": "8 m"}
    lamps = [lamp | {"name": "fill"}, lamp | {"name": "key", "stands": "2 m", "size": "0.5 m"}]
    told = offered(solve({"lamp": lamps}), "lamp-near")
    assert any("key" in text for text in told), told
    assert not any("fill" in text for text in told)


def test_too_much_light_takes_back_a_raised_film_speed_before_a_filter() -> None:
    """A stop over at ISO 1600 on a base of 800 is right at 800; three stops over want two of filter besides."""
    needed = solve({"light.iso": 1600}).light.lux_needed
    by = {over: {"light.iso": 1600, "light.available": f"{needed * 2**over!r} lx"} for over in (1, 3)}
    assert offered(solve(by[1]), "light-over") == ["set ISO 800", "fit a filter of 1 stop (ND 0.3)"]
    assert offered(solve(by[3]), "light-over")[0] == "set ISO 800 and fit a filter of 2 stops (ND 0.6)"


@pytest.mark.parametrize("nd", [0, 2])
def test_a_scrim_behind_which_the_filter_is_too_dense_says_so(nd: int) -> None:
    """Just right through two stops, and the model 0.97 stops brighter than the background."""
    lux = solve().light.lux_needed * 2**nd
    light = {"light.available": f"{lux!r} lx", "light.at_background": f"{lux * 2**-0.97!r} lx", "light.nd": nd}
    told = text_of(solve(light), "light-differs")
    assert "scrim it by 0.97 stops" in told
    assert ("and lighten the ND of 2.0 stops by as much" in told) is (nd > 0)


@pytest.mark.parametrize(("lasts", "price"), [(4, "longer than the action's 4 s"), (5, None)])
def test_a_slower_move_says_that_it_outlasts_the_action(lasts: int, price: str | None) -> None:
    pan = {"move.axis": "pan", "move.sweep": "30 deg", "move.screen_time": "3 s"}
    found = solve(pan | {"action.screen_time": f"{lasts} s"})
    judder = next(one for one in found.findings if one.code == "judder")
    (slower,) = (mend for mend in mends(found, judder) if "move.screen_time" in mend.set)
    assert (slower.set["move.screen_time"], slower.price) == ("4.9 s", price)


@pytest.mark.parametrize(
    ("start", "text", "less_to"),
    [
        ("5 deg", "turn to 13 deg right from the line-up at most", {"move.sweep": "13 deg"}),
        (
            "10 deg",
            "turn to 9.3 deg right from the line-up at most and begin at 9.3 deg left",
            {"move.sweep": "9.3 deg", "move.start": "9.3 deg"},
        ),
    ],
)
def test_a_smaller_turn_counts_a_start_to_the_other_side(start: str, text: str, less_to: dict[str, str]) -> None:
    """43.47°/20° of 3 s is 6.52 s: 7 s are 18.63° in all, 13.6° beyond a start of 5°; as far to either side 9.3°."""
    sweep = "15 deg" if start == "5 deg" else "10 deg"
    pan = {"move.axis": "pan", "move.sweep": sweep, "move.start": start, "move.screen_time": "3 s"}
    found = solve(pan)
    judder = next(one for one in found.findings if one.code == "judder")
    (less,) = (mend for mend in mends(found, judder) if "move.sweep" in mend.set)
    assert (less.text, less.set) == (text, less_to)
    assert (solve({**pan, **less.set}).speed.crossing_s or 0) >= 7


def test_what_an_action_is_comes_before_the_smoke_that_it_may_make() -> None:
    found = solve({"action.kind": "fire, water"})
    notes = [one.code for one in found.findings if one.level == "note" and one.pane == "speed"]
    assert notes.index("surface-tension") < notes.index("flame") < notes.index("smoke-plume")
