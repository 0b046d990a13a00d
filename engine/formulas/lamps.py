"""Lamps and readings of light: the inverse square, colour in mireds, and a flame against daylight.

Light in lux, distances in mm, losses and differences in stops.
"""

import math

POINT_FROM_SIZES = 5  # from so many sizes of a lamp on it follows the inverse square to 1 % (a disc: 1/(1 + 1/100))
SUN_WIDTH_SHARE = 1 / 108  # of its distance: what the sun's disc spans, 0.53°
FLAME_PER_M = 0.7  # absorption of a luminous flame, κ, in 1/m (NUREG-1805's kβ for gasoline-like fuels, from memory)
MIREDS_SEEN = 10  # a shift of colour that is seen (common practice, no source)
STOPS_SEEN = 1 / 3  # a difference of light that is seen across a join (common practice, no source)


def lux_at(gives_lux: float, at_mm: float, stands_mm: float, number: int = 1, loss_stops: float = 0.0) -> float:
    """Return the light of `number` lamps of one kind at a distance, number·gives·2^−loss·(at/stands)².

    Not for focused beams, nor nearer than five times the lamp's size. Source: inverse square law.
    """
    return number * gives_lux * 2**-loss_stops * (at_mm / stands_mm) ** 2


def stands_for_mm(wanted_lux: float, gives_lux: float, at_mm: float, number: int = 1, loss_stops: float = 0.0) -> float:
    """Return where such lamps give the light wanted, at·√(number·gives·2^−loss/wanted); `wanted_lux` is above 0."""
    return at_mm * math.sqrt(number * gives_lux * 2**-loss_stops / wanted_lux)


def fall_stops(near_mm: float, far_mm: float) -> float:
    """Return by how many stops a lamp's light falls from one distance to a farther one, 2·log2(far/near)."""
    return 2 * math.log2(far_mm / near_mm)


def shift_mired(from_kelvin: float, to_kelvin: float) -> float:
    """Return the shift 10⁶/to − 10⁶/from in mireds that turns one colour temperature into another; + is warmer."""
    return 1e6 / to_kelvin - 1e6 / from_kelvin


def flame_share(width_mm: float) -> float:
    """Return the share of its full luminance that a luminous flame of that depth has, 1 − e^(−κ·w), 0 to 1."""
    return -math.expm1(-FLAME_PER_M * width_mm / 1000)
