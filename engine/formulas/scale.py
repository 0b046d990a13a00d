"""What a ratio 1:S makes of a size, and which ratios are customary."""

from __future__ import annotations

import math
from bisect import bisect_right

MM_PER_FOOT = 304.8

# Architect's scales, inches to the foot 3 to 1/16 (common practice, no source); ISO 5455:1979 preferred ratios
# 1:1 to 1:1000; NMRA and NEM modelling scales; figure and vehicle scales of the model trade (from memory).
_ARCHITECT = (4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192)
_ISO_5455 = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
_MODELLING = (3, 6, 9, 18, 25, 35, 43.5, 72, 76.2, MM_PER_FOOT / 3.5, 120, 144, 160, 220)
STANDARD_RATIOS: tuple[float, ...] = tuple(sorted({float(s) for s in (*_ARCHITECT, *_ISO_5455, *_MODELLING)}))


def model_length_mm(real_mm: float, ratio: float) -> float:
    """Return the model's length for a real one: real / S, both in mm."""
    return real_mm / ratio


def real_length_mm(model_mm: float, ratio: float) -> float:
    """Return what a length on the model stands for at full size: model · S, both in mm."""
    return model_mm * ratio


def inches_per_foot(ratio: float) -> float:
    """Return how many inches on the model stand for a foot: 12 / S."""
    return 12.0 / ratio


def nearest_standard(ratio: float) -> float:
    """Return the customary ratio nearest to S, nearness taken as a proportion."""
    return min(STANDARD_RATIOS, key=lambda standard: abs(math.log(standard / ratio)))


def largest_standard(limit: float) -> float:
    """Return the largest customary S that does not pass `limit`; 1 where none is so small."""
    place = bisect_right(STANDARD_RATIOS, limit * (1 + 1e-9))
    return STANDARD_RATIOS[max(place - 1, 0)]
