"""Coming back: the pose from marks in the picture against OpenCV's, tapes against places known, and stated errors."""

from __future__ import annotations

import math
import random

import cv2
import numpy as np
import pytest

from forescale.engine.formulas.moves import (
    CAMERA,
    TAPE_READING_MM,
    TURNS,
    LineUp,
    Moves,
    Witness,
    come_back,
    in_rolled_picture,
    sensor_mark,
)
from forescale.engine.formulas.projection import Frame, Pixels, Point, pose

READING_PX = 0.5
Gone = tuple[float, float, float, float, float, float]  # right, up, forward, pan, tilt, roll


def camera(draw: random.Random) -> LineUp:
    squeeze = draw.choice((1, 1, 2))
    frame = Frame(draw.uniform(25, 60), 24.0 * squeeze, 13.0, 4096, 4096 * 13 / 24)
    return LineUp(draw.uniform(600, 3000), draw.uniform(-6, 8), draw.uniform(-60, 150), frame, READING_PX)


def marks(stood: LineUp, draw: random.Random, count: int, near_mm: float = 3000.0) -> list[Point]:
    """Return marks that the old picture holds, at depths of their own."""
    found = []
    for _ in range(count):
        away = near_mm * draw.uniform(1, 2.3)
        across = draw.uniform(-0.42, 0.42) * stood.frame.width_mm / stood.frame.image_mm * away
        rise = (
            math.tan(math.radians(stood.aim_deg))
            + draw.uniform(-0.42, 0.42) * stood.frame.height_mm / stood.frame.image_mm
        )
        found.append(Point(across, stood.lens_height_mm + rise * away, away))
    return found


def opencv_camera(stood: LineUp, gone: Gone) -> tuple[np.ndarray, np.ndarray]:
    """Return OpenCV's rotation and shift: panned, then tilted, then rolled clockwise; its point is (x, -h, z)."""
    right, up, forward, pan, tilt, roll = gone
    about_height = cv2.Rodrigues(np.array([0.0, -math.radians(pan), 0.0]))[0]
    about_side = cv2.Rodrigues(np.array([-math.radians(stood.aim_deg + tilt), 0.0, 0.0]))[0]
    about_lens = cv2.Rodrigues(np.array([0.0, 0.0, -math.radians(roll)]))[0]
    turn = about_lens @ about_side @ about_height
    return turn, -turn @ np.array([right, -(stood.lens_height_mm + up), forward])


def matrix(frame: Frame) -> np.ndarray:
    across, up = frame.image_mm * frame.width_px / frame.width_mm, frame.image_mm * frame.height_px / frame.height_mm
    return np.array([[across, 0, 0], [0, up, 0], [0, 0, 1.0]])


def there(points: list[Point]) -> np.ndarray:
    return np.array([[one.x, -one.h, one.z] for one in points])


def pictures(stood: LineUp, points: list[Point], gone: Gone) -> np.ndarray:
    turn, shift = opencv_camera(stood, gone)
    return cv2.projectPoints(there(points), cv2.Rodrigues(turn)[0], shift, matrix(stood.frame), None)[0].reshape(-1, 2)


def seen_now(stood: LineUp, points: list[Point], gone: Gone, draw: random.Random | None) -> list[Witness]:
    found = pictures(stood, points, gone)
    if draw is not None:
        found = found + np.array([[draw.gauss(0, READING_PX), draw.gauss(0, READING_PX)] for _ in points])
    return [Witness(mark, None, Pixels(float(x), -float(y))) for mark, (x, y) in zip(points, found, strict=True)]


def taped_now(stood: LineUp, points: list[Point], shift: Point, draw: random.Random | None) -> list[Witness]:
    old = sensor_mark(pose(0, stood.lens_height_mm, 0, 0, stood.aim_deg), stood.pupil_ahead_mm)
    now = Point(old.x + shift.x, old.h + shift.h, old.z + shift.z)
    grown = [math.dist(one[:3], now[:3]) - math.dist(one[:3], old[:3]) for one in points]
    return [
        Witness(one, by + (draw.gauss(0, TAPE_READING_MM) if draw else 0.0))
        for one, by in zip(points, grown, strict=True)
    ]


