"""A new shot: what may be typed for it, and the file that it is given."""

from __future__ import annotations

import pytest

from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.engine.shelf.new_shot import free_path, new_shot, read_background
from forescale.engine.shot.records import Sun
from forescale.engine.shot.sections import KitChoice


def test_a_background_is_read_in_the_shots_units() -> None:
    assert read_background("180", "imperial") == ("180 ft", "180 ft")


@pytest.mark.parametrize("text", ["inf", " Infinity ", "∞"])
def test_a_background_at_infinity_is_refused_with_the_reason(text: str) -> None:
    with pytest.raises(BadInput, match="one at infinity gives the model no place"):
        read_background(text, "metric")


@pytest.mark.parametrize(("system", "range_"), [("metric", "10 mm to 100 km"), ("imperial", "3/8 in to 62 mi")])
def test_the_range_told_is_the_one_that_is_taken(system: str, range_: str) -> None:
    with pytest.raises(ValueError, match=f"1 mm is out of range: {range_}; "):
        read_background("1 mm", system)  # type: ignore[arg-type]


def test_a_file_is_named_after_the_title() -> None:
    assert free_path("The tower, it smokes!") == library.home() / "shots" / "the-tower-it-smokes.toml"
    assert free_path("!?").name == "shot.toml"
    assert len(free_path("wide " * 40).stem) <= 60


def test_a_new_shot_takes_place_and_offset_from_the_last_one() -> None:
    last = Sun.model_validate(
        {
            "latitude": "51.2 deg N",
            "longitude": "2.4 deg W",
            "utc_offset": "+1 h",
            "date": "2026-06-21",
            "time": "10:30",
        }
    )
    made = new_shot("The next", "180 ft", KitChoice(camera="a", mode="b", lens="c"), "imperial", last)
    assert (made.sun.latitude, made.sun.longitude, made.sun.utc_offset) == (51.2, -2.4, 3600)
    assert made.sun.date is None
    assert made.sun.time is None
    assert made.dump()["sun"] == {"latitude": "51.2 deg N", "longitude": "2.4 deg W", "utc_offset": "+1 h"}
    assert "sun" not in new_shot("The next", "180 ft", KitChoice(camera="a", mode="b", lens="c"), "imperial").dump()
