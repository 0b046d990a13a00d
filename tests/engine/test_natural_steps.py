"""One step of a field, by hand: thirds of a stop of light, whole rates where a mode runs at any, steps of sharpness."""

from __future__ import annotations

import pytest
from cases import solve

from forescale.engine.answer.natural_step import stepped


def step_from(path: str, value: object, direction: int, large: bool = False) -> object:
    """Return what a file would hold at a path after a step from a value, on a mode that runs at any whole rate."""
    found = solve({path: value}, mode={"fps": {"min": 6, "max": 120}})
    return stepped(found, path, direction, large=large)


@pytest.mark.parametrize("path", ["light.available", "light.at_background"])
def test_light_goes_by_thirds_of_a_stop_and_by_whole_stops(path: str) -> None:
    assert step_from(path, "20000 lx", +1) == "25200 lx"  # the cube root of two more, to three digits
    assert step_from(path, "20000 lx", -1) == "15900 lx"
    assert step_from(path, "20000 lx", +1, large=True) == "40000 lx"
    assert step_from(path, "20000 lx", -1, large=True) == "10000 lx"


def test_a_free_rate_goes_to_the_next_whole_one_within_the_mode() -> None:
    assert step_from("action.fps", 60, +1) == 61
    assert step_from("action.fps", 60, -1) == 59
    assert step_from("action.fps", 59.94, +1) == 60
    assert step_from("action.fps", 59.94, -1) == 59
    assert step_from("action.fps", 60, +1, large=True) == 63
    assert step_from("action.fps", 119, +1, large=True) == 120
    assert step_from("action.fps", 7, -1, large=True) == 6


@pytest.mark.parametrize(
    ("sharpness", "up", "down", "far_up", "far_down"),
    [
        ("diagonal/1500", "diagonal/1600", "diagonal/1400", "diagonal/2000", "diagonal/1000"),
        ("diagonal/4950", "diagonal/5000", "diagonal/4850", "diagonal/5000", "diagonal/4450"),
        ("diagonal/550", "diagonal/650", "diagonal/500", "diagonal/1050", "diagonal/500"),
        ("2 px", "2.25 px", "1.75 px", "3 px", "1 px"),
        ("0.5 px", "0.75 px", "0.25 px", "1.5 px", "0.25 px"),
        ("0.025 mm", "0.026 mm", "0.024 mm", "0.03 mm", "0.02 mm"),
        ("0.002 mm", "0.003 mm", "0.001 mm", "0.007 mm", "0.001 mm"),
    ],
)
def test_sharpness_steps_in_what_it_is_said_in(sharpness: str, up: str, down: str, far_up: str, far_down: str) -> None:
    assert step_from("focus.sharpness", sharpness, +1) == up
    assert step_from("focus.sharpness", sharpness, -1) == down
    assert step_from("focus.sharpness", sharpness, +1, large=True) == far_up
    assert step_from("focus.sharpness", sharpness, -1, large=True) == far_down


def test_a_tape_goes_by_five_centimetres_and_ten_times_as_much_far_off() -> None:
    assert step_from("place.background", "20 m", +1) == "20.05 m"
    assert step_from("place.background", "20 m", -1, large=True) == "19.5 m"
    assert step_from("place.background", "29.95 m", +1) == "30 m"
    assert step_from("place.background", "30 m", +1) == "30.5 m"
    assert step_from("place.background", "50 m", +1) == "50.5 m"
    assert step_from("place.background", "50 m", +1, large=True) == "55 m"


@pytest.mark.parametrize(
    ("stop", "up", "down", "far_up"),
    [("f/5.6", "f/6.3", "f/5", "f/8"), ("f/22", "f/22", "f/20", "f/22"), ("f/2", "f/2.2", "f/2", "f/2.8"),
     ("f/=6", "f/6.3", "f/5.6", "f/8"), ("T5.6", "f/6.3", "f/5", "f/8")],
)  # fmt: skip
def test_a_stop_goes_along_the_lens_own_marks(stop: str, up: str, down: str, far_up: str) -> None:
    """By thirds, or by whole stops; from between two marks to the next; a T on a lens marked in f by its f."""
    found = [step_from("focus.stop", stop, way, large) for way, large in ((+1, False), (-1, False), (+1, True))]
    assert found == [up, down, far_up]


def test_a_stop_of_the_other_kind_is_first_brought_to_the_lens_marks() -> None:
    """One stop of loss makes f/8 a T11, from which a third on is T13, and back T10."""
    found = solve(
        {"focus.stop": "f/8"}, lens={"marks": "T", "widest": "T2", "smallest": "T22", "transmission_loss": 1.0}
    )
    assert [stepped(found, "focus.stop", way, large=False) for way in (+1, -1)] == ["T13", "T10"]


def test_a_large_step_past_the_least_is_a_small_one() -> None:
    """Five seconds less than five seconds is no time, and a thousandth of a millisecond is none that anyone wants."""
    of = solve({"move.screen_time": "5 s"})
    assert stepped(of, "move.screen_time", -1, large=True) == "4.5 s"
