"""What does not shrink with a model, against printed numbers and the laws that they follow from."""

import math

import pytest
from cases import solve, text_of
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.formulas.scale import (
    CAPILLARY_MM,
    drop_reads_as_mm,
    exit_speed_share,
)


def test_the_capillary_length_of_water() -> None:
    # From σ = 0.0728 N/m and ρ = 998.2 kg/m³ at 20 °C; printed to a thousandth of a millimetre.
    assert pytest.approx(2.727, abs=0.0005) == CAPILLARY_MM
    # Where a drop's weight under it and the pull of its skin are equal: σ/l² = ρ·g.
    pull = 0.0728 / (CAPILLARY_MM / 1000) ** 2
    assert pull == pytest.approx(998.2 * 9.80665, rel=1e-12)


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


def densimetric_froude(speed: float, size: float, lighter: float) -> float:
    """v/√(g·Δρ/ρ·L), in m and s (Turner, Buoyancy Effects in Fluids, 1973, from memory)."""
    return speed / math.sqrt(9.80665 * lighter * size)


@pytest.mark.parametrize("ratio", [8.0, 16.0, 24.0])
def test_a_plume_rises_in_scale_time_only_where_its_lightness_is_kept(ratio: float) -> None:
    """3 m/s out of a mouth of 2 m, a tenth lighter than the air; the model's mouth is S times smaller."""
    real = densimetric_froude(3, 2, 0.1)
    slower = 3 * exit_speed_share(ratio)
    assert densimetric_froude(slower, 2 / ratio, 0.1) == pytest.approx(real, rel=1e-12)
    assert densimetric_froude(slower, 2 / ratio, 0.001) == pytest.approx(10 * real)
    assert real == pytest.approx(3 / math.sqrt(1.96133), rel=1e-9)
