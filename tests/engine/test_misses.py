"""The line-up from misses: against OpenCV's camera over generated scenes, and its errors over simulated readings."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator

import cv2
import numpy as np
import pytest

from forescale.engine.formulas.misses import Pair, miss
from forescale.engine.formulas.moves import (
    CAMERA,
    MODEL,
    LineUp,
    Moves,
    ReadMiss,
    Rotation,
    camera_moves,
    model_moves,
    rotated,
)
from forescale.engine.formulas.projection import Frame, Pixels, Point, as_built, pose

READING_PX = 0.5


def scene(draw: random.Random, points: int, off_match: bool = True) -> tuple[LineUp, list[tuple[Point, Point]]]:
    """Return an aimed lens, squeezed or not, and points as they are and as built, the model off its match or not."""
    height, aim, ratio = draw.uniform(600, 3000), draw.uniform(-6, 8), draw.choice((8, 12, 24, 48))
    squeeze, focal = draw.choice((1, 1, 2)), draw.uniform(25, 60)
    frame = Frame(focal * 1.01, 24.0 * squeeze, 13.0, 4096, 4096 * 13 / 24)
    seems = draw.uniform(2500, 5000) * ratio
    stands = seems / ratio * (draw.uniform(0.93, 1.08) if off_match else 1.0)
    middle = height + seems * math.tan(math.radians(aim))
    reals = []
    for _ in range(points):
        away = seems * draw.uniform(0.85, 1.15)
        across = draw.uniform(-0.4, 0.4) * 24 * squeeze / focal * away
        reals.append(Point(across, middle + draw.uniform(-0.4, 0.4) * 13 / focal * away, away))
    setup = LineUp(height, aim, 0.0, frame, READING_PX, stands)
    return setup, [(real, as_built(real, height, ratio, stands, seems)) for real in reals]


def read_from(
    setup: LineUp, pairs: list[tuple[Point, Point]], camera: Point, draw: random.Random | None
) -> tuple[ReadMiss, ...]:
    """Return what is read where the camera stands off by `camera`, with errors of reading drawn or none."""
    at = pose(camera.x, setup.lens_height_mm + camera.h, camera.z, 0.0, setup.aim_deg)
    return tuple(
        ReadMiss(Pair(built, real), _read(miss(Pair(built, real), at, setup.frame), draw)) for real, built in pairs
    )


def read_with(
    setup: LineUp, pairs: list[tuple[Point, Point]], shift: Point, by: Rotation, draw: random.Random | None
) -> tuple[ReadMiss, ...]:
    """Return what is read where the model stands off by `shift` and is turned about the centre of its points."""
    about = centre([built for _, built in pairs])
    at, found = pose(0.0, setup.lens_height_mm, 0.0, 0.0, setup.aim_deg), []
    for real, built in pairs:
        place = rotated(built, about, by)
        there = Point(place.x + shift.x, place.h + shift.h, place.z + shift.z)
        found.append(ReadMiss(Pair(built, real), _read(miss(Pair(there, real), at, setup.frame), draw)))
    return tuple(found)


def centre(points: list[Point]) -> Point:
    return Point(*(sum(one[axis] for one in points) / len(points) for axis in range(3)))


def _read(seen: Pixels | None, draw: random.Random | None) -> Pixels:
    assert seen is not None
    if draw is None:
        return seen
    return Pixels(*(part + draw.gauss(0, READING_PX) for part in seen))


def camera_matrix(frame: Frame) -> np.ndarray:
    across, up = frame.image_mm * frame.width_px / frame.width_mm, frame.image_mm * frame.height_px / frame.height_mm
    return np.array([[across, 0, 0], [0, up, 0], [0, 0, 1.0]])


def opencv_view(setup: LineUp, camera: Point) -> tuple[np.ndarray, np.ndarray]:
    """Return OpenCV's rotation and shift of the aimed lens standing off by `camera`; its point is (x, -h, z)."""
    turn = cv2.Rodrigues(np.array([-math.radians(setup.aim_deg), 0.0, 0.0]))[0]
    return turn, -turn @ np.array([camera.x, -(setup.lens_height_mm + camera.h), camera.z])


def opencv_pixels(setup: LineUp, points: list[Point], camera: Point) -> np.ndarray:
    turn, shift = opencv_view(setup, camera)
    there = np.array([[one.x, -one.h, one.z] for one in points])
    return cv2.projectPoints(there, cv2.Rodrigues(turn)[0], shift, camera_matrix(setup.frame), None)[0].reshape(-1, 2)


