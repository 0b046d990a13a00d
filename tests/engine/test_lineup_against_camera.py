"""Line-up and survey against a camera of somebody else's: OpenCV's pinhole, `cv2.projectPoints`.

The camera looks along +z from the sensor plane at z = 0, where the tape starts, x to the right and y downward; its
pupil is ahead of that plane, so a tape convention that is missed or applied twice shows as a picture that is off.
Pictures are in mm on the sensor.
"""

from __future__ import annotations

import math

import cv2
import numpy as np
import pytest
from cases import solve
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.answer import Answer
from forescale.engine.formulas.lineup import camera_to_match_mm, span_mm

FOOT, INCH = 304.8, 25.4
LENS_HEIGHT = 1500.0
PIXEL_MM, WIDTH_MM, HEIGHT_MM = 0.01, 20.0, 10.0

SHOTS = {
    "pupil ahead": solve({"place.lens_height": "1.5 m"}),
    "pupil far ahead": solve(
        {"place.lens_height": "1.5 m"},
        lens={"pupil": [{"focal_length": "25 mm", "focus": "inf", "ahead": "210 mm"}]},
    ),
    "pupil behind": solve(
        {"place.lens_height": "1.5 m"},
        lens={"pupil": [{"focal_length": "25 mm", "focus": "inf", "ahead": "-60 mm"}]},
    ),
    "squeezed": solve({"place.lens_height": "1.5 m"}, lens={"squeeze": 2}),
    "close": solve({"place.lens_height": "1.5 m", "place.model": "600 mm", "place.background": "9150 mm"}),
}


def picture(
    found: Answer, points: np.ndarray, aside: float = 0.0, panned_deg: float = 0.0, tilted_deg: float = 0.0
) -> np.ndarray:
    """Where the camera of the shot shows points of the place, once it has drifted aside or turned about its pupil."""
    lens = found.kit.lens
    turned = cv2.Rodrigues(np.array([math.radians(tilted_deg), math.radians(panned_deg), 0.0]))[0]
    pupil = np.array([aside, 0.0, found.slip.pupil_ahead_mm])
    image = found.focus.focal_length_mm * (
        1 + found.focus.focal_length_mm / (found.focus.focus_mm - pupil[2] - found.focus.focal_length_mm)
    )
    matrix = np.diag([image / lens.squeeze, image, 1.0])
    seen, _ = cv2.projectPoints(points, cv2.Rodrigues(turned.T)[0], -turned.T @ pupil, matrix, None)
    return seen.reshape(-1, 2)


def place(found: Answer) -> np.ndarray:
    """Points of the real place about the background's distance, from the sensor plane."""
    rng = np.random.default_rng(3)
    spread = np.array([0.3, 0.12, 0.2]) * found.lineup.background_mm
    return rng.uniform(-1, 1, (200, 3)) * spread + np.array([0, 0, found.lineup.background_mm])


@pytest.mark.parametrize("name", SHOTS)
def test_the_place_shrunk_about_the_pupil_has_the_same_picture(name: str) -> None:
    found = SHOTS[name]
    pupil = np.array([0, 0, found.slip.pupil_ahead_mm])
    real = place(found)
    model = pupil + (real - pupil) / found.scale.ratio
    assert picture(found, model) == pytest.approx(picture(found, real), abs=1e-9)
    # The part of it that is at the background's distance is built at the place that the answer gives.
    assert model[:, 2].mean() == pytest.approx(
        found.lineup.match_distance_mm + (real[:, 2].mean() - found.lineup.background_mm) / found.scale.ratio
    )


@pytest.mark.parametrize("name", SHOTS)
def test_a_part_at_its_built_size_covers_the_real_one(name: str) -> None:
    found = SHOTS[name]
    (wall,) = found.scale.build
    across = [[wall.real_mm / 2, 0, found.lineup.background_mm], [wall.model_mm / 2, 0, found.lineup.match_distance_mm]]
    real, model = picture(found, np.array(across))
    assert model == pytest.approx(real, rel=1e-12)


@pytest.mark.parametrize("name", SHOTS)
def test_where_the_model_stands_it_is_too_large_by_the_size_error(name: str) -> None:
    found = SHOTS[name]
    (wall,) = found.scale.build
    real, model = picture(
        found,
        np.array([[wall.real_mm, 0, found.lineup.background_mm], [wall.model_mm, 0, found.lineup.model_mm]]),
    )
    assert model[0] / real[0] == pytest.approx(found.lineup.size_error, rel=1e-12)