def laid_out(seen: list[Witness], draw: random.Random) -> list[Witness]:
    """Marks whose places were taped as finely as a tape is read, and stand in the shot as they were taped."""

    def taped(mark: Point) -> Point:
        return Point(*(part + draw.gauss(0, TAPE_READING_MM) for part in mark[:3]))

    return [one._replace(mark=taped(one.mark), placed_error_mm=TAPE_READING_MM) for one in seen]


def somewhere(draw: random.Random) -> Gone:
    right, up, forward = (draw.uniform(-250, 250) for _ in range(3))
    return right, up, forward, draw.uniform(-4, 4), draw.uniform(-3, 3), draw.uniform(-2, 2)


def found_by(marks_now: list[Witness], stood: LineUp) -> Moves:
    found = come_back(tuple(marks_now), stood)
    assert found is not None
    return found


def test_a_rolled_lens_sees_what_opencv_sees() -> None:
    for seed in range(200):
        draw = random.Random(seed)
        stood = camera(draw)
        gone, points = somewhere(draw), marks(stood, draw, 3)
        at = pose(gone[0], stood.lens_height_mm + gone[1], gone[2], gone[3], stood.aim_deg + gone[4])
        for one, (x, y) in zip(points, pictures(stood, points, gone), strict=True):
            assert in_rolled_picture(one, at, gone[5], stood.frame) == pytest.approx((x, -y), abs=1e-6)


def check_against_opencv(count: int) -> None:
    """`solvePnP` makes the same errors in the picture least."""
    compared = 0
    for seed in range(count):
        draw = random.Random(seed)
        stood = camera(draw)
        gone, points = somewhere(draw), marks(stood, draw, draw.randint(4, 9))
        now = seen_now(stood, points, gone, draw)
        found = found_by(now, stood)
        image = np.array([[one.picture.across, -one.picture.up] for one in now if one.picture])
        turn, shift = opencv_camera(stood, gone)
        _, spun, gone_to = cv2.solvePnP(
            there(points), image, matrix(stood.frame), None, cv2.Rodrigues(turn)[0], shift, True, cv2.SOLVEPNP_ITERATIVE
        )
        spin = cv2.Rodrigues(spun)[0]
        stands = -spin.T @ gone_to.ravel()
        ahead, side = spin[2], spin[0]  # the lens axis and the camera's right in the place
        pan, tilt = math.atan2(ahead[0], ahead[2]), math.asin(-ahead[1])
        level = np.array([math.cos(pan), 0.0, -math.sin(pan)])
        above = np.cross(ahead, level)
        roll = math.atan2(side @ above, side @ level)
        wanted = [-stands[0], stands[1] + stood.lens_height_mm, -stands[2]]
        wanted += [-math.degrees(pan), stood.aim_deg - math.degrees(tilt), -math.degrees(roll)]
        for name, want in zip((*CAMERA, *TURNS), wanted, strict=True):
            value, error = found.told[name], found.errors[name]
            if None not in found.told.values():
                assert value is not None
                assert error is not None
                compared += 1
                assert value == pytest.approx(want, abs=max(0.05 * error, 0.02))
    assert compared > 5 * count


def test_the_pose_is_the_one_that_opencv_finds() -> None:
    check_against_opencv(100)


@pytest.mark.thorough
def test_the_pose_is_the_one_that_opencv_finds_in_a_thousand_scenes() -> None:
    check_against_opencv(1000)