def to_match(pairs: list[tuple[Point, Point]]) -> tuple[Point, Point]:
    """Return where the camera, and the model, would have to go for every miss to vanish (two similar figures)."""
    (real, built), ratio = pairs[0], (pairs[0][0].x - pairs[1][0].x) / (pairs[0][1].x - pairs[1][1].x)
    off = built.z - real.z / ratio
    return Point(0, 0, off * ratio / (ratio - 1)), Point(0, 0, -off)


def scenes(count: int, points: tuple[int, int]) -> Iterator[tuple[random.Random, LineUp, list[tuple[Point, Point]]]]:
    for seed in range(count):
        draw = random.Random(seed)
        setup, pairs = scene(draw, draw.randint(*points))
        yield draw, setup, pairs


def check_camera(count: int) -> None:
    """Misses by `projectPoints` lead back to where the camera stood."""
    for draw, setup, pairs in scenes(count, (4, 8)):
        camera = Point(*(draw.uniform(-80, 80) for _ in range(3)))
        seen = opencv_pixels(setup, [one for _, one in pairs], camera) - opencv_pixels(
            setup, [one for one, _ in pairs], camera
        )
        read = tuple(
            ReadMiss(Pair(built, real), Pixels(float(x), -float(y)))
            for (real, built), (x, y) in zip(pairs, seen, strict=True)
        )
        found, goal = camera_moves(read, setup), to_match(pairs)[0]
        assert found is not None
        wanted = [goal.x - camera.x, goal.h - camera.h, goal.z - camera.z]
        for value, want in zip(found.told.values(), wanted, strict=True):
            assert value is None or value == pytest.approx(want, abs=0.02)


def check_model(count: int) -> None:
    """The model's place by `solvePnP`, which minimises the same errors in the picture, is the one found here."""
    compared = 0
    for draw, setup, pairs in scenes(count, (6, 10)):
        shift, by = (
            Point(*(draw.uniform(-60, 60) for _ in range(3))),
            Rotation(*(draw.uniform(-0.08, 0.08) for _ in range(3))),
        )
        read = read_with(setup, pairs, shift, by, draw)
        found = model_moves(read, setup)
        assert found is not None
        reals, builts = [one for one, _ in pairs], [one for _, one in pairs]
        pictures = opencv_pixels(setup, reals, Point(0, 0, 0)) + np.array(
            [[one.miss.across, -one.miss.up] for one in read]
        )
        about = centre(builts)
        own = np.array([[one.x - about.x, -(one.h - about.h), one.z - about.z] for one in builts])
        turn, shift_to = opencv_view(setup, Point(0, 0, 0))
        first = turn @ np.array([about.x, -about.h, about.z]) + shift_to
        _, spun, gone = cv2.solvePnP(
            own,
            pictures,
            camera_matrix(setup.frame),
            None,
            cv2.Rodrigues(turn)[0],
            first.reshape(3, 1),
            True,
            cv2.SOLVEPNP_ITERATIVE,
        )
        stands = turn.T @ (gone.ravel() - shift_to) - np.array([about.x, -about.h, about.z])
        spin = cv2.Rodrigues(turn.T @ cv2.Rodrigues(spun)[0])[0].ravel()
        goal = to_match(pairs)[1]
        wanted = [goal.x - stands[0], goal.h + stands[1], goal.z - stands[2]]
        wanted += [math.degrees(spin[1]), math.degrees(spin[0]), -math.degrees(spin[2])]  # y and z turn the other way
        for name, want in zip(MODEL, wanted, strict=True):
            value, error = found.told[name], found.errors[name]
            if value is not None and error is not None and None not in found.told.values():
                compared += 1
                assert value == pytest.approx(want, abs=max(0.05 * error, 0.02))
    assert compared > 3 * count


def test_misses_by_opencv_lead_back_to_where_the_camera_stood() -> None:
    check_camera(100)


def test_the_place_of_the_model_is_the_one_that_opencv_finds() -> None:
    check_model(100)


@pytest.mark.thorough
def test_a_thousand_scenes_by_opencv() -> None:
    check_camera(1000)
    check_model(1000)


