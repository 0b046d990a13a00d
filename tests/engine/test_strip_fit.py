"""The fit of test strips: a worked example, limits by the focus formulas, and simulated strips."""

from __future__ import annotations

import math
import random

import pytest

from forescale.engine.formulas.strip import Strip, bounds_mm, diffraction_stop, fit

INCH = 25.4
# Common practice, no source: 40 mm focused at 15 ft; f-number (the exact one of the mark), limits in inches ± ½ in.
WORKED = [(2**1.5, 13 * 12 + 3, 17 * 12 + 4), (16.0, 8 * 12 + 6, 63 * 12 + 4), (2**4.5, 7 * 12 + 3, None)]


def worked(count: int = 3) -> list[Strip]:
    return [
        Strip(
            40.0,
            180 * INCH,
            f_number,
            (near + 0.5) * INCH,
            (near - 0.5) * INCH,
            None if far is None else (far - 0.5) * INCH,
            None if far is None else (far + 0.5) * INCH,
        )
        for f_number, near, far in WORKED[:count]
    ]


def test_a_worked_example_to_three_digits() -> None:
    found = fit(worked())
    assert found.coc_mm == pytest.approx(0.01684, abs=5e-6)
    assert found.low_mm < found.coc_mm < found.high_mm
    assert found.contradicting == ()


@pytest.mark.parametrize("count", [1, 2])
def test_with_fewer_strips_the_usual_spread_counts(count: int) -> None:
    """Two limits of 5 % each, or four, hold c to 0.05/√2 or 0.05/√4 at best; the band is 1.96 of that or more."""
    found = fit(worked(count))
    assert found.spread == 0.05
    half = math.log(found.high_mm / found.low_mm) / 2
    assert 1.96 * 0.05 / math.sqrt(2 * count) < half < 1.6 * 1.96 * 0.05 / math.sqrt(2 * count)


def test_limits_are_those_of_the_focus_zone() -> None:
    strip = Strip(35, 2000, 5.6, pupil_magnification=1.3)
    near, far = strip.shows(0.02)
    assert strip.blur_mm(near) == pytest.approx(0.02)
    assert strip.blur_mm(far) == pytest.approx(0.02)
    assert strip.blur_mm(2000) == 0
    assert strip.blur_mm(None) is None


def test_past_which_stop_it_is_diffraction() -> None:
    """c/(2.44·λ): f/12.5 for 0.0168 mm; printed to three digits."""
    assert diffraction_stop(0.0168) == pytest.approx(12.5, abs=0.05)


def test_a_focus_off_its_mark_is_found_by_near_and_far_together() -> None:
    """Focused 3 % beyond the mark, the near side says too much and the far side too little; their mean is right."""
    true = Strip(40.0, 4572 * 1.03, 4.0)
    near, far = true.shows(0.0168)
    found = fit([Strip(40.0, 4572.0, 4.0, near * 1.002, near / 1.002, far / 1.002, far * 1.002)])
    one_side = fit([Strip(40.0, 4572.0, 4.0, near * 1.002, near / 1.002)])
    assert abs(math.log(found.coc_mm / 0.0168)) < 0.05 < abs(math.log(one_side.coc_mm / 0.0168))


def test_only_one_that_contradicts_is_named() -> None:
    """At f/8 a near limit of 9 ft 2 in asks for 0.028 mm, two thirds more than the others."""
    wrong = Strip(40.0, 180 * INCH, 8.0, 110.5 * INCH, 109.5 * INCH)
    assert fit([*worked(), wrong]).contradicting == (3,)


@pytest.mark.parametrize("markers", [{}, {"sharp_near_mm": 4000.0}, {"soft_far_mm": 6000.0, "soft_near_mm": 3000.0}])
def test_nothing_comes_of_one_bound(markers: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="one that does not"):
        fit([Strip(40, 4572, 4, **markers)])


def test_bounds_of_several_strips() -> None:
    least, greatest = bounds_mm(worked())
    assert least is not None
    assert greatest is not None
    assert 0.01683 < least < greatest < 0.01685


def simulated(rng: random.Random, stops: tuple[float, ...], step: float, spread: float, coc_mm: float) -> list[Strip]:
    """Strips of a lens of 40 mm focused at 15 ft give or take a hundredth, its markers a step apart."""
    strips = []
    for f_number in stops:
        at = Strip(40.0, 4572 * math.exp(rng.gauss(0, 0.01)), f_number)
        near = at.shows(coc_mm * math.exp(rng.gauss(0, spread)))[0]
        far = at.shows(coc_mm * math.exp(rng.gauss(0, spread)))[1]
        strips.append(Strip(40.0, 4572.0, f_number, *_markers(rng, near, 1 / step), *_markers(rng, far, step)))
    return strips


def _markers(rng: random.Random, limit: float, step: float) -> tuple[float | None, float | None]:
    """The last marker before a limit and the first past it; none past thirty times the focus."""
    last, marker = None, 4572 * step ** rng.random()
    while (marker - limit) * (step - 1) < 0 and marker < 30 * 4572:
        last, marker = marker, marker * step
    return last, marker if marker < 30 * 4572 else None


CASES = [((4.0, 8.0), 1.02, 400), ((2.8, 5.6, 11.0), 1.02, 300), ((2.8, 4.0, 5.6, 8.0, 11.0), 1.03, 300)]


@pytest.mark.thorough
@pytest.mark.parametrize(("stops", "step", "trials"), CASES)
def test_the_truth_lies_in_the_band_93_to_97_times_in_100(stops: tuple[float, ...], step: float, trials: int) -> None:
    rng, held = random.Random(7), 0
    for _ in range(trials):
        coc_mm = 0.0168 * math.exp(rng.gauss(0, 0.3))
        found = fit(simulated(rng, stops, step, 0.05, coc_mm))
        held += found.low_mm <= coc_mm <= found.high_mm
    assert 0.93 <= held / trials <= 0.97


def test_the_focus_mark_counts_as_an_error_of_its_own() -> None:
    """One limit by eye, exact to the marker: 1.96 · √(0.05² + (what a standard error of the mark is worth)²)."""
    strip = Strip(50, 5000, 5.6, 4501, 4499)
    found = fit([strip])
    worth = strip.focus_blur_mm / found.coc_mm
    assert worth == pytest.approx(0.09, abs=0.001)  # a hundredth of 5 m is worth that, where the limit is at 4.5 m
    half = math.log(found.high_mm / found.low_mm) / 2
    assert half == pytest.approx(1.96 * math.hypot(0.05, worth), rel=0.02)
