"""The focus zone by geometry: how near and how far a picture is sharp, and the stop that holds a zone.

Lengths are in mm, distances from the entrance pupil; N is the exact f-number, c the circle of confusion, P the pupil
magnification (1 for a thin lens, and where it is not known). Everything follows from one exact relation, written in
reciprocals so that it holds at infinity: with the picture at v, the zone reaches N·c/(f·v) in 1/mm either side of 1/s.
Whatever is given a focus raises ValueError where it is not beyond f/P. Source: exact paraxial lens, the blur disk of a
point equal to c.
"""

import math

from forescale.engine.formulas.optics import image_distance_mm

# A far limit past this many focus distances is infinity blurred by rounding: focused at the hyperfocal
# distance the exact answer is infinity, and floats carry about sixteen digits.
_INFINITELY_FAR = 1e12


def near_limit_mm(
    focus_mm: float, focal_mm: float, f_number: float, coc_mm: float, pupil_magnification: float = 1.0
) -> float:
    """Return the nearest sharp distance in mm, s·f² / (f² + N·c·(s − f/P)); f²/(N·c) when focused at infinity."""
    return 1 / (1 / focus_mm + _reach(focus_mm, focal_mm, f_number, coc_mm, pupil_magnification))


def far_limit_mm(
    focus_mm: float, focal_mm: float, f_number: float, coc_mm: float, pupil_magnification: float = 1.0
) -> float:
    """Return the farthest sharp distance in mm, s·f² / (f² − N·c·(s − f/P)), infinite from the hyperfocal on."""
    inverse = 1 / focus_mm - _reach(focus_mm, focal_mm, f_number, coc_mm, pupil_magnification)
    return math.inf if inverse * focus_mm * _INFINITELY_FAR <= 1 else 1 / inverse


def hyperfocal_mm(focal_mm: float, f_number: float, coc_mm: float, pupil_magnification: float = 1.0) -> float:
    """Return H = f²/(N·c) + f/P in mm, the nearest focus whose far limit is infinite."""
    return focal_mm**2 / (f_number * coc_mm) + focal_mm / pupil_magnification


def zone_focus_mm(near_mm: float, far_mm: float) -> float:
    """Return the focus in mm that blurs both ends of a zone alike, 2nF/(n + F), 2n to infinity; ValueError if n > F."""
    if not 0 < near_mm <= far_mm:
        must = "it must start ahead of the lens and end no nearer than it starts"
        raise ValueError(f"a zone from {near_mm:g} mm to {far_mm:g} mm is none: {must}")
    return 2 / (1 / near_mm + 1 / far_mm)


def stop_for_limits(
    near_mm: float, far_mm: float, focus_mm: float, focal_mm: float, coc_mm: float, pupil_magnification: float = 1.0
) -> float:
    """Return the exact f-number that just reaches both ends of a zone from any focus; 0 where both are the focus."""
    near_side, far_side = 1 / near_mm - 1 / focus_mm, 1 / focus_mm - 1 / far_mm
    return max(near_side, far_side) / _reach(focus_mm, focal_mm, 1.0, coc_mm, pupil_magnification)


def split_power_dioptres(near_mm: float, background_focus_mm: float) -> float:
    """Return the power 1/n − 1/s in dioptres that brings `near_mm` into focus; ValueError if it is no nearer than s."""
    if not 0 < near_mm < background_focus_mm:
        must = f"the near part must stand nearer than the focus on the background, {background_focus_mm:g} mm"
        raise ValueError(f"a close-up lens cannot help at {near_mm:g} mm: {must}")
    return 1000 / near_mm - 1000 / background_focus_mm


def split_dioptres(near_mm: float, background_focus_mm: float) -> float:
    """Return that power to the nearest half dioptre, 0.5 at least, as they are sold (common practice, no source)."""
    return max(math.floor(2 * split_power_dioptres(near_mm, background_focus_mm) + 0.5), 1) / 2


def zone_through_close_up_mm(
    dioptres: float, focus_mm: float, focal_mm: float, f_number: float, coc_mm: float, pupil_magnification: float = 1.0
) -> tuple[float, float]:
    """Return the nearest and farthest sharp distance in mm through a close-up lens of a positive power.

    A thing at z looks to the lens behind it, focused at `focus_mm`, as if it stood at z', 1/z' = 1/z − P, and 1/z' must
    lie within its reach of 1/s. That holds past infinity too, where the light comes in converging, so that the zone may
    end beyond 1/P; infinite where it has no end. Source: thin lenses in contact, blur disk of a point equal to c.
    """
    middle = 1 / focus_mm + dioptres / 1000
    reach = _reach(focus_mm, focal_mm, f_number, coc_mm, pupil_magnification)
    return 1 / (middle + reach), 1 / (middle - reach) if middle > reach else math.inf


def _reach(focus_mm: float, focal_mm: float, f_number: float, coc_mm: float, pupil_magnification: float) -> float:
    """Return how far the zone extends to either side of 1/s, N·c/(f·v), in 1/mm."""
    return f_number * coc_mm / (focal_mm * image_distance_mm(focal_mm, focus_mm, pupil_magnification))
