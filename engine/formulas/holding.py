"""What the frame holds over a move, and what a flat model must reach to fill it. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import pairwise

from forescale.engine.formulas.head import HeadMove, pose_at
from forescale.engine.formulas.projection import Frame, Point, Pose, Share, in_frame

COVER_LIMIT_DEG = 85.0  # a flat model past this angle from the axis would run off to infinity
_COVER_LIMIT = math.tan(math.radians(COVER_LIMIT_DEG))
_OUT = -10.0  # the margin of what is behind the lens
_CLOSE = 1e-12
_FIRST_STEP, _DOUBLINGS = 1 / 16, 12  # a move is followed to hundreds of times its own length


def margin(share: Share | None) -> float:
    """Return by how much of the frame a place in the picture lies inside its nearest edge; negative outside."""
    return _OUT if share is None else max(min(share.across, 1 - share.across, share.up, 1 - share.up), _OUT)


@lru_cache(maxsize=64)  # asked again with every answer, and most of what is set does not touch it
def leaves(point: Point, move: HeadMove, poses: tuple[tuple[float, Pose], ...], frame: Frame) -> float | None:
    """Return the share of the way at which a point leaves the frame; None where it stays, or never is inside.

    From the line-up outward, the nearer of both sides; for a point that is not inside at the line-up, the first time
    that it leaves as the move runs.
    """

    def inside(share: float) -> float:
        return margin(in_frame(point, pose_at(move, share), frame))

    seen = [(share, margin(in_frame(point, at, frame))) for share, at in poses]
    start = next(number for number, (share, _) in enumerate(seen) if share == 0.0)
    if seen[start][1] < 0:
        return _first_out(seen, inside)
    sides = (_first_out(seen[start:], inside), _first_out(seen[start::-1], inside))
    return min((share for share in sides if share is not None), key=abs, default=None)


def _first_out(seen: Sequence[tuple[float, float]], inside: Callable[[float], float]) -> float | None:
    """Return where the margin first goes from inside to outside, along the samples as they come."""
    for (share, here), (beyond, there) in pairwise(seen):
        if here >= 0 > there:
            return crossing(inside, share, here, beyond, there)
    return None


def crossing(
    value: Callable[[float], float], low: float, at_low: float, high: float, at_high: float, close: float = _CLOSE
) -> float:
    """Return where a function crosses zero between two places on either side of it, by the Illinois method."""
    for _ in range(60):
        if at_low == at_high or abs(high - low) < _CLOSE:
            break
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        at_middle = value(middle)
        if (at_middle < 0) != (at_high < 0):
            low, at_low = high, at_high
        else:
            at_low /= 2
        high, at_high = middle, at_middle
        if abs(at_middle) < close:
            break
    return high


def crossing_share(point: Point, move: HeadMove, frame: Frame) -> float:
    """Return how much of the way a move takes to carry a thing in the frame's middle from one edge to the other.

    As if the move went on as it goes; infinite where nothing crosses, as in a track towards the thing.
    """

    def to_edge(step: float) -> float:
        def inside(share: float) -> float:
            return margin(in_frame(point, pose_at(move, share), frame))

        here, at_here = 0.0, inside(0.0)
        for _ in range(_DOUBLINGS):
            beyond = inside(step)
            if beyond < 0:
                return abs(crossing(inside, here, at_here, step, beyond))
            here, at_here, step = step, beyond, 2 * step
        return math.inf

    return to_edge(_FIRST_STEP) + to_edge(-_FIRST_STEP)


def picture_speed(along_mm: float, move: HeadMove, frame: Frame) -> float:
    """Return how fast a move carries the picture in the frame's middle at the line-up, in pixels for the whole way.

    Of a thing so far along the lens, turned about the pupil.
    """
    pan, tilt, aim = math.radians(move.pan_deg), math.radians(move.tilt_deg), math.radians(move.aim_deg)
    right, up, forward = move.travel
    near = 0.0 if math.isinf(along_mm) else 1 / along_mm
    across = frame.image_mm * (right * near + math.cos(aim) * pan)
    risen = frame.image_mm * ((up * math.cos(aim) - forward * math.sin(aim)) * near + tilt)
    return math.hypot(across * frame.width_px / frame.width_mm, risen * frame.height_px / frame.height_mm)


@lru_cache(maxsize=32)
def cover_mm(model_mm: float, poses: tuple[Pose, ...], frame: Frame) -> tuple[float | None, float | None]:
    """Return how wide and how high a flat model on the plane `model_mm` away must be to fill the frame at every pose.

    What all four corners of the frame meet on the plane, from the least to the most; None past 85° off its middle.
    """
    asides, heights = [], []
    for at in poses:
        for across in (-frame.width_mm / 2, frame.width_mm / 2):
            for up in (-frame.height_mm / 2, frame.height_mm / 2):
                aside, rise, away = sight_line(across, up, at, frame.image_mm)
                depth = model_mm - at.z
                asides.append(_met(at.x, aside, away, depth))
                heights.append(_met(at.h, rise, away, depth))
    return _span(asides), _span(heights)


def sight_line(across_mm: float, up_mm: float, at: Pose, image_mm: float) -> tuple[float, float, float]:
    """Return aside, height and away of the direction in which a place on the sensor looks, with no unit."""
    ahead = image_mm * at.cos_tilt - up_mm * at.sin_tilt
    rise = up_mm * at.cos_tilt + image_mm * at.sin_tilt
    return across_mm * at.cos_pan + ahead * at.sin_pan, rise, ahead * at.cos_pan - across_mm * at.sin_pan


def _met(start: float, to_side: float, away: float, depth: float) -> float:
    """Return where a line of sight meets the plane, infinite past the limit."""
    if away <= 0 or depth <= 0 or abs(to_side) >= _COVER_LIMIT * away:
        return math.inf
    return start + to_side / away * depth


def _span(places: Sequence[float]) -> float | None:
    return None if math.inf in places else max(places) - min(places)