def check_errors(trials: int, low: int, high: int) -> None:
    stood = LineUp(1600.0, 4.0, 90.0, Frame(35.3, 24.9, 14.0, 4096, 2304), READING_PX)
    points = marks(stood, random.Random(11), 6)
    ways = {"picture": (*CAMERA, *TURNS), "laid out": (*CAMERA, *TURNS), "tape": CAMERA}
    inside = {f"{way} {name}": 0 for way, names in ways.items() for name in names}
    around = [
        Point(x, h, z) for x, h, z in ((-2500, 0, 3000), (2200, 3200, 2600), (400, 100, 5200), (-2100, 3000, -900))
    ]
    for seed in range(trials):
        draw = random.Random(seed)
        gone = somewhere(draw)
        found = found_by(seen_now(stood, points, gone, draw), stood)
        for name, went in zip((*CAMERA, *TURNS), gone, strict=True):
            inside[f"picture {name}"] += _inside(found, name, -went)
        found = found_by(laid_out(seen_now(stood, points, gone, draw), draw), stood)
        for name, went in zip((*CAMERA, *TURNS), gone, strict=True):
            inside[f"laid out {name}"] += _inside(found, name, -went)
        found = found_by(taped_now(stood, around, Point(*gone[:3]), draw), stood)
        for name, went in zip(CAMERA, gone[:3], strict=True):
            inside[f"tape {name}"] += _inside(found, name, -went)
    assert all(low <= count <= high for count in inside.values()), inside


def _inside(found: Moves, name: str, want: float) -> bool:
    value, error = found.told[name], found.errors[name]
    assert value is not None
    assert error is not None
    return abs(value - want) <= 2 * error


def test_the_truth_lies_inside_the_stated_errors() -> None:
    check_errors(60, 51, 60)


@pytest.mark.thorough
def test_the_truth_lies_inside_two_stated_errors_in_95_of_100() -> None:
    check_errors(1000, 930, 970)


def test_three_marks_in_the_picture_lead_to_the_pose_nearest_the_old() -> None:
    draw = random.Random(5)
    stood = camera(draw)
    points = [
        Point(-900, stood.lens_height_mm + 300, 4000),
        Point(1000, stood.lens_height_mm, 5200),
        Point(100, stood.lens_height_mm + 700, 6100),
    ]
    gone: Gone = (60, -40, 90, 0.7, -0.4, 0.3)
    found = found_by(seen_now(stood, points, gone, None), stood)
    assert [found.told[name] for name in CAMERA] == pytest.approx([-60, 40, -90], abs=0.1)
    assert [found.told[name] for name in TURNS] == pytest.approx([-0.7, 0.4, -0.3], abs=1e-3)
    assert found.freedom == 0


def test_tapes_lead_back_and_one_always_as_much_too_long_does_no_harm() -> None:
    stood = LineUp(1500.0, 5.0, 80.0, Frame(40, 24, 13, 4096, 2218), READING_PX)
    points = [Point(-2500, 0, 3000), Point(2200, 3200, 2600), Point(400, 100, 5200), Point(-2100, 3000, -900)]
    found = found_by(taped_now(stood, points, Point(40, -25, 70), None), stood)
    assert [found.told[name] for name in CAMERA] == pytest.approx([-40, 25, -70], abs=0.02)
    assert {found.told[name] for name in TURNS} == {None}
    assert found.residual_mm == pytest.approx(0, abs=1e-3)
    assert found.residual_px is None


def test_marks_level_with_the_lens_tell_two_shifts_and_not_its_height() -> None:
    stood = LineUp(1500.0, 0.0, 0.0, Frame(40, 24, 13, 4096, 2218), READING_PX)
    level = [Point(-2500, 1500, 3000), Point(2200, 1500, 2600), Point(400, 1500, 5200)]
    found = found_by(taped_now(stood, level, Point(40, 0, 70), None), stood)
    assert found.told["up"] is None
    assert [found.told[name] for name in ("right", "forward")] == pytest.approx([-40, -70], abs=0.02)
    low = [Point(-2500, 200, 3000), Point(2200, 300, 2600)]
    found = found_by(taped_now(stood, low, Point(40, 0, 70), None), stood)
    assert found.told["up"] is None
    assert [found.told[name] for name in ("right", "forward")] == pytest.approx([-40, -70], abs=0.02)


