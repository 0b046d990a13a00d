"""Lamps that pulse: how much of the pulse is left in a row of the picture, in bands and from frame to frame.

A lamp's light is taken as its mean and the first harmonic of its pulse, E·(1 + m·cos 2πft): m, the depth, is the
harmonic over the mean, 0 (daylight) to 1. Rates in Hz, times in seconds, differences in stops.
"""

import math
from collections.abc import Iterable

UNKNOWN_DEPTH = 0.5  # taken where nothing is known of a lamp (common practice, no source)
SAFE_STOPS = 0.03  # less is not seen (common practice, no source)
BLACK_BANDS_FROM = 0.98  # swing over the mean from which the darkest row holds next to nothing


def share_left(pulse_hz: float, exposure_s: float) -> float:
    """Return s = |sin(π·P·T)/(π·P·T)|, 0 to 1: what an exposure T leaves of a pulse at P Hz in the light of a row.

    0 where the exposure is a whole number of pulses, 1 where it is far shorter than one. P is twice the mains
    frequency for lamps that follow it. Source: mean of a cosine over an interval.
    """
    turns = math.pi * pulse_hz * exposure_s
    return abs(math.sin(turns) / turns) if turns > 0 else 1.0


def mean_depth(lights: Iterable[tuple[float, float]]) -> float:
    """Return the depth of several lights together, Σmᵢ·Eᵢ/ΣE, from pairs of lux and depth; daylight counts with 0.

    0 where there is no light. They are taken to pulse together, the worst that can be. Source: light adds.
    """
    pairs = tuple(lights)
    lux = sum(light for light, _ in pairs)
    return sum(light * depth for light, depth in pairs) / lux if lux > 0 else 0.0


def swing_stops(swing: float) -> float:
    """Return log2((1 + a)/(1 − a)) stops between the brightest and the darkest row for a swing a = m·s over the mean.

    0 or more; infinite from a = 1 on, where the darkest row is black.
    """
    return math.log2((1 + swing) / (1 - swing)) if swing < 1 else math.inf


def rows_stops(swing: float, pulse_hz: float, readout_s: float) -> float:
    """Return the stops between two rows at most, where every frame meets the pulse alike and rows are read in turn.

    Only phases P·R of a turn apart can then differ: with h = π·P·R up to a quarter of a turn and a = m·s, the worst
    window has a·sin h/√(1 − a²·cos²h) in the place of a. 0 for a global shutter (R = 0), all of it from P·R = ½ on.
    Source: the greatest ratio of 1 + a·cos φ over a window of phases, in closed form.
    """
    half = math.pi * min(pulse_hz * readout_s, 0.5)
    if swing >= 1:
        return math.inf if half > 0 else 0.0
    return swing_stops(swing * math.sin(half) / math.sqrt(1 - (swing * math.cos(half)) ** 2))
