"""Outlines and their arcs against circles, and the softness of a cut edge against the thin lens's own limits."""

from __future__ import annotations

import math

import pytest

from forescale.engine.formulas import focus
from forescale.engine.formulas.contrast import blur_disk_mm
from forescale.engine.formulas.optics import image_distance_mm
from forescale.engine.formulas.silhouette import Corner, crosses_itself, line, overlap_mm


@pytest.mark.parametrize("turn_deg", [0, 37, 90, 200, 300])
@pytest.mark.parametrize("wide_deg", [40, 170, 300])
@pytest.mark.parametrize("way", [1, -1])
def test_an_arc_keeps_to_its_circle_and_to_its_side(turn_deg: float, wide_deg: float, way: int) -> None:
    def on(angle_deg: float) -> tuple[float, float]:
        angle = math.radians(turn_deg + way * angle_deg)
        return 300 + 70 * math.cos(angle), 500 + 70 * math.sin(angle)

    found = line((Corner(*on(0)), Corner(*on(wide_deg * 0.3), arc=True), Corner(*on(wide_deg))), closed=False)
    assert (found[0], found[-1]) == (on(0), on(wide_deg))
    turned = [(way * math.degrees(math.atan2(y - 500, x - 300)) - way * turn_deg + 1e-6) % 360 for x, y in found]
    assert turned == sorted(turned)
    assert turned[-1] == pytest.approx(wide_deg, abs=1e-4)
    assert [math.hypot(x - 300, y - 500) for x, y in found] == pytest.approx([70.0] * len(found))


def test_an_arch_is_as_high_as_its_circle() -> None:
    arch = line((Corner(-3000, 0), Corner(-1800, 2400, arc=True), Corner(3000, 0)), closed=True)
    assert max(h for _, h in arch) == pytest.approx(3000)
    assert arch[0] == arch[-1]


def test_an_arc_through_places_in_a_line_is_the_line() -> None:
    assert line((Corner(0, 0), Corner(1, 1, arc=True), Corner(2, 2)), closed=False) == ((0, 0), (1, 1), (2, 2))


def test_the_blur_at_the_limits_of_the_zone_is_the_circle_of_confusion() -> None:
    lens = (35.0, 11.0, 0.025)
    for limit in (focus.near_limit_mm(1200.0, *lens), focus.far_limit_mm(1200.0, *lens)):
        assert blur_disk_mm(limit, 1200.0, 35.0, 11.0) == pytest.approx(0.025)
    image = image_distance_mm(35.0, 1200.0)
    assert blur_disk_mm(math.inf, 1200.0, 35.0, 11.0) == pytest.approx(35.0 / 11.0 * (image / 35.0 - 1))


def test_an_overlap_hides_half_the_blur_and_the_slip_to_both_sides() -> None:
    assert overlap_mm(3000.0, 36.0, 0.02, 0.008) == pytest.approx((0.01 + 0.016) * 3000 / 36)


@pytest.mark.parametrize(
    ("places", "crosses"),
    [
        (((0, 0), (2, 0), (2, 2), (0, 2), (0, 0)), False),
        (((0, 0), (2, 2), (0, 2), (2, 0), (0, 0)), True),  # a bow tie
        (((0, 0), (4, 0), (4, 3), (1, 3), (1, -1), (0, -1), (0, 0)), True),
        (((0, 0), (4, 0), (2, 1), (4, 2), (0, 2), (0, 0)), False),  # a notch
        (((0, 0), (1, 1), (2, 0)), False),
    ],
)
def test_an_outline_that_crosses_itself_is_told_from_one_that_does_not(
    places: tuple[tuple[float, float], ...], crosses: bool
) -> None:
    assert crosses_itself(places, closed=places[0] == places[-1]) is crosses
