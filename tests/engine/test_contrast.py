"""Contrast at a distance and the best stop: printed values first, then what must hold for every shot."""

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from forescale.engine.formulas.contrast import (
    WAVELENGTH_MM,
    airy_mm,
    best_stop,
    blur_disk_mm,
    contrast,
    frequency_lpmm,
    mtf,
    worst_contrast,
)
from forescale.engine.formulas.optics import image_distance_mm

THIRD_STOPS = tuple(2 ** (third / 6) for third in range(28))  # f/1 to f/22.6
# A miniature at 10 ft with its nearest part at 9 ft 4 in before a background to 300 ft, 35 mm lens, 2K from 16.6 mm.
ZONE = {"near_mm": 2844.8, "far_mm": 91440.0, "focus_mm": 5518.0, "focal_mm": 35.0, "frequency_lpmm": 39.5}

# Airy diameter 2.44·λ·N at 550 nm, worked out outside this project; printed to a hundredth of a micrometre, which
# f/8 tells apart: 10.736 by the rounded 2.44, 10.733 by the exact first zero of J₁.
AIRY = [("f/8", 8, 10.73), ("f/16", 16, 21.47), ("f/22", 22, 29.52)]

# Perfect circular pupil at a quarter, half and three quarters of cutoff: (2/π)(acos σ − σ√(1 − σ²)), to six digits.
IN_FOCUS = [(0.25, 0.685038), (0.5, 0.391002), (0.75, 0.144294)]

# Hopkins's integral (Proc. R. Soc. A 231, 1955) by 25-digit quadrature outside this project; a 2-D FFT agrees.
# Printed to six digits.
DEFOCUSED = [
    (0.1, 0.25, 0.838860),
    (0.1, 0.5, 0.742089),
    (0.2, 0.5, 0.434819),
    (0.3, 0.25, 0.501570),
    (0.5, 0.25, 0.287468),
    (0.5, 0.5, 0.084609),
    (0.1, 1.0, 0.426646),
    (0.3, 1.0, -0.069515),
]


@pytest.mark.parametrize(("stop", "n", "micrometres"), AIRY, ids=[row[0] for row in AIRY])
def test_airy_disk(stop: str, n: float, micrometres: float) -> None:
    assert airy_mm(n) * 1000 == pytest.approx(micrometres, abs=0.005), stop


@pytest.mark.parametrize(("sigma", "printed"), IN_FOCUS, ids=str)
def test_transfer_in_focus(sigma: float, printed: float) -> None:
    assert mtf(sigma, 0.0) == pytest.approx(printed, abs=5e-7)


@pytest.mark.parametrize(("sigma", "waves", "printed"), DEFOCUSED, ids=str)
def test_transfer_out_of_focus(sigma: float, waves: float, printed: float) -> None:
    assert mtf(sigma, waves) == pytest.approx(printed, abs=5e-7)
    assert mtf(sigma, -waves) == mtf(sigma, waves)


@pytest.mark.parametrize("waves", [0.0, 0.25, 30.0, 1e6])
def test_transfer_at_its_ends(waves: float) -> None:
    assert mtf(0.0, waves) == 1.0
    assert mtf(1.0, waves) == 0.0
    assert mtf(1.5, waves) == 0.0


def test_frequency_of_a_circle_of_confusion() -> None:
    assert frequency_lpmm(0.025) == 20  # two circles of 1/40 mm to the pair


def test_blur_disk_by_similar_triangles() -> None:
    """The cone from the aperture to the picture of the point, cut by the sensor; by hand for round numbers.

    100 mm f/4 (aperture 25 mm) focused at 1100 mm: picture at 110 mm; the point at 600 mm is pictured at 120 mm,
    the one at infinity at 100 mm.
    """
    assert image_distance_mm(100, 1100) == pytest.approx(110)
    assert blur_disk_mm(600, 1100, 100, 4) == pytest.approx(25 * (120 - 110) / 120)
    assert blur_disk_mm(math.inf, 1100, 100, 4) == pytest.approx(25 * (110 - 100) / 100)
    assert blur_disk_mm(1100, math.inf, 100, 4) == pytest.approx(25 * (110 - 100) / 110)
    assert blur_disk_mm(1100, 1100, 100, 4) == 0


