"""The thin lens: Gauss's equation there and back, published numbers for T-stops and angles of view."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.formulas.optics import (
    f_number_from_t,
    half_field_deg,
    image_distance_mm,
    magnification,
    t_from_f_number,
    working_stop,
)

focal_lengths = st.floats(4, 1000)
beyond_focal = st.floats(1.001, 1e7)  # the focus distance in focal lengths


@given(focal_lengths, beyond_focal)
def test_picture_and_focus_satisfy_gauss(focal: float, factor: float) -> None:
    focus = focal * factor
    image = image_distance_mm(focal, focus)
    assert 1 / focus + 1 / image == pytest.approx(1 / focal, rel=1e-12)


@given(focal_lengths, beyond_focal)
def test_magnification_is_image_over_object_distance(focal: float, factor: float) -> None:
    focus = focal * factor
    # 1e-11: s − f loses three digits where the focus is a thousandth beyond the focal length
    assert magnification(focal, focus) == pytest.approx(image_distance_mm(focal, focus) / focus, rel=1e-11)


@given(focal_lengths, st.floats(0.7, 90), beyond_focal)
def test_working_stop_is_image_distance_over_aperture(focal: float, n: float, factor: float) -> None:
    focus = focal * factor
    seen = working_stop(n, magnification(focal, focus))
    assert seen == pytest.approx(image_distance_mm(focal, focus) / (focal / n), rel=1e-11)


def test_twice_the_focal_length_gives_life_size_and_two_stops() -> None:
    assert image_distance_mm(50, 100) == 100
    assert magnification(50, 100) == 1
    assert working_stop(8, magnification(50, 100)) == 16


def test_focused_at_infinity() -> None:
    assert image_distance_mm(35, math.inf) == 35
    assert magnification(35, math.inf) == 0
    assert working_stop(2.8, magnification(35, math.inf)) == 2.8


@pytest.mark.parametrize("function", [image_distance_mm, magnification])
@pytest.mark.parametrize("focus", [-1000.0, 0.0, 20.0, 50.0, math.nan])
def test_focus_within_the_focal_length_is_refused(function, focus: float) -> None:
    with pytest.raises(ValueError, match=r"50 mm cannot focus at .* farther away than the focal length"):
        function(50, focus)


def test_t_stop_of_a_lens_that_passes_three_quarters() -> None:
    # Source: encyclopedia article "f-number": f/2 passing 75 % of the light is T2.309; printed to three decimals.
    loss_stops = -math.log2(0.75)
    assert t_from_f_number(2, loss_stops) == pytest.approx(2.309, abs=0.0005)
    assert f_number_from_t(2.309, loss_stops) == pytest.approx(2, abs=0.0005)


@given(st.floats(0.7, 90), st.floats(0, 3))
def test_t_and_f_there_and_back(n: float, loss: float) -> None:
    assert t_from_f_number(n, loss) >= n
    assert f_number_from_t(t_from_f_number(n, loss), loss) == pytest.approx(n, rel=1e-12)


@pytest.mark.parametrize(
    ("side", "width_mm", "printed_deg"),
    [("width", 36.0, 39.6), ("height", 24.0, 27.0), ("diagonal", math.hypot(36, 24), 46.8)],
)
def test_angle_of_view_of_the_small_still_frame_at_50_mm(side: str, width_mm: float, printed_deg: float) -> None:
    # Source: tables of angles of view for 36 × 24 mm at 50 mm focused at infinity; printed to a tenth of a degree.
    assert 2 * half_field_deg(width_mm, 50) == pytest.approx(printed_deg, abs=0.05), side