def check_trials(trials: int, low: int, high: int) -> None:
    """The truth lies inside two stated errors as often as of errors that are normal, for every component."""
    inside: dict[tuple[str, str], int] = dict.fromkeys(
        [("camera", name) for name in CAMERA] + [("model", name) for name in MODEL], 0
    )
    for seed in range(trials):
        draw = random.Random(seed)
        setup, pairs = fixed_scene()
        camera = Point(*(draw.uniform(-60, 60) for _ in range(3)))
        shift, by = (
            Point(*(draw.uniform(-40, 40) for _ in range(3))),
            Rotation(*(draw.uniform(-0.05, 0.05) for _ in range(3))),
        )
        goals = to_match(pairs)
        wanted_camera = dict(
            zip(CAMERA, (goal - off for goal, off in zip(goals[0][:3], camera[:3], strict=True)), strict=True)
        )
        wanted_model = dict(
            zip(CAMERA, (goal - off for goal, off in zip(goals[1][:3], shift[:3], strict=True)), strict=True)
        )
        wanted_model |= {name: -math.degrees(part) for name, part in zip(MODEL[3:], by, strict=True)}
        found_camera = camera_moves(read_from(setup, pairs, camera, draw), setup)
        found_model = model_moves(read_with(setup, pairs, shift, by, draw), setup)
        for which, found, wanted in (("camera", found_camera, wanted_camera), ("model", found_model, wanted_model)):
            assert found is not None
            for name, want in wanted.items():
                value, error = found.told[name], found.errors[name]
                assert value is not None
                assert error is not None
                inside[which, name] += abs(value - want) <= 2 * error
    assert all(low <= count <= high for count in inside.values()), inside


def fixed_scene() -> tuple[LineUp, list[tuple[Point, Point]]]:
    """Return seven points at depths of their own, and a model of 1:24 that stands 5 % too far off."""
    frame, height, seems = Frame(35.3, 24.9, 14.0, 4096, 2304), 1600.0, 73_000.0
    stands = seems / 24 * 1.05
    setup = LineUp(height, 4.0, 0.0, frame, READING_PX, stands)
    places = ((-19, 1, 66), (17, 2, 70), (-11, 14, 76), (3, 17, 80), (15, 12, 84), (-4, 6, 62), (8, 9, 73))
    reals = [Point(x * 1000.0, h * 1000.0, z * 1000.0) for x, h, z in places]
    return setup, [(real, as_built(real, height, 24, stands, seems)) for real in reals]


@pytest.mark.thorough
def test_the_truth_lies_inside_the_stated_errors() -> None:
    check_trials(60, 51, 60)


@pytest.mark.thorough
def test_the_truth_lies_within_two_errors_in_95_of_100_of_a_thousand() -> None:
    check_trials(1000, 930, 970)


def degenerate(places: list[tuple[float, float, float]]) -> tuple[Moves, Moves]:
    """Return what is told of camera and model from points (m) on a model that is off its match, shifted and turned."""
    frame, height, seems = Frame(35.3, 24.9, 14.0, 4096, 2304), 1600.0, 73_000.0
    setup, draw = LineUp(height, 4.0, 0.0, frame, READING_PX, seems / 24 * 1.03), random.Random(1)
    reals = [Point(x * 1000.0, h * 1000.0, z * 1000.0) for x, h, z in places]
    pairs = [(real, as_built(real, height, 24, setup.model_mm, seems)) for real in reals]
    camera = camera_moves(read_from(setup, pairs, Point(30, -20, 40), draw), setup)
    model = model_moves(read_with(setup, pairs, Point(10, 5, -20), Rotation(0.02, 0.01, 0.01), draw), setup)
    assert camera is not None
    assert model is not None
    return camera, model


@pytest.mark.parametrize(
    ("places", "blind"),
    [
        ([(-10, 6, 73), (9, 6, 73)], {"right", "turn", "lean"}),
        ([(-10, 6, 70), (9, 12, 80)], {"forward", "turn", "lean", "roll"}),
        ([(-10, 6, 73), (0, 6, 73), (9, 6, 73)], {"lean"}),
        ([(-10, 6, 73), (0, 16, 73), (9, 3, 73), (5, 12, 73)], set()),
        ([(0, 6, 73), (0, 6, 73)], {"forward", "turn", "lean", "roll"}),
    ],
)
def test_what_points_cannot_tell_is_left_out_and_no_number_is_wild(
    places: list[tuple[float, float, float]], blind: set[str]
) -> None:
    camera, model = degenerate(places)
    assert {name for name, one in model.told.items() if one is None} == blind
    assert {name for name, one in model.errors.items() if one is None} == blind
    assert all(one is None or abs(one) < 120 for one in (*model.told.values(), *camera.told.values()))
    assert camera.left_px < 10
    if not blind:
        assert model.left_px < 0.01
    if len(set(places)) > 1:
        for name, want in zip(CAMERA, (-30, 20, 57.1), strict=True):
            value, error = camera.told[name], camera.errors[name]
            assert value is not None
            assert error is not None
            assert abs(value - want) < 3 * error


