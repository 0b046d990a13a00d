"""How much contrast fine detail keeps, defocus and diffraction together, and the stop that serves a zone best.

Depth of field by geometry promises that closing down always helps; diffraction says where that ends. Lengths are in mm,
distances from the entrance pupil, frequencies in line pairs a mm on the sensor, N the exact f-number. The lens is free
of aberrations: a real one keeps less.
"""

import math
from functools import lru_cache
from typing import NamedTuple

from forescale.engine.formulas.optics import image_distance_mm, magnification, working_stop

WAVELENGTH_MM = 550e-6  # green, close to the peak of the eye's day response (CIE V(λ): 555 nm); trade's usual value

SHOWN = 0.1  # contrast at which detail is still seen (common practice, no source)
_STEPS = 16  # to the pixels' limit
_OF_BLUR = 0.15  # of a blur disk's frequency: no step of so much leaps a zero
_HALVINGS = 20
AIRY_FACTOR = 2.43934  # twice the first zero of J₁, 3.83171, over π; mostly written 2.44

# The 16-point Gauss-Legendre rule on (−1, 1), positive half: (node, weight). Abramowitz & Stegun, table 25.4.
_GAUSS_LEGENDRE = (
    (0.0950125098376374, 0.1894506104550686),
    (0.2816035507792589, 0.1826034150449236),
    (0.4580167776572274, 0.1691565193950026),
    (0.6178762444026438, 0.1495959888165767),
    (0.7554044083550030, 0.1246289712555341),
    (0.8656312023878318, 0.0951585116824926),
    (0.9445750230732326, 0.0622535239386475),
    (0.9894009349916499, 0.0271524594117542),
)
# The integrand in `mtf` is even, so half of an even rule serves: (u², 8/π · weight · u²).
_RULE = tuple((u * u, 8 / math.pi * weight * u * u) for u, weight in _GAUSS_LEGENDRE)

# Phase in radians up to which the rule serves (error 7e-6) and beyond which the expansion does (error 4e-5).
_RULE_SERVES_TO = 12.0


class BestStop(NamedTuple):
    """The exact f-number with the best worst contrast over a zone, and that contrast (0 to 1)."""

    f_number: float
    worst: float


def mtf(sigma: float, defocus_waves: float) -> float:
    """Return the modulation transfer, signed, of a circular pupil with diffraction and defocus.

    `sigma` is the frequency over the cutoff 1/(λ·N_w), 0 or more; `defocus_waves` is the wavefront error W at the
    pupil's edge in wavelengths, of either sign. The result runs from 1 down to −0.133; below zero light and dark change
    places (spurious resolution); 0 from the cutoff on. Within 1e-4 of the integral

    (4/π) ∫₀^{1−σ} √(1 − (x + σ)²) · cos(8π·W·σ·x) dx

    for every W, to 1e-6 while 8π·W·σ·(1 − σ) <= 10. Source: H. H. Hopkins, Proc. R. Soc. A 231 (1955).
    """
    if sigma >= 1:
        return 0.0
    rate = 8 * math.pi * abs(defocus_waves) * sigma
    if rate == 0:
        return 2 / math.pi * (math.acos(sigma) - sigma * math.sqrt(1 - sigma * sigma))
    span = 1 - sigma
    if rate * span > _RULE_SERVES_TO:
        return _expanded(sigma, rate)
    total = 0.0  # by quadrature, after x = span·(1 − u²) has taken the root out of the integral's far end
    for u_squared, weight in _RULE:
        total += weight * math.sqrt(2 - span * u_squared) * math.cos(rate * span * (1 - u_squared))
    return total * span * math.sqrt(span)


def blur_disk_mm(
    object_mm: float, focus_mm: float, focal_mm: float, f_number: float, pupil_magnification: float = 1.0
) -> float:
    """Return the diameter in mm on the sensor of the blur of a point at `object_mm`, b = (f/N)·|v − v_u|/v_u.

    0 at the focus; either distance may be infinite. Raises ValueError where the focus is not beyond f/P, or the object
    not ahead of the lens. Source: exact paraxial lens, geometry alone.
    """
    if not object_mm > 0:
        raise ValueError(f"nothing can be seen at {object_mm:g} mm: it must stand ahead of the entrance pupil")
    # v/v_u − 1 = v·(1/s − 1/u), which holds at infinity and inside the focal length as well.
    image_mm = image_distance_mm(focal_mm, focus_mm, pupil_magnification)
    return focal_mm / f_number * image_mm * abs(1 / focus_mm - 1 / object_mm)


