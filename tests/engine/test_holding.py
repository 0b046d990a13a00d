"""What parts and what the frame loses over a move, against looking at it densely, over generated scenes."""

from __future__ import annotations

import math
from dataclasses import dataclass

import pytest
from test_projection import opencv_pixels, scene

from forescale.engine.formulas.head import HeadMove, Travel, pose_at, poses
from forescale.engine.formulas.holding import cover_mm, extent, held, leaves, margin
from forescale.engine.formulas.misses import Pair, largest_slip, signed_slip_px
from forescale.engine.formulas.projection import Frame, Point, in_frame, pose
from forescale.engine.formulas.silhouette import Corner, line


@dataclass(frozen=True)
class Dense:
    """What a hundred poses say of the greatest slip, by OpenCV's camera."""

    most: float

    @classmethod
    def of(cls, pair: Pair, move: HeadMove, frame: Frame) -> Dense:
        def miss(share: float) -> tuple[float, float]:
            at = pose_at(move, share)
            built, real = opencv_pixels(pair.built, at, frame), opencv_pixels(pair.real, at, frame)
            return built[0] - real[0], built[1] - real[1]

        here = miss(0.0)
        slips = [miss(share) for share, _ in poses(move, 100)]
        return cls(max(math.hypot(x - here[0], y - here[1]) for x, y in slips))


def test_the_greatest_slip_is_that_of_opencv() -> None:
    tried = 0
    for seed in range(1000):
        move, frame, real = scene(seed)
        built = Point(real.x / 12, move.lens_height_mm + (real.h - move.lens_height_mm) / 12 + 3, real.z / 12 * 1.02)
        pair = Pair(built, real)
        found = largest_slip(pair, move, frame)
        if found is None:
            continue
        tried += 1
        line_up = pose_at(move, 0.0)
        assert signed_slip_px(pair, line_up, line_up, frame) == 0.0
        if seed % 8 == 0:  # the dense look is slow
            most = Dense.of(pair, move, frame).most
            assert found[0] == pytest.approx(most, rel=2e-3, abs=1e-6)
            assert found[0] >= most * (1 - 1e-9) - 1e-6
    assert tried > 900


def test_a_point_leaves_the_frame_where_it_meets_its_edge() -> None:
    met = 0
    for seed in range(300):
        move, frame, point = scene(seed)
        gone = leaves((point,), move, frame)
        seen = [(share, margin(in_frame(point, at, frame))) for share, at in poses(move, 200)]
        if gone is not None:
            met += 1
            assert margin(in_frame(point, pose_at(move, gone), frame)) == pytest.approx(0.0, abs=1e-9)
            at_line_up = margin(in_frame(point, pose_at(move, 0.0), frame))
            if at_line_up > 0:
                assert all(inside > -1e-9 for share, inside in seen if abs(share) < abs(gone))
        elif margin(in_frame(point, pose_at(move, 0.0), frame)) >= 0:
            assert all(inside >= 0 for _, inside in seen)
    assert met > 30


def arch(seed: int) -> tuple[HeadMove, Frame, tuple[Point, ...]]:
    """Return a move, a frame, and an outline with a half circle on it in one plane, about what the lens looks at."""
    move, frame, real = scene(seed)
    middle = move.lens_height_mm + math.tan(math.radians(move.aim_deg)) * real.z
    corners = [Corner(-1, -1), Corner(-1, 0), Corner(0, 1, arc=True), Corner(1, 0), Corner(1, -1)]
    size = real.z * 0.02 * (1 + seed % 12)
    places = line(tuple(Corner(x * size, middle + h * size, arc) for x, h, arc in corners), closed=True)
    return move, frame, tuple(Point(x, h, real.z) for x, h in places)


def test_an_outline_is_lost_where_the_first_of_its_places_is() -> None:
    lost = 0
    for seed in range(200):
        move, frame, places = arch(seed)
        at = pose_at(move, 0.0)
        if held(places, extent(places, at, frame), at, frame, closed=True) != "all":
            continue
        first = min((gone for p in places if (gone := leaves((p,), move, frame)) is not None), key=abs, default=None)
        found = leaves(tuple(places), move, frame)
        assert (found is None) == (first is None)
        if found is not None and first is not None:
            assert abs(found) == pytest.approx(abs(first), abs=1e-8)
            lost += 1
    assert lost > 40