@pytest.mark.parametrize("feature", ["0 m", "1.5 m", "3 m", "48 m"])
@pytest.mark.parametrize("ahead", ["-60 mm", "0 mm", "210 mm"])
def test_a_point_hung_at_its_built_height_meets_the_real_one(feature: str, ahead: str) -> None:
    found = solve(
        {"place.lens_height": "1.5 m", "place.feature_height": feature},
        lens={"pupil": [{"focal_length": "25 mm", "focus": "inf", "ahead": ahead}]},
    )
    hang, scaled = found.lineup.hang_height_mm, found.lineup.scaled_height_mm
    assert hang is not None
    assert scaled is not None
    height = found.setting.place.feature_height
    assert height is not None
    tops = [
        [0, LENS_HEIGHT - height, found.lineup.background_mm],
        [0, LENS_HEIGHT - hang, found.lineup.model_mm],
        [0, LENS_HEIGHT - scaled, found.lineup.match_distance_mm],
    ]
    real, model, at_match = picture(found, np.array(tops))
    assert model == pytest.approx(real, abs=1e-12)
    assert at_match == pytest.approx(real, abs=1e-12)


@pytest.mark.parametrize("name", SHOTS)
def test_the_frame_at_the_model_ends_at_the_edges_of_the_sensor(name: str) -> None:
    found = SHOTS[name]
    corner = [found.lineup.frame_width_model_mm / 2, found.lineup.frame_height_model_mm / 2, found.lineup.model_mm]
    (seen,) = picture(found, np.array([corner]))
    assert seen == pytest.approx([WIDTH_MM / 2, HEIGHT_MM / 2], rel=1e-12)


@pytest.mark.parametrize("name", SHOTS)
def test_detail_of_a_pixel(name: str) -> None:
    found = SHOTS[name]
    up = [[0, found.scale.detail_model_mm, found.lineup.model_mm]]
    (seen,) = picture(found, np.array(up))
    assert seen[1] == pytest.approx(PIXEL_MM, rel=1e-12)


@pytest.mark.parametrize("tolerance", [0.5, 1, 3])
@pytest.mark.parametrize("squeeze", [1, 2])
def test_drifted_by_its_tolerance_both_part_by_just_that_many_pixels(tolerance: float, squeeze: float) -> None:
    found = solve({"move.tolerance": tolerance}, lens={"squeeze": squeeze})
    lined = found.lineup
    points = np.array([[250.0, 0, lined.model_mm], [250.0, 0, lined.background_mm]])
    before, after = picture(found, points), picture(found, points, aside=lined.drift_tolerance_mm)
    moved = (after - before)[:, 0] / PIXEL_MM
    assert abs(moved[0] - moved[1]) == pytest.approx(tolerance, rel=1e-9)


@pytest.mark.parametrize("tolerance", [0.5, 1, 3])
@pytest.mark.parametrize("squeeze", [1, 2])
def test_a_model_off_by_its_tolerance_parts_by_so_many_pixels_at_the_edge(tolerance: float, squeeze: float) -> None:
    found = solve({"move.tolerance": tolerance}, lens={"squeeze": squeeze})
    lined = found.lineup
    edge, off = lined.frame_width_model_mm / 2, lined.place_tolerance_mm
    steps = np.array([[edge, 0, lined.model_mm + step] for step in (-off, 0, off)])
    nearer, there, farther = picture(found, steps)[:, 0] / PIXEL_MM
    # To first order in off/d; the two sides take the second order out, which leaves (off/d)².
    assert (nearer - farther) / 2 == pytest.approx(tolerance, rel=2 * (off / lined.model_mm) ** 2 + 1e-9)
    assert nearer - there > tolerance > there - farther


@pytest.mark.parametrize("axis", ["pan", "tilt"])
@pytest.mark.parametrize("sweep", [0, 1, 15, 45])
@pytest.mark.parametrize("squeeze", [1, 2])
def test_a_flat_model_of_the_cover_fills_the_frame_over_the_whole_move(axis: str, sweep: float, squeeze: float) -> None:
    found = solve({"move.axis": axis, "move.sweep": f"{sweep} deg"}, lens={"squeeze": squeeze})
    lined, pan = found.lineup, axis == "pan"
    cover = lined.cover_width_mm if pan else lined.cover_height_mm
    assert cover is not None
    before = (lined.frame_width_model_mm if pan else lined.frame_height_model_mm) / 2
    # Panned right, the frame's right edge is new; tilted up, its upper one, which is at −y.
    reach = [cover - before, 0, lined.model_mm] if pan else [0, before - cover, lined.model_mm]
    turn = {"panned_deg": sweep} if pan else {"tilted_deg": sweep}
    (seen,) = picture(found, np.array([reach]), **turn)
    edge = seen[0] / (WIDTH_MM / 2) if pan else -seen[1] / (HEIGHT_MM / 2)
    assert edge == pytest.approx(1, rel=1e-9)


def test_no_flat_model_covers_a_turn_beyond_85_degrees() -> None:
    assert solve({"move.axis": "pan", "move.sweep": "70 deg"}).lineup.cover_width_mm is None
    assert solve({"move.axis": "pan", "move.sweep": "60 deg"}).lineup.cover_width_mm is not None


