"""What is left of a lamp's pulse in a row, against numeric integrals of pulsing lamps over exposure and rows."""

import math

import numpy as np
import pytest

from forescale.engine.formulas.flicker import mean_depth, rows_stops, share_left, swing_stops

PHASES = np.arange(4096) / 4096  # of one pulse

# Three lamps over one pulse: a sine as of a filament, a discharge that follows the voltage, a dimmed LED's square wave.
SHAPES = {
    "sine": 1 + 0.5 * np.cos(2 * np.pi * PHASES),
    "rectified": np.abs(np.sin(np.pi * PHASES)),
    "square": (PHASES < 0.7).astype(float),
}


def first_harmonic(shape: np.ndarray) -> float:
    """The first harmonic over the mean, by FFT."""
    spectrum = np.fft.rfft(shape)
    return float(2 * abs(spectrum[1]) / abs(spectrum[0]))


def row_light(depth: float, pulse_hz: float, exposure_s: float, starts_s: np.ndarray) -> np.ndarray:
    """The light that rows get which open at `starts_s`: the lamp integrated over the exposure by the midpoint rule."""
    within = (np.arange(500) + 0.5) / 500 * exposure_s
    return (1 + depth * np.cos(2 * np.pi * pulse_hz * (starts_s[:, None] + within))).mean(axis=1)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize(("pulse_hz", "exposure_s"), [(120, 1 / 240), (100, 1 / 180), (120, 1 / 48), (120, 0.4 / 96)])
def test_stops_over_all_phases_equal_the_integral(shape: str, pulse_hz: float, exposure_s: float) -> None:
    depth = first_harmonic(SHAPES[shape])
    light = row_light(depth, pulse_hz, exposure_s, np.arange(720) / 720 / pulse_hz)
    swing = depth * share_left(pulse_hz, exposure_s)
    # 720 phases miss the peak by a quarter of a degree at most, which is 1e-5 of the swing
    assert swing_stops(swing) == pytest.approx(math.log2(light.max() / light.min()), rel=1e-4, abs=1e-6)


def test_a_sine_is_its_own_first_harmonic() -> None:
    assert first_harmonic(SHAPES["sine"]) == pytest.approx(0.5)
    assert first_harmonic(SHAPES["rectified"]) == pytest.approx(2 / 3, abs=1e-5)  # 2/(4n² − 1), n = 1: Fourier's series


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("readout_ms", [0.0, 0.5, 1.0, 3.0, 4.2, 12.0])
def test_rows_within_the_readout_equal_the_integral(shape: str, readout_ms: float) -> None:
    depth, pulse_hz, exposure_s = first_harmonic(SHAPES[shape]), 120.0, 1 / 240
    rows = np.linspace(0, readout_ms / 1000, 60)
    worst = 0.0
    for start in np.arange(120) / 120 / pulse_hz:
        light = row_light(depth, pulse_hz, exposure_s, start + rows)
        worst = max(worst, math.log2(light.max() / light.min()))
    swing = depth * share_left(pulse_hz, exposure_s)
    assert rows_stops(swing, pulse_hz, readout_ms / 1000) == pytest.approx(worst, abs=2e-3)  # 60 rows, 120 starts


# Recomputed from the integral of a pulse over the exposure: 60 Hz, 1/240 s; printed to three decimals,
# the second cut (0.9515).
@pytest.mark.parametrize(("depth", "stops"), [(0.1, 0.184), (0.5, 0.951)])
def test_a_half_pulse_on_60_hz(depth: float, stops: float) -> None:
    assert swing_stops(depth * share_left(120, 1 / 240)) == pytest.approx(stops, abs=1e-3)


def test_a_whole_pulse_leaves_nothing() -> None:
    assert share_left(120, 288 / 360 / 96) == pytest.approx(0, abs=1e-15)  # 96 fps at 288°: 1/120 s


# 60 Hz, m 0.5, 1/240 s; printed to two decimals.
@pytest.mark.parametrize(("readout_s", "stops"), [(0.0005, 0.18), (0.001, 0.36), (0.0042, 0.95), (0.02, 0.95), (0, 0)])
def test_rows_of_a_rolling_shutter(readout_s: float, stops: float) -> None:
    assert rows_stops(0.5 * share_left(120, 1 / 240), 120, readout_s) == pytest.approx(stops, abs=5e-3)


def test_daylight_thins_the_pulse() -> None:
    assert mean_depth([(3000, 0.5), (1000, 0.1), (4000, 0)]) == pytest.approx(0.2)
    assert mean_depth([]) == 0


def test_a_lamp_that_goes_dark_leaves_black_rows() -> None:
    assert swing_stops(1.0) == math.inf
    assert rows_stops(1.0, 120, 0.001) == math.inf
    assert rows_stops(1.0, 120, 0) == 0
    assert share_left(120, 0) == 1
