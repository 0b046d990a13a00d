"""The modulation transfer against independent numerics: SciPy's quadrature and Bessel function, NumPy's FFT."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.polynomial.legendre import leggauss
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import j1, jn_zeros

from forescale.engine.formulas import contrast as module
from forescale.engine.formulas.contrast import AIRY_FACTOR, blur_disk_mm, contrast, finest_lpmm, mtf

SIGMAS = [1e-5, 1e-3, 0.01, 0.03, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.97, 0.99, 0.999]
# The far end's phase 8π·W·σ·(1 − σ) in radians: every size, and both sides of where one method hands over.
PHASES = [*np.linspace(0.1, 40, 100), 12.0, math.nextafter(12.0, 13), 100.0, 1e3, 1e4, 1e6]
PROMISED = 1e-4  # what the docstring of `mtf` promises for every defocus


def hopkins(sigma: float, waves: float) -> float:
    """The integral as Hopkins writes it, by SciPy's rule for oscillating integrands (QAWO)."""
    value, _ = quad(
        lambda x: math.sqrt(max(0.0, 1 - (x + sigma) ** 2)),
        0,
        1 - sigma,
        weight="cos",
        wvar=8 * math.pi * waves * sigma,
        limit=200,
    )
    return 4 / math.pi * value


def waves_for(sigma: float, phase: float) -> float:
    return phase / (8 * math.pi * sigma * (1 - sigma))


@pytest.mark.parametrize("sigma", SIGMAS)
def test_transfer_equals_hopkins_integral_at_every_defocus(sigma: float) -> None:
    for phase in PHASES:
        waves = waves_for(sigma, phase)
        # at the first phases the promise is 1e-6
        within = 1e-6 if phase <= 10 else PROMISED
        assert mtf(sigma, waves) == pytest.approx(hopkins(sigma, waves), abs=within), f"σ {sigma}, W {waves}"


@pytest.mark.parametrize("waves", [0.0, 0.05, 0.25, 0.5, 1.0, 2.0, 4.0])
def test_transfer_equals_the_autocorrelation_of_a_defocused_pupil(waves: float) -> None:
    """The pupil drawn on a grid, its point spread by one 2-D FFT, its transfer by another.

    The grid's squares at the pupil's edge leave an error that falls with the shift, 1e-4 from ten squares on;
    past four waves the phase turns too far from one square to the next.
    """
    radius = 100
    transfer = transfer_by_fft(radius, waves)
    for shift in range(10, 2 * radius, 5):
        assert transfer[shift] == pytest.approx(mtf(shift / (2 * radius), waves), abs=1e-4), f"shift {shift}"


def transfer_by_fft(radius: int, waves: float, size: int = 512, parts: int = 8) -> np.ndarray:
    """The transfer at shifts of 0, 1, 2 … squares; squares that the edge crosses count by the part inside."""
    centres = np.arange(size) - size // 2
    fine = (centres[:, None] + (np.arange(parts) + 0.5) / parts - 0.5).ravel()
    inside = fine[:, None] ** 2 + fine[None, :] ** 2 <= radius**2
    amplitude = inside.reshape(size, parts, size, parts).mean(axis=(1, 3))
    sag = (centres[:, None] ** 2 + centres[None, :] ** 2) / radius**2
    spread = np.abs(np.fft.fft2(amplitude * np.exp(2j * np.pi * waves * sag))) ** 2
    return np.fft.ifft2(spread).real[0] / amplitude.sum()


@pytest.mark.parametrize("z", [0.3, 1.0, 2.0, 3.8317, 5.0, 7.0, 11.9, 12.1, 20.0, 60.0, 300.0, 3000.0])
def test_far_from_diffraction_the_transfer_is_geometric(z: float) -> None:
    """Far below the cutoff a uniform disk's 2·J₁(z)/z remains, z = π·b·ν = 8π·W·σ; σ itself is what is left out."""
    sigma = 1e-6
    assert mtf(sigma, z / (8 * math.pi * sigma)) == pytest.approx(2 * j1(z) / z, abs=PROMISED)


def test_contrast_of_a_coarse_pattern_is_that_of_its_blur_disk() -> None:
    """100 mm f/1 focused at 1100 mm: the picture of infinity is blurred over 100·10/100 = 10 mm."""
    assert contrast(math.inf, 1100, 100, 1, 0.05) == pytest.approx(
        2 * j1(0.5 * math.pi) / (0.5 * math.pi), abs=PROMISED
    )


