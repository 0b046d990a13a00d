"""What is set by hand is one list: complete, each thing once, with the numbers of the answer."""

from __future__ import annotations

import pytest
from cases import shipped, solve

from forescale.engine.answer import answer_file
from forescale.engine.answer.to_set import to_set

FOOT = 304.8


def test_the_demo_says_all_that_its_crew_sets() -> None:
    _, found = answer_file(shipped("shots", "kiln-stack"))
    said = {item.label: item.text for item in to_set(found)}
    assert said["Frame rate"] == "120 fps"
    assert said["Shutter"] == "180 deg"
    assert said["Lens height"] == "5 ft"
    assert said["Model at"] == "10 ft"
    assert said["Slide"] == "63 mm (2.48 in)"
    assert said["Move"] == "pan 15 deg"
    # The lens 5 ft up, the ground 1/24 of that below it: 4 ft 9 1/2 in.
    assert said["Table height"] == "4 ft 9 1/2 in"
    assert len(said) == len(to_set(found))


def test_what_a_shot_has_not_is_not_set() -> None:
    _, found = answer_file(shipped("shots", "signal-lamp"))
    paths = {item.path for item in to_set(found)}
    assert not {"move.slide", "move.sweep", "lineup.foot_height_mm", "place.lens_height"} & paths
    assert {"kit.mode", "kit.lens", "focus.stop", "focus.distance", "action.fps", "light.iso", "place.model"} <= paths


def test_what_the_program_chose_is_marked() -> None:
    found = solve({"focus.stop": "T11", "focus.distance": "auto"})
    chosen = {item.path for item in to_set(found) if item.chosen}
    assert "focus.distance" in chosen
    assert "focus.stop" not in chosen


def test_a_filter_is_set_as_fitted_and_what_to_fit_is_a_remark() -> None:
    """Four times the light that is needed, two stops: nothing is fitted until the shot says so."""
    light = {"light.available": f"{4 * solve().light.lux_needed!r} lx"}
    said = {item.label: item for item in to_set(solve(light))}
    assert (said["ND filter"].text, said["ND filter"].remark) == ("none", "fit 2 stops (ND 0.6)")
    said = {item.label: item for item in to_set(solve(light | {"light.nd": 1}))}
    assert (said["ND filter"].text, said["ND filter"].remark) == ("1 stop (ND 0.3)", "")


def test_aim_both_sides_of_the_move_the_points_and_the_wind_are_set_too() -> None:
    changes = {
        "place.lens_height": "1.5 m",
        "place.aim": "3 deg up",
        "move": {"axis": "pan", "sweep": "10 deg", "start": "4 deg", "tilt_sweep": "-2 deg", "travel": "50 mm left"},
        "point": [{"name": "ridge", "aside": "8 m left", "height": "33.5 m"}],
        "stand": {"area": "1 m2", "area_height": "0.5 m", "foot_deep": "1 m", "weight": "20 kg"},
    }
    said = {item.label: item for item in to_set(solve(changes, head={}))}
    assert said["Aim"].text == "3 deg up"
    assert said["Move starts"].text == "4 deg left"
    assert (said["Move"].text, said["Move"].remark) == ("pan 10 deg", "from the line-up, going right; 14 deg in all")
    assert said["Tilt on the way"].text == "2 deg down"
    assert said["Travel"].text == "50 mm left"
    assert said["Stop at a gust"].text == "6.8 m/s"
    # At the level distance of the model, 4 m from the pupil and a little more: 1.5 m + 32 m / 16 = 3.5 m.
    assert said["ridge"].text == "3.5 m"
    assert said["ridge"].remark == "over the ground, 500 mm left"


@pytest.mark.parametrize(
    ("axis", "begins", "ends"),
    [("pan left", "right", "left"), ("tilt", "down", "up"), ("tilt down", "up", "down")],
)
def test_both_ends_of_a_move_say_which_way_they_lie(axis: str, begins: str, ends: str) -> None:
    move = {"move": {"axis": axis, "sweep": "10 deg", "start": "20 deg"}}
    said = {item.label: item for item in to_set(solve(move))}
    assert said["Move starts"].text == f"20 deg {begins}"
    assert said["Move"].remark == f"from the line-up, going {ends}; 30 deg in all"


def test_hour_bearing_lamps_light_and_ballast_are_set_too() -> None:
    changes = {
        "sun": {
            "date": "2026-06-21",
            "time": "10:30",
            "utc_offset": "+1 h",
            "facing": "215 deg",
            "declination": "1 deg E",
        },
        "lamp": [{"name": "key", "gives": "2000 lx", "at": "3 m", "stands": "2 m", "number": 2}],
        "light.available": "9000 lx",
        "light.mains": 50,
        "stand.ballast": "12 kg",
    }
    said = {item.label: (item.text, item.remark) for item in to_set(solve(changes))}
    assert said["Time of day"] == ("2026-06-21 10:30", "UTC +1 h")
    assert said["Facing"] == ("215 deg", "of the lens, by compass")
    assert said["Lamp stands"] == ("2 m", "2 of key, from the model")
    assert said["Model light"] == ("9000 lx", "metered without the lamps")
    assert said["Mains"] == ("50 Hz", "")
    assert said["Ballast"] == ("12 kg", "on the foot")
