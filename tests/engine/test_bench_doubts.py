"""Which readings are doubted, in trials: pure noise is seldom accused, and a sign that was lost is found."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from scipy import stats

from forescale.engine.formulas.bench_doubts import contradicting
from forescale.engine.formulas.bench_fit import Reading, fit
from forescale.engine.formulas.chances import student_tail
from forescale.engine.formulas.slip import Turn, slip_mm, slip_per_offset

TURN = Turn(sweep_deg=12, model_mm=3048, background_mm=73152, image_distance_mm=35.4)
PIXEL = 16.6 / 2048
SETS = 400  # a seeded few; the many are below
MANY = 20_000


def doubted(slides: np.ndarray, slips: np.ndarray) -> tuple[int, ...]:
    taken = [Reading(float(slide), float(slip)) for slide, slip in zip(slides, slips, strict=True)]
    return contradicting(taken, fit(taken, TURN, PIXEL), TURN, PIXEL)


def sets(seed: int, count: int, fewest: int) -> Iterator[tuple[np.ndarray, np.ndarray, np.ndarray, float, float]]:
    """Sets of a bench: slides, true slips, slips as read, the step read to, and the error of a reading.

    Noise from a third of a pixel to five, read to a tenth, a half or a whole pixel.
    """
    random = np.random.default_rng(seed)
    for _ in range(count):
        number = int(random.integers(fewest, 9))
        slides = np.linspace(10, 110, number) + random.uniform(-4, 4, number)
        zero, noise, step = random.uniform(30, 90), random.choice([0.3, 1, 2.5, 5]), random.choice([0.1, 0.5, 1])
        true = np.array([slip_mm(TURN, slide - zero) / PIXEL for slide in slides])
        read = np.round((true + random.normal(0, noise, number)) / step) * step
        yield slides, true, read, step, float(np.hypot(noise, step / 12**0.5))


def accused_of_noise(seed: int, count: int) -> int:
    return sum(bool(doubted(slides, read)) for slides, _, read, _, _ in sets(seed, count, 3))


def lost_signs(seed: int, count: int) -> tuple[int, int]:
    """Turn over one reading of each set that lies beyond six errors; how many are named, of how many."""
    random, named, of = np.random.default_rng(seed), 0, 0
    for slides, true, read, _, error in sets(seed, count, 5):
        far = np.flatnonzero(np.abs(true) > 6 * error)
        if far.size:
            one = int(random.choice(far))
            named += doubted(slides, np.where(np.arange(len(read)) == one, -read, read)) == (one,)
            of += 1
    return named, of


def test_pure_noise_is_seldom_accused() -> None:
    assert accused_of_noise(11, SETS) <= SETS // 100


def test_a_lost_sign_beyond_six_errors_is_named() -> None:
    named, of = lost_signs(12, SETS)
    assert of > 0.7 * SETS
    assert named >= 0.99 * of


@pytest.mark.thorough
def test_pure_noise_is_accused_in_under_one_set_of_a_hundred() -> None:
    assert accused_of_noise(21, MANY) < 0.01 * MANY


@pytest.mark.thorough
def test_a_lost_sign_beyond_six_errors_is_named_in_99_sets_of_100() -> None:
    named, of = lost_signs(22, MANY)
    assert named >= 0.99 * of


@pytest.mark.thorough
@pytest.mark.parametrize("noise", [1.5, 3.0, 6.0])
def test_noise_that_hides_the_slip_itself_is_hardly_accused(noise: float) -> None:
    """Readings within 6 mm of the zero, worth a slip of less than the noise: no rule can know; one in fifty passes."""
    random, named = np.random.default_rng(3), 0
    for _ in range(MANY // 4):
        slides = np.linspace(54, 66, int(random.integers(4, 9)))
        true = slip_per_offset(TURN) / PIXEL * (slides - 60)
        named += bool(doubted(slides, np.round(true + random.normal(0, noise, slides.size), 1)))
    assert named < MANY // 4 // 50


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 8, 13])
@pytest.mark.parametrize("t", [0.0, 0.7, 2.5, 31.6])
def test_students_tail_is_that_of_scipy(t: float, freedom: int) -> None:
    assert student_tail(t, freedom) == pytest.approx(2 * stats.t.sf(t, freedom), rel=1e-6, abs=1e-12)
