"""Sizes and distances that cannot be taped, from the picture or an inclinometer. Distances from the pupil, mm."""

from __future__ import annotations

import math


def width_mm(frame_share: float, sensor_width_mm: float, distance_mm: float, image_mm: float) -> float:
    """Return the width of a thing that spans a share of the frame's width at a distance: q·w·z / v."""
    return frame_share * sensor_width_mm * distance_mm / image_mm


def distance_mm(frame_share: float, sensor_width_mm: float, width_mm: float, image_mm: float) -> float:
    """Return how far off a thing of known width is that spans a share of the frame's width: W·v / (q·w)."""
    return width_mm * image_mm / (frame_share * sensor_width_mm)


def rise_mm(elevation_deg: float, distance_mm: float) -> float:
    """Return how far above the lens a top stands that is seen at an elevation: z·tan α; negative is below."""
    return distance_mm * math.tan(math.radians(elevation_deg))