def test_the_frame_holds_all_a_part_or_none_by_edges_not_extents() -> None:
    frame, at = Frame(40.0, 20.0, 10.0, 2000, 1000), pose(0, 1500, 0)

    def of(*places: tuple[float, float], closed: bool = True) -> str:
        points = [Point(x, 1500 + h, 4000) for x, h in (*places, *places[: int(closed)])]
        return held(points, extent(points, at, frame), at, frame, closed=closed)

    assert of((-900, -400), (0, 400), (900, -400)) == "all"  # the frame is 2 m by 1 m there
    assert of((-1000, -500), (0, 500), (1000, -500)) == "all"  # to its very edges
    assert of((-1000.1, -500), (0, 500), (1000, -500)) == "part"
    assert of((-900, -400), (0, 600), (900, -400)) == "part"
    assert of((-900, 600), (1300, -200), (1300, 600)) == "part"  # no corner of it within, but an edge
    assert of((1300, 0), (1000, 0), closed=False) == "part"  # its end is on the edge of the frame
    assert of((700, 800), (1300, 300), (1300, 800)) == "none"  # though its extent reaches into the frame's corner
    assert of((-3000, -3000), (3000, -3000), (3000, 3000), (-3000, 3000)) == "part"  # the frame lies within it
    assert of((-3000, -3000), (3000, -3000), (3000, 3000), (-3000, 3000), closed=False) == "none"
    assert held([Point(0, 1500, 4000), Point(9000, 1500, -4000)], None, at, frame, closed=False) == "part"
    assert held([Point(9000, 1500, 4000), Point(9000, 1500, -4000)], None, at, frame, closed=False) == "none"


def test_a_thing_that_lags_has_a_minus_whichever_way_the_head_turns() -> None:
    frame = Frame(40.0, 20.0, 10.0, 2000, 1000)
    pair, line_up = Pair(Point(0, 1500, 3000), Point(0, 1500, 30_000)), pose(0, 1500, 0)
    for x, pan in ((-20.0, 10.0), (20.0, -10.0)):
        found = signed_slip_px(pair, pose(x, 1500, 0, pan), line_up, frame)
        assert found is not None
        assert found < 0
        other = signed_slip_px(pair, pose(-x, 1500, 0, pan), line_up, frame)
        assert other is not None
        assert other > 0


def test_the_cover_of_a_level_pan_to_one_side_is_the_closed_form() -> None:
    frame = Frame(40.0, 20.0, 10.0, 2000, 1000)
    half = math.atan(0.25)
    for sweep in (0.0, 15.0, 60.0):
        ends = tuple(pose_at(HeadMove(None, 1500, 0, sweep), share) for share in (0, 1))
        wide, high = cover_mm(3000.0, ends, frame)
        assert wide == pytest.approx(3000 * (0.25 + math.tan(half + math.radians(sweep))), rel=1e-12)
        assert high == pytest.approx(3000 * 0.25 * math.cos(half) / math.cos(half + math.radians(sweep)), rel=1e-12)
    assert cover_mm(3000.0, (pose(0, 1500, 0, 75),), frame)[0] is None


def test_a_carried_lens_sees_as_much_more_as_it_is_carried() -> None:
    frame = Frame(40.0, 20.0, 10.0, 2000, 1000)
    move = HeadMove(None, 1500, 0, travel=Travel(200.0, -50.0, 0.0))
    assert cover_mm(3000.0, tuple(at for _, at in poses(move, 4)), frame) == pytest.approx((1700.0, 800.0))


def test_an_outline_carried_behind_the_lens_is_lost_once_and_for_all() -> None:
    frame, move = Frame(40.0, 20.0, 10.0, 2000, 1000), HeadMove(None, 1500, travel=Travel(0.0, 0.0, 5000.0))
    places = [Point(x, 1500 + h, 3000) for x, h in ((-1, -1), (-1, 0), (0, 1), (1, 0), (1, -1), (-1, -1))]
    gone = leaves(tuple(places), move, frame)
    assert gone == pytest.approx(0.5984, abs=1e-9)  # 8 mm ahead of it, where half the frame is 1 mm high


def test_an_outline_about_the_lens_in_its_own_plane_is_not_seen() -> None:
    frame, at = Frame(40.0, 20.0, 10.0, 2000, 1000), pose(0, 1500, 0)
    about = [Point(x, 1500 + h, 0) for x, h in ((-900, -900), (900, -900), (900, 900), (-900, 900), (-900, -900))]
    assert held(about, extent(about, at, frame), at, frame, closed=True) == "none"


def test_what_the_lens_comes_up_to_along_its_axis_stays_in_the_frame() -> None:
    frame = Frame(40.0, 20.0, 10.0, 2000, 1000)
    for forward, gone in ((2999.5, None), (3000.5, 3000 / 3000.5)):
        move = HeadMove(None, 1500, travel=Travel(0.0, 0.0, forward))
        assert leaves((Point(0, 1500, 3000),), move, frame) == (gone if gone is None else pytest.approx(gone, abs=1e-6))
