"""Closed forms from the books, to hold against what the program works out another way."""

from __future__ import annotations

import math

from forescale.engine.formulas.slip import Turn


def stop_for_zone(
    near_mm: float, focus_mm: float, focal_mm: float, coc_mm: float, pupil_magnification: float = 1.0
) -> float:
    """Return the exact f-number N = f²·(s − n) / (n·c·(s − f/P)) whose near limit is `near_mm`, the focus at s."""
    return (1 / near_mm - 1 / focus_mm) * focal_mm**2 / (coc_mm * (1 - focal_mm / (pupil_magnification * focus_mm)))


def picture_height_mm(z_mm: float, turn: Turn, offset_mm: float) -> float:
    """Where a target `z_mm` from the axis lies on the sensor at the end: mm from the middle of the picture.

    Positive for a positive sweep; infinity gives v·tan θ. In the picture as seen the target has gone against
    the turn. Raises ValueError where the target is not ahead of the pupil after the turn.
    """
    sweep = math.radians(turn.sweep_deg)
    if math.isinf(z_mm):
        return turn.image_distance_mm * math.tan(sweep)
    depth = z_mm * math.cos(sweep) + turn.rise_mm * math.sin(sweep) - offset_mm
    if depth <= 0:
        raise ValueError("after the turn the target is no longer ahead of the lens's entrance pupil")
    across = z_mm * math.sin(sweep) + 2.0 * turn.rise_mm * math.sin(sweep / 2) ** 2
    return turn.image_distance_mm * across / depth