# Survey


@pytest.mark.parametrize("squeeze", [1, 2])
@pytest.mark.parametrize("ahead", ["-60 mm", "30 mm", "210 mm"])
def test_a_feature_measured_in_the_picture_comes_back_from_it(ahead: str, squeeze: float) -> None:
    kit = {"squeeze": squeeze, "pupil": [{"focal_length": "25 mm", "focus": "inf", "ahead": ahead}]}
    found, wide = solve(lens=kit), 14000.0
    ends = np.array([[side * wide / 2, 0, found.lineup.background_mm] for side in (-1, 1)])
    left, right = picture(found, ends)[:, 0]
    share = (right - left) / WIDTH_MM
    by_distance = solve({"survey.frame_share": share}, lens=kit).survey
    assert by_distance.feature_width_mm == pytest.approx(wide, rel=1e-9)
    by_width = solve({"survey.frame_share": share, "survey.feature_width": "14 m"}, lens=kit).survey
    assert by_width.distance_mm == pytest.approx(found.lineup.background_mm, rel=1e-9)


@pytest.mark.parametrize("top", [-900.0, 1500.0, 18288.0])
@pytest.mark.parametrize("ahead", ["-60 mm", "210 mm"])
def test_a_top_sighted_from_the_lens_has_its_height_back(ahead: str, top: float) -> None:
    kit = {"pupil": [{"focal_length": "25 mm", "focus": "inf", "ahead": ahead}]}
    found = solve(lens=kit)
    elevation = math.degrees(math.atan2(top - LENS_HEIGHT, found.lineup.background_mm - found.slip.pupil_ahead_mm))
    sighted = solve({"place.lens_height": "1.5 m", "survey.elevation": f"{elevation!r} deg"}, lens=kit).survey
    assert sighted.feature_height_mm == pytest.approx(top, rel=1e-9)


@given(st.floats(0.05, 1), st.floats(5000, 1e6))
def test_size_to_distance_to_size(share: float, wide: float) -> None:
    seen = {"survey.frame_share": share, "focus.distance": "7 m"}
    far = solve(seen | {"survey.feature_width": f"{wide!r} mm"}).survey.distance_mm
    back = solve(seen | {"place.background": f"{far!r} mm"}).survey.feature_width_mm
    assert back == pytest.approx(wide, rel=1e-9)


def test_a_hanging_miniature_of_the_trade_press() -> None:
    # International Photographer, March 1934: a set 78 ft wide at 144 ft through a gate of 0.868 in asks for a lens of
    # 1.60 in. Half of its last digit, 0.005 in, is 0.24 ft of the set.
    assert span_mm(0.868 * INCH, 144 * FOOT, 1.60 * INCH) / FOOT == pytest.approx(78, abs=0.25)


@pytest.mark.parametrize(("by", "left"), [({}, 0.05), ({"survey.visibility_by": "2 %"}, 0.02)])
def test_the_air_leaves_what_the_visibility_says_at_the_visibility(by: dict[str, str], left: float) -> None:
    # WMO-No. 8: 5 % of the contrast is left at a weather report's visibility; Koschmieder: 2 % at the meteorological
    # range; the root of it at half of that. The background is 1 km from the pupil. 2.996 and 3.912: four digits of -ln.
    at_range = solve({"place.background": "1000.03 m", "survey.visibility": "1 km"} | by).survey.air_contrast
    halfway = solve({"place.background": "1000.03 m", "survey.visibility": "2 km"} | by).survey.air_contrast
    assert at_range == pytest.approx(left, rel=5e-4)
    assert halfway == pytest.approx(math.sqrt(left), rel=2.5e-4)


@pytest.mark.parametrize("elevation", ["-3 deg", "0 deg", "3 deg"])
def test_an_elevation_tells_no_height_at_infinity(elevation: str) -> None:
    found = solve({"place.background": "inf", "place.lens_height": "1.5 m", "survey.elevation": elevation}).survey
    assert (found.rise_above_lens_mm, found.feature_height_mm) == (None, None)
    assert found.distance_mm == math.inf


@pytest.mark.parametrize(("model", "real", "ratio"), [(3000, 60_000, 16), (4500, 60_000, 16), (2000, 9000, 4)])
def test_gone_forward_so_far_the_camera_sees_the_model_in_its_size(model: float, real: float, ratio: float) -> None:
    forward = camera_to_match_mm(model, real, ratio)
    assert forward is not None
    assert (real - forward) / (model - forward) == pytest.approx(ratio, rel=1e-12)
    assert (forward > 0) == (real / model < ratio)


def test_no_way_leads_to_a_model_of_full_size() -> None:
    assert camera_to_match_mm(3000, 60_000, 1) is None
