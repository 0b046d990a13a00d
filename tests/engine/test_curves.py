"""The data of the curves: against the answer's own numbers, and against the optics written out another way."""

import math
import tomllib
from functools import cache
from itertools import pairwise

import pytest
from cases import solve

from forescale.engine.answer import answer
from forescale.engine.kit import library
from forescale.engine.kit.kit import load_kit
from forescale.engine.shot.records import Shot
from forescale.engine.solve.focus_zone import (
    contrast_over_distance,
    reads_as,
    slip_over_move,
    weight_at,
    zone_distances,
)

DEMOS = ("kiln-stack", "lock-gate", "signal-lamp")


@cache
def demo(name, **changes):
    """The answer to a demo shot with fields changed: `place_background="inf"`."""
    data = tomllib.loads((library.SHIPPED / "shots" / f"{name}.toml").read_text())
    for field, value in changes.items():
        group, _, key = field.partition("_")
        if not key:
            del data[group]
            continue
        data.setdefault(group, {})[key] = value
        if value is None:
            del data[group][key]
    shot = Shot.read(data, "test")
    return answer(shot, load_kit(shot.kit, "test"), shot.units, "test")


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("count", [2, 3, 50])
def test_distances_run_past_the_zone_in_equal_ratios(name, count):
    found = demo(name)
    distances = zone_distances(found, count)
    assert len(distances) == count
    assert distances[0] < found.focus.near_needed_mm
    assert distances[-1] > found.focus.far_needed_mm
    ratios = [after / before for before, after in pairwise(distances)]
    assert ratios == pytest.approx([ratios[0]] * (count - 1))
    assert ratios[0] > 1


def test_a_zone_without_an_end_is_followed_to_infinity():
    found = demo("kiln-stack", place_background="inf", place_background_far="inf", point=None, outline=None)
    *finite, last = zone_distances(found, 20)
    assert last == math.inf
    assert all(map(math.isfinite, finite))
    assert finite[-1] > max(found.focus.focus_mm, found.focus.hyperfocal_mm, found.lineup.model_mm)
    assert contrast_over_distance(found, found.focus.f_number, [last])[0] > 0


def test_distances_stay_ahead_of_the_pupil_when_the_model_nearly_touches():
    found = demo("signal-lamp", place_model="76 mm", place_background="100 mm", focus_distance="2 m")
    ahead = found.slip.pupil_ahead_mm
    assert ahead < zone_distances(found, 5)[0] < 76


@pytest.mark.parametrize("name", DEMOS)
def test_contrast_at_the_zone_is_that_of_the_answer(name):
    found = demo(name)
    mark = found.setup.tape(found.setup.focus_mm)
    zone = (found.focus.near_needed_mm, mark, found.focus.far_needed_mm)
    told = found.focus.contrast
    assert contrast_over_distance(found, found.focus.f_number, zone) == pytest.approx((told.near, told.focus, told.far))
    assert min(contrast_over_distance(found, told.best_f_number, zone)) == pytest.approx(told.best_worst)


@pytest.mark.parametrize("f_number", [2.8, 5.6, 11.0, 16.0])
def test_contrast_in_focus_is_that_of_the_perfect_lens(f_number):
    """(2/π)(acos σ − σ√(1 − σ²)): the diffraction-limited lens, in any text on Fourier optics (Goodman)."""
    found = demo("signal-lamp")
    magnification = found.focus.focal_length_mm / (found.setup.focus_mm - found.focus.focal_length_mm)
    sigma = 550e-6 * f_number * (1 + magnification) / (2 * found.focus.coc_mm)
    expected = 2 / math.pi * (math.acos(sigma) - sigma * math.sqrt(1 - sigma**2))
    # Loose by what the rounding of tape and pupil leaves of defocus at the focus mark itself.
    assert contrast_over_distance(found, f_number, [found.focus.focus_mm])[0] == pytest.approx(expected, abs=1e-9)


def test_contrast_falls_away_from_the_focus():
    found = demo("signal-lamp")
    focus = found.focus.focus_mm
    near, sharp, far = contrast_over_distance(found, found.focus.f_number, [focus * 0.7, focus, focus * 1.5])
    assert near < sharp > far