def test_contrast_takes_the_working_stop_and_the_blur() -> None:
    """Life size at f/8 works as f/16; by hand, a point whose blur is 8·N_w·λ is one wave out."""
    spread = WAVELENGTH_MM * 16
    assert contrast(100, 100, 50, 8, 0.3 / spread) == pytest.approx(mtf(0.3, 0))
    one_wave = 1 / (1 / 100 + 8 * spread / (50 / 8 * 100))
    assert contrast(one_wave, 100, 50, 8, 0.1 / spread) == pytest.approx(0.426646, abs=5e-7)


def test_spurious_resolution_counts_as_no_contrast() -> None:
    spread = WAVELENGTH_MM * 16
    one_wave = 1 / (1 / 100 + 8 * spread / (50 / 8 * 100))
    assert mtf(0.3, 1.0) < -0.05
    assert contrast(one_wave, 100, 50, 8, 0.3 / spread) == 0


@given(
    focal=st.floats(4, 1000),
    stop=st.floats(0.7, 90),
    focus_over_focal=st.floats(1.0001, 1e7) | st.just(math.inf),
    object_mm=st.floats(50, 1e9) | st.just(math.inf),
    coc=st.floats(0.0005, 0.5),
)
@example(focal=1000, stop=0.7, focus_over_focal=1.0001, object_mm=50, coc=0.0005)
@example(focal=4, stop=90, focus_over_focal=math.inf, object_mm=math.inf, coc=0.0005)
def test_contrast_is_a_share(focal: float, stop: float, focus_over_focal: float, object_mm: float, coc: float) -> None:
    share = contrast(object_mm, focal * focus_over_focal, focal, stop, frequency_lpmm(coc))
    assert 0 <= share <= 1  # never nan either: nan compares false


@given(sigma=st.floats(0, 1), waves=st.floats(0, 1e6))
def test_defocus_only_takes_away(sigma: float, waves: float) -> None:
    # 1e-4 is what `mtf` promises
    assert abs(mtf(sigma, waves)) <= mtf(sigma, 0.0) + 1e-4


@given(stop=st.sampled_from(THIRD_STOPS), near=st.floats(300, 5518), far=st.floats(5518, 1e7) | st.just(math.inf))
def test_worst_contrast_is_the_least_of_near_focus_and_far(stop: float, near: float, far: float) -> None:
    setting = (5518.0, 35.0, stop, 39.5)
    everywhere = [contrast(object_mm, *setting) for object_mm in (near, 5518.0, far)]
    assert worst_contrast(near, far, *setting) == pytest.approx(min(everywhere), abs=1e-4)


def test_best_stop_has_the_best_worst_contrast() -> None:
    best = best_stop(THIRD_STOPS, **ZONE)
    worst = {n: worst_contrast(f_number=n, **ZONE) for n in THIRD_STOPS}
    assert best.f_number in THIRD_STOPS
    assert best.worst == worst[best.f_number] == max(worst.values())


def test_closing_down_past_the_best_stop_loses() -> None:
    best = best_stop(THIRD_STOPS, **ZONE)
    closed = [n for n in THIRD_STOPS if n >= best.f_number]
    kept = [worst_contrast(f_number=n, **ZONE) for n in closed]
    assert len(closed) > 3
    assert kept == sorted(kept, reverse=True)
    assert kept[-1] < 0.9 * kept[0]


def test_best_stop_in_any_order_of_the_marks() -> None:
    assert best_stop(THIRD_STOPS[::-1], **ZONE) == best_stop(THIRD_STOPS, **ZONE)


def test_a_flat_subject_in_focus_is_best_wide_open() -> None:
    flat = {**ZONE, "near_mm": 5518.0, "far_mm": 5518.0}
    assert best_stop(THIRD_STOPS, **flat).f_number == THIRD_STOPS[0]


def test_where_no_stop_carries_the_detail_the_smallest_aperture_is_named() -> None:
    best = best_stop(THIRD_STOPS, **{**ZONE, "frequency_lpmm": 5000.0})  # past the cutoff of every stop
    assert (best.f_number, best.worst) == (THIRD_STOPS[-1], 0.0)


def test_best_stop_needs_a_stop() -> None:
    with pytest.raises(ValueError, match="no stop to choose from"):
        best_stop((), **ZONE)


@pytest.mark.parametrize("object_mm", [0.0, -100.0, math.nan])
def test_an_object_behind_the_lens_is_refused(object_mm: float) -> None:
    with pytest.raises(ValueError, match="must stand ahead of the entrance pupil"):
        contrast(object_mm, 1000, 50, 8, 20)


def test_a_focus_within_the_focal_length_is_refused() -> None:
    with pytest.raises(ValueError, match="50 mm cannot focus at 50 mm"):
        contrast(1000, 50, 50, 8, 20)
