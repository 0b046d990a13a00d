"""The focus zone there and back: limits, focus and stop must agree with each other and with plain image geometry."""

import math

import pytest
from closed_forms import stop_for_zone
from hypothesis import assume, given
from hypothesis import strategies as st

from forescale.engine.formulas.contrast import blur_disk_mm
from forescale.engine.formulas.focus import (
    far_limit_mm,
    hyperfocal_mm,
    near_limit_mm,
    stop_for_limits,
    zone_focus_mm,
)

focal_lengths = st.floats(4, 1000)
f_numbers = st.floats(0.7, 90)
cocs = st.floats(0.001, 0.2)
distances = st.floats(50, 1e7)
distances_or_infinity = distances | st.just(math.inf)


def nearness(distance_mm: float) -> float:
    """Distances are compared as 1/mm: a far end near infinity is as uncertain as 1/far is near 0."""
    return 1 / distance_mm


@given(focal_lengths, cocs, st.tuples(distances, distances_or_infinity).map(sorted))
def test_zone_to_stop_to_zone_returns_the_start(focal: float, coc: float, zone: list[float]) -> None:
    near, far = zone
    focus = zone_focus_mm(near, far)
    assume(focus > 1.001 * focal)
    stop = stop_for_zone(near, focus, focal, coc)
    rounding = 1e-12 * nearness(near)
    assert nearness(near_limit_mm(focus, focal, stop, coc)) == pytest.approx(nearness(near), rel=0, abs=rounding)
    assert nearness(far_limit_mm(focus, focal, stop, coc)) == pytest.approx(nearness(far), rel=0, abs=rounding)


@given(distances_or_infinity, focal_lengths, f_numbers, cocs)
def test_focus_lies_within_its_limits(focus: float, focal: float, stop: float, coc: float) -> None:
    assume(focus > 1.001 * focal)
    assert near_limit_mm(focus, focal, stop, coc) <= focus <= far_limit_mm(focus, focal, stop, coc)


@given(distances, focal_lengths, f_numbers, cocs)
def test_limits_blur_to_the_circle_of_confusion(focus: float, focal: float, stop: float, coc: float) -> None:
    assume(focus > 1.001 * focal)
    near = near_limit_mm(focus, focal, stop, coc)
    far = far_limit_mm(focus, focal, stop, coc)
    # The blur is a difference of nearnesses as small as coc·N/(f·v): relative to 1/s that costs digits.
    lost = 1e-14 * blur_disk_mm(math.inf, focus, focal, stop)
    assert blur_disk_mm(near, focus, focal, stop) == pytest.approx(coc, rel=1e-9, abs=lost)
    if far < math.inf:
        assert blur_disk_mm(far, focus, focal, stop) == pytest.approx(coc, rel=1e-9, abs=lost)
    else:
        assert blur_disk_mm(far, focus, focal, stop) <= coc * (1 + 1e-9) + lost


@given(focal_lengths, f_numbers, cocs)
def test_hyperfocal_reaches_from_its_half_to_infinity(focal: float, stop: float, coc: float) -> None:
    hyperfocal = hyperfocal_mm(focal, stop, coc)
    assume(hyperfocal > 1.001 * focal)
    assert near_limit_mm(hyperfocal, focal, stop, coc) == pytest.approx(hyperfocal / 2, rel=1e-9)
    assert far_limit_mm(hyperfocal, focal, stop, coc) == math.inf


def test_just_short_of_the_hyperfocal_the_far_limit_is_finite() -> None:
    hyperfocal = hyperfocal_mm(35, 11, 0.02)
    far = far_limit_mm(hyperfocal * (1 - 1e-6), 35, 11, 0.02)
    assert far == pytest.approx(hyperfocal * 1e6, rel=0.01)  # 1/far is 1e-6 of 1/H, but for the f in v


def test_focused_at_infinity() -> None:
    # the near limit is f²/(N·c), the hyperfocal distance less one focal length
    assert near_limit_mm(math.inf, 35, 11, 0.025) == pytest.approx(hyperfocal_mm(35, 11, 0.025) - 35)
    assert far_limit_mm(math.inf, 35, 11, 0.025) == math.inf
    assert stop_for_zone(35**2 / (11 * 0.025), math.inf, 35, 0.025) == pytest.approx(11)


def test_zone_to_infinity_focuses_at_twice_the_near_end() -> None:
    assert zone_focus_mm(1500, math.inf) == 3000


@given(distances, distances_or_infinity, distances_or_infinity, focal_lengths, cocs)
def test_stop_for_limits_just_reaches(near: float, far: float, focus: float, focal: float, coc: float) -> None:
    assume(near <= far and focus > 1.001 * focal)
    stop = stop_for_limits(near, far, focus, focal, coc)
    if stop == 0:  # only a zone that is the focus itself needs no depth
        assert nearness(near) == nearness(far) == nearness(focus)
        return
    reach_near = nearness(near_limit_mm(focus, focal, stop, coc))
    reach_far = nearness(far_limit_mm(focus, focal, stop, coc))
    rounding = 1e-12 * max(nearness(near), nearness(focus))
    assert reach_near >= nearness(near) - rounding
    assert reach_far <= nearness(far) + rounding
    assert reach_near <= nearness(near) + rounding or reach_far >= nearness(far) - rounding


@given(focal_lengths, cocs, st.tuples(distances, distances_or_infinity).map(sorted))
def test_at_the_even_focus_both_ends_need_the_same_stop(focal: float, coc: float, zone: list[float]) -> None:
    near, far = zone
    focus = zone_focus_mm(near, far)
    assume(focus > 1.001 * focal)
    by_limits = stop_for_limits(near, far, focus, focal, coc)
    rounding = stop_for_zone(zone[0] / 2, focus, focal, coc) * 1e-12
    assert stop_for_zone(zone[0], focus, focal, coc) == pytest.approx(by_limits, rel=1e-9, abs=rounding)


@pytest.mark.parametrize(
    ("near", "far", "needs"),
    [
        (4000.0, 9000.0, "far"),  # all of the zone lies beyond the focus: the near end asks for nothing
        (1000.0, 2000.0, "near"),  # all of it lies before the focus
        (2900.0, math.inf, "far"),
        (3000.0, 3000.0, "none"),
    ],
)
def test_the_end_that_decides_the_stop(near: float, far: float, needs: str) -> None:
    per_nearness = 50**2 / (0.025 * (1 - 50 / 3000))
    wanted = {"near": (1 / near - 1 / 3000), "far": (1 / 3000 - 1 / far), "none": 0.0}[needs]
    assert stop_for_limits(near, far, 3000, 50, 0.025) == pytest.approx(wanted * per_nearness)


@pytest.mark.parametrize(("near", "far"), [(0.0, 10.0), (-1.0, 10.0), (20.0, 10.0), (math.nan, 10.0)])
def test_a_zone_that_ends_before_it_starts_is_refused(near: float, far: float) -> None:
    with pytest.raises(ValueError, match="it must start ahead of the lens and end no nearer than it starts"):
        zone_focus_mm(near, far)


def test_a_focus_within_the_focal_length_is_refused() -> None:
    for limit in (near_limit_mm, far_limit_mm):
        with pytest.raises(ValueError, match="cannot focus at 40 mm"):
            limit(40, 50, 8, 0.02)
    with pytest.raises(ValueError, match="cannot focus at 40 mm"):
        stop_for_limits(30, 60, 40, 50, 0.02)
