"""The sun against a published worked example, a reference library's year, and its own day minute by minute."""

import csv
import math
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from forescale.engine.formulas.sun import (
    Direction,
    Site,
    from_bearing_deg,
    is_up,
    nearest,
    noon,
    rise_and_set,
    separation_deg,
    shadow_of_rig,
    shadow_per_height,
    sun_seen,
    sun_without_air,
    turns_deg_per_min,
    windows,
)

EPOCH = datetime(2000, 1, 1, 12)
SOMERSET = Site(51.2, -2.4)


def moment(text: str, offset_h: float = 0) -> float:
    """Days since the epoch of a local time."""
    return (datetime.fromisoformat(text) - timedelta(hours=offset_h) - EPOCH) / timedelta(days=1)


def seconds_apart(day: float | None, text: str, offset_h: float = 1) -> float:
    assert day is not None
    return abs(day - moment(text, offset_h)) * 86400


def test_worked_example_of_reda_and_andreas() -> None:
    """Solar Energy 76 (2004): 17 Oct 2003 12:30:30 UTC −7, 39.742476° N, 105.1786° W: 194.34024°, zenith 50.11162° at
    820 mbar and 11 °C; with this project's 1010 mbar and 10 °C the same series gives an elevation of 39.892°.
    The height of 1830 m, left out here, is worth 0.000001°; 0.02° is what a low-precision series is held to."""
    at = moment("2003-10-17T12:30:30", -7)
    assert sun_seen(at, 39.742476, -105.1786) == pytest.approx((194.34024, 39.892), abs=0.02)
    without_air = sun_without_air(at, 39.742476, -105.1786)
    assert without_air.elevation_deg == pytest.approx(90 - 50.11162 - 0.0164, abs=0.02)  # less refraction at 820 mbar


def test_a_year_at_three_latitudes_against_spa() -> None:
    """A table by pvlib's SPA (its head names the versions): 0.05° of great circle above the horizon."""
    lines = (Path(__file__).parent / "sun_positions.csv").read_text().splitlines()
    rows = list(csv.DictReader(lines[1:]))
    assert {row["latitude"] for row in rows} == {"20", "51", "69"}
    worst = 0.0
    for row in rows:
        seen = sun_seen(moment(row["utc"]), float(row["latitude"]), float(row["longitude"]))
        there = Direction(float(row["azimuth"]), float(row["elevation"]))
        worst = max(worst, separation_deg(seen, there))
    assert worst < 0.05


def test_a_midsummer_morning() -> None:
    """51.2° N, 2.4° W, UTC +1, by SPA: printed digits; the lens looks 215°."""
    at = moment("2026-06-21T10:30", 1)
    seen = sun_seen(at, *SOMERSET)
    assert seen == pytest.approx((116.46, 48.44), abs=0.02)
    assert from_bearing_deg(seen.azimuth_deg, 215) == pytest.approx(-98.54, abs=0.02)
    assert shadow_per_height(seen.elevation_deg) == pytest.approx(0.887, abs=1e-3)
    assert turns_deg_per_min(at, *SOMERSET) == pytest.approx(0.229, abs=5e-4)


def test_rise_noon_and_set_of_that_day() -> None:
    """By SPA: 04:54, 13:11:30 at 62.25°, 21:28:50. A hundredth of a degree is 2.4 s of the sun's turn, and twice as
    much where it meets the horizon askew."""
    start = moment("2026-06-21T00:00", 1)
    rise, set_ = rise_and_set(start, SOMERSET)
    at_noon = noon(start, SOMERSET)
    assert seconds_apart(rise, "2026-06-21T04:54") < 15
    assert seconds_apart(at_noon, "2026-06-21T13:11:30") < 10
    assert sun_seen(at_noon, *SOMERSET).elevation_deg == pytest.approx(62.25, abs=0.01)
    assert seconds_apart(set_, "2026-06-21T21:28:50") < 15


