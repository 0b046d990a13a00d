"""How far off what is taped and set usually is, and what that does to size and sharpness. Distances in mm."""

import math

TAPE_MM = 25.0  # how far off a tape to 10 m usually is (common practice, no source)
LONG_MM, LONG_SHARE = 10_000.0, 0.01  # beyond, a hundredth of what lies beyond as well (common practice, no source)


def tape_error_mm(distance_mm: float, near_mm: float = TAPE_MM) -> float:
    """Return how far off a taped distance usually is: `near_mm`, and 1 % of what lies beyond 10 m; 0 at infinity."""
    if math.isinf(distance_mm):
        return 0.0
    return near_mm + LONG_SHARE * max(distance_mm - LONG_MM, 0.0)


def size_margin(model_mm: float, seems_mm: float, model_error_mm: float, seems_error_mm: float) -> float:
    """Return by what share of itself a model's size may be off, from the errors of both distances.

    The size goes as D/d; independent errors add as the root of their squares (JCGM 100:2008, 5.1.2).
    """
    return math.hypot(model_error_mm / model_mm, 0.0 if math.isinf(seems_mm) else seems_error_mm / seems_mm)


def end_room(near_mm: float, far_mm: float, reach: float) -> float:
    """Return how much farther sharpness reaches between an end of the zone and the focus, in 1/mm; negative is short.

    `near_mm` is the nearer of the two, `reach` how far the zone goes to either side of 1/focus.
    """
    return reach - (1 / near_mm - 1 / far_mm)


def end_margin(end_mm: float, focus_mm: float, end_error_mm: float, focus_error_mm: float) -> float:
    """Return by how much 1/end less 1/focus may be off, in 1/mm, from both errors; either may be at infinity."""
    return math.hypot(end_error_mm / end_mm**2, focus_error_mm / focus_mm**2)