def contrast(
    object_mm: float, focus_mm: float, focal_mm: float, f_number: float, lpmm: float, pupil_magnification: float = 1.0
) -> float:
    """Return the contrast, 0 to 1, that detail at `object_mm` keeps at a frequency on the sensor.

    The modulation transfer for N_w = N·(1 + m/P), σ = ν·λ·N_w and W = b/(8·N_w·λ), what would be negative (spurious
    resolution) as 0. Raises ValueError as `blur_disk_mm` does. Source: H. H. Hopkins, Proc. R. Soc. A 231 (1955).
    """
    magnified = magnification(focal_mm, focus_mm, pupil_magnification)
    spread_mm = WAVELENGTH_MM * working_stop(f_number, magnified, pupil_magnification)
    defocus_waves = blur_disk_mm(object_mm, focus_mm, focal_mm, f_number, pupil_magnification) / (8 * spread_mm)
    return min(max(mtf(lpmm * spread_mm, defocus_waves), 0.0), 1.0)


@lru_cache(maxsize=32)
def finest_lpmm(
    object_mm: float, focus_mm: float, focal_mm: float, f_number: float, pixel_mm: float, pupil_magnification: float = 1
) -> float:
    """Return ν₁₀, the finest detail at `object_mm` that lens and pixels still show, in line pairs a mm on the sensor.

    The first frequency at which contrast (defocus and diffraction, times the pixel's own |sin(πνp)/(πνp)|) falls to a
    tenth, never above the pixels' limit 1/(2p); what comes back beyond it is false and does not count. To a millionth
    of itself. Source: Rayleigh's limit leaves about as much contrast (common practice); the pixel as a square opening.
    """
    limit = 1 / (2 * pixel_mm)

    def shown(frequency: float) -> float:
        seen = contrast(object_mm, focus_mm, focal_mm, f_number, frequency, pupil_magnification)
        turn = math.pi * frequency * pixel_mm
        return seen * math.sin(turn) / turn

    blur = blur_disk_mm(object_mm, focus_mm, focal_mm, f_number, pupil_magnification)
    low = 0.0
    step = min(limit / _STEPS, _OF_BLUR / blur) if blur > 0 else limit / _STEPS
    while shown(low + step) > SHOWN:
        low += step
        if low >= limit * (1 - 1e-9):
            return limit
        step = min(step, limit - low)
    for _ in range(_HALVINGS):
        step /= 2
        if shown(low + step) > SHOWN:
            low += step
    return low


def airy_mm(f_number_working: float) -> float:
    """Return the diameter in mm of the Airy disk, 2.44·λ·N_w, at the working f-number, 550 nm. Source: Airy, 1835."""
    return AIRY_FACTOR * WAVELENGTH_MM * f_number_working


def frequency_lpmm(coc_mm: float) -> float:
    """Return the line pairs a mm that a circle of confusion just carries, 1/(2c) (common practice, no source)."""
    return 1 / (2 * coc_mm)


def worst_contrast(
    near_mm: float,
    far_mm: float,
    focus_mm: float,
    focal_mm: float,
    f_number: float,
    frequency_lpmm: float,
    pupil_magnification: float = 1.0,
) -> float:
    """Return the least contrast, 0 to 1, over a zone at one stop: that of an end, as defocus can only take away."""
    lens = (focus_mm, focal_mm, f_number, frequency_lpmm, pupil_magnification)
    return min(contrast(object_mm, *lens) for object_mm in (near_mm, far_mm))


@lru_cache(maxsize=32)  # asked again at each step of the stop, of which it knows nothing
def best_stop(
    f_numbers: tuple[float, ...],
    near_mm: float,
    far_mm: float,
    focus_mm: float,
    focal_mm: float,
    frequency_lpmm: float,
    pupil_magnification: float = 1.0,
) -> BestStop:
    """Return the f-number among `f_numbers` whose worst contrast over the zone is best; past it closing down loses.

    Equals go to the smaller aperture, so where no stop carries the detail at all (`worst` is 0) it is the smallest.
    Raises ValueError without an f-number to choose from, and as `contrast` does.
    """
    if not f_numbers:
        raise ValueError("no stop to choose from: the lens must have at least one")
    best = (-1.0, 0.0)
    for f_number in f_numbers:
        lens = (focus_mm, focal_mm, f_number, frequency_lpmm, pupil_magnification)
        near = contrast(near_mm, *lens)
        if near >= best[0]:  # else the far end need not be asked
            best = max(best, (min(near, contrast(far_mm, *lens)), f_number))
    return BestStop(best[1], best[0])


def _expanded(sigma: float, rate: float) -> float:
    """Return Hopkins's integral for strong defocus, from what its two ends leave (repeated integration by parts).

    The far end gives the first two terms, the near end the third; the next are below 4e-5 where the rule stops.
    As σ → 0 the first becomes the large-argument form of the geometric 2·J₁(z)/z, z = `rate`.
    """
    angle = rate * (1 - sigma) - 3 * math.pi / 4
    far_end = math.sqrt(math.pi / 2) * (math.cos(angle) - 3 / (8 * rate) * math.sin(angle)) / math.sqrt(rate)
    near_end = sigma / (rate * math.sqrt(1 - sigma * sigma))
    return 4 / math.pi * (far_end + near_end) / rate