def test_window_of_the_time_in_hand_and_the_plates_sun_missed() -> None:
    """By SPA: 10:08:20 to 10:51:40, printed to 20 s; the plate's sun (118.82°, 40.13°) is missed by 7.71° at 10:15."""
    start = moment("2026-06-21T00:00", 1)
    (window,) = windows(start, sun_seen(moment("2026-06-21T10:30", 1), *SOMERSET), 5, SOMERSET)
    assert seconds_apart(window[0], "2026-06-21T10:08:20") < 20
    assert seconds_apart(window[1], "2026-06-21T10:51:40") < 20
    plate = sun_seen(moment("2026-05-03T10:10", 1), *SOMERSET)
    assert plate == pytest.approx((118.82, 40.13), abs=0.02)
    assert windows(start, plate, 5, SOMERSET) == []
    closest = nearest(start, plate, SOMERSET)
    assert closest is not None
    assert closest.misses_deg == pytest.approx(7.71, abs=0.02)
    assert seconds_apart(closest.day, "2026-06-21T10:15") < 30


DAYS = [
    (Site(51.2, -2.4), "2026-06-21"), (Site(-33.9, 18.4), "2026-12-01"), (Site(69.6, 18.9), "2026-06-10"),
    (Site(69.6, 18.9), "2026-12-20"), (Site(0.0, 100.0), "2026-03-20"), (Site(-77.8, 166.7), "2026-02-20"),
    (Site(60.0, 179.0), "2026-09-01"),
]  # fmt: skip


@pytest.mark.parametrize(("place", "day"), DAYS)
@pytest.mark.parametrize("towards", [Direction(118, 40), Direction(280, 12), Direction(20, 30), Direction(200, 3)])
def test_a_day_looked_through_minute_by_minute(place: Site, day: str, towards: Direction) -> None:
    start = moment(day + "T00:00")
    minutes = [start + minute / 1440 for minute in range(1441)]
    up = [is_up(at, place) for at in minutes]
    rise, set_ = rise_and_set(start, place)
    for found, edge in ((rise, (False, True)), (set_, (True, False))):
        looked = next((at for at, two in zip(minutes, pairwise(up), strict=False) if two == edge), None)
        assert (found is None) == (looked is None)
        assert found is None or looked is None or 0 <= found - looked <= 1.02 / 1440
    misses = [separation_deg(sun_seen(at, *place), towards) for at, shines in zip(minutes, up, strict=True) if shines]
    closest = nearest(start, towards, place)
    assert (closest is None) == (not misses)
    # a minute of the sun is a quarter of a degree, half of it to the nearest sample
    assert closest is None or min(misses) - 0.14 <= closest.misses_deg <= min(misses) + 0.02
    spells = windows(start, towards, 5, place)
    minutes_within = sum(miss <= 5 for miss in misses)
    assert sum(last - first for first, last in spells) * 1440 == pytest.approx(minutes_within, abs=2.2)


def test_the_sun_at_the_pole_neither_rises_nor_sets_in_summer() -> None:
    assert rise_and_set(moment("2026-06-21T00:00"), Site(89.0, 0.0)) == (None, None)
    assert is_up(moment("2026-06-21T00:00"), Site(89.0, 0.0))


def test_a_sun_straight_behind_throws_the_rigs_shadow_down_the_axis() -> None:
    assert shadow_of_rig(180, 45, 1000, 1900) == pytest.approx((0, 900), abs=1e-9)


def test_a_sun_behind_on_the_left_throws_it_to_the_right() -> None:
    """A rig's top at (0, 1900); the sun's ray goes 30° right of the axis and falls by tan 20° of its own length."""
    found = shadow_of_rig(-150, 20, 2000, 1900)
    run = 2000 / math.cos(math.radians(30))
    assert found == pytest.approx((2000 * math.tan(math.radians(30)), 1900 - run * math.tan(math.radians(20))))


@pytest.mark.parametrize(("from_lens", "elevation"), [(60, 30), (90, 30), (180, 0), (170, -4)])
def test_no_shadow_of_the_rig_ahead(from_lens: float, elevation: float) -> None:
    assert shadow_of_rig(from_lens, elevation, 1000, 1900) is None


def test_no_shadow_without_sun() -> None:
    assert shadow_per_height(0) is None
    assert shadow_per_height(-3) is None


def test_angles_about_the_lens() -> None:
    assert from_bearing_deg(10, 350) == pytest.approx(20)
    assert from_bearing_deg(350, 10) == pytest.approx(-20)
    assert from_bearing_deg(35, 215) == 180
