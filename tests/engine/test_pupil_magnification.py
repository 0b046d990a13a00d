"""Unequal pupils in every formula they touch: a lens of two thin groups, and a published one traced ray by ray."""

import math

import numpy as np
import pytest
from cases import LENS, codes, solve, text_of
from closed_forms import stop_for_zone
from ray_lens import DOUBLE_GAUSS
from scipy.optimize import brentq

from forescale.engine.formulas import contrast, focus, optics
from forescale.engine.kit.profiles import Lens
from forescale.engine.kit.pupil import lens_pupil_at

# Two thin groups, −40 and 35 mm, 40 mm apart, the stop 34 mm behind the first: f 31.111, P 2.2328 (recomputed by a
# paraxial trace; printed digits). At s 600, N 4, c 0.025: m 0.053085, N_w 4.0951, near 565.744
# (with P taken as 1: 566.692).
S, N, C = 600.0, 4.0, 0.025


def free(length: float) -> np.ndarray:
    return np.array([[1, length], [0, 1]])


def group(focal: float) -> np.ndarray:
    return np.array([[1, 0], [-1 / focal, 1]])


def conjugate(before: np.ndarray) -> float:
    """How far behind the system an axial point ahead of it is imaged."""
    return float(-before[0, 1] / before[1, 1])


WHOLE = group(35) @ free(40) @ group(-40)
FOCAL = float(-1 / WHOLE[1, 0])
# The stop seen from in front through the first group, and from behind through the second.
TO_STOP = free(34) @ group(-40)
ENTRANCE_BEHIND_FIRST = float(TO_STOP[0, 1] / TO_STOP[0, 0])  # a ray that aims there crosses the stop's middle
ENTRANCE_OVER_STOP = float(1 / TO_STOP[0, 0])
FROM_STOP = group(35) @ free(6)
EXIT_OVER_STOP = float(FROM_STOP[0, 0] - FROM_STOP[0, 1] * FROM_STOP[1, 0] / FROM_STOP[1, 1])
P = EXIT_OVER_STOP / ENTRANCE_OVER_STOP


def traced_blur(object_mm: float) -> float:
    """The blur on the sensor of a point at that distance from the entrance pupil, by rays to both its edges."""
    sensor = conjugate(WHOLE @ free(S - ENTRANCE_BEHIND_FIRST))
    slope = FOCAL / N / 2 / object_mm
    at_sensor = free(sensor) @ WHOLE @ free(object_mm - ENTRANCE_BEHIND_FIRST) @ np.array([0, slope])
    return float(2 * abs(at_sensor[0]))


def test_the_two_groups_are_as_printed() -> None:
    assert pytest.approx(31.111, abs=6e-4) == FOCAL
    assert pytest.approx(2.2328, abs=6e-5) == P


def test_magnification_and_working_stop_are_as_traced() -> None:
    before = WHOLE @ free(S - ENTRANCE_BEHIND_FIRST)
    traced = abs(float((free(conjugate(before)) @ before)[0, 0]))
    found = optics.magnification(FOCAL, S, P)
    assert found == pytest.approx(traced, rel=1e-9)
    assert found == pytest.approx(0.053085, abs=6e-7)
    assert optics.working_stop(N, found, P) == pytest.approx(4.0951, abs=6e-5)
    assert optics.image_distance_mm(FOCAL, S, P) == pytest.approx(traced * S, rel=1e-9)


def test_the_working_stop_is_the_cone_that_leaves_the_exit_pupil() -> None:
    """N_w is the exit pupil's distance from the sensor over its diameter."""
    exit_behind_last = -float(FROM_STOP[0, 1] / FROM_STOP[1, 1])
    sensor = conjugate(WHOLE @ free(S - ENTRANCE_BEHIND_FIRST))
    cone = (sensor - exit_behind_last) / (P * FOCAL / N)
    assert optics.working_stop(N, optics.magnification(FOCAL, S, P), P) == pytest.approx(cone, rel=1e-9)


def test_the_zone_is_that_of_the_traced_blur() -> None:
    near = brentq(lambda at: traced_blur(at) - C, 300, S - 1, xtol=1e-10)
    far = brentq(lambda at: traced_blur(at) - C, S + 1, 2000, xtol=1e-10)
    assert focus.near_limit_mm(S, FOCAL, N, C, P) == pytest.approx(near, rel=1e-9)
    assert focus.far_limit_mm(S, FOCAL, N, C, P) == pytest.approx(far, rel=1e-9)
    assert near == pytest.approx(565.744, abs=6e-4)
    assert focus.near_limit_mm(S, FOCAL, N, C) == pytest.approx(566.692, abs=6e-4)
    assert stop_for_zone(near, S, FOCAL, C, P) == pytest.approx(N, rel=1e-9)
    assert focus.stop_for_limits(near, far, S, FOCAL, C, P) == pytest.approx(N, rel=1e-9)
    assert contrast.blur_disk_mm(500, S, FOCAL, N, P) == pytest.approx(traced_blur(500), rel=1e-9)


def test_the_hyperfocal_reaches_infinity() -> None:
    hyperfocal = focus.hyperfocal_mm(FOCAL, N, C, P)
    assert math.isinf(focus.far_limit_mm(hyperfocal, FOCAL, N, C, P))
    assert focus.far_limit_mm(hyperfocal * 0.999, FOCAL, N, C, P) < 2000 * hyperfocal
    assert focus.near_limit_mm(hyperfocal, FOCAL, N, C, P) == pytest.approx(hyperfocal / 2, rel=1e-9)


