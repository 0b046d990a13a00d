"""Light needed and filters against published tables and the trade's own rules."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.formulas.light import (
    ISO_STEPS,
    exposure_s,
    footcandles,
    iso_needed,
    lux_needed,
    nd_stops,
    over_stops,
    speed_to_set,
)

# Source: table of exposure values with K = 12.5 and C = 250: incident light at ISO 100. EV 0 is f/1 for 1 s, each
# step halves the time. Printed as whole or half lux, exact by doubling.
EXPOSURE_VALUES = [(0, 2.5), (5, 80), (10, 2560), (12, 10240), (15, 81920)]

# Source: Kodak EXR 500T film sheet TI2082 (1993): EI 500, 24 fps, 170° shutter. Implies C = 265 against our 250,
# 0.084 stop: to a tenth of a stop. Marks stand for exact stops: 1.4 is √2, 5.6 is 4√2, 11 is 8√2.
FILM_SHEET = [
    ("f/1.4", math.sqrt(2), 5),
    ("f/2.8", 2 * math.sqrt(2), 20),
    ("f/5.6", 4 * math.sqrt(2), 80),
    ("f/11", 8 * math.sqrt(2), 320),
]

# Source: B. Brown, Cinematography, table 10.6: shutter angles at 24 fps. Whole degrees, and exact.
SHUTTERS = [(32, 270), (48, 180), (60, 144), (96, 90)]


@pytest.mark.parametrize(("ev", "lux"), EXPOSURE_VALUES, ids=[f"EV {row[0]}" for row in EXPOSURE_VALUES])
def test_exposure_values(ev: int, lux: float) -> None:
    assert lux_needed(1, 2.0**-ev, 100) == pytest.approx(lux, rel=1e-12)


@pytest.mark.parametrize(("mark", "stop", "printed_fc"), FILM_SHEET, ids=[row[0] for row in FILM_SHEET])
def test_film_sheet(mark: str, stop: float, printed_fc: float) -> None:
    needed = footcandles(lux_needed(stop, exposure_s(170, 24), 500))
    assert abs(over_stops(needed, printed_fc)) < 0.1, mark


@pytest.mark.parametrize(("part", "degrees"), SHUTTERS, ids=[f"1/{row[0]} s" for row in SHUTTERS])
def test_shutter_times(part: int, degrees: float) -> None:
    assert exposure_s(degrees, 24) == pytest.approx(1 / part, rel=1e-12)


def test_a_footcandle_is_a_lumen_on_the_square_foot() -> None:
    assert footcandles(10.764) == pytest.approx(1, abs=5e-5)  # printed to three decimals


def test_stops_over_and_under() -> None:
    assert over_stops(20000, 5000) == 2
    assert over_stops(5000, 20000) == -2
    assert over_stops(0, 5000) == -math.inf


@pytest.mark.parametrize(
    ("over", "stops"),
    [(-math.inf, 0), (-3, 0), (0, 0), (0.5, 0), (0.89, 0), (0.9, 1), (1, 1), (1.89, 1), (1.9, 2), (2.6, 2), (3, 3)],
)
def test_a_filter_leaves_the_picture_no_more_than_a_tenth_of_a_stop_short(over: float, stops: int) -> None:
    assert nd_stops(over) == stops


@given(st.floats(1, 1e5), st.floats(1, 1e5), st.floats(25, 25600))
def test_iso_that_suffices_leaves_nothing_over(available: float, needed: float, iso: float) -> None:
    speed = iso_needed(iso, available, needed)
    still_needed = needed * iso / speed  # the light needed falls as the speed rises
    assert over_stops(available, still_needed) == pytest.approx(0, abs=1e-12)


def test_no_light_at_all() -> None:
    assert iso_needed(800, 0, 5000) == math.inf


@given(st.floats(0.7, 32), st.floats(1e-4, 1), st.floats(25, 25600))
def test_a_stop_a_doubling_of_time_and_one_of_speed_weigh_the_same(t: float, time: float, iso: float) -> None:
    needed = lux_needed(t, time, iso)
    assert lux_needed(t * math.sqrt(2), time, iso) == pytest.approx(2 * needed)
    assert lux_needed(t, time * 2, iso) == pytest.approx(needed / 2)
    assert lux_needed(t, time, iso * 2) == pytest.approx(needed / 2)


# ISO 12232, film speeds, from memory: a third of a stop apart, rounded as cameras are engraved.
SPEEDS_OF_CAMERAS = [(100, 100), (101, 125), (1227, 1250), (1300, 1600), (12500, 12800), (0.5, 6), (200_000, 200_000)]


@pytest.mark.parametrize(("needed", "to_set"), SPEEDS_OF_CAMERAS)
def test_a_film_speed_to_set_is_one_that_cameras_have(needed: float, to_set: float) -> None:
    assert speed_to_set(needed) == to_set


def test_film_speeds_are_a_third_of_a_stop_apart() -> None:
    for lower, higher in pairwise(ISO_STEPS):
        # Engraved to two digits or three, so a step may be off by as much as 8 is from 7.9 and 6 from 6.3.
        assert math.log2(higher / lower) == pytest.approx(1 / 3, abs=0.1)