def test_near_marks_tell_millimetres_and_far_ones_sixteen_times_less() -> None:
    """The spread of the eye's place grows as the distance does: only pictures of near things shift as it does."""
    stood = LineUp(1500.0, 0.0, 80.0, Frame(35, 24.9, 14.0, 4096, 2304), READING_PX)
    near = marks(stood, random.Random(3), 6)
    far = [Point(16 * one.x, 1500 + 16 * (one.h - 1500), 16 * one.z) for one in near]
    told = [found_by(seen_now(stood, points, (0, 0, 0, 0, 0, 0), None), stood).errors for points in (near, far)]
    for name in CAMERA:
        assert told[1][name] == pytest.approx(16 * (told[0][name] or 0), rel=0.02)
        assert 0.3 < (told[0][name] or 0) < 3


def test_a_tape_that_was_misread_and_a_mark_that_was_misread_are_named() -> None:
    stood = LineUp(1500.0, 5.0, 80.0, Frame(35, 24.9, 14.0, 4096, 2304), READING_PX)
    points = marks(stood, random.Random(4), 8)
    now = seen_now(stood, points, (20, 10, -30, 0.2, 0.1, 0), random.Random(1))
    now[3] = now[3]._replace(picture=Pixels(now[3].picture.across + 9, now[3].picture.up)) if now[3].picture else now[3]
    assert found_by(now, stood).doubtful == (3,)
    around = [
        Point(-2500, 0, 3000),
        Point(2200, 3200, 2600),
        Point(400, 100, 5200),
        Point(-2100, 3000, -900),
        Point(2500, 200, -1800),
        Point(-300, 3900, 900),
    ]
    taped = taped_now(stood, around, Point(40, -25, 70), random.Random(2))
    assert found_by(taped, stood).doubtful == ()
    taped[1] = taped[1]._replace(tape_grown_mm=(taped[1].tape_grown_mm or 0) + 25.4)
    assert found_by(taped, stood).doubtful == (1,)


def test_of_five_tapes_one_can_be_doubted_and_of_four_none() -> None:
    """Three tell where the camera stands; of four each agrees with the other three."""
    stood = LineUp(1500.0, 5.0, 80.0, Frame(35, 24.9, 14.0, 4096, 2304), READING_PX)
    marks_there = [(-2500, 0, 3000), (2200, 3200, 2600), (400, 100, 5200), (-2100, 3000, -900), (2500, 200, -1800)]
    for count, named in ((4, ()), (5, (3,))):
        around = [Point(*place) for place in marks_there[:count]]
        taped = taped_now(stood, around, Point(40, -25, 70), random.Random(2))
        taped[3] = taped[3]._replace(tape_grown_mm=(taped[3].tape_grown_mm or 0) + 100)
        assert found_by(taped, stood).doubtful == named


def test_tapes_and_pictures_tell_more_together() -> None:
    stood = LineUp(1500.0, 5.0, 80.0, Frame(35, 24.9, 14.0, 4096, 2304), READING_PX)
    points, gone = marks(stood, random.Random(4), 4, 9000.0), (20.0, 10.0, -30.0, 0.2, 0.1, 0.3)
    seen = seen_now(stood, points, gone, None)
    at = pose(gone[0], 1500.0 + gone[1], gone[2], gone[3], 5.0 + gone[4])
    old, now = sensor_mark(pose(0, 1500.0, 0, 0, 5.0), 80.0), sensor_mark(at, 80.0)
    grown = [math.dist(one[:3], now[:3]) - math.dist(one[:3], old[:3]) for one in points]
    both = [one._replace(tape_grown_mm=by) for one, by in zip(seen, grown, strict=True)]
    alone, together = found_by(seen, stood), found_by(both, stood)
    assert [together.told[name] for name in (*CAMERA, *TURNS)] == pytest.approx([-part for part in gone], abs=0.02)
    assert (together.errors["forward"] or 0) < (alone.errors["forward"] or 0)


def test_with_nothing_read_there_is_nothing_to_find() -> None:
    stood = LineUp(1500.0, 5.0, 80.0, Frame(35, 24.9, 14.0, 4096, 2304), READING_PX)
    with pytest.raises(ValueError, match="nothing is read"):
        come_back((Witness(Point(0, 0, 4000)),), stood)
