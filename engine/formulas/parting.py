"""How far what is built and what is real part in the picture over a move, in recorded pixels, right and up +."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from forescale.engine.formulas.head import HeadMove, pose_at
from forescale.engine.formulas.projection import Frame, Pixels, Point, Pose, in_pixels

STEPS = 12  # poses at which a move is looked at before the largest is narrowed down
NOTHING_PX = 1e-9  # less is what the last digits of two pictures leave
_GOLDEN = (math.sqrt(5) - 1) / 2
_NEARLY = 0.9  # of the largest sample, from which on a peak between samples may be larger still
_NARROWED = 24  # times by the golden section: to a hundred-thousandth of a step

Poses = tuple[tuple[float, Pose], ...]


class Pair(NamedTuple):
    """A thing as it is built, and the real thing that it must cover."""

    built: Point
    real: Point


def miss(pair: Pair, at: Pose, frame: Frame) -> Pixels | None:
    """Return the picture of the built thing less that of the real one; None where either is behind the lens."""
    built, real = in_pixels(pair.built, at, frame), in_pixels(pair.real, at, frame)
    return None if built is None or real is None else _less(built, real)


def slip(pair: Pair, at: Pose, line_up: Pose, frame: Frame) -> Pixels | None:
    """Return the miss at a pose less that at the line-up; None where one of the four pictures is not there."""
    there, here = miss(pair, at, frame), miss(pair, line_up, frame)
    return None if there is None or here is None else _less(there, here)


def signed_slip_px(pair: Pair, at: Pose, line_up: Pose, frame: Frame) -> float | None:
    """Return the slip's length, + where the built thing outruns along the real one's path, − where it lags."""
    found = slip(pair, at, line_up, frame)
    then, now = (in_pixels(pair.real, pose, frame) for pose in (line_up, at))
    if found is None or then is None or now is None:
        return None
    return _nothing(math.copysign(found.length, _along(found, _less(now, then))))


@lru_cache(maxsize=64)  # asked again with every answer, and most of what is set does not touch it
def largest_slip(pair: Pair, move: HeadMove, poses: Poses, frame: Frame) -> tuple[float, float] | None:
    """Return the greatest length of the slip over a move and the share of the way at which it is reached.

    `poses` are those of the move in about `STEPS` steps. None where a picture is not there at one of them.
    """
    line_up = miss(pair, pose_at(move, 0.0), frame)
    if line_up is None:
        return None

    def length_at(pose: Pose) -> float | None:
        found = miss(pair, pose, frame)
        return None if found is None else math.hypot(found.across - line_up.across, found.up - line_up.up)

    lengths = []
    for _, at in poses:
        length = length_at(at)
        if length is None:
            return None
        lengths.append(length)
    most = max(range(len(lengths)), key=lengths.__getitem__)
    found = (lengths[most], poses[most][0])
    for low, high in _peaks(lengths):
        share = peak(lambda at: length_at(pose_at(move, at)) or 0.0, poses[low][0], poses[high][0])
        found = max(found, (length_at(pose_at(move, share)) or 0.0, share))
    return _nothing(found[0]), found[1]


def _peaks(lengths: Sequence[float]) -> Iterator[tuple[int, int]]:
    """Yield between which samples a peak lies that may be the largest: about each, and just inside the ends."""
    worth = _NEARLY * max(lengths)
    for here in range(1, len(lengths) - 1):
        before, at, after = lengths[here - 1 : here + 2]
        bend, lean = before - 2 * at + after, before - after
        if max(before, at, after) > worth and bend < 0 and abs(lean) < -2 * bend:  # the parabola peaks within
            yield here - 1, here + 1


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


def _less(one: Pixels, other: Pixels) -> Pixels:
    return Pixels(one.across - other.across, one.up - other.up)


def _along(one: Pixels, other: Pixels) -> float:
    return one.across * other.across + one.up * other.up


def _nothing(length: float) -> float:
    return 0.0 if abs(length) < NOTHING_PX else length
