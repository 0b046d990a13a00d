"""Lamps that pulse, and the camera: the stops that they leave between rows, and the rates and shutters that are safe.

Rates in Hz or frames a second, times in seconds, angles in degrees, differences in stops.
"""

import math
from collections.abc import Iterator
from typing import NamedTuple

from forescale.engine.formulas.lamp_ripple import SAFE_STOPS, rows_stops, share_left, swing_stops
from forescale.engine.formulas.light import exposure_s

# A frame rate that misses a whole number of pulses by this share walks through one in 80 s, longer than a take.
RATE_TOLERANCE = 1e-4


class Pulse(NamedTuple):
    """Light that pulses at `hz` with a first harmonic of `depth` of its mean, and how long the sensor reads out.

    A `readout_s` of 0 is a sensor that exposes all rows at once.
    """

    hz: float
    depth: float
    readout_s: float

    def stops(self, fps: float, exposure: float) -> float:
        """Return the stops between two rows at most, within a frame and from frame to frame.

        Where a whole number of pulses goes into a frame each meets the same ones, and only rows read at other times
        differ. Source: `lamp_ripple`, from first principles.
        """
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
    """Return the shutter angle in (0, 360] nearest to `shutter_deg` that passes a whole number of pulses at `fps`.

    The smaller of equals; None where a frame is too short for one pulse, so that only another rate can help.
    Source: common practice (144° at 24 fps on 60 Hz, 172.8° on 50 Hz).
    """
    most = math.floor(pulse_hz / fps * (1 + RATE_TOLERANCE))
    if most < 1:
        return None
    pulse_deg = 360 * fps / pulse_hz
    pulses = min(max(1, math.ceil(shutter_deg / pulse_deg - 0.5)), most)
    return min(pulses * pulse_deg, 360.0)
