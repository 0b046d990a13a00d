"""Lamps that pulse, and what of it the camera shows.

Rates in Hz or frames a second, times in s, angles in degrees, differences in stops. A lamp's light is taken as its mean
and the first harmonic of its pulse, E·(1 + m·cos 2πPt): m, the depth, is the harmonic over the mean, 0 (daylight) to 1.
Symbols: P pulses a second (twice the mains' hertz for lamps that follow it), T exposure, R readout, s share left of the
pulse, a = m·s the swing over the mean.
"""

import math
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from forescale.engine.formulas.light import exposure_s

UNKNOWN_DEPTH = 0.5  # taken where nothing is known of a lamp (common practice, no source)
SAFE_STOPS = 0.03  # less is not seen (common practice, no source)
BLACK_BANDS_FROM = 0.98  # swing over the mean from which the darkest row holds next to nothing
RATE_TOLERANCE = 1e-4  # a rate so far off a whole number of pulses walks through one in 80 s, longer than a take


def share_left(pulse_hz: float, exposure_s: float) -> float:
    """Return s = |sin(π·P·T)/(π·P·T)|, 0 to 1: what an exposure leaves of a pulse. Source: mean of a cosine."""
    turns = math.pi * pulse_hz * exposure_s
    return abs(math.sin(turns) / turns) if turns > 0 else 1.0


def mean_depth(lights: Iterable[tuple[float, float]]) -> float:
    """Return the depth of lights together, Σmᵢ·Eᵢ/ΣE of pairs of lux and depth, as if in step, the worst; 0 of none."""
    pairs = tuple(lights)
    lux = sum(light for light, _ in pairs)
    return sum(light * depth for light, depth in pairs) / lux if lux > 0 else 0.0


def swing_stops(swing: float) -> float:
    """Return log2((1 + a)/(1 − a)) stops between the brightest and the darkest row; infinite from a = 1, black, on."""
    return math.log2((1 + swing) / (1 - swing)) if swing < 1 else math.inf


def rows_stops(swing: float, pulse_hz: float, readout_s: float) -> float:
    """Return the stops between two rows at most, where every frame meets the pulse alike and rows are read in turn.

    Only phases P·R of a turn apart can then differ: with h = π·P·R up to a quarter of a turn, the worst window has
    a·sin h/√(1 − a²·cos²h) in the place of a. 0 for a global shutter (R = 0), all of it from P·R = ½ on. Source: the
    greatest ratio of 1 + a·cos φ over a window of phases, in closed form.
    """
    half = math.pi * min(pulse_hz * readout_s, 0.5)
    if swing >= 1:
        return math.inf if half > 0 else 0.0
    return swing_stops(swing * math.sin(half) / math.sqrt(1 - (swing * math.cos(half)) ** 2))


class Pulse(NamedTuple):
    """Light that pulses at `hz` with a `depth`, and how long the sensor reads out, 0 for all rows at once."""

    hz: float
    depth: float
    readout_s: float

    def stops(self, fps: float, exposure: float) -> float:
        """Return the stops between two rows at most, in a frame and from one to another. Source: first principles."""
        swing = self.depth * share_left(self.hz, exposure)
        return rows_stops(swing, self.hz, self.readout_s) if meets_alike(self.hz, fps) else swing_stops(swing)

    def is_safe(self, fps: float, shutter_deg: float) -> bool:
        """Return whether nobody sees the pulse: under 0.03 stops (common practice, no source)."""
        return self.stops(fps, exposure_s(shutter_deg, fps)) < SAFE_STOPS

    def safe_rates(self, low: float, high: float, shutter_deg: float) -> Iterator[float]:
        """Yield the safe rates from `low` to `high`: whole pulses a frame, where rows agree, or an exposure."""
        for step in (self.hz, self.hz * shutter_deg / 360):  # a pulse a frame, a pulse an exposure
            for count in range(max(math.ceil(step / high * (1 - RATE_TOLERANCE)), 1), math.floor(step / low) + 1):
                if self.is_safe(step / count, shutter_deg):
                    yield step / count

    def safe_fps(self, fps: float, shutter_deg: float) -> float:
        """Return the safe rate nearest to `fps`, the lower of equals; whole pulses an exposure always are one."""
        slowest = min(fps, self.hz * shutter_deg / 360) / 2
        found = self.safe_rates(slowest, max(2 * fps, 2 * self.hz), shutter_deg)
        return min(found, key=lambda rate: (abs(rate - fps), rate))


def meets_alike(pulse_hz: float, fps: float) -> bool:
    """Return whether every frame meets the pulses at the same phase: a whole number of them goes into one."""
    pulses = pulse_hz / fps
    return pulses > 0.5 and abs(pulses - round(pulses)) <= RATE_TOLERANCE * pulses


def safe_shutter_deg(fps: float, pulse_hz: float, shutter_deg: float) -> float | None:
    """Return the angle nearest to `shutter_deg` that passes whole pulses (144° at 24 fps on 60 Hz); None if none."""
    most = math.floor(pulse_hz / fps * (1 + RATE_TOLERANCE))
    if most < 1:
        return None
    pulse_deg = 360 * fps / pulse_hz
    pulses = min(max(1, math.ceil(shutter_deg / pulse_deg - 0.5)), most)
    return min(pulses * pulse_deg, 360.0)
