"""Where something that can be set keeps the slip of a whole move least, and how far off it may be.

The slips at the poses of a move go nearly straight with a slide's reading, or with how far a camera is carried; so
they are laid out straight, solved, and laid out again from there.
"""

import math
from collections.abc import Callable, Sequence

from forescale.engine.formulas.holding import crossing
from forescale.engine.formulas.parting import Pair, peak
from forescale.engine.formulas.projection import Frame, Pixels, Point, Pose, in_lens

Slips = Sequence[Pixels]  # at each pose of the move
Slipping = Callable[[float], Slips]  # by what is set
Way = tuple[float, float, float]  # aside, up and away, for each mm of what is set
OUT_OF_SIGHT = Pixels(1e12, 0.0)
STEP_MM = 1.0
_ROUNDS, _DOUBLINGS = 2, 40
_NO_CHANGE_PX = 1e-12  # what a step of the slide changes by less, it does not change
_WORST_PX, _CLOSE_PX = 1e9, 1e-9


def slipping_by(pair: Pair, carried: Sequence[tuple[Pose, Way]], frame: Frame) -> Slipping:
    """Return the slips of a pair at poses by how far, in mm, what is set carries the pupil on each's own way.

    The first pose is the line-up, from which slips count. Turned alike however far it is carried, the lens sees places
    that go straight with it: they are worked out once.
    """
    image, width, height, width_px, height_px = frame
    wide, high = image * width_px / width, image * height_px / height

    def along(thing: Point, at: Pose, way: Way) -> tuple[float, ...]:
        right, up, away = (thing.near * part for part in way)
        return (*in_lens(thing, at), *in_lens(Point(right, up, away, 0.0), at))

    places = [[along(thing, at, way) for thing in pair] for at, way in carried]

    def missed(seen: Sequence[tuple[float, ...]], mm: float) -> tuple[float, float] | None:
        (x, y, z, by_x, by_y, by_z), (X, Y, Z, By_x, By_y, By_z) = seen
        near, far = z - mm * by_z, Z - mm * By_z
        if near <= 0 or far <= 0:
            return None
        across = (x - mm * by_x) / near - (X - mm * By_x) / far
        return across * wide, ((y - mm * by_y) / near - (Y - mm * By_y) / far) * high

    def slipping(mm: float) -> Slips:
        here, *there = [missed(seen, mm) for seen in places]
        if here is None:
            return [OUT_OF_SIGHT] * len(there)
        return [OUT_OF_SIGHT if at is None else Pixels(at[0] - here[0], at[1] - here[1]) for at in there]

    return slipping


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
    own = [-(x * dx + y * dy) / (dx * dx + dy * dy) for x, y, dx, dy in lines if math.hypot(dx, dy) > _NO_CHANGE_PX]
    if not own:
        return 0.0

    def longest(at: float) -> float:
        return max((x + dx * at) ** 2 + (y + dy * at) ** 2 for x, y, dx, dy in lines)

    return peak(lambda at: -longest(at), min(own), max(own))


def off_by(slipping: Slipping, start: float, step: float, passes_px: float) -> float:
    """Return how far from `start`, the way of `step`, the greatest slip first passes: infinite if never, 0 at once."""

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
