"""Light needed, filters and lamp flicker against published tables and the trade's own rules."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.formulas.light import (
    SPEEDS,
    exposure_s,
    flicker_safe,
    footcandles,
    iso_needed,
    lux_needed,
    nd_stops,
    over_stops,
    safe_fps,
    safe_shutter_deg,
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
    [(-math.inf, 0), (-3, 0), (0, 0), (0.4, 0), (0.5, 0), (0.51, 1), (1.5, 1), (2.4, 2), (2.6, 3)],
)
def test_filter_to_the_nearest_stop(over: float, stops: int) -> None:
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


# Common practice, no source: lamps on 60 Hz at 24 fps take 144°, on 50 Hz 172.8°; safe rates are 120/n and 100/n.
FLICKER = [
    ("60 Hz, 24 fps, 144°", 24, 144, 60, True),
    ("50 Hz, 24 fps, 172.8°", 24, 172.8, 50, True),
    ("50 Hz, 24 fps, 180°", 24, 180, 50, False),
    ("60 Hz, 24 fps divides 120", 24, 180, 60, True),
    ("50 Hz, 25 fps divides 100", 25, 180, 50, True),
    ("60 Hz, 25 fps, 180°", 25, 180, 60, False),
    ("60 Hz, 120 fps divides 120", 120, 180, 60, True),
    ("60 Hz, 240 fps, half a pulse a frame", 240, 360, 60, False),
    ("60 Hz, 120/7 fps, a rate that no decimal writes", 120 / 7, 111, 60, True),
    ("60 Hz, 17.143 fps, that rate as it is read", 17.143, 111, 60, True),
    ("60 Hz, 23.976 fps, 180°: walks through a pulse in eight seconds", 24 / 1.001, 180, 60, False),
    ("60 Hz, 23.976 fps, 143.9°: the safe angle to a tenth", 24 / 1.001, 143.9, 60, True),
    ("60 Hz, 25 fps, 151°: two pulses and a seventy-fifth", 25, 151, 60, False),
]


@pytest.mark.parametrize(("row", "fps", "degrees", "mains", "safe"), FLICKER, ids=[row[0] for row in FLICKER])
def test_lamp_check(row: str, fps: float, degrees: float, mains: float, safe: bool) -> None:
    assert flicker_safe(fps, exposure_s(degrees, fps), mains) is safe, row


@pytest.mark.parametrize("mains", [50, 60])
@pytest.mark.parametrize("n", range(1, 13))
def test_safe_rates_are_the_pulses_over_a_whole_number(mains: int, n: int) -> None:
    rate = 2 * mains / n
    assert flicker_safe(rate, exposure_s(77, rate), mains)
    assert safe_fps(rate, mains) == pytest.approx(rate, rel=1e-12)


@pytest.mark.parametrize(
    ("fps", "mains", "safe"),
    [
        (25, 60, 24),
        (23.976, 60, 24),
        (48, 50, 50),
        (90, 60, 60),
        (91, 60, 120),
        (75, 50, 50),
        (500, 50, 100),
        (0.7, 60, 120 / 171),
    ],
)
def test_nearest_safe_rate(fps: float, mains: float, safe: float) -> None:
    assert safe_fps(fps, mains) == pytest.approx(safe, rel=1e-12)


@pytest.mark.parametrize(
    ("fps", "mains", "asked", "safe"),
    [
        (24, 60, 180, 144),  # 216 is as near: the smaller of equals
        (24, 60, 181, 216),
        (24, 50, 180, 172.8),
        (25, 60, 180, 150),
        (24, 60, 10, 72),  # never less than one pulse
        (25, 60, 360, 300),  # never more than the frame holds
        (24, 60, 360, 360),
        (120, 60, 180, 360),
        (33.3334, 50, 340, 360),  # three pulses but for the rate's last digit: not an angle past the full circle
    ],
)
def test_nearest_safe_shutter(fps: float, mains: float, asked: float, safe: float) -> None:
    assert safe_shutter_deg(fps, mains, asked) == pytest.approx(safe, rel=1e-12)


def test_no_pulse_fits_in_a_short_frame() -> None:
    assert safe_shutter_deg(240, 60, 180) is None


@given(st.floats(0.5, 1000), st.sampled_from([50.0, 60.0]), st.floats(1, 360))
def test_what_is_offered_is_safe(fps: float, mains: float, asked: float) -> None:
    offered_fps = safe_fps(fps, mains)
    assert flicker_safe(offered_fps, exposure_s(asked, offered_fps), mains)
    offered_deg = safe_shutter_deg(fps, mains, asked)
    if offered_deg is None:
        assert exposure_s(360, fps) < 1 / (2 * mains)
    else:
        assert 0 < offered_deg <= 360
        assert flicker_safe(fps, exposure_s(offered_deg, fps), mains)


@given(st.floats(0.5, 400), st.sampled_from([50.0, 60.0]))
def test_no_safe_rate_is_nearer(fps: float, mains: float) -> None:
    offered = abs(safe_fps(fps, mains) - fps)
    assert all(offered <= abs(2 * mains / n - fps) + 1e-9 for n in range(1, 300))


@given(st.floats(1, 120), st.sampled_from([50.0, 60.0]), st.floats(1, 360))
def test_no_safe_shutter_is_nearer(fps: float, mains: float, asked: float) -> None:
    offered = safe_shutter_deg(fps, mains, asked)
    fitting = [pulses * 180 * fps / mains for pulses in range(1, 300) if pulses * 180 * fps / mains <= 360]
    if fitting:
        assert offered is not None
        assert abs(offered - asked) <= min(abs(angle - asked) for angle in fitting) + 1e-9


# ISO 12232, film speeds, from memory: a third of a stop apart, rounded as cameras are engraved.
SPEEDS_OF_CAMERAS = [(100, 100), (101, 125), (1227, 1250), (1300, 1600), (12500, 12800), (0.5, 6), (200_000, 200_000)]


@pytest.mark.parametrize(("needed", "to_set"), SPEEDS_OF_CAMERAS)
def test_a_film_speed_to_set_is_one_that_cameras_have(needed: float, to_set: float) -> None:
    assert speed_to_set(needed) == to_set


def test_film_speeds_are_a_third_of_a_stop_apart() -> None:
    for lower, higher in pairwise(SPEEDS):
        # Engraved to two digits or three, so a step may be off by as much as 8 is from 7.9 and 6 from 6.3.
        assert math.log2(higher / lower) == pytest.approx(1 / 3, abs=0.1)
