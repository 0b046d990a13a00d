"""Lamps by the inverse square, colour in mireds, and flames: recomputed values, and the integral over a lamp's disc."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from forescale.engine.day import day_list
from forescale.engine.files.faults import BadInput
from forescale.engine.formulas.light import (
    POINT_FROM_SIZES,
    fall_stops,
    flame_share,
    lux_at,
    shift_mired,
    stands_for_mm,
)


def test_inverse_square() -> None:
    assert lux_at(4000, 3000, 6000) == 1000
    assert lux_at(4000, 3000, 6000, number=3, loss_stops=1) == 1500


@given(st.floats(1, 1e6), st.floats(100, 1e5), st.floats(10, 1e6), st.integers(1, 20), st.floats(0, 5))
def test_where_it_stands_and_what_it_gives_there(
    gives: float, at: float, wanted: float, number: int, loss: float
) -> None:
    stands = stands_for_mm(wanted, gives, at, number, loss)
    assert lux_at(gives, at, stands, number, loss) == pytest.approx(wanted, rel=1e-9)


def test_a_disc_of_five_times_its_size_away_is_a_point_to_a_hundredth() -> None:
    """The light on the axis of an even, matt disc of diameter 1, ring by ring, over that of a point as bright."""

    def on_axis(distance: float) -> float:
        ring = quad(lambda r: 2 * math.pi * r * distance**2 / (distance**2 + r**2) ** 2, 0, 0.5)[0]
        return ring / (math.pi * 0.25)

    assert on_axis(POINT_FROM_SIZES) * POINT_FROM_SIZES**2 == pytest.approx(1, abs=0.011)
    assert on_axis(2) * 2**2 < 0.95


# Recomputed; printed to two digits.
def test_fall_across_a_model_from_2_to_2_5_m() -> None:
    assert fall_stops(2000, 2500) == pytest.approx(0.64, abs=5e-3)


def test_colour_from_5600_to_4300_k() -> None:
    assert shift_mired(5600, 4300) == pytest.approx(54, abs=0.5)


def test_a_flame_of_9_ft_and_its_model() -> None:
    """κ 0.7 a metre, from memory; printed to two digits: 0.85, at 1:16 0.11, 2.9 stops dimmer."""
    real, model = flame_share(9 * 304.8), flame_share(9 * 304.8 / 16)
    assert real == pytest.approx(0.85, abs=5e-3)
    assert model == pytest.approx(0.11, abs=5e-3)
    assert math.log2(real / model) == pytest.approx(2.9, abs=0.05)


@pytest.mark.parametrize(
    ("name", "text", "wrong"),
    [
        ("size", "3200", "3200 is out of range: 1/16 in to 100 ft; write it like 10 ft 6 in or 3.05 m"),
        ("stands", "1001 ft", "1001 ft is out of range: 3/8 in to 1000 ft; write it like 10 ft 6 in or 3.05 m"),
        ("at", "1 mi", "1 mi is out of range: 3/8 in to 1000 ft; write it like 10 ft 6 in or 3.05 m"),
        ("depth", "110 %", "110 % is out of range: 0 to 100 %; write it like 0.22 or 22 %"),
    ],
)
def test_what_no_lamp_is_is_refused_and_what_would_be_right_is_said(name: str, text: str, wrong: str) -> None:
    with pytest.raises((ValueError, BadInput)) as caught:
        day_list.held("lamp", name, text, "imperial")
    assert str(caught.value) == wrong


def test_a_share_of_a_lamp_is_read_in_per_cent() -> None:
    assert day_list.held("lamp", "depth", "35 %", "metric") == 0.35
    assert day_list.held("lamp", "size", "100 ft", "metric") == "30.48 m"
