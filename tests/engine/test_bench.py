"""The bench in pixels: against SciPy's least squares, against noise, and what it refuses or suspects."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import curve_fit
from scipy.stats import linregress, norm, t

from forescale.engine.formulas.bench_fit import Reading, fit, slip_px_at_background
from forescale.engine.formulas.chances import student_68, student_95
from forescale.engine.formulas.slip import Turn, slip_mm, zero_offset_mm
from forescale.engine.formulas.zero_crossing import fitted_line

PIXEL_MM = 16.6 / 2048
TURN = Turn(sweep_deg=12, model_mm=3048, background_mm=73152, image_distance_mm=35.4)
TILT = Turn(sweep_deg=10, model_mm=2400, background_mm=40000, image_distance_mm=51.0, rise_mm=80)
CLOSE = Turn(sweep_deg=20, model_mm=900, background_mm=6000, image_distance_mm=52.0)
SLIDES = (40.0, 60.0, 80.0, 100.0, 120.0)


def readings_of(turn: Turn, slide_for_zero: float, slides: tuple[float, ...] = SLIDES) -> list[Reading]:
    """What the geometry shows at these slides, to the last digit."""
    start = zero_offset_mm(turn) - slide_for_zero
    return [Reading(slide, slip_mm(turn, start + slide) / PIXEL_MM) for slide in slides]


@pytest.mark.parametrize("turn", [TURN, TILT, CLOSE], ids=["pan", "tilt", "close"])
@pytest.mark.parametrize("zero", [52.3, 84.0, 150.0])
@pytest.mark.parametrize("count", [1, 2, 3, 5])
def test_slips_of_the_geometry_give_its_zero_back(turn: Turn, zero: float, count: int) -> None:
    found = fit(readings_of(turn, zero, SLIDES[:count]), turn, PIXEL_MM)
    assert found.slide_for_zero_mm == pytest.approx(zero, abs=1e-8)
    assert found.readings == count
    assert found.outside == (not SLIDES[0] <= zero <= SLIDES[count - 1])
    assert found.residuals == pytest.approx([0.0] * count, abs=1e-8)
    assert found.suspects == ()
    if count > 1:
        assert found.slope_px_per_mm == pytest.approx(found.slope_predicted_px_per_mm, rel=1e-9)


def test_the_pupil_follows_from_the_zero() -> None:
    sensor_at_zero, pupil_ahead = -140.0, 55.0
    readings = [Reading(slide, slip_mm(TILT, slide + sensor_at_zero + pupil_ahead) / PIXEL_MM) for slide in SLIDES]
    found = fit(readings, TILT, PIXEL_MM)
    assert zero_offset_mm(TILT) - found.slide_for_zero_mm - sensor_at_zero == pytest.approx(55.0, abs=1e-8)


def noisy(seed: int, count: int, step: float = 0.0, sd: float = 2.0, zero: float = 77.0) -> list[Reading]:
    random = np.random.default_rng(seed)
    slides = np.linspace(30, 130, count)
    exact = [reading.slip_px for reading in readings_of(TURN, zero, tuple(slides))]
    slips = np.array(exact) + random.normal(0, sd, count)
    slips = np.round(slips / step) * step if step else slips
    return [Reading(float(slide), float(slip)) for slide, slip in zip(slides, slips, strict=True)]


@pytest.mark.parametrize("seed", range(5))
def test_the_line_is_scipys(seed: int) -> None:
    readings = noisy(seed, 6)
    x = [reading.slide_mm for reading in readings]
    y = [reading.slip_px for reading in readings]
    line, reference = fitted_line(x, y), linregress(x, y)
    assert line.slope == pytest.approx(reference.slope, rel=1e-10)
    assert line.zero == pytest.approx(-reference.intercept / reference.slope, rel=1e-10)
    assert line.slope_error(line.scatter) == pytest.approx(reference.stderr, rel=1e-10)


@pytest.mark.parametrize("seed", range(5))
def test_the_zero_and_its_error_are_those_of_a_fit_of_the_whole_geometry(seed: int) -> None:
    """SciPy fits the curved slip with its zero and a factor on the sweep's effect free; 2 px of noise.

    The fit here straightens the slips first, which weighs them alike in offset and not in pixels: they differ by
    a few parts in a hundred of the error.
    """
    readings = noisy(seed, 6)
    x = np.array([reading.slide_mm for reading in readings])
    y = np.array([reading.slip_px for reading in readings])

    def curve(slides: np.ndarray, zero: float, factor: float) -> np.ndarray:
        return np.array([slip_mm(TURN, factor * (slide - zero)) / PIXEL_MM for slide in slides])

    (zero, _), covariance = curve_fit(curve, x, y, p0=(80.0, 1.0))
    error = math.sqrt(covariance[0, 0])
    found = fit(readings, TURN, PIXEL_MM)
    widening = t.ppf(norm.cdf(1), 4)  # six readings, two of them spent on the line
    assert found.std_error_mm == pytest.approx(error * widening, rel=0.06)
    assert found.band_mm == pytest.approx(error * t.ppf(0.975, 4), rel=0.06)
    assert found.slide_for_zero_mm == pytest.approx(zero, abs=0.1 * error)


def test_a_straight_line_alone_would_be_out_where_the_model_stands_close() -> None:
    readings = readings_of(CLOSE, 84.0)
    line = fitted_line([reading.slide_mm for reading in readings], [reading.slip_px for reading in readings])
    assert abs(line.zero - 84.0) > 0.5
    assert fit(readings, CLOSE, PIXEL_MM).slide_for_zero_mm == pytest.approx(84.0, abs=1e-8)


@pytest.mark.parametrize("freedom", [1, 2, 3, 5, 10, 11, 15, 40, 1000])
def test_students_t_is_scipys(freedom: int) -> None:
    # Three decimals are tabled up to ten; the expansion beyond is off by 0.0001 at eleven, and less and less.
    assert student_95(freedom) == pytest.approx(t.ppf(0.975, freedom), abs=0.001 if freedom <= 10 else 1.5e-4)
    # The expansion is good to 2 % at one degree of freedom and far better from there on.
    assert student_68(freedom) == pytest.approx(t.ppf(norm.cdf(1), freedom), rel=0.02 / freedom**3 + 1e-6)


def covered(count: int, sd: float, trials: int = 1000) -> tuple[float, float, float]:
    """Of 100, how often the true zero is within one stated error, two, and the band; whole-pixel readings.

    The zero wanders along the slide, so that the rounding does not fall alike each time.
    """
    one = two = band = 0
    for seed, zero in enumerate(np.random.default_rng(count).uniform(50, 110, trials)):
        found = fit(noisy(1000 + seed, count, step=1.0, sd=sd, zero=float(zero)), TURN, PIXEL_MM)
        assert found.std_error_mm is not None
        assert found.band_mm is not None
        miss = abs(found.slide_for_zero_mm - zero)
        one += miss <= found.std_error_mm
        two += miss <= 2 * found.std_error_mm
        band += miss <= found.band_mm
    return one * 100 / trials, two * 100 / trials, band * 100 / trials


@pytest.mark.parametrize("count", [3, 4, 5, 6])
def test_the_stated_error_is_honest_for_whole_pixels_read_to_half_a_pixel(count: int) -> None:
    """About 68 of 100 within one standard error, 95 and more within two; 1000 seeded trials.

    Over 68 rather than under, since a scatter above the reading step counts and one below it does not: most
    for three readings, whose scatter counts 1.8 times.
    """
    one, two, band = covered(count, sd=0.5)
    assert 64 <= one <= (84 if count == 3 else 80)
    assert two >= 95
    assert band >= 95


@pytest.mark.parametrize("count", [3, 4, 6])
def test_error_and_band_are_honest_however_rough_the_readings(count: int) -> None:
    """2 px of noise: 68 and 95 of 100, within three of the deviations that 1000 trials have (1.5 and 0.7)."""
    one, _, band = covered(count, sd=2.0)
    assert 63.5 <= one <= 72.5
    assert band >= 93


def test_lucky_agreement_does_not_shrink_the_error() -> None:
    """Whole-pixel readings on one line: the error is that of one pixel either way (JCGM 100:2008, 4.3.7)."""
    far = Turn(sweep_deg=12, model_mm=1e9, background_mm=math.inf, image_distance_mm=1e9 * PIXEL_MM)
    predicted = fit([Reading(0, 0), Reading(1, 0.2)], far, PIXEL_MM).slope_predicted_px_per_mm
    slides = [slip / predicted for slip in (-10, 0, 10)]
    found = fit([Reading(slide, round(slide * predicted)) for slide in slides], far, PIXEL_MM)
    assert found.residuals == pytest.approx((0, 0, 0), abs=1e-6)
    assert found.std_error_mm == pytest.approx(1 / math.sqrt(3) / math.sqrt(3) / predicted, rel=1e-6)
    halves = fit([*(Reading(slide, slide * predicted) for slide in slides), Reading(0, 0.5)], far, PIXEL_MM)
    assert halves.std_error_mm is not None
    assert halves.std_error_mm < found.std_error_mm


def test_one_or_two_readings_give_a_zero_without_an_error() -> None:
    lone, pair = (fit(readings_of(TURN, 84.0, SLIDES[:count]), TURN, PIXEL_MM) for count in (1, 2))
    assert (lone.std_error_mm, lone.band_mm, lone.slope_px_per_mm) == (None, None, None)
    assert (pair.std_error_mm, pair.band_mm) == (None, None)
    assert pair.slope_px_per_mm == pytest.approx(pair.slope_predicted_px_per_mm, rel=1e-9)


def test_readings_by_eye_are_left_out() -> None:
    readings = readings_of(TURN, 84.0)
    mixed = [Reading(10, seen="outruns"), *readings, Reading(70)]
    assert fit(mixed, TURN, PIXEL_MM) == fit(readings, TURN, PIXEL_MM)


@pytest.mark.parametrize(
    ("wrong", "accused"),
    [
        ({"model_mm": 3048 * 1.25}, True),
        ({"image_distance_mm": 35.4 * 1.3}, True),
        ({"sweep_deg": 9.0}, True),
        ({"model_mm": 3048 * 1.04}, False),
        ({}, False),
    ],
    ids=["distance", "focal length", "sweep", "distance by little", "nothing"],
)
def test_a_slope_far_from_the_predicted_one_names_suspects(wrong: dict[str, float], accused: bool) -> None:
    usual = {"sweep_deg": 12.0, "model_mm": 3048.0, "background_mm": 73152.0, "image_distance_mm": 35.4}
    readings = [Reading(r.slide_mm, round(r.slip_px or 0.0)) for r in readings_of(TURN, 77.0)]
    found = fit(readings, Turn(**{**usual, **wrong}), PIXEL_MM)
    assert found.suspects == (("distance", "focal length", "sweep") if accused else ())
    # A wrong distance, focal length or sweep shows in the slope; the zero stays within its error.
    assert found.std_error_mm is not None
    assert abs(found.slide_for_zero_mm - 77.0) < 2 * found.std_error_mm


def test_a_slope_within_its_error_accuses_nothing() -> None:
    # Three readings 2 mm apart: a pixel of rounding is worth far more than a tenth of the slope.
    found = fit([Reading(76, 0), Reading(77, 1), Reading(78, 1)], TURN, PIXEL_MM)
    assert found.slope_px_per_mm is not None
    assert abs(found.slope_px_per_mm / found.slope_predicted_px_per_mm - 1) > 0.1
    assert found.suspects == ()


def test_slips_counted_backwards_are_told() -> None:
    backwards = [Reading(reading.slide_mm, -(reading.slip_px or 0.0)) for reading in readings_of(TURN, 84.0)]
    assert fit(backwards, TURN, PIXEL_MM).suspects == ("direction",)


@pytest.mark.parametrize(
    ("readings", "turn", "says"),
    [
        ([], TURN, "no reading has a slip in pixels"),
        ([Reading(50, seen="lags")], TURN, "no reading has a slip in pixels"),
        ([Reading(50, 3), Reading(50, 4), Reading(50, 3)], TURN, "all readings stand at one place"),
        ([Reading(50, 3), Reading(60, 3)], TURN, "do not change along the slide"),
        ([Reading(50, -5000), Reading(60, 3)], TURN, "a slip of -5000 px cannot come of this move"),
        (
            [Reading(50, 3), Reading(60, 4)],
            Turn(sweep_deg=0, model_mm=3000, background_mm=9000, image_distance_mm=35),
            "set a sweep",
        ),
    ],
)
def test_what_gives_no_zero_is_refused_in_one_sentence(readings: list[Reading], turn: Turn, says: str) -> None:
    with pytest.raises(ValueError, match=says) as refusal:
        fit(readings, turn, PIXEL_MM)
    assert "\n" not in str(refusal.value)


def test_a_length_at_the_background_in_pixels_by_hand() -> None:
    # 4 in at 240 ft through 35.4 mm: 101.6 · 35.4 / 73152 = 0.049166 mm of picture.
    assert slip_px_at_background(101.6, 35.4, 73152, PIXEL_MM) == pytest.approx(0.0491666 / PIXEL_MM, rel=1e-5)
    assert slip_px_at_background(-101.6, 35.4, 73152, PIXEL_MM) < 0


@pytest.mark.parametrize("distance", [math.inf, 0.0, -5.0, math.nan])
def test_no_tape_hangs_at_infinity(distance: float) -> None:
    with pytest.raises(ValueError, match="distance of the background"):
        slip_px_at_background(100, 35.4, distance, PIXEL_MM)


@given(st.floats(2, 30), st.floats(-60, 60), st.floats(1500, 8000), st.floats(12, 60))
def test_a_tape_read_where_the_line_of_sight_meets_it_gives_the_slip(
    sweep: float, offset: float, model: float, ratio: float
) -> None:
    """The sight line from the turned pupil over the model meets the tape beside the line-up axis.

    Both sides are exact but for the stated sin² θ · offset/model.
    """
    background, theta = model * ratio, math.radians(sweep)
    pupil_z, pupil_x = offset * math.cos(theta), offset * math.sin(theta)
    length = pupil_x * (background - pupil_z) / (model - pupil_z) - pupil_x
    turn = Turn(sweep_deg=sweep, model_mm=model, background_mm=background, image_distance_mm=50.0)
    expected = slip_mm(turn, offset) / PIXEL_MM
    told = slip_px_at_background(length, 50.0, background - offset, PIXEL_MM, sweep_deg=sweep)
    allowed = 1.6 * math.sin(theta) ** 2 * abs(offset) / model
    assert told == pytest.approx(expected, rel=allowed + 1e-9, abs=1e-9)


@pytest.mark.parametrize(("errors", "suspect"), [(2.9, False), (3.1, True)])
def test_a_slope_is_suspect_from_three_of_its_standard_errors_on(errors: float, suspect: bool) -> None:
    """A fifth too steep, and scattered so far that this is so many standard errors, widened by Student's t."""
    far = Turn(sweep_deg=12, model_mm=1e9, background_mm=math.inf, image_distance_mm=1e9 * PIXEL_MM)
    predicted = fit([Reading(0, 0), Reading(1, 0.2)], far, PIXEL_MM).slope_predicted_px_per_mm
    slides = [50 * step / predicted for step in (-2, -1, 0, 1, 2)]
    scattered = [1, -1, 0, -1, 1]  # no part of it is a line
    one = linregress(slides, scattered).stderr * t.ppf(norm.cdf(1), 3)
    by = 0.2 * predicted / one / errors
    readings = [Reading(x, 1.2 * predicted * x + by * off) for x, off in zip(slides, scattered, strict=True)]
    assert bool(fit(readings, far, PIXEL_MM).suspects) is suspect
