"""Where something that can be set keeps the slip of a whole move least, and how far off it may be.

The slips at the poses of a move go nearly straight with a slide's reading, or with how far a camera is carried; so
they are laid out straight, solved, and laid out again from there.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from forescale.engine.formulas.holding import crossing
from forescale.engine.formulas.parting import peak
from forescale.engine.formulas.projection import Pixels

Slips = Sequence[Pixels]  # at each pose of the move
Slipping = Callable[[float], Slips]  # by what is set
STEP_MM = 1.0
_ROUNDS, _DOUBLINGS = 2, 40
_WORST_PX, _CLOSE_PX = 1e9, 1e-9


def largest_px(slips: Slips) -> float:
    """Return the greatest length among slips."""
    return min(max((slip.length for slip in slips), default=0.0), _WORST_PX)


def least_at(slipping: Slipping, start: float) -> float:
    """Return the setting, in mm, at which the greatest slip of the move is least, found from one near it."""
    for _ in range(_ROUNDS):
        here, on = slipping(start), slipping(start + STEP_MM)
        lines = [(a.across, a.up, b.across - a.across, b.up - a.up) for a, b in zip(here, on, strict=True)]
        start += STEP_MM * _lowest(lines)
    return start


def _lowest(lines: Sequence[tuple[float, float, float, float]]) -> float:
    """Return the x for which the longest of the vectors a + b·x is shortest; it lies among their own shortest."""
    own = [-(x * dx + y * dy) / (dx * dx + dy * dy) for x, y, dx, dy in lines if dx or dy]
    if not own:
        return 0.0

    def longest(at: float) -> float:
        return max((x + dx * at) ** 2 + (y + dy * at) ** 2 for x, y, dx, dy in lines)

    return peak(lambda at: -longest(at), min(own), max(own))


def off_by(slipping: Slipping, start: float, step: float, passes_px: float) -> float:
    """Return how far from `start`, the way of `step`, the greatest slip first passes; infinite where it never does.

    0 where it is past already. `step` is about as far as is of interest.
    """

    def over(off: float) -> float:
        return largest_px(slipping(start + math.copysign(off, step))) - passes_px

    inside, at_inside = 0.0, over(0.0)
    if at_inside > 0:
        return 0.0
    outside = abs(step)
    for _ in range(_DOUBLINGS):
        at_outside = over(outside)
        if at_outside > 0:
            return crossing(over, inside, at_inside, outside, at_outside, close=_CLOSE_PX)
        inside, at_inside, outside = outside, at_outside, 2 * outside
    return math.inf
