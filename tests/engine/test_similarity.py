"""What does not shrink with a model, against printed numbers and the laws that they follow from."""

import math

import pytest
from cases import solve, text_of
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.formulas.similarity import (
    CAPILLARY_MM,
    drop_reads_as_mm,
    flame_heat_kw,
    flame_height_m,
    heat_share,
)

FOOT_M = 0.3048


def test_the_capillary_length_of_water() -> None:
    # From σ = 0.0728 N/m and ρ = 998.2 kg/m³ at 20 °C; printed to a thousandth of a millimetre.
    assert pytest.approx(2.727, abs=0.0005) == CAPILLARY_MM
    # Where a drop's weight under it and the pull of its skin are equal: σ/l² = ρ·g.
    pull = 0.0728 / (CAPILLARY_MM / 1000) ** 2
    assert pull == pytest.approx(998.2 * 9.80665, rel=1e-12)


class TestFlameOfAPool:
    """Heskestad's flame height on the inputs of NUREG-1805: a pool of 9 ft², 0.039 kg/m²s, 46 000 kJ/kg, kβ 0.7 /m.

    Printed: Q 771.5 kW, L 2.305 m.
    """

    AREA = 9 * FOOT_M**2
    ACROSS = math.sqrt(4 * AREA / math.pi)

    def test_heat(self) -> None:
        heat = 0.039 * 46000 * self.AREA * (1 - math.exp(-0.7 * self.ACROSS))
        assert heat == pytest.approx(771.5, abs=0.05)

    def test_height(self) -> None:
        assert flame_height_m(771.5, self.ACROSS) == pytest.approx(2.305, abs=0.0005)

    def test_back_to_the_heat(self) -> None:
        # 2.305 m to half a millimetre, raised to 2.5 over 3.36 m: to 4 parts in ten thousand.
        assert flame_heat_kw(2.305, self.ACROSS) == pytest.approx(771.5, rel=4e-4)


@given(st.floats(0.01, 50), st.floats(0.01, 10))
def test_flame_height_and_heat_there_and_back(height: float, base: float) -> None:
    assert flame_height_m(flame_heat_kw(height, base), base) == pytest.approx(height, rel=1e-9, abs=1e-9)


def test_a_wide_weak_fire_has_no_flame_below_nothing() -> None:
    assert flame_height_m(1, 5) == 0


@given(st.floats(1, 200), st.floats(0.1, 20), st.floats(0.1, 5))
def test_a_model_flame_with_its_share_of_the_heat_is_as_high_as_the_model_asks(
    ratio: float, height: float, base: float
) -> None:
    # Froude: with heat down by S^2.5 and the base down by S, Heskestad's flame is down by S.
    real = flame_heat_kw(height, base)
    assert flame_height_m(real * heat_share(ratio), base / ratio) == pytest.approx(height / ratio, rel=1e-9)


@given(st.floats(1, 200))
def test_drops_grow_with_the_ratio(ratio: float) -> None:
    assert drop_reads_as_mm(ratio) == pytest.approx(2.727 * ratio, rel=2e-4)  # 2.727 to half a thousandth


# What the sentences say at 1:16: 2.727 · 16 = 43.6 mm; Weber 16² = 256, Reynolds 16^1.5 = 64; heat 16^2.5 = 1024,
# and a megawatt is 0.977 kW. They round to two digits.
SAID = [
    ("water", "surface-tension", ["2.7 mm", "43.6 mm", "Weber number 260 times", "Reynolds number 64 times"]),
    ("fire", "flame", ["1000 times less", "0.98 kW"]),
    ("smoke", "smoke-curl", ["64 times"]),
]


@pytest.mark.parametrize(("kind", "code", "says"), SAID)
def test_the_advice_carries_its_numbers(kind: str, code: str, says: list[str]) -> None:
    text = text_of(solve({"action.kind": kind}), code)
    for number in says:
        assert number in text
