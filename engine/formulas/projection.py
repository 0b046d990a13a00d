"""The picture that a pinhole makes: where a thing stands in the frame of a lens that is aimed, turned and carried.

Frame of reference: ground at height 0, x aside (right is +), h height, z away, level, in the direction in which the
lens looks at the line-up. The entrance pupil at the line-up is (0, lens height, 0). All lengths in mm, angles in
degrees: pan + to the right, tilt + up. On the sensor mm, across + to the right and up + upward, as the picture is
seen. Shares of the frame run from its left edge and from its bottom, 0 to 1 inside it.

A model of 1:S is a shrink about the pupil. Standing at d while it seems to stand at D, it is carried along the level
axis as a whole by d − D/S, and its points leave the lines of sight.
"""

import math
from collections.abc import Iterable
from typing import NamedTuple

AT_EDGE = 1e-9  # shares of the frame, far less than a pixel: so near its edge is on it, whatever rounding did


class Point(NamedTuple):
    """A place in the frame of reference, mm; with `near` 0 it is the direction of something at infinity."""

    x: float
    h: float
    z: float
    near: float = 1.0


class Pose(NamedTuple):
    """Where the entrance pupil stands, mm, and how the lens is turned; made by `pose`."""

    x: float
    h: float
    z: float
    pan_deg: float
    tilt_deg: float
    cos_pan: float
    sin_pan: float
    cos_tilt: float
    sin_tilt: float

    def carried(self, right: float, up: float, forward: float) -> "Pose":
        """Return the pose with the pupil so much farther, mm, in the frame of reference."""
        return Pose(self[0] + right, self[1] + up, self[2] + forward, *self[3:])

    @property
    def axis(self) -> tuple[float, float, float]:
        """Aside, height and away of a step of 1 along the lens."""
        return self.cos_tilt * self.sin_pan, self.sin_tilt, self.cos_tilt * self.cos_pan


class Frame(NamedTuple):
    """What the picture is caught on: image distance and size in mm, the width as the lens unsqueezes it, and pixels."""

    image_mm: float
    width_mm: float
    height_mm: float
    width_px: float
    height_px: float


class Pixels(NamedTuple):
    """A place in the picture or a step in it, in recorded pixels, right and up +."""

    across: float
    up: float

    @property
    def length(self) -> float:
        """The length of the step."""
        return math.hypot(self.across, self.up)


class Share(NamedTuple):
    """A place in the picture as shares of the frame, from its left edge and its bottom."""

    across: float
    up: float

    @property
    def off_middle(self) -> float:
        """How far from the frame's middle it lies, the way that is more: 0.5 at an edge."""
        return max(abs(self.across - 0.5), abs(self.up - 0.5))

    @property
    def inside(self) -> bool:
        """Whether the frame holds it, its edges counted in."""
        return self.off_middle <= 0.5 + AT_EDGE


def pose(x: float, h: float, z: float, pan_deg: float = 0.0, tilt_deg: float = 0.0) -> Pose:
    """Return the pose of a lens whose pupil is at (x, h, z), panned to the right and tilted up by so many degrees."""
    pan, tilt = math.radians(pan_deg), math.radians(tilt_deg)
    return Pose(x, h, z, pan_deg, tilt_deg, math.cos(pan), math.sin(pan), math.cos(tilt), math.sin(tilt))


def in_lens(point: Point, at: Pose) -> tuple[float, float, float]:
    """Return X right, Y up and Z along a lens panned, then tilted, mm from the pupil; Z at most 0 is behind it."""
    x, h, z, near = point
    px, ph, pz, _, _, cos_pan, sin_pan, cos_tilt, sin_tilt = at
    aside = x - near * px
    rise = h - near * ph
    away = z - near * pz
    ahead = aside * sin_pan + away * cos_pan
    return aside * cos_pan - away * sin_pan, rise * cos_tilt - ahead * sin_tilt, ahead * cos_tilt + rise * sin_tilt


def in_pixels(point: Point, at: Pose, frame: Frame) -> Pixels | None:
    """Return the picture of a point in recorded pixels from the frame's middle; None behind the lens."""
    (seen,) = pictures(point, (at,), frame)
    return None if seen is None else Pixels(*seen)


def pictures(point: Point, poses: Iterable[Pose], frame: Frame) -> list[tuple[float, float] | None]:
    """Return the picture of a point at each pose in recorded pixels from the frame's middle; None behind the lens."""
    image, width, height, width_px, height_px = frame
    wide, high = image * width_px / width, image * height_px / height
    seen = (in_lens(point, at) for at in poses)
    return [(across / away * wide, up / away * high) if away > 0 else None for across, up, away in seen]


def in_frame(point: Point, at: Pose, frame: Frame) -> Share | None:
    """Return the picture of a point as shares of the frame, beyond 0 to 1 outside it; None behind the lens."""
    across, up, away = in_lens(point, at)
    if away <= 0:
        return None
    image, width, height, _, _ = frame
    return Share(0.5 + image * across / away / width, 0.5 + image * up / away / height)


def from_frame(share: Share, away_mm: float, lens_height_mm: float, tilt_deg: float, frame: Frame) -> Point:
    """Return the point so far away, level, that a share shows, a direction at infinity; ValueError where none is."""
    tilt = math.radians(tilt_deg)
    rise = tilt + math.atan((share.up - 0.5) * frame.height_mm / frame.image_mm)
    if not abs(rise) < math.pi / 2 - 1e-9:
        raise ValueError("the line of sight there points straight up or down, and meets nothing at a distance")
    slope = math.tan(rise)
    away = 1.0 if math.isinf(away_mm) else away_mm
    along = away * math.cos(tilt) + away * slope * math.sin(tilt)
    aside = (share.across - 0.5) * frame.width_mm / frame.image_mm * along
    if math.isinf(away_mm):
        return Point(aside, slope, 1.0, 0.0)
    return Point(aside, lens_height_mm + away * slope, away)


def as_built(real: Point, lens_height_mm: float, ratio: float, stands_mm: float = 0.0, seems_mm: float = 0.0) -> Point:
    """Return where a model has a point: x/S, L + (h − L)/S, d + (z − D)/S; z/S, to scale, without d and D."""
    x, h, z, _ = real
    return Point(x / ratio, lens_height_mm + (h - lens_height_mm) / ratio, stands_mm + (z - seems_mm) / ratio)


def on_sight(real: Point, lens_height_mm: float, depth_mm: float) -> Point:
    """Return where the line of sight to a real point passes at a level depth: x·z'/z aside, L + (h − L)·z'/z high.

    A direction (`near` 0) has the height above the lens for 1 mm of depth in `h`.
    """
    share = depth_mm / real.z
    return Point(real.x * share, lens_height_mm + (real.h - real.near * lens_height_mm) * share, depth_mm)
