"""Where a point of the real place is built, and where the line of sight to it passes. All in mm.

A model of 1:S is a shrink about the entrance pupil. Standing at d while it seems to stand at D, it is carried
along the level axis as a whole by d − D/S, and its points leave the lines of sight.
"""

from forescale.engine.formulas.projection import Point


def to_scale(real: Point, lens_height_mm: float, ratio: float) -> Point:
    """Return where a real point belongs to scale: (x/S, L + (h − L)/S, z/S)."""
    return Point(real.x / ratio, lens_height_mm + (real.h - lens_height_mm) / ratio, real.z / ratio)


def as_built(real: Point, lens_height_mm: float, ratio: float, stands_mm: float, seems_mm: float) -> Point:
    """Return where a model at level d that seems to stand at D has the point: to scale, but at z' = d + (z − D)/S."""
    x, h, z, _ = real
    return Point(x / ratio, lens_height_mm + (h - lens_height_mm) / ratio, stands_mm + (z - seems_mm) / ratio)


def on_sight(real: Point, lens_height_mm: float, depth_mm: float) -> Point:
    """Return where the line of sight to a real point passes at a level depth: x·z'/z aside, L + (h − L)·z'/z high.

    A direction (`near` 0) has the height above the lens for 1 mm of depth in `h`.
    """
    share = depth_mm / real.z
    return Point(real.x * share, lens_height_mm + (real.h - real.near * lens_height_mm) * share, depth_mm)
