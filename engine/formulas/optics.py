"""The thin lens: where the picture forms, how large it is, and what a marked stop amounts to.

Lengths are in mm. Object distances run from the lens's entrance pupil, image distances from the rear of the
same thin lens (pupil magnification taken as 1), both positive away from the lens. Angles are in degrees.
"""

import math


def image_distance_mm(focal_mm: float, focus_mm: float) -> float:
    """Return v = f·s/(s − f), the lens-to-sensor distance in mm when a lens is focused at `focus_mm`.

    `focus_mm` may be infinite, which gives the focal length itself; v grows without limit as s nears f.
    Raises ValueError where s <= f: no real picture forms. Source: Gauss's thin-lens equation.
    """
    _require_real_image(focal_mm, focus_mm)
    return focal_mm / (1 - focal_mm / focus_mm)  # this form of it holds at infinity too


def magnification(focal_mm: float, focus_mm: float) -> float:
    """Return m = f/(s − f), picture size over object size at the focus; positive, 0 at infinity, no unit.

    Raises ValueError where s <= f. Source: Gauss's thin-lens equation.
    """
    _require_real_image(focal_mm, focus_mm)
    return focal_mm / (focus_mm - focal_mm)


def working_stop(stop: float, magnification: float) -> float:
    """Return the stop that light and diffraction see, N·(1 + m), for an f-number or a T-stop alike.

    `magnification` is not negative; 0 leaves the stop as it is. Unit pupil magnification is assumed.
    Source: the bellows factor, common to every text on close-up photography.
    """
    return stop * (1 + magnification)


def f_number_from_t(t: float, loss_stops: float) -> float:
    """Return the f-number N = T / 2^(loss/2) behind a T-stop; depth of field needs N, which is the smaller.

    `loss_stops` is what the glass absorbs, in stops, 0 or more. Source: T = N/√transmittance (ISO 517).
    """
    return t / 2 ** (loss_stops / 2)


def t_from_f_number(n: float, loss_stops: float) -> float:
    """Return the T-stop T = N · 2^(loss/2) of an f-number; exposure needs T, which is the larger.

    `loss_stops` is what the glass absorbs, in stops, 0 or more. Source: T = N/√transmittance (ISO 517).
    """
    return n * 2 ** (loss_stops / 2)


def half_field_deg(width_mm: float, image_distance_mm: float) -> float:
    """Return half the angle of view in degrees, atan(w/2v), over a width (or height) on the sensor.

    Both lengths are positive mm; the result lies between 0 and 90. Perspective of a pinhole at the pupil.
    """
    return math.degrees(math.atan(width_mm / (2 * image_distance_mm)))


def _require_real_image(focal_mm: float, focus_mm: float) -> None:
    if not 0 < focal_mm < focus_mm:
        raise ValueError(
            f"a lens of {focal_mm:g} mm cannot focus at {focus_mm:g} mm from its entrance pupil: "
            "the focus must lie farther away than the focal length"
        )