def test_a_published_double_gauss_close_up() -> None:
    """mjhoptics/ray-optics, `ag_dblgauss.lis`: P 1.1464; real chief rays near the axis draw a thing as large."""
    stop, last = DOUBLE_GAUSS.stop, len(DOUBLE_GAUSS.surfaces) - 1
    entrance = 1 / DOUBLE_GAUSS.paraxial(1.0, 0.0, last=stop)[0]
    height, slope = DOUBLE_GAUSS.paraxial(1.0, 0.0, first=stop + 1)
    tilted_height, tilted_slope = DOUBLE_GAUSS.paraxial(13.747957, 1.0, first=stop + 1)
    exit_ = height - slope * tilted_height / tilted_slope
    own = exit_ / entrance
    assert last > stop
    assert own == pytest.approx(1.1464, abs=6e-5)
    from_vertex = 600.0 - DOUBLE_GAUSS.paraxial_pupil
    image = DOUBLE_GAUSS.chief_image(-from_vertex, 1.0, DOUBLE_GAUSS.image_plane(-from_vertex))
    found = optics.magnification(DOUBLE_GAUSS.focal_length, 600.0, own)
    assert found == pytest.approx(abs(image), rel=2e-5)  # 1 mm off the axis, where distortion is 1e-5
    assert abs(optics.magnification(DOUBLE_GAUSS.focal_length, 600.0) / abs(image) - 1) > 0.02


# Recomputed; printed to two digits: what P = 0.5 instead of 1 does to size at 35 mm.
@pytest.mark.parametrize(("inches", "percent"), [(112, 1.3), (14, 12)])
def test_how_far_off_equal_pupils_are(inches: float, percent: float) -> None:
    assert 100 * (optics.asymmetry_error(35, inches * 25.4) or 0) == pytest.approx(percent, rel=0.04)


def test_none_can_say_what_a_lens_that_cannot_focus_there_draws() -> None:
    assert optics.asymmetry_error(35, 70) is None
    assert optics.asymmetry_error(35, math.inf) == 0


def glass(lens: float | None, *rows: float | None) -> Lens:
    focal = (24, 50, 80)
    pupils = [
        {"focal_length": f"{at} mm", "focus": "inf", "ahead": "30 mm"}
        | ({} if own is None else {"pupil_magnification": own})
        for at, own in zip(focal, rows, strict=False)
    ]
    table = {key: value for key, value in LENS.items() if key != "focal_length"}
    zoom = table | {"schema": 1, "focal_min": "24 mm", "focal_max": "80 mm", "pupil": pupils}
    return Lens.model_validate(zoom | ({} if lens is None else {"pupil_magnification": lens}))


@pytest.mark.parametrize(
    ("lens", "rows", "at", "found"),
    [
        (None, (), 37, None),
        (1.5, (), 37, 1.5),
        (1.5, (None, None), 37, 1.5),
        (1.5, (2.0, 1.0), 37, 1.5),
        (None, (2.0, 1.0), 24, 2.0),
        (None, (2.0, None), 37, 2.0),
        (None, (2.0, 1.0), 70, 1.0),
    ],
)
def test_where_a_profile_gives_it(lens: float | None, rows: tuple[float | None, ...], at: float, found: float) -> None:
    assert lens_pupil_at(glass(lens, *rows), at, math.inf).magnification == found


def test_the_answer_counts_it_everywhere() -> None:
    """The plain lens, 25 mm, focused 400 mm from its pupil at f/4, with P 0.5: s − f/P is 350 mm instead of 375."""
    close = {"place.model": "430 mm", "place.background": "6430 mm", "focus.distance": "430 mm", "focus.stop": "f/4"}
    equal, own = solve(close), solve(close, lens={"pupil_magnification": 0.5})
    assert equal.setup.image_mm == pytest.approx(25 * 400 / 375)
    assert own.setup.image_mm == pytest.approx(25 * 400 / 350)
    assert own.lineup.frame_width_model_mm == pytest.approx(20 * 400 / own.setup.image_mm)
    assert own.light.t_stop_working == pytest.approx(4 * (1 + 25 / 350 / 0.5))
    reach = 4 * own.focus.coc_mm / (25 * own.setup.image_mm)
    assert own.focus.near_mm == pytest.approx(30 + 1 / (1 / 400 + reach))
    assert own.focus.stop_needed > equal.focus.stop_needed
    assert own.focus.airy_mm > equal.focus.airy_mm
    assert own.focus.contrast is not None
    assert equal.focus.contrast is not None
    assert own.focus.contrast.near != equal.focus.contrast.near


def test_a_word_where_it_would_matter() -> None:
    """At 400 mm from the pupil P 0.5 draws larger by 375/350 − 1 = 7.1 %; at 4 m by 0.6 %."""
    close = {"place.model": "430 mm", "place.background": "6430 mm"}
    assert "7.1 %" in text_of(solve(close), "pupils-taken-equal")
    assert "pupils-taken-equal" not in codes(solve(close, lens={"pupil_magnification": 1.0}))
    assert "pupils-taken-equal" not in codes(solve())