def test_quarter_wave_strehl_ratio() -> None:
    """Strehl's ratio is the volume under the transfer over that in focus; a quarter wave of defocus leaves .8106.

    Printed to four digits; the closed form is (sin πW/πW)². Rayleigh's quarter-wave criterion.
    """
    volume = quad(lambda sigma: sigma * mtf(sigma, 0.25), 0, 1)[0]
    in_focus = quad(lambda sigma: sigma * mtf(sigma, 0.0), 0, 1)[0]
    assert volume / in_focus == pytest.approx(0.8106, abs=5e-5)


def test_airy_factor_is_twice_the_first_zero_of_j1_over_pi() -> None:
    # half of the last of the six digits stored
    assert pytest.approx(2 * jn_zeros(1, 1)[0] / math.pi, abs=5e-6) == AIRY_FACTOR


def test_stored_rule_is_gauss_legendre() -> None:
    nodes, weights = leggauss(2 * len(module._GAUSS_LEGENDRE))
    half = len(nodes) // 2
    stored_nodes, stored_weights = zip(*module._GAUSS_LEGENDRE, strict=True)
    assert stored_nodes == pytest.approx(nodes[half:], abs=1e-15)
    assert stored_weights == pytest.approx(weights[half:], abs=1e-15)


def test_no_transfer_reverses_more_than_a_disk_does() -> None:
    """The lowest point of 2·J₁(z)/z, −0.1323 where J₂ is zero, bounds how negative any transfer can be."""
    z = jn_zeros(2, 1)[0]
    assert mtf(1e-6, z / 8e-6 / math.pi) == pytest.approx(-0.1323, abs=5e-5)
    assert all(mtf(sigma, waves_for(sigma, phase)) > -0.1324 for sigma in SIGMAS for phase in PHASES)


# By hand: without defocus the first frequency with a tenth of contrast in (2/π)(acos σ − σ√(1 − σ²))·sinc(ν·p).
@pytest.mark.parametrize("f_number", [2.0, 5.6, 16.0, 45.0])
def test_the_finest_detail_in_focus_is_that_of_diffraction_and_the_pixel(f_number: float) -> None:
    focal, at, pixel = 50.0, 4000.0, 0.002
    cutoff = 1 / (550e-6 * f_number * (1 + focal / (at - focal)))

    def left(frequency: float) -> float:
        sigma = frequency / cutoff
        lens = 2 / math.pi * (math.acos(sigma) - sigma * math.sqrt(1 - sigma**2)) if sigma < 1 else 0.0
        return lens * float(np.sinc(frequency * pixel)) - 0.1

    limit = 1 / (2 * pixel)
    wanted = limit if left(limit) > 0 else brentq(left, 1e-6, limit)
    assert finest_lpmm(at, at, focal, f_number, pixel) == pytest.approx(wanted, rel=1e-5)


@given(st.floats(300, 20_000), st.floats(300, 20_000), st.sampled_from([1.4, 4, 11, 22]), st.floats(0.001, 0.02))
def test_up_to_the_finest_detail_contrast_stays_over_a_tenth(
    model: float, focus: float, f_number: float, pixel: float
) -> None:
    finest = finest_lpmm(model, focus, 35, f_number, pixel)
    assert 0 < finest <= 1 / (2 * pixel)
    for share in np.linspace(0.001, 0.999, 120):
        seen = contrast(model, focus, 35, f_number, share * finest) * np.sinc(share * finest * pixel)
        assert seen > 0.1 - 2e-4
    if finest < 1 / (2 * pixel) * 0.999:
        just_past = contrast(model, focus, 35, f_number, finest * 1.0001) * np.sinc(finest * 1.0001 * pixel)
        assert just_past < 0.1 + 2e-4


def test_what_comes_back_beyond_the_first_zero_does_not_count() -> None:
    """Far out of focus the pixels would show much finer detail, but by then it is false: near 1.1 over the blur."""
    blur = blur_disk_mm(1000, 4000, 50, 2.8)
    assert 0.8 / blur < finest_lpmm(1000, 4000, 50, 2.8, 0.001) < 1.22 / blur
