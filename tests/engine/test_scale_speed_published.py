"""Scale and speed against printed numbers, each beside its source.

The tolerance of a printed number is half of its last digit, unless a line says otherwise.
"""

import math

import pytest
from cases import solve
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.formulas.frame_rate import (
    SERVED_GRAVITY,
    apparent_gravity,
    ideal_fps,
    largest_ratio,
    lowest_rate_that_serves,
    model_speed_mm_s,
    whole_rate_between,
)
from forescale.engine.formulas.scale import (
    STANDARD_RATIOS,
    inches_per_foot,
    largest_standard,
    model_length_mm,
    nearest_standard,
    real_length_mm,
)

FOOT, INCH = 304.8, 25.4

# Common practice, no source: the architect's scales, inches to the foot and S. Exact.
ARCHITECT = [(3, 4), (1.5, 8), (1, 12), (3 / 4, 16), (1 / 2, 24), (3 / 8, 32), (1 / 4, 48), (3 / 16, 64), (1 / 8, 96)]

# ISO 5455:1979, 5.1: preferred reduction scales. Exact.
ISO_5455 = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000]

# Recomputed, 24·√S, printed to a hundredth.
FROUDE_RATES = [(2, 33.94), (8, 67.88), (12, 83.14), (25, 120.0), (48, 166.28)]


@pytest.mark.parametrize(("inches", "ratio"), ARCHITECT)
def test_the_architects_scales_are_offered(inches: float, ratio: float) -> None:
    assert inches_per_foot(ratio) == pytest.approx(inches, rel=1e-12)
    assert ratio in STANDARD_RATIOS


@pytest.mark.parametrize("ratio", ISO_5455)
def test_the_preferred_scales_of_iso_5455_are_offered(ratio: float) -> None:
    assert ratio in STANDARD_RATIOS


def test_model_railways_at_three_and_a_half_mm_to_the_foot_are_offered() -> None:
    # NMRA and NEM, common practice: HO, printed as 1:87.09; the exact quotient is 87.0857.
    assert nearest_standard(87) == pytest.approx(87.09, abs=0.005)


def test_a_feature_at_three_quarters_of_an_inch_to_the_foot() -> None:
    # Common practice, no source: at 1:16, 3/4 in to the foot, 9 ft are built 6 3/4 in wide and shot at 96 fps for 24.
    found = solve(
        {"build": [{"part": "gate", "real": "9 ft"}], "scale.ratio": "3/4 in = 1 ft", "scale.rounding": "1/16 in"}
    )
    (gate,) = found.scale.build
    assert found.scale.ratio == 16
    assert found.scale.inches_per_foot == 0.75
    assert gate.shop == "6 3/4 in"
    assert gate.model_mm == pytest.approx(6.75 * INCH, rel=1e-12)
    assert found.speed.ideal_fps == found.speed.fps == 96


@pytest.mark.parametrize(("ratio", "printed"), FROUDE_RATES)
def test_rates_by_froude(ratio: float, printed: float) -> None:
    assert ideal_fps(True, ratio, 24, 1) == pytest.approx(printed, abs=0.005)


class TestHandbookExample:
    """*VES Handbook of Visual Effects*, appendix A.

    It prints 1:4 as 48 fps; and 36 mph at 1:6 as 22 ft/s, having rounded √6 to 2.5. Exact: 58.79 fps, 21.56 ft/s.
    """

    def test_a_quarter_scale(self) -> None:
        assert ideal_fps(True, 4, 24, 1) == 48

    def test_a_sixth_scale(self) -> None:
        assert ideal_fps(True, 6, 24, 1) == pytest.approx(58.79, abs=0.005)

    def test_a_drive_at_a_sixth_scale(self) -> None:
        fps = ideal_fps(True, 6, 24, 1)
        changes = {"scale.ratio": "1:6", "action.kind": "driven", "action.real_speed": "36 mph", "action.fps": fps}
        speed = solve(changes, mode={"fps": {"min": 1, "max": 200}}).speed.model_speed_mm_s
        assert speed is not None
        assert speed / FOOT == pytest.approx(21.56, abs=0.005)
        # The book's own steps, √6 as 2.5: 36 mph · 2.5 / 6 = 22 ft/s.
        assert model_speed_mm_s(36 * 5280 / 3600 * FOOT, 6, 2.5) / FOOT == pytest.approx(22, abs=1e-9)


