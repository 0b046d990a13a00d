"""The entrance pupil of a real lens, found on the bench by rays traced through its glass.

The lens and its printed values are from mjhoptics/ray-optics, `ag_dblgauss.lis`. That nothing slides about the
entrance pupil, and not about the nodal point, is R. Littlefield's *Theory of the "No-Parallax" Point* (2006).
"""

import math

import numpy as np
import pytest
from ray_lens import DOUBLE_GAUSS, Lens, SlidingCamera, Surface

from forescale.engine.formulas.bench_fit import BenchFit, Reading, fit
from forescale.engine.formulas.slip import Turn, slip_mm

MODEL_MM, BACKGROUND_MM, PIXEL_MM = 3000.0, 70000.0, 0.004
SLIDES = (20.0, 40.0, 60.0, 80.0, 100.0)
# The first vertex stands so far ahead of the axis at reading 0 that the paraxial pupil meets it at 60 mm.
CAMERA = SlidingCamera(DOUBLE_GAUSS, DOUBLE_GAUSS.paraxial_pupil - 60.0, 3000.0, PIXEL_MM)


def turn_of(sweep_deg: float) -> Turn:
    focal, focus = DOUBLE_GAUSS.focal_length, 3000.0 + DOUBLE_GAUSS.front_nodal_point
    return Turn(
        sweep_deg=sweep_deg,
        model_mm=MODEL_MM,
        background_mm=BACKGROUND_MM,
        image_distance_mm=focal * focus / (focus - focal),
    )


def traced(slide: float, sweep_deg: float) -> float:
    return CAMERA.slip_px(MODEL_MM, BACKGROUND_MM, slide, sweep_deg)


def pupil_behind_vertex(found: BenchFit) -> float:
    """The zero turns the pupil on the axis, so the vertex stands ahead of it by the pupil's depth."""
    return CAMERA.vertex_at_zero + found.slide_for_zero_mm


@pytest.mark.parametrize(
    ("step", "traced_value", "printed", "tolerance"),
    [
        # The listing's indices have six decimals, which is worth 0.0002 mm in these two.
        ("focal length", DOUBLE_GAUSS.focal_length, 100.0038, 0.0003),
        ("back focus", DOUBLE_GAUSS.back_focus, 61.4875, 0.0003),
        # Four decimals printed.
        ("entrance pupil", DOUBLE_GAUSS.paraxial_pupil, 57.9120, 0.00006),
        ("entrance pupil at 10°", DOUBLE_GAUSS.chief_from_infinity(10), 58.7753, 0.00006),
        ("entrance pupil at 14°", DOUBLE_GAUSS.chief_from_infinity(14), 59.6575, 0.00006),
        # One decimal printed.
        ("nodal point from pupil", DOUBLE_GAUSS.front_nodal_point - DOUBLE_GAUSS.paraxial_pupil, 12.8, 0.05),
    ],
)  # fmt: skip
def test_the_tracer_gives_the_printed_values(step: str, traced_value: float, printed: float, tolerance: float) -> None:
    assert traced_value == pytest.approx(printed, abs=tolerance), step


def test_the_tracer_bends_a_ray_by_snells_law() -> None:
    """A ray at a height of 10 into a sphere of radius 50: sin of incidence 0.2, of refraction 0.2/1.5."""
    ball = Lens((Surface(50.0, 10.0, 1.5), Surface(math.inf, 10.0, 1.5)), stop=0)
    _, height, angle = ball.trace(-5.0, 10.0, 0.0, until=0)
    assert height == pytest.approx(10.0)
    assert angle == pytest.approx(math.asin(0.2 / 1.5) - math.asin(0.2), rel=1e-12)


@pytest.mark.parametrize("sweep", [1.0, 2.0, -2.0])
def test_a_small_pan_finds_the_paraxial_pupil(sweep: float) -> None:
    """Slips kept to every digit; the pupil's own aberration is worth 0.035 mm at 2°."""
    sign = math.copysign(1.0, sweep)
    readings = [Reading(slide, sign * traced(slide, sweep)) for slide in SLIDES]
    found = fit(readings, turn_of(sweep), PIXEL_MM)
    assert pupil_behind_vertex(found) == pytest.approx(57.9120, abs=0.04)
    assert found.suspects == ()


@pytest.mark.parametrize(("sweep", "printed"), [(10.0, 58.7753), (14.0, 59.6575)])
def test_a_wide_pan_finds_the_pupil_of_its_chief_rays(sweep: float, printed: float) -> None:
    """At the zero the same ray passes both targets, so what is found is the pupil at that angle.

    Distortion bends the slips along the slide a little otherwise than a pinhole's: 0.002 mm.
    """
    found = fit([Reading(slide, traced(slide, sweep)) for slide in SLIDES], turn_of(sweep), PIXEL_MM)
    assert pupil_behind_vertex(found) == pytest.approx(printed, abs=0.003)
    assert found.suspects == ()


def test_turned_about_the_nodal_point_the_model_slides() -> None:
    """The nodal point lies 12.8 mm behind the pupil: on the axis, it has the pupil that far ahead.

    At 10° the pinhole's slip for that, less what the pupil's aberration (0.86 mm) takes off it, and distortion.
    """
    slide = DOUBLE_GAUSS.front_nodal_point - CAMERA.vertex_at_zero
    ahead = DOUBLE_GAUSS.front_nodal_point - DOUBLE_GAUSS.chief_from_infinity(10)
    slip = traced(slide, 10.0)
    assert slip > 15
    assert slip == pytest.approx(slip_mm(turn_of(10.0), ahead) / PIXEL_MM, rel=0.03)


def test_turned_about_the_pupil_the_model_stays() -> None:
    slide = DOUBLE_GAUSS.chief_from_infinity(10) - CAMERA.vertex_at_zero
    assert traced(slide, 10.0) == pytest.approx(0.0, abs=1e-5)


@pytest.mark.parametrize("slide", [50.0, 72.0])
def test_forward_of_the_pupil_outruns_and_back_of_it_lags(slide: float) -> None:
    assert (traced(slide, 8.0) > 0) == (slide > 60)


@pytest.mark.parametrize("count", [4, 6])
def test_benches_read_to_whole_pixels_state_an_honest_error(count: int) -> None:
    """Traced slips with half a pixel of noise, rounded, at places of the slide that vary; 400 seeded trials."""
    truth = DOUBLE_GAUSS.chief_from_infinity(6)
    random = np.random.default_rng(7)
    errors = []
    for _ in range(400):
        slides = [float(slide) for slide in np.linspace(20, 100, count) + random.uniform(0, 15)]
        slips = [float(round(traced(slide, 6.0) + random.normal(0, 0.5))) for slide in slides]
        found = fit([Reading(*pair) for pair in zip(slides, slips, strict=True)], turn_of(6.0), PIXEL_MM)
        assert found.std_error_mm is not None
        errors.append(abs(pupil_behind_vertex(found) - truth) / found.std_error_mm)
    assert 0.64 <= np.mean(np.array(errors) <= 1) <= 0.80
    assert np.mean(np.array(errors) <= 2) >= 0.95
