"""A head that pans and tilts: the poses that a move goes through, and how far what is built and what is real then part.

The pan axis is vertical; the tilt axis lies `tilt_ahead` in front of it and `tilt_drop` below the lens axis. A
slide along the lens moves the camera. Lengths in mm, angles in degrees, pan + to the right, tilt + up; pictures part in
recorded pixels, right and up +.
"""

import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

from forescale.engine.formulas.projection import Frame, Pixels, Point, Pose, in_pixels, pictures, pose

STEPS = 12  # poses at which a move is looked at before the largest is narrowed down
NOTHING_PX = 1e-9  # less is what the last digits of two pictures leave
_GOLDEN = (math.sqrt(5) - 1) / 2
_NEARLY = 0.9  # of the largest sample, from which on a peak between samples may be larger still
_NARROWED = 24  # times by the golden section: to a hundred-thousandth of a step

Poses = Sequence[tuple[float, Pose]]
Seen = Sequence[tuple[float, float] | None]  # the pictures of a thing in pixels, a pose of a move each


class PupilOnHead(NamedTuple):
    """Where the pupil sits on the head, mm: ahead of the tilt axis along the lens, the axis's drop and its lead."""

    ahead_of_tilt_mm: float
    tilt_drop_mm: float = 0.0
    tilt_ahead_mm: float = 0.0


class Travel(NamedTuple):
    """How far a move carries the camera in the frame of reference, mm: right, up and forward +."""

    right_mm: float = 0.0
    up_mm: float = 0.0
    forward_mm: float = 0.0


class HeadMove(NamedTuple):
    """A move through the line-up; at share u of the way to the far end the lens is turned and carried by u of each."""

    head: PupilOnHead | None  # None: the lens turns about its pupil
    lens_height_mm: float  # at the line-up the lens stands so high above (0, 0)
    aim_deg: float = 0.0  # the tilt at the line-up
    pan_deg: float = 0.0
    tilt_deg: float = 0.0
    travel: Travel = Travel()
    first: float = 0.0  # the u at which the move begins, 0 or less
    last: float = 1.0  # the u at which it ends: 1, or 0 at the line-up

    @property
    def is_still(self) -> bool:
        """Whether nothing turns and nothing is carried."""
        return self.pan_deg == 0 and self.tilt_deg == 0 and not any(self.travel)


def slide_at_mm(ahead_mm: float, sensor_at_zero_mm: float, pupil_ahead_mm: float, tilt_ahead_mm: float) -> float:
    """Return the slide reading for a pupil so far ahead of the tilt axis: r = e − sensor_at_zero − a + tilt_ahead."""
    return ahead_mm + tilt_ahead_mm - sensor_at_zero_mm - pupil_ahead_mm


def ahead_of_tilt_mm(slide_mm: float, sensor_at_zero_mm: float, pupil_ahead_mm: float, tilt_ahead_mm: float) -> float:
    """Return how far the pupil lies ahead of the tilt axis along the lens: e = r + sensor_at_zero + a − tilt_ahead."""
    return slide_mm + sensor_at_zero_mm + pupil_ahead_mm - tilt_ahead_mm


def ahead_of_pan_mm(head: PupilOnHead, tilt_deg: float) -> float:
    """Return how far the pupil lies ahead of the pan axis, level: f = tilt_ahead + e·cos τ − drop·sin τ."""
    return _on_head(head, math.cos(math.radians(tilt_deg)), math.sin(math.radians(tilt_deg)))[0]


def _on_head(head: PupilOnHead, cos_tilt: float, sin_tilt: float) -> tuple[float, float]:
    """Return how far the pupil lies ahead of the pan axis, and above the tilt axis: e·sin τ + drop·cos τ."""
    ahead, drop, lead = head
    return lead + ahead * cos_tilt - drop * sin_tilt, ahead * sin_tilt + drop * cos_tilt


def ahead_for_pan_mm(tilt_drop_mm: float, tilt_ahead_mm: float, tilt_deg: float) -> float:
    """Return the e that puts the pupil of a tilted lens on the pan axis, f = 0: (drop·sin τ − tilt_ahead) / cos τ."""
    tilt = math.radians(tilt_deg)
    return (tilt_drop_mm * math.sin(tilt) - tilt_ahead_mm) / math.cos(tilt)


def pose_at(move: HeadMove, share: float) -> Pose:
    """Return the pose at a share of the way from the line-up (0) to the far end (1) of a move."""
    head, height, aim, pan, tilt, travel, _, _ = move
    right, up, forward = travel
    at = pose(share * right, height + share * up, share * forward, share * pan, aim + share * tilt)
    if head is None:
        return at
    reach, above = _on_head(head, at.cos_tilt, at.sin_tilt)
    first, rise = _on_head(head, math.cos(math.radians(aim)), math.sin(math.radians(aim)))
    return at.carried(reach * at.sin_pan, above - rise, reach * at.cos_pan - first)


@lru_cache(maxsize=32)  # asked again with every answer, and seldom of another move
def poses(move: HeadMove, steps: int) -> tuple[tuple[float, Pose], ...]:
    """Return (share, pose) in about `steps` even steps over a move, the line-up among them, or alone in a still one."""
    if move.is_still:
        return ((0.0, pose_at(move, 0.0)),)
    before = math.ceil(steps * -move.first / (move.last - move.first))
    after = max(steps - before, 1) if move.last else 0
    shares = [move.first * (before - step) / before for step in range(before)]
    shares += [move.last * step / after for step in range(after + 1)] if after else [0.0]
    return tuple((share, pose_at(move, share)) for share in shares)


class Pair(NamedTuple):
    """A thing as it is built, and the real thing that it must cover."""

    built: Point
    real: Point

    def seen(self, poses: Poses, frame: Frame) -> tuple[Seen, Seen]:
        """Return the pictures of both at the poses of a move."""
        taken = [at for _, at in poses]
        return pictures(self.built, taken, frame), pictures(self.real, taken, frame)


def miss(pair: Pair, at: Pose, frame: Frame) -> Pixels | None:
    """Return the picture of the built thing less that of the real one; None where either is behind the lens."""
    return _less(in_pixels(pair.built, at, frame), in_pixels(pair.real, at, frame))


def slip(pair: Pair, at: Pose, line_up: Pose, frame: Frame) -> Pixels | None:
    """Return the miss at a pose less that at the line-up; None where one of the four pictures is not there."""
    return _less(miss(pair, at, frame), miss(pair, line_up, frame))


def signed_slip_px(pair: Pair, at: Pose, line_up: Pose, frame: Frame) -> float | None:
    """Return the slip's length, + where the built thing outruns along the real one's path, − where it lags."""
    found = slip(pair, at, line_up, frame)
    path = _less(in_pixels(pair.real, at, frame), in_pixels(pair.real, line_up, frame))
    if found is None or path is None:
        return None
    return _nothing(math.copysign(found.length, found.across * path.across + found.up * path.up))


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
        bend, lean = before - 2 * at + after, before - after
        if max(before, at, after) > _NEARLY * lengths[most] and bend < 0 and abs(lean) < -2 * bend:
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


def _less(one: Pixels | None, other: Pixels | None) -> Pixels | None:
    return None if one is None or other is None else Pixels(one.across - other.across, one.up - other.up)


def _nothing(length: float) -> float:
    return 0.0 if abs(length) < NOTHING_PX else length
