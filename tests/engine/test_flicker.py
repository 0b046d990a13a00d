"""Lamps that pulse: the safe rates and shutters of the trade, and rows of a picture added up one by one."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.formulas.flicker import Pulse, safe_shutter_deg
from forescale.engine.formulas.light import exposure_s

# Common practice, no source: lamps on 60 Hz at 24 fps take 144°, on 50 Hz 172.8°; safe rates are 120/n and 100/n, where
# the sensor exposes all rows at once.
FLICKER = [
    ("60 Hz, 24 fps, 144°", 24, 144, 60, True),
    ("50 Hz, 24 fps, 172.8°", 24, 172.8, 50, True),
    ("50 Hz, 24 fps, 180°", 24, 180, 50, False),
    ("60 Hz, 24 fps divides 120", 24, 180, 60, True),
    ("50 Hz, 25 fps divides 100", 25, 180, 50, True),
    ("60 Hz, 25 fps, 180°", 25, 180, 60, False),
    ("60 Hz, 120 fps divides 120", 120, 180, 60, True),
    ("60 Hz, 96 fps, 288°", 96, 288, 60, True),
    ("60 Hz, 240 fps, half a pulse a frame", 240, 360, 60, False),
    ("60 Hz, 120/7 fps, a rate that no decimal writes", 120 / 7, 111, 60, True),
    ("60 Hz, 17.143 fps, that rate as it is read", 17.143, 111, 60, True),
    ("60 Hz, 23.976 fps, 180°: walks through a pulse in eight seconds", 24 / 1.001, 180, 60, False),
    ("60 Hz, 23.976 fps, 143.9°: the safe angle to a tenth", 24 / 1.001, 143.9, 60, True),
    ("60 Hz, 25 fps, 165°: two pulses and a fifth", 25, 165, 60, False),
]


@pytest.mark.parametrize(("row", "fps", "degrees", "mains", "safe"), FLICKER, ids=[row[0] for row in FLICKER])
def test_lamp_check(row: str, fps: float, degrees: float, mains: float, safe: bool) -> None:
    assert Pulse(2 * mains, 0.5, 0).is_safe(fps, degrees) is safe, row


# By hand from log2((1 + a)/(1 − a)), a = m·|sin(π·P·T)/(π·P·T)|: at 1/240 s on 60 Hz x = π/2 and a = m·2/π.
@pytest.mark.parametrize(("depth", "stops"), [(0.1, 0.184), (0.5, 0.951)])
def test_the_ripple_of_a_short_exposure(depth: float, stops: float) -> None:
    assert Pulse(120, depth, 0).stops(50, 1 / 240) == pytest.approx(stops, abs=1e-3)


# Every frame at 120 fps meets the pulse alike, so that only rows read at other times differ: by hand as above.
@pytest.mark.parametrize(("readout_s", "stops"), [(0.0, 0.0), (0.0005, 0.18), (0.001, 0.36), (0.0042, 0.95)])
def test_a_rolling_readout_makes_a_whole_number_of_pulses_a_frame_unsafe(readout_s: float, stops: float) -> None:
    pulse = Pulse(120, 0.5, readout_s)
    assert pulse.stops(120, 1 / 240) == pytest.approx(stops, abs=5e-3)
    assert pulse.is_safe(120, 180) == (readout_s == 0)


@pytest.mark.parametrize("fps", [24.0, 25.0, 50.0, 59.3, 96.0])
@pytest.mark.parametrize("readout_s", [0.0, 0.002, 0.008])
def test_the_stops_are_those_between_rows_added_up(fps: float, readout_s: float) -> None:
    """Rows over many frames and all starts of the pulse, each the integral of 1 + m·cos over its exposure."""
    hz, depth, exposure = 100.0, 0.4, 1 / 130
    worst = 0.0
    for start in np.linspace(0, 1 / hz, 160, endpoint=False):
        rows = start + np.arange(40)[:, None] / fps + np.linspace(0, readout_s, 40)[None, :]
        ends = [np.sin(2 * math.pi * hz * (rows + end)) for end in (0, exposure)]
        light = exposure + depth * (ends[1] - ends[0]) / (2 * math.pi * hz)
        worst = max(worst, math.log2(light.max() / light.min()))
    assert Pulse(hz, depth, readout_s).stops(fps, exposure) == pytest.approx(worst, rel=5e-3, abs=1e-9)


@pytest.mark.parametrize(
    ("fps", "mains", "safe"),
    [(25, 60, 24), (48, 50, 50), (91, 60, 120), (75, 50, 50), (500, 50, 100)],
)
def test_nearest_safe_rate_where_all_rows_are_exposed_at_once(fps: float, mains: float, safe: float) -> None:
    assert Pulse(2 * mains, 0.5, 0).safe_fps(fps, 180) == pytest.approx(safe, rel=1e-12)


def test_where_rows_are_read_in_turn_the_exposure_must_be_whole_pulses() -> None:
    """At 180° on 50 Hz, half a frame is a whole number of pulses at 50/n fps."""
    assert Pulse(100, 0.5, 0.008).safe_fps(48, 180) == 50
    assert Pulse(100, 0.5, 0.008).safe_fps(30, 180) == 25
    assert Pulse(100, 0.5, 0.008).safe_fps(100, 180) == 50


@given(
    st.floats(0.5, 1000),
    st.sampled_from([50.0, 60.0]),
    st.floats(1, 360),
    st.sampled_from([0, 0.004]),
    st.floats(0.1, 1),
)
def test_what_is_offered_is_safe_and_none_is_nearer(
    fps: float, mains: float, asked: float, readout_s: float, depth: float
) -> None:
    pulse = Pulse(2 * mains, depth, readout_s)
    offered = pulse.safe_fps(fps, asked)
    assert pulse.is_safe(offered, asked)
    for count in range(1, 300):
        for rate in (2 * mains / count, 2 * mains * asked / 360 / count):
            assert abs(offered - fps) <= abs(rate - fps) + 1e-9 or not pulse.is_safe(rate, asked)
    angle = safe_shutter_deg(fps, 2 * mains, asked)
    if angle is None:
        assert exposure_s(360, fps) < 1 / (2 * mains)
    else:
        assert 0 < angle <= 360
        assert pulse.is_safe(fps, angle)


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
    assert safe_shutter_deg(fps, 2 * mains, asked) == pytest.approx(safe, rel=1e-12)


def test_no_pulse_fits_in_a_short_frame() -> None:
    assert safe_shutter_deg(240, 120, 180) is None


@given(st.floats(1, 120), st.sampled_from([50.0, 60.0]), st.floats(1, 360))
def test_no_safe_shutter_is_nearer(fps: float, mains: float, asked: float) -> None:
    offered = safe_shutter_deg(fps, 2 * mains, asked)
    fitting = [pulses * 180 * fps / mains for pulses in range(1, 300) if pulses * 180 * fps / mains <= 360]
    if fitting:
        assert offered is not None
        assert abs(offered - asked) <= min(abs(angle - asked) for angle in fitting) + 1e-9
