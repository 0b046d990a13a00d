"""The thin lens: where the picture forms, how large it is, and what a marked stop amounts to.

Lengths are in mm. Object distances s run from the lens's entrance pupil, positive away from the lens; the picture is
that of a pinhole at the pupil with the image distance v = m·s. P, the pupil magnification, is the exit pupil's diameter
over the entrance pupil's: 1 for a thin lens, and where it is not known. Angles are in degrees.
"""

import math


def image_distance_mm(focal_mm: float, focus_mm: float, pupil_magnification: float = 1.0) -> float:
    """Return v = m·s = f·s/(s − f/P), focused at s or infinity; ValueError where s <= f/P. Source: Gauss's equation."""
    front_mm = _front_focus_mm(focal_mm, focus_mm, pupil_magnification)
    return focal_mm / (1 - front_mm / focus_mm)  # this form of it holds at infinity too


def magnification(focal_mm: float, focus_mm: float, pupil_magnification: float = 1.0) -> float:
    """Return m = f/(s − f/P), picture size over object size at the focus; 0 at infinity. ValueError where s <= f/P."""
    return focal_mm / (focus_mm - _front_focus_mm(focal_mm, focus_mm, pupil_magnification))


def working_stop(stop: float, magnification: float, pupil_magnification: float = 1.0) -> float:
    """Return the stop that light and diffraction see, N·(1 + m/P), f-number or T-stop. Source: the bellows factor."""
    return stop * (1 + magnification / pupil_magnification)


def f_number_from_t(t: float, loss_stops: float) -> float:
    """Return the f-number N = T / 2^(loss/2), for depth of field. Source: T = N/√transmittance (ISO 517)."""
    return t / 2 ** (loss_stops / 2)


def t_from_f_number(n: float, loss_stops: float) -> float:
    """Return the T-stop T = N · 2^(loss/2), for exposure. Source: T = N/√transmittance (ISO 517)."""
    return n * 2 ** (loss_stops / 2)


def asymmetry_error(focal_mm: float, focus_mm: float, pupil_magnification: float = 0.5) -> float | None:
    """Return by what share a lens of that P draws larger than of 1: (s − f)/(s − f/P) − 1; None within f/P."""
    beyond_mm = focus_mm - focal_mm / pupil_magnification
    if math.isinf(focus_mm) or beyond_mm <= 0:
        return 0.0 if math.isinf(focus_mm) else None
    return (focus_mm - focal_mm) / beyond_mm - 1


def half_field_deg(width_mm: float, image_distance_mm: float) -> float:
    """Return half the angle of view in degrees, atan(w/2v), over a width (or height) on the sensor; of a pinhole."""
    return math.degrees(math.atan(width_mm / (2 * image_distance_mm)))


def pan_to_edge_deg(width_mm: float, image_distance_mm: float, aim_deg: float) -> float:
    """Return the pan in degrees that carries the point aimed at to the side of the frame, about the pupil.

    `half_field_deg` for a level lens; a tilted one sees the point on an arc: sin θ = k·(cos²τ·cos θ + sin²τ)/cos τ
    with k = w/2v, solved. Perspective of a pinhole at the pupil.
    """
    aim = math.radians(aim_deg)
    half = width_mm / (2 * image_distance_mm)
    across = half * math.cos(aim)
    lifted = half * math.sin(aim) ** 2 / math.cos(aim)
    return math.degrees(math.atan(across) + math.asin(min(lifted / math.hypot(1.0, across), 1.0)))


def _front_focus_mm(focal_mm: float, focus_mm: float, pupil_magnification: float) -> float:
    """Return f/P, how far ahead of the entrance pupil the front focal point lies; ValueError unless s lies beyond."""
    front_mm = focal_mm / pupil_magnification
    if not 0 < front_mm < focus_mm:
        of_pupils = "" if pupil_magnification == 1 else " over the pupil magnification"
        must = f"the focus must lie farther away than the focal length{of_pupils}"
        raise ValueError(f"a lens of {focal_mm:g} mm cannot focus at {focus_mm:g} mm from its entrance pupil: {must}")
    return front_mm
