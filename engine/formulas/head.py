"""A head that pans and tilts: where a slide puts the pupil on it, and the poses that a move goes through.

The pan axis is vertical; the tilt axis lies `tilt_ahead` in front of it and `tilt_drop` below the lens axis. A
slide along the lens moves the camera. Lengths in mm, angles in degrees, pan + to the right, tilt + up.
"""

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from forescale.engine.formulas.projection import Pose, pose

STEPS = 12  # poses at which a move is looked at before the largest is narrowed down
Poses = Sequence[tuple[float, Pose]]


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
    """Return the slide reading for a pupil so far ahead of the tilt axis: r = e − sensor_at_zero − a + tilt_ahead.

    For no slip e is h·tan(turn/2) in a tilt (`zero_offset_mm` of slip.py), and `ahead_for_pan_mm` in a pan.
    """
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
