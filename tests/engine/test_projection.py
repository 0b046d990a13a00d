"""The projection and the head against OpenCV's camera, over generated scenes, and against rays worked by hand."""

from __future__ import annotations

import math
import random

import cv2
import numpy as np
import pytest

from forescale.engine.formulas.head import (
    HeadMove,
    PupilOnHead,
    Travel,
    ahead_for_pan_mm,
    ahead_of_pan_mm,
    pose_at,
    poses,
)
from forescale.engine.formulas.projection import (
    Frame,
    Pixels,
    Point,
    Pose,
    Share,
    as_built,
    from_frame,
    in_frame,
    in_pixels,
    on_sight,
    pose,
)

# OpenCV 4 "Camera Calibration and 3D Reconstruction": x right, y down, z forward, p = K·[R|t]·P. Both are doubles.
SAME_PX = 1e-6


def opencv_pixels(point: Point, at: Pose, frame: Frame) -> tuple[float, float]:
    """Return the picture by `projectPoints`, right and up + from the frame's middle."""
    pan, tilt = math.radians(at.pan_deg), math.radians(at.tilt_deg)
    about_height, _ = cv2.Rodrigues(np.array([0.0, -pan, 0.0]))
    turned = about_height @ np.array([point.x - at.x, at.h - point.h, point.z - at.z])
    across, up = (
        frame.image_mm * frame.width_px / frame.width_mm,
        frame.image_mm * frame.height_px / frame.height_mm,
    )
    middle = np.array([[across, 0, 0], [0, up, 0], [0, 0, 1]])
    found, _ = cv2.projectPoints(turned[None], np.array([-tilt, 0.0, 0.0]), np.zeros(3), middle, None)
    return float(found[0, 0, 0]), -float(found[0, 0, 1])


def scene(seed: int) -> tuple[HeadMove, Frame, Point]:
    """Return a move of an aimed lens on a head, a frame (squeezed or not) and a point that it may see."""
    draw = random.Random(seed)
    height = draw.uniform(-2000, 8000)
    head = PupilOnHead(draw.uniform(-200, 200), draw.uniform(0, 150), draw.uniform(-60, 60))
    turns = draw.choice(((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1)))
    travel = Travel(*(draw.uniform(-900, 900) for _ in range(3))) if draw.random() < 0.4 else Travel()
    move = HeadMove(
        head if draw.random() < 0.8 else None,
        height,
        draw.uniform(-25, 25),
        turns[0] * draw.uniform(0, 40),
        turns[1] * draw.uniform(0, 15),
        travel,
        -draw.uniform(0, 1),
    )
    frame = Frame(draw.uniform(14, 200), draw.uniform(9, 36) * draw.choice((1, 2)), draw.uniform(6, 24), 4096, 2160)
    away = draw.uniform(1500, 90_000)
    return move, frame, Point(draw.uniform(-0.3, 0.3) * away, height + draw.uniform(-0.3, 0.3) * away, away)


def test_pictures_through_a_move_are_those_of_opencv() -> None:
    seen = 0
    for seed in range(1000):
        move, frame, point = scene(seed)
        for _, at in poses(move, 4):
            found = in_pixels(point, at, frame)
            if found is not None and found.length < 20_000:
                seen += 1
                assert found == pytest.approx(opencv_pixels(point, at, frame), abs=SAME_PX)
    assert seen > 4000


def test_a_share_of_the_frame_leads_back_to_the_point_that_stands_there() -> None:
    for seed in range(1000):
        move, frame, point = scene(seed)
        line_up = pose_at(move, 0.0)
        share = in_frame(point, line_up, frame)
        assert share is not None
        back = from_frame(share, point.z, move.lens_height_mm, move.aim_deg, frame)
        assert back == pytest.approx(point, abs=1e-6)
        far = from_frame(share, math.inf, move.lens_height_mm, move.aim_deg, frame)
        assert in_frame(far, line_up, frame) == pytest.approx(share, abs=1e-9)
        assert in_frame(far, line_up._replace(x=500.0, h=-900.0, z=70.0), frame) == pytest.approx(share, abs=1e-9)


def test_nothing_is_seen_behind_the_lens() -> None:
    frame = Frame(40.0, 20.0, 10.0, 2000, 1000)
    assert in_pixels(Point(0, 1500, -1), pose(0, 1500, 0), frame) is None
    assert in_frame(Point(0, 1500, 1000), pose(0, 1500, 0, pan_deg=91), frame) is None
    with pytest.raises(ValueError, match="straight up or down"):
        from_frame(Share(0.5, 1.5), 5000, 1500, 80, frame)


