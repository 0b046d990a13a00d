"""What the zone leaves soft: depths by the projection of place.md, blur by the thin lens."""

from __future__ import annotations

import math

import pytest
from cases import solve

from forescale.engine.formulas.projection import Point, in_frame, in_lens, pose
from forescale.engine.solve.soft import soft_at_edge, soft_things
from forescale.engine.solve.view import view_of

PLACE = {"place.lens_height": "1.5 m"}
MAST = [{"name": "mast", "corners": [["0.2 m left", "0 m"], ["0.2 m right", "0 m"], ["0.2 m right", "60 m"]]}]


@pytest.mark.parametrize("aim", ["25 deg up", "12 deg up", "10 deg down", "30 deg down"])
def test_the_edge_nearest_to_an_aimed_lens_is_judged_by_its_own_depth(aim: str) -> None:
    """A place on the frame's own edge, as far off as the nearest part, put through projection and thin lens."""
    found = solve(PLACE | {"place.aim": aim, "focus.stop": "f/2"})
    setup, view, up = found.setup, view_of(found.setting, found.kit, found.setup), "up" in aim
    tilt = math.radians(found.setup.aim_deg)
    half = math.atan(found.kit.mode.height / 2 / setup.image_mm)
    away = setup.level(setup.near_mm)
    place = Point(0.0, 1500.0 + away * math.tan(tilt - half if up else tilt + half), away)
    seen = in_frame(place, view.line_up, view.frame)
    assert seen is not None
    assert seen.up == pytest.approx(0.0 if up else 1.0, abs=1e-9)
    depth = in_lens(place, pose(0.0, 1500.0, 0.0, tilt_deg=found.setup.aim_deg))[2]
    blur = found.kit.focal_mm / setup.f_number * setup.image_mm * abs(1 / setup.focus_mm - 1 / depth)
    edge = soft_at_edge(found)
    assert edge is not None
    assert edge.name == ("the bottom" if up else "the top")
    assert edge.blur_px == pytest.approx(blur / found.kit.mode.pixel_mm, rel=1e-9)
    assert setup.along(edge.tape_mm) == pytest.approx(depth, rel=1e-9)


def test_what_is_in_the_frame_counts_up_to_its_edge_and_no_farther() -> None:
    found = solve(PLACE | {"place.aim": "20 deg up", "outline": MAST, "focus.stop": "f/2"})
    edge, (low, *_) = soft_at_edge(found), soft_things(found)
    assert found.picture is not None
    assert found.picture.outlines[0].bottom < 0 < found.picture.outlines[0].edge_blur_px
    assert edge is not None
    assert (low.blur_px, low.tape_mm) == pytest.approx((edge.blur_px, edge.tape_mm))
    assert low.blur_px < found.picture.outlines[0].edge_blur_px  # its foot, outside the frame, is softer


def test_an_outline_whole_in_the_frame_is_as_soft_as_its_softest_corner() -> None:
    corners = [["0.2 m left", "14 m"], ["0.2 m right", "14 m"], ["0.2 m right", "32 m"]]
    found = solve(
        PLACE | {"place.aim": "20 deg up", "outline": [{"name": "mast", "corners": corners}], "focus.stop": "f/2"}
    )
    assert found.picture is not None
    outline = found.picture.outlines[0]
    assert outline.in_frame == "all"
    assert soft_things(found)[0].blur_px == pytest.approx(outline.edge_blur_px)


def test_a_level_lens_has_no_edge_nearer_than_its_middle() -> None:
    assert soft_at_edge(solve(PLACE | {"focus.stop": "f/2"})) is None


def test_what_is_soft_is_held_once_the_zone_ends_there() -> None:
    point = [{"name": "stump", "aside": "1 m left", "height": "1.2 m", "distance": "45 m"}]
    soft = soft_things(solve(PLACE | {"point": point}))
    assert [(one.name, one.is_near) for one in soft] == [("stump on the model", True)]
    after = solve(PLACE | {"point": point, "place.model_near": f"{soft[0].tape_mm:.3f} mm"})
    assert soft_things(after) == []
    assert after.focus.stop_needed > solve(PLACE).focus.stop_needed
