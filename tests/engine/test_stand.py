"""Whether a model stands: against values worked out by hand, each from moments and forces and not from the formula."""

from __future__ import annotations

import math
from dataclasses import dataclass

import pytest

from forescale.engine.formulas import stand

FOOT = 304.8
G = 9.80665


def test_the_wind_on_a_board() -> None:
    """4 × 3 ft at a gust of 8 m/s: 1.8·½·1.25·64·1.1148 (EN 1991-1-4's form, from memory), printed 80.3 N."""
    area = 4 * FOOT * 3 * FOOT * 1e-6
    assert stand.wind_force_n(8000, area) == pytest.approx(80.3, abs=0.05)
    assert stand.gust_mm_s(stand.wind_force_n(8000, area), area) == pytest.approx(8000, rel=1e-12)


@dataclass(frozen=True)
class Body:
    """A body in the wind: kg, mm, m², and by hand the push in N that tips and that slides it, a third taken off."""

    held_kg: float
    lee_mm: float
    push_height_mm: float
    friction: float
    tips_n: float
    slides_n: float


BODIES = [
    # A 10 kg box 400 mm deep, pushed at 500 mm: 10·9.80665·200/500 = 39.2266 N tips, 0.4·98.0665 = 39.2266 N slides.
    Body(10, 200, 500, 0.4, 39.2266 / 1.5, 39.2266 / 1.5),
    # A tall flat of 20 kg, foot 600 mm deep, pushed at 1200 mm: 196.133·300/1200 = 49.033 N; 78.453 N slides.
    Body(20, 300, 1200, 0.4, 49.03325 / 1.5, 78.4532 / 1.5),
    # A low slab of 50 kg on wet boards, μ 0.25, 800 mm to its lee edge, pushed at 100 mm: 3922.66 N; 122.583 N slides.
    Body(50, 800, 100, 0.25, 3922.66 / 1.5, 122.583125 / 1.5),
]


@pytest.mark.parametrize("body", BODIES, ids=["box", "flat", "slab"])
def test_what_tips_and_what_slides_a_body(body: Body) -> None:
    tips = stand.tipping_force_n(body.held_kg, body.lee_mm, body.push_height_mm)
    slides = stand.sliding_force_n(body.held_kg, body.friction)
    assert tips == pytest.approx(body.tips_n, rel=1e-6)
    assert slides == pytest.approx(body.slides_n, rel=1e-6)
    # Under the lesser push, the weight needed is the weight there is.
    needed = stand.held_kg_needed(min(tips, slides), body.lee_mm, body.push_height_mm, body.friction)
    assert needed == pytest.approx(body.held_kg, rel=1e-12)


def test_a_push_at_the_foot_tips_nothing_and_no_depth_holds_nothing() -> None:
    assert stand.tipping_force_n(10, 200, 0) == math.inf
    assert stand.held_kg_needed(10, 0, 500) == math.inf


def test_a_copy_is_too_strong_by_its_scale() -> None:
    """A cube under its own weight: stress ρ·g·L, so half the size has half the stress (Galileo's argument)."""
    stress = {size: 2000 * G * size for size in (24.0, 1.0)}
    assert stand.strength_factor(24) == pytest.approx(stress[24.0] / stress[1.0])
    # A crack of length a breaks at a stress that goes with 1/√a (Griffith 1921): √24 stronger again.
    assert stand.crack_factor(24) == pytest.approx(24 * math.sqrt(24))
    assert stand.strength_factor(24, 0.5) == 12


def test_weight_of_a_block() -> None:
    """A litre of water weighs a kilogram; half of it solid, half that; at 1:24 it stands for 13.824 tonnes."""
    assert stand.weight_kg(100, 100, 100, 1000) == pytest.approx(1)
    assert stand.weight_kg(100, 100, 100, 1000, 0.5) == pytest.approx(0.5)
    assert stand.real_weight_kg(1, 24) == 13824


def test_sway_from_a_pull_test() -> None:
    """A post that goes 10 mm for 20 N at its top, 40 N of wind over its height: half of 20 mm."""
    assert stand.sway_mm(10, 20, 40) == 10


def test_wind_on_the_set_reads_faster() -> None:
    """By √S at the ideal rate, Froude's; at any other a length grows by S and a time by the time factor."""
    assert stand.reads_as_wind_mm_s(1000, 24, math.sqrt(24)) == pytest.approx(4899, abs=0.5)
    assert stand.reads_as_wind_mm_s(1000, 24, 2.5) == pytest.approx(9600)