def picture_x(point, turned_deg, offset_mm, image_mm):
    """Where a pinhole camera on a head at the origin, turned to the left, sees a point (ahead, left)."""
    turn = math.radians(turned_deg)
    forward, left = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
    seen = (point[0] - offset_mm * forward[0], point[1] - offset_mm * forward[1])
    ahead = seen[0] * forward[0] + seen[1] * forward[1]
    return image_mm * (seen[0] * left[0] + seen[1] * left[1]) / ahead


@pytest.mark.parametrize("slide", ["0 mm", "63 mm", "120 mm"])
def test_slip_over_a_pan_is_that_of_a_camera_turned_in_the_plane(slide):
    found = demo("kiln-stack", move_slide=slide, place_aim=None)
    curve = slip_over_move(found, 6)
    assert [angle for angle, _ in curve] == pytest.approx([0, 2.5, 5, 7.5, 10, 12.5, 15])
    for angle, slip_px in curve:
        model, background = (
            picture_x((mm, 0.0), angle, found.slip.offset_mm, found.setup.image_mm)
            for mm in (found.slip.model_from_axis_mm, found.slip.background_from_axis_mm)
        )
        # Turned left, the picture of a thing ahead goes right; the one that goes farther outruns.
        assert slip_px == pytest.approx((background - model) / found.kit.mode.pixel_mm, abs=1e-7)


@pytest.mark.parametrize("axis", ["pan", "tilt"])
def test_slip_begins_at_nothing_and_ends_at_the_answers(axis):
    found = demo("kiln-stack", move_axis=axis, move_slide="85 mm")
    curve = slip_over_move(found, 7)
    assert curve[0] == (0, 0)
    assert curve[-1] == (15, found.slip.slip_px)
    assert found.slip.slip_px > 1


@pytest.mark.parametrize(
    "changes",
    [
        {"move_axis": "none"},
        {"move_sweep": "0 deg"},
        {"kit_head": None},
        {"move_slide": None},
    ],
)
def test_no_curve_of_slip_where_it_is_not_known(changes):
    found = demo("kiln-stack", **changes)
    assert slip_over_move(found, 5) == ()


def test_weight_is_right_at_the_ideal_rate_and_falls_with_its_square():
    """Froude: gravity on the screen goes with S / k², so half the rate makes it four times as strong."""
    found = demo("kiln-stack")
    assert weight_at(found, found.speed.ideal_fps) == pytest.approx(1)
    assert weight_at(found, found.speed.ideal_fps / 2) == pytest.approx(4)


def test_taste_moves_what_is_right():
    found = demo("kiln-stack", action_heft=1.2)
    assert found.speed.ideal_fps == pytest.approx(24 * math.sqrt(24) * 1.2)
    assert weight_at(found, found.speed.ideal_fps) == pytest.approx(1)
    assert reads_as(found, 24 * math.sqrt(24)) == "small"


@pytest.mark.parametrize(
    ("times_ideal", "look"),
    [(2, "slow"), (1.1, "slow"), (1.05, "right"), (1, "right"), (0.95, "right"), (0.9, "small"), (0.63, "small"),
     (0.61, "toy"), (0.2, "toy")],
)  # fmt: skip
def test_how_a_rate_looks(times_ideal, look):
    """Toy at 2.6 times the gravity, small from 1.15, slow under 0.85: common practice, no source."""
    found = demo("lock-gate")
    assert reads_as(found, found.speed.ideal_fps * times_ideal) == look


@pytest.mark.parametrize(
    ("ratio", "look"),
    [(41.6, "toy"), (41.5, "small"), (18.5, "small"), (18.4, "right"), (13.6, "right"), (13.5, "slow")],
)
def test_how_a_rate_looks_at_the_edges(ratio, look):
    """At 96 fps S / 16: 2.6 itself is a toy's, 1.15 and 0.85 themselves are right."""
    assert reads_as(solve({"scale.ratio": ratio}), 96) == look


@pytest.mark.parametrize("kind", ["still", "driven"])
def test_what_neither_falls_nor_flows_has_no_weight(kind):
    found = demo("signal-lamp", action_kind=kind)
    assert weight_at(found, 48) is None
    assert reads_as(found, 48) is None
