"""Where a model stands so that it and the background read as one place, and how far off it, or a tape, may be.

The mapping is a shrink by S about the entrance pupil: a real point at (x, y, z) from the pupil is built at
(x, y, z) / S. Distances here are from the pupil, in mm. Symbols: d and D distances of model and background, v image
distance, w the sensor's width, t a slip on the sensor, V visibility.
"""

import math

# How wrong a size may be, as a share of itself (common practice, no source): shown as right, lost between two objects
# of unlike shape, taken for another place.
SIZE_RIGHT, SIZE_NOTICED, SIZE_WRONG = 0.0005, 0.015, 0.10
# -ln of the contrast that is left at the visibility told: WMO-No. 8 for a weather report's, Koschmieder 1924
VISIBILITY = {"5 %": 2.996, "2 %": 3.912}
TAPE_MM = 25.0  # how far off a tape to 10 m usually is (common practice, no source)
LONG_MM, LONG_SHARE = 10_000.0, 0.01  # beyond, a hundredth of what lies beyond as well (common practice, no source)


def match_distance_mm(background_mm: float, ratio: float) -> float:
    """Return where a model of 1:S matches a background at D: D / S; infinite for an infinite background."""
    return background_mm / ratio


def reads_as_ratio(model_mm: float, background_mm: float) -> float:
    """Return the S that a model at d implies against a background at D: D / d."""
    return background_mm / model_mm


def built_height_mm(height_mm: float, lens_height_mm: float, ratio: float) -> float:
    """Return where a point of height h is built: h_lens + (h − h_lens) / S, all above the same ground."""
    return lens_height_mm + (height_mm - lens_height_mm) / ratio


def span_mm(sensor_mm: float, distance_mm: float, image_mm: float) -> float:
    """Return what a length on the sensor covers at a distance: w·z / v."""
    return sensor_mm * distance_mm / image_mm


def drift_tolerance_mm(slip_mm: float, model_mm: float, background_mm: float, image_mm: float) -> float:
    """Return how far the camera may drift sideways for a slip on the sensor, t/(v·(1/d − 1/D)); infinite at d = D."""
    parting = 1 / model_mm - 1 / background_mm
    return slip_mm / (image_mm * parting) if parting > 0 else math.inf


def place_tolerance_mm(slip_mm: float, model_mm: float, sensor_width_mm: float) -> float:
    """Return how far the model may stand wrong along the axis for an edge at the frame's side: t·d / (w/2)."""
    return slip_mm * model_mm / (sensor_width_mm / 2)


def camera_to_match_mm(model_mm: float, real_mm: float, ratio: float) -> float | None:
    """Return how far forward (− back) the camera must go for 1:S to match: (S·d − D)/(S − 1); None at 1:1."""
    return None if ratio <= 1 else (ratio * model_mm - real_mm) / (ratio - 1)


def air_contrast(distance_mm: float, visibility_mm: float, by: str = "5 %") -> float:
    """Return what the air leaves of a contrast, 0 to 1: exp(−2.996·D/V), 3.912 by "2 %". Source: Koschmieder's law."""
    return math.exp(-VISIBILITY[by] * distance_mm / visibility_mm)


def tape_error_mm(distance_mm: float, near_mm: float = TAPE_MM) -> float:
    """Return how far off a taped distance usually is: `near_mm`, and 1 % of what lies beyond 10 m; 0 at infinity."""
    return 0.0 if math.isinf(distance_mm) else near_mm + LONG_SHARE * max(distance_mm - LONG_MM, 0.0)


def size_margin(model_mm: float, seems_mm: float, model_error_mm: float, seems_error_mm: float) -> float:
    """Return by what share of itself a model's size, D/d, may be off: root of the squares (JCGM 100:2008, 5.1.2)."""
    return math.hypot(model_error_mm / model_mm, 0.0 if math.isinf(seems_mm) else seems_error_mm / seems_mm)


def end_room(near_mm: float, far_mm: float, reach: float) -> float:
    """Return how much farther, in 1/mm, sharpness reaches than from the nearer of focus and zone end to the other."""
    return reach - (1 / near_mm - 1 / far_mm)


def end_margin(end_mm: float, focus_mm: float, end_error_mm: float, focus_error_mm: float) -> float:
    """Return by how much 1/end less 1/focus may be off, in 1/mm, from both errors; either may be at infinity."""
    return math.hypot(end_error_mm / end_mm**2, focus_error_mm / focus_mm**2)