@given(st.floats(1, 30))
def test_sizes_grow_as_the_square_of_the_magnification_of_time(magnification: float) -> None:
    # Transactions of the SMPE, May 1924.
    assert largest_ratio(magnification, 1) == pytest.approx(magnification**2, rel=1e-12)
    assert apparent_gravity(magnification**2, magnification) == pytest.approx(1, rel=1e-12)


class TestHydraulicModel:
    """A worked example of hydraulic models by Froude's law at 1:30: 1.5 m/s and 2 m³/s in the model.

    Printed: 8.216 m/s and 9859 m³/s at full size.
    """

    RATIO = 30
    FASTER = math.sqrt(30)

    def test_velocity(self) -> None:
        # Played back as much slower as the law asks, 8.216 m/s at full size is 1.5 m/s at the model.
        assert model_speed_mm_s(8216, self.RATIO, self.FASTER) == pytest.approx(1500, abs=0.5 / 8.216 * 1.5)

    def test_discharge(self) -> None:
        # Through a model opening of 1 m² at 2 m/s: the opening grows in both directions, the velocity as above.
        opening = real_length_mm(1, self.RATIO) ** 2
        velocity = 2 / model_speed_mm_s(1, self.RATIO, self.FASTER)
        assert opening * velocity == pytest.approx(9859, abs=0.5)


@given(st.floats(0.01, 1e6), st.floats(1, 10000))
def test_a_length_goes_to_the_model_and_back(real: float, ratio: float) -> None:
    assert real_length_mm(model_length_mm(real, ratio), ratio) == pytest.approx(real, rel=1e-12)


@given(st.floats(1, 1000))
def test_the_nearest_customary_ratio_is_a_neighbour(ratio: float) -> None:
    below = max(standard for standard in STANDARD_RATIOS if standard <= ratio)
    above = min(standard for standard in STANDARD_RATIOS if standard >= ratio)
    # Between two, the geometric mean divides: as much too large is as bad as as much too small.
    assert nearest_standard(ratio) in {below, above}
    if not math.isclose(ratio**2, below * above, rel_tol=1e-9):
        assert nearest_standard(ratio) == (below if ratio**2 < below * above else above)
    assert largest_standard(ratio) in {below, *(above,) * math.isclose(above, ratio, rel_tol=1e-8)}


def test_no_customary_ratio_is_below_life_size() -> None:
    assert largest_standard(0.5) == 1
    assert largest_standard(5000) == 1000
    assert list(STANDARD_RATIOS) == sorted(set(STANDARD_RATIOS))


@pytest.mark.parametrize(("ideal", "rate"), [(96.0, 96), (95.2, 96), (96.001, 97), (0.3, 1), (500.0, 120)])
def test_on_a_free_range_the_lowest_whole_rate_from_the_ideal_is_taken(ideal: float, rate: float) -> None:
    assert whole_rate_between(1, 120, ideal) == rate


# (75.9/75)² is 1.024 and lets 75 fps serve; (76.9/75)² is 1.051 and does not.
@pytest.mark.parametrize(("ideal", "rate"), [(75.0, 75), (75.9, 75), (76.8, 75), (76.9, 90), (91.0, 90), (93.0, 90)])
def test_on_a_list_the_lowest_rate_with_gravity_within_a_twentieth_serves(ideal: float, rate: float) -> None:
    assert lowest_rate_that_serves((24, 75, 90), ideal, SERVED_GRAVITY) == rate


@pytest.mark.parametrize(("ideal", "rate"), [(96.0, 96), (96 * (1 + 1e-10), 96), (96 * (1 + 1e-6), 120)])
def test_a_rate_that_is_the_ideal_but_for_a_floats_last_digits_serves(ideal: float, rate: float) -> None:
    assert lowest_rate_that_serves((24, 96, 120), ideal) == rate
