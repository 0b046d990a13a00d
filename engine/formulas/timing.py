"""How long what gravity rules takes, at full size and on set: falls, swings, toppling, the puffs of a fire.

Lengths in mm, times in s. By Froude's law a model of 1:S takes 1/√S of the time on set; on screen it takes k times what
it takes on set, k the rate over the playback rate. Drag is left out of falls: small light pieces fall slower.
"""

import math

GRAVITY_MM_S2 = 9806.65  # standard gravity, 3rd CGPM (1901); ISO 80000-3
LET_GO_SHARE = 1.30936  # let go at rest at 10°, over reaching 10° from rest at the upright: an elliptic integral
_LEANS = math.log(math.tan(math.radians(22.5)) / math.tan(math.radians(2.5)))


def fall_s(height_mm: float) -> float:
    """Return how long a free fall from rest takes, √(2h/g). Source: Galilei; drag left out."""
    return math.sqrt(2 * height_mm / GRAVITY_MM_S2)


def swing_s(length_mm: float) -> float:
    """Return the period of a small swing to and fro on a line of that length, 2π√(l/g). Source: Huygens."""
    return 2 * math.pi * math.sqrt(length_mm / GRAVITY_MM_S2)


def topple_s(height_mm: float) -> float:
    """Return how long a uniform slender body takes about its foot from 10° to 90°, after rest at the upright.

    √(2l/3g)·ln(tan 22.5°/tan 2.5°). A real stack breaks between a third and half of its height as it falls
    (Am. J. Phys. 71, 2003, 1025); let go at rest at 10° it takes `LET_GO_SHARE` times that.
    """
    return math.sqrt(2 * height_mm / (3 * GRAVITY_MM_S2)) * _LEANS


def puff_hz(width_mm: float) -> float:
    """Return how often a fire of that width puffs, 1.5/√D Hz with D in m. Source: Cetegen & Ahmed, 1993."""
    return 1.5 / math.sqrt(width_mm / 1000)


def model_s(real_s: float, ratio: float) -> float:
    """Return what a time ruled by gravity shrinks to in a model of 1:S: over √S. Source: Froude's law."""
    return real_s / math.sqrt(ratio)


def running_frame(set_s: float, fps: float) -> int:
    """Return the number of the frame that runs then, floor(t·fps) + 1, from its beginning but for rounding on."""
    return math.floor(set_s * fps + 1e-9) + 1
