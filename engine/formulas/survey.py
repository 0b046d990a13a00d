"""Sizes and distances that cannot be taped, from the picture or an inclinometer, and how far each may be off.

Distances are level, from the entrance pupil, in mm; angles in degrees. A share is read about the middle of the
picture, of an upright thing square to the line of sight. Errors are one standard error each.
"""

import math
from collections.abc import Callable
from contextlib import suppress
from typing import Literal, NamedTuple

from forescale.engine.formulas.lineup import tape_error_mm
from forescale.engine.formulas.projection import Frame

DistanceBy = Literal["tape", "share", "two elevations", "height"]

FARTHEST_MM = 1e9  # beyond this nothing is seen
EDGE_PX = 0.5  # to which an edge is read on the recorded picture
SHARE_ERROR = 0.01  # of itself, beside that: edges are soft and seldom square on (common practice, no source)
ELEVATION_ERROR_DEG = 0.25  # of an inclinometer held in the hand (common practice, no source)


class Sighting(NamedTuple):
    """What was read, None where it was not: shares of the frame, known sizes, elevations and where the tape says."""

    taped_mm: float  # may be infinite
    share: float | None = None
    of_height: bool = False
    width_mm: float | None = None
    height_mm: float | None = None  # of the thing's top above the ground
    elevation: float | None = None
    elevation_nearer: float | None = None
    nearer_mm: float | None = None  # how much nearer `elevation_nearer` was read
    lens_height_mm: float | None = None
    aim_deg: float = 0.0  # the lens's tilt, up +


class Sighted(NamedTuple):
    """What follows: how far off it stands and by what, its width, its top above the lens and above the ground."""

    by: DistanceBy
    distance_mm: float
    width_mm: float | None
    rise_mm: float | None
    height_mm: float | None


def span_per_distance(share: float, read: Sighting, lens: Frame) -> float:
    """Return how wide or high a thing is, for each mm that it stands off, that spans a share of the frame.

    Across q·w/(v·cos τ), as the axis runs 1/cos τ as far; upright tan(τ + β) − tan(τ − β), tan β = q·H/(2·v).
    """
    aim = math.radians(read.aim_deg)
    if not read.of_height:
        return share * lens.width_mm / (lens.image_mm * math.cos(aim))
    half = math.atan(share * lens.height_mm / (2 * lens.image_mm))
    return math.tan(aim + half) - math.tan(aim - half)


def sighted(read: Sighting, lens: Frame) -> Sighted:
    """Return what a sighting gives; ValueError where what was read cannot be.

    The distance is size/span of the share and the size along it, else by two elevations b·tan α₂/(tan α₂ − tan α₁),
    else by a known height (h − L)/tan α, else as taped.
    """
    by, distance = _distance(read, lens)
    if distance <= 0:
        raise ValueError("that would put it behind the lens: read it again, about the middle of the picture")
    if FARTHEST_MM < distance < math.inf:
        raise ValueError("that would put it beyond 1000 km: read the share or the elevations again")
    width, height = read.width_mm, read.height_mm
    rise = None
    reached = math.isfinite(distance)  # no share of the frame tells a size at infinity, and no elevation a height
    if reached and read.elevation is not None:
        rise = distance * math.tan(math.radians(read.elevation))
        if height is None and read.lens_height_mm is not None:
            height = read.lens_height_mm + rise
    if reached and read.share is not None:
        spans = distance * span_per_distance(read.share, read, lens)
        if not read.of_height:
            width = width or spans
        elif height is None:
            height = spans
    return Sighted(by, distance, width, rise, height)


def _distance(read: Sighting, lens: Frame) -> tuple[DistanceBy, float]:
    size = read.height_mm if read.of_height else read.width_mm
    nearer = read.elevation_nearer
    if read.elevation is not None and nearer is not None and read.nearer_mm is not None:
        refuse_nearer(read.elevation, nearer)
    if read.share is not None and size is not None:
        return "share", size / span_per_distance(read.share, read, lens)
    if read.elevation is None:
        return "tape", read.taped_mm
    slope = math.tan(math.radians(read.elevation))
    if nearer is not None and read.nearer_mm is not None:
        steeper = math.tan(math.radians(nearer))
        return "two elevations", read.nearer_mm * steeper / (steeper - slope)
    if read.height_mm is not None and read.lens_height_mm is not None and slope:
        away = (read.height_mm - read.lens_height_mm) / slope
        if away > 0:
            return "height", away
        raise ValueError("its top is seen on the other side of level than its height stands from the lens")
    return "tape", read.taped_mm


def refuse_nearer(elevation: float, nearer: float) -> None:
    """Raise ValueError where an elevation cannot be that of the same thing from nearer by, degrees."""
    if elevation * (nearer - elevation) <= 0:
        raise ValueError("from nearer by, its top must be seen farther from level than from here")


def errors(read: Sighting, lens: Frame, of: Callable[[Sighted], float | None]) -> float | None:
    """Return a result's standard error: what each reading off by its own does, by squares (JCGM 100:2008, 5.1.3)."""
    best = of(sighted(read, lens))
    if best is None or math.isinf(best):
        return None
    pixels = lens.height_px if read.of_height else lens.width_px
    known = {
        "taped_mm": tape_error_mm(read.taped_mm),
        "share": math.hypot(SHARE_ERROR * (read.share or 0.0), math.sqrt(2) * EDGE_PX / pixels),
        "elevation": ELEVATION_ERROR_DEG,
        "elevation_nearer": ELEVATION_ERROR_DEG,
        "nearer_mm": tape_error_mm(read.nearer_mm or 0.0),
    }
    total = 0.0
    for name, off in known.items():
        value = getattr(read, name)
        if value is None or math.isinf(value):
            continue
        ends = []
        for sign in (1, -1):
            with suppress(ValueError):  # beyond here there is no result at all: the other side stands for both
                ends.append(of(sighted(read._replace(**{name: value + sign * off}), lens)) or best)
        total += max((abs(end - best) for end in ends), default=math.inf) ** 2
    return math.sqrt(total) if math.isfinite(total) else None