def test_the_pupil_goes_round_the_axes_of_the_head() -> None:
    """Against turning the offset as OpenCV turns a vector: tilt about the tilt axis, then pan about the pan axis."""
    for seed in range(200):
        move, _, _ = scene(seed)
        if move.head is None:
            continue
        (ahead, drop, lead), places = move.head, []
        for share in (0.0, 0.7):
            tilt = math.radians(move.aim_deg + share * move.tilt_deg)
            about_side, _ = cv2.Rodrigues(np.array([tilt, 0.0, 0.0]))
            about_height, _ = cv2.Rodrigues(np.array([0.0, math.radians(share * move.pan_deg), 0.0]))
            in_head = about_side @ np.array([0.0, -drop, ahead]) + np.array([0.0, 0.0, lead])
            places.append(about_height @ in_head + share * np.array([move.travel[0], -move.travel[1], move.travel[2]]))
        moved = places[1] - places[0]
        at = pose_at(move, 0.7)
        assert (at.x, at.h, at.z) == pytest.approx((moved[0], move.lens_height_mm - moved[1], moved[2]), abs=1e-9)


@pytest.mark.parametrize(("drop", "length"), [(120.0, 4.153), (60.0, 2.077), (0.0, 0.0)])
def test_an_aimed_lens_over_a_tilt_axis_slips_when_it_pans(drop: float, length: float) -> None:
    """Exact rays of a lens of 40 mm focused at 21 ft, 17.3 mm on 2144 px, 4.4° up, panned 20°; three digits given."""
    frame = Frame(40 * 6400.8 / (6400.8 - 40), 17.3, 9.1, 2144, 9.1 * 2144 / 17.3)
    move = HeadMove(PupilOnHead(0.0, drop), 0.0, 4.4, 20.0)
    rise = math.tan(math.radians(4.4))
    model, wall = (Point(0.0, z * rise, z) for z in (12 * 304.8, 84 * 304.8))
    pictures = [in_pixels(point, pose_at(move, 1.0), frame) for point in (model, wall)]
    assert pictures[0] is not None
    assert pictures[1] is not None
    slip = Pixels(pictures[0].across - pictures[1].across, pictures[0].up - pictures[1].up)
    assert slip.length == pytest.approx(length, abs=0.0006)
    if drop == 120.0:
        assert slip == pytest.approx((4.152, -0.056), abs=0.0006)


def test_the_slide_that_puts_an_aimed_pupil_on_the_pan_axis() -> None:
    ahead = ahead_for_pan_mm(120.0, 15.0, 4.4)
    assert ahead_of_pan_mm(PupilOnHead(ahead, 120.0, 15.0), 4.4) == pytest.approx(0.0, abs=1e-12)


def test_a_model_at_its_match_covers_the_real_point_and_one_off_does_not() -> None:
    real, frame, at = Point(-3000.0, 9000.0, 70_000.0), Frame(36.0, 17.0, 9.0, 2048, 1024), pose(0, 1600, 0, 0, 3)
    match = as_built(real, 1600, 24, 73_152 / 24, 73_152)
    assert match == pytest.approx(as_built(real, 1600, 24))
    assert in_pixels(match, at, frame) == pytest.approx(in_pixels(real, at, frame))
    off = as_built(real, 1600, 24, 3300, 73_152)
    seen, wanted = in_pixels(off, at, frame), in_pixels(on_sight(real, 1600, off.z), at, frame)
    assert seen is not None
    assert seen != pytest.approx(in_pixels(real, at, frame), abs=5)
    assert wanted == pytest.approx(in_pixels(real, at, frame))


def test_a_move_to_both_sides_goes_through_the_line_up() -> None:
    move = HeadMove(PupilOnHead(10.0), 1500, 3.0, 20.0, first=-0.25)
    shares = [share for share, _ in poses(move, 10)]
    assert (shares[0], shares[-1]) == (-0.25, 1.0)
    assert 0.0 in shares
    assert shares == sorted(shares)
    assert [at.pan_deg for share, at in poses(move, 10) if share == 0.0] == [0.0]
    assert poses(HeadMove(None, 1500), 10)[0][1] == pose(0, 1500, 0)


def test_what_lies_on_an_edge_of_the_frame_is_in_it() -> None:
    for across, up in ((0, 0.5), (1, 0.5), (0.5, 0), (0.5, 1), (-1e-16, 0.5), (0.5, 1 + 1e-12)):
        assert Share(across, up).inside
    for across, up in ((-0.01, 0.5), (1.01, 0.5), (0.5, -0.01), (0.5, 1.01)):
        assert not Share(across, up).inside