def test_one_point_tells_too_little_and_a_ratio_of_one_tells_nothing() -> None:
    setup, pairs = fixed_scene()
    with pytest.raises(ValueError, match="two points"):
        camera_moves(read_from(setup, pairs[:1], Point(0, 0, 0), None), setup)
    same = tuple(ReadMiss(Pair(real, real), Pixels(3, 2)) for real, _ in pairs)
    found = camera_moves(same, setup)
    assert found is not None
    assert set(found.told.values()) == {None}


@pytest.mark.thorough
def test_a_misread_point_is_named_and_good_ones_are_not() -> None:
    setup, pairs = fixed_scene()
    wrong, named = 0, 0
    for seed in range(100):
        draw = random.Random(seed)
        read = read_from(setup, pairs, Point(20, 10, -30), draw)
        good = camera_moves(read, setup)
        assert good is not None
        wrong += bool(good.doubtful)
        wrongly = read[2]._replace(miss=Pixels(read[2].miss.across + 6, read[2].miss.up))
        read = (*read[:2], wrongly, *read[3:])
        for found in (camera_moves(read, setup), model_moves(read, setup)):
            assert found is not None
            named += found.doubtful == (2,)
            assert not found.holds
    assert wrong <= 4
    assert named >= 190
    few = camera_moves(read[:3], setup)
    assert few is not None
    assert few.doubtful == ()


def test_a_turned_model_cannot_be_put_right_by_the_camera() -> None:
    setup, pairs = fixed_scene()
    read = read_with(setup, pairs, Point(0, 0, 0), Rotation(0.05, 0, 0), None)
    camera, model = camera_moves(read, setup), model_moves(read, setup)
    assert camera is not None
    assert model is not None
    assert not camera.holds
    assert model.holds


def test_the_turns_go_the_way_that_they_say() -> None:
    about, right, top = Point(0, 0, 0), Point(100, 0, 0), Point(0, 100, 0)
    assert rotated(right, about, Rotation(0.1, 0, 0)) == pytest.approx((100 * math.cos(0.1), 0, 100 * math.sin(0.1), 1))
    assert rotated(top, about, Rotation(0, 0.1, 0)) == pytest.approx((0, 100 * math.cos(0.1), 100 * math.sin(0.1), 1))
    assert rotated(top, about, Rotation(0, 0, 0.1)) == pytest.approx((100 * math.sin(0.1), 100 * math.cos(0.1), 0, 1))


def test_misses_that_no_place_gives_are_said_to_have_none() -> None:
    setup, pairs = fixed_scene()
    for size in (3e3, 3e4, 1e5):
        draw = random.Random(int(size))
        read = tuple(
            ReadMiss(Pair(built, real), Pixels(draw.uniform(-size, size), draw.uniform(-size, size)))
            for real, built in pairs
        )
        for found in (camera_moves(read, setup), model_moves(read, setup)):
            assert found is None or not found.holds
            if found is not None:
                told = [value for value in (*found.told.values(), *found.errors.values()) if value is not None]
                assert all(math.isfinite(value) for value in told)
                assert all(abs(found.told[name] or 0) < 3 * setup.model_mm for name in CAMERA)


def test_moves_that_only_together_explain_a_miss_are_not_both_left_out() -> None:
    """Points along a cornice: two pixels up tell camera up from forward badly, each under two errors, both seven."""
    height, seems = 1422.4, 79_248.0
    stands = seems / 16
    line_up = LineUp(height, 2.5, 0.0, Frame(35.13, 16.6, 9.34, 2048, 1152), READING_PX, stands)
    reals = [Point(-2000.0, 12_000.0, seems), Point(2000.0, 12_000.0, seems), Point(200.0, 11_800.0, seems)]
    pairs = [Pair(as_built(real, height, 16.0, stands, seems), real) for real in reals]
    ups = (2, 2.2, 1.9)
    read = tuple(ReadMiss(pair, Pixels(0.0, up)) for pair, up in zip(pairs, ups, strict=True))
    found = camera_moves(read, line_up)
    assert all(abs(found.told[name]) < 2 * found.errors[name] for name in ("up", "forward"))
    (go,) = found.do
    assert go.name == "up_mm"
    assert go.by > 5 * go.error
    # What is left of two pixels once the lens stands so much higher, told by the projection alone.
    before, after = (pose(0.0, height + by, 0.0, 0.0, 2.5) for by in (0.0, go.by))
    for pair, up in zip(pairs, ups, strict=True):
        gained = miss(pair, after, line_up.frame).up - miss(pair, before, line_up.frame).up
        assert abs(up + gained) < READING_PX
