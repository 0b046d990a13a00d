"""How far what is built and what is real part in the picture: the miss at a pose, the slip over a move.

In recorded pixels, right and up +; the slip is the miss less that at the line-up.
"""

import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

from forescale.engine.formulas.head import STEPS, HeadMove, Poses, pose_at, poses
from forescale.engine.formulas.projection import Frame, Pixels, Point, Pose, in_pixels, pictures

NOTHING_PX = 1e-9  # less is what the last digits of two pictures leave
_GOLDEN = (math.sqrt(5) - 1) / 2
_NEARLY = 0.9  # of the largest sample, from which on a peak between samples may be larger still
_NARROWED = 24  # times by the golden section: to a hundred-thousandth of a step
Pictures = Sequence[tuple[float, float] | None]  # the pictures of a thing in pixels, a pose of a move each


class Pair(NamedTuple):
    """A thing as it is built, and the real thing that it must cover."""

    built: Point
    real: Point

    def seen(self, poses: Poses, frame: Frame) -> tuple[Pictures, Pictures]:
        """Return the pictures of both at the poses of a move."""
        taken = [at for _, at in poses]
        return pictures(self.built, taken, frame), pictures(self.real, taken, frame)


def miss(pair: Pair, at: Pose, frame: Frame) -> Pixels | None:
    """Return the picture of the built thing less that of the real one; None where either is behind the lens."""
    built, real = in_pixels(pair.built, at, frame), in_pixels(pair.real, at, frame)
    return None if built is None or real is None else Pixels(built.across - real.across, built.up - real.up)


def signed_slip_px(pair: Pair, at: Pose, line_up: Pose, frame: Frame) -> float | None:
    """Return the slip's length at a pose, signed as in `signed_slips_px`; None where a picture is behind the lens."""
    return signed_slips_px(pair, ((0.0, at),), line_up, frame)[0]


def signed_slips_px(pair: Pair, poses: Poses, line_up: Pose, frame: Frame) -> list[float | None]:
    """Return the slip's length in pixels at each pose of a move, the miss there less that at the line-up.

    + where the built thing outruns along the real one's path, − where it lags; None where a picture is behind the lens.
    """
    (built_then, *built), (real_then, *real) = pair.seen(((0.0, line_up), *poses), frame)
    slips = list[float | None]()
    for there, covers in zip(built, real, strict=True):
        if there is None or covers is None or built_then is None or real_then is None:
            slips.append(None)
            continue
        across = (there[0] - covers[0]) - (built_then[0] - real_then[0])
        up = (there[1] - covers[1]) - (built_then[1] - real_then[1])
        along = across * (covers[0] - real_then[0]) + up * (covers[1] - real_then[1])
        slips.append(_nothing(math.copysign(math.hypot(across, up), along)))
    return slips


@lru_cache(maxsize=128)  # asked again with every answer, and most of what is set does not touch it
def largest_slip(pair: Pair, move: HeadMove, frame: Frame) -> tuple[float, float] | None:
    """Return the greatest slip over a move and the share of the way where it is; None where a picture is missing."""
    taken = poses(move, STEPS)
    built, real = pair.seen(taken, frame)
    misses = [(b[0] - r[0], b[1] - r[1]) for b, r in zip(built, real, strict=True) if b is not None and r is not None]
    if len(misses) < len(taken):
        return None
    across, up = misses[next(place for place, (share, _) in enumerate(taken) if share == 0)]

    def length_at(share: float) -> float:
        found = miss(pair, pose_at(move, share), frame)
        return 0.0 if found is None else math.hypot(found.across - across, found.up - up)

    lengths = [math.hypot(x - across, y - up) for x, y in misses]
    most = max(range(len(lengths)), key=lengths.__getitem__)
    found = (lengths[most], taken[most][0])
    for here in range(1, len(lengths) - 1):  # a peak between samples may be larger, where the parabola has it within
        before, at, after = lengths[here - 1 : here + 2]
        bend = before - 2 * at + after
        if max(before, at, after) > _NEARLY * lengths[most] and bend < 0 and abs(before - after) < -2 * bend:
            share = peak(length_at, taken[here - 1][0], taken[here + 1][0])
            found = max(found, (length_at(share), share))
    return _nothing(found[0]), found[1]


def peak(value: Callable[[float], float], low: float, high: float, narrowed: int = _NARROWED) -> float:
    """Return where a function with one peak between two places is largest, by the golden section."""
    inner, outer = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    at_inner, at_outer = value(inner), value(outer)
    for _ in range(narrowed):
        if at_inner < at_outer:
            low, inner, at_inner = inner, outer, at_outer
            outer = low + _GOLDEN * (high - low)
            at_outer = value(outer)
        else:
            high, outer, at_outer = outer, inner, at_inner
            inner = high - _GOLDEN * (high - low)
            at_inner = value(inner)
    return (low + high) / 2


def _nothing(length: float) -> float:
    return 0.0 if abs(length) < NOTHING_PX else length
