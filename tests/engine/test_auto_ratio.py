"""What the program chooses where the shot leaves a field open, and that choosing the same by hand changes nothing."""

import math
from typing import Any

import pytest
from cases import again, fields_of, solve
from hypothesis import assume, given
from hypothesis import strategies as st
from strategies import kits, logarithmic, mm, shot_changes

from forescale.engine.answer import Answer
from forescale.engine.files.faults import BadInput
from forescale.engine.formulas.scale import STANDARD_RATIOS
from forescale.engine.shot import edit
from forescale.engine.units import stop_text

AHEAD = 30.0  # the plain lens's pupil
OPEN: dict[str, Any] = {"scale.ratio": None, "place.model": None}

# Both places taped: D/d, and the customary ratio nearest to it, as a proportion. Between 24 and 25 that is √600.
TAPED = [
    (24, 24),
    (24.4, 24),
    (24.6, 25),
    (17.1, 18),
    (16.9, 16),
    (87.0, 304.8 / 3.5),
    (1.3, 1),
    (1.5, 2),
    (3000, 1000),
]


@pytest.mark.parametrize(("wanted", "nearest"), TAPED)
def test_of_two_taped_places_the_customary_ratio_nearest_to_theirs(wanted: float, nearest: float) -> None:
    found = solve({"scale.ratio": None, "place.background": mm(AHEAD + 4000 * wanted)})
    assert found.lineup.reads_as_ratio == pytest.approx(wanted, rel=1e-9)
    assert found.scale.ratio == pytest.approx(nearest, rel=1e-12)
    # The place for it is exact: there it reads as the ratio.
    assert found.lineup.match_distance_mm == pytest.approx(AHEAD + 4000 * wanted / nearest, rel=1e-9)
    assert found.auto >= {"scale.ratio"}


# No place for the model: (top rate, playback, heft) and the largest customary S with √S·heft ≤ k. k² is 25, 4, 1; with
# heft 1.3 (5/1.3)² = 14.8; at 25 fps playback 4.8² = 23.04; a rate of 200 is (200/24)² = 69.4.
SERVED = [
    ([24, 120], 24, 1, 25),
    ([24, 48], 24, 1, 4),
    ([24], 24, 1, 1),
    ([24, 120], 24, 1.3, 12),
    ([24, 120], 25, 1, 20),
    ({"min": 1, "max": 200}, 24, 1, 64),
    ([12], 24, 1, 1),  # too slow for anything: life size, and a finding says so
]


@pytest.mark.parametrize(("fps", "playback", "heft", "ratio"), SERVED)
def test_with_no_place_the_smallest_model_that_the_top_rate_makes_heavy(
    fps: Any, playback: float, heft: float, ratio: float
) -> None:
    found = solve(OPEN | {"action.playback_fps": playback, "action.heft": heft}, mode={"fps": fps})
    assert found.scale.ratio == ratio
    assert found.lineup.model_mm == pytest.approx(AHEAD + 64000 / ratio, rel=1e-9)
    assert found.lineup.size_error == pytest.approx(1, rel=1e-9)


# The lens focuses to `close` from the sensor plane; the background is 64 m from the pupil.
@pytest.mark.parametrize(("close", "ratio"), [(30 + 64000 / 12 - 1, 12), (30 + 64000 / 12 + 1, 10), (30 + 70000, 1)])
def test_but_no_nearer_than_the_lens_focuses(close: float, ratio: float) -> None:
    found = solve(OPEN, lens={"close_focus": mm(close)})
    assert found.scale.ratio == ratio
    assert ratio == 1 or found.lineup.model_mm >= close


@given(
    background=logarithmic(3000, 1e6),
    top=st.sampled_from([24, 60, 120, 400]),
    heft=st.sampled_from([0.7, 1.0, 1.5]),
    close=logarithmic(300, 5000),
)
def test_what_is_chosen_is_the_largest_that_serves(background: float, top: float, heft: float, close: float) -> None:
    found = solve(
        OPEN | {"place.background": mm(background), "action.heft": heft},
        mode={"fps": [24, top]},
        lens={"close_focus": mm(close)},
    )

    def serves(ratio: float) -> bool:
        return 24 * math.sqrt(ratio) * heft <= top * (1 + 1e-9) and (background - AHEAD) / ratio >= close - AHEAD

    assert found.scale.ratio == max((ratio for ratio in STANDARD_RATIOS if serves(ratio)), default=1)


def test_a_ratio_for_a_background_at_infinity_needs_the_models_place() -> None:
    found = solve({"scale.ratio": None, "place.background": "inf"})
    assert found.scale.ratio == 25
    with pytest.raises(
        BadInput, match=r"^place\.model: is missing, and no place can be worked out for a background at infinity"
    ):
        solve(OPEN | {"place.background": "inf"})


# Fields given back to the program, and the value that it chose

EXPLICIT = {
    "scale.ratio": lambda found: f"1:{found.scale.ratio!r}",
    "place.model": lambda found: mm(found.lineup.model_mm),
    "action.fps": lambda found: found.speed.fps,
    "focus.distance": lambda found: mm(found.focus.focus_mm),
    "focus.stop": lambda found: stop_text(found.focus.stop_mark, found.kit.lens.marks),
    "light.iso": lambda found: found.light.iso,
}


def same_numbers(one: Any, other: Any) -> bool:
    if fields_of(one):
        return all(same_numbers(getattr(one, name), getattr(other, name)) for name in fields_of(one))
    if isinstance(one, float) and isinstance(other, float):
        # 1e-6: the mark settles to 1e-9 mm, and a slip is a small difference of large numbers.
        return one == pytest.approx(other, rel=1e-6, abs=1e-6)
    if isinstance(one, tuple):
        return len(one) == len(other) and all(map(same_numbers, one, other))
    return bool(one == other)


def assert_same(one: Answer, other: Answer) -> None:
    for group in ("scale", "lineup", "speed", "focus", "light", "slip", "survey"):
        assert same_numbers(getattr(one, group), getattr(other, group)), group


@pytest.mark.parametrize("path", EXPLICIT)
def test_setting_the_chosen_value_changes_no_number(path: str) -> None:
    move = {"move.axis": "pan", "move.sweep": "10 deg", "move.slide": "63 mm"}
    found = solve(OPEN | move, head={})
    assert path in found.auto
    chosen = again(found, edit.changed(found.setting, {path: EXPLICIT[path](found)}))
    assert path not in chosen.auto
    assert_same(found, chosen)


@given(shot_changes(), kits())
def test_setting_every_chosen_value_changes_no_number_in_any_shot(changes: dict[str, Any], kit: dict[str, Any]) -> None:
    try:
        found = solve(changes | ({"kit.head": "plain-head"} if kit["head"] else {}), **kit)
        chosen = again(found, edit.changed(found.setting, {path: EXPLICIT[path](found) for path in found.auto}))
    except BadInput:
        assume(False)
    assert not chosen.auto
    assert_same(found, chosen)


def test_the_lens_and_the_mode_are_not_asked_beyond_what_they_have() -> None:
    # No stop holds it: the smallest is set. No rate is fast enough: the top one is set.
    found = solve({"place.model_near": "900 mm", "place.background_far": "inf", "scale.ratio": "1:48"})
    assert found.focus.f_number == found.kit.lens.f_numbers[-1]
    assert not found.focus.covers
    assert found.speed.fps == found.speed.top_fps == 120


# There and back through the answer


@given(st.floats(1, 400), st.sampled_from([24.0, 25.0, 30.0]), st.floats(0.5, 2))
def test_scale_to_rate_to_scale(ratio: float, playback: float, heft: float) -> None:
    changes = {"scale.ratio": ratio, "place.model": None, "action.playback_fps": playback, "action.heft": heft}
    rate = solve(changes).speed.ideal_fps
    back = solve(changes, mode={"fps": [rate]})
    assert back.speed.largest_ratio == pytest.approx(ratio, rel=1e-9)
    assert back.speed.fps == rate
    assert back.speed.apparent_gravity * heft**2 == pytest.approx(1, rel=1e-9)


@given(logarithmic(1000, 20_000), st.floats(1.1, 1000), st.sampled_from(["f", "T"]))
def test_zone_to_stop_to_zone(near: float, beyond: float, marks: str) -> None:
    place = {"place.model": mm(near), "place.background": mm(near * beyond), "scale.ratio": "1:1"}
    lens = {"marks": marks, "transmission_loss": 0.4, "widest": "1.4", "smallest": "22"}
    needed = solve(place, lens=lens).focus.stop_needed
    assume(0.5 <= needed <= 250)
    held = solve(place | {"focus.stop": f"f/={needed!r}"}, lens=lens).focus
    # The far end runs off to infinity as the focus nears the hyperfocal distance: digits are lost in proportion.
    assert held.near_mm == pytest.approx(near, rel=1e-9)
    assert held.far_mm == pytest.approx(near * beyond, rel=1e-9 * beyond)
    assert held.covers
    wider = solve(place | {"focus.stop": f"f/={needed * (1 - 1e-6)!r}"}, lens=lens).focus
    assert not wider.covers


@given(
    st.floats(0, 120),
    st.sampled_from(["pan", "tilt"]),
    st.floats(0.5, 40),
    st.sampled_from(["0 mm", "120 mm", "-50 mm"]),
)
def test_slip_to_offset_to_slip(slide: float, axis: str, sweep: float, drop: str) -> None:
    move = {"move.axis": axis, "move.sweep": f"{sweep!r} deg", "move.slide": mm(slide)}
    head = {"tilt_drop": drop}
    there = solve(move, head=head).slip
    # One reading of that slip is enough to find the zero, and the zero does not slip.
    read = solve(move | {"bench": [{"slide": mm(slide), "slip_px": there.slip_px}]}, head=head).slip
    assert read.bench is not None
    assert there.slide_for_zero_mm is not None
    if read.bench.fault is None:
        assert read.bench.slide_for_zero_mm == pytest.approx(there.slide_for_zero_mm, abs=1e-6)
        assert read.bench.pupil_ahead_mm == pytest.approx(AHEAD, abs=1e-6)
    if 0 <= there.slide_for_zero_mm <= 120:
        zero = solve(move | {"move.slide": mm(there.slide_for_zero_mm)}, head=head).slip
        assert zero.slip_px == pytest.approx(0, abs=1e-9)
    assert there.offset_mm == pytest.approx(slide - 90 + AHEAD, rel=1e-9, abs=1e-9)


def test_slid_by_its_tolerance_the_model_slips_by_just_what_may_pass() -> None:
    def slid(by: float) -> float:
        # Model and background stay where they are, so the tape to them shortens as the camera goes forward.
        tape = {"place.model": mm(4030 - by), "place.background": mm(64030 - by), "focus.distance": "7 m"}
        move = {"move.axis": "pan", "move.sweep": "10 deg", "move.slide": mm(60 + by), "move.tolerance": 2}
        found = solve(tape | move, head={}).slip
        assert found.slip_px is not None
        assert found.tolerance_mm is not None
        return found.tolerance_mm if by == 0 else found.slip_px

    tolerance = slid(0)
    # Slip grows a little faster forward of the zero, so forward is the side that decides.
    assert slid(tolerance) == pytest.approx(2, rel=1e-9)
    assert -2 < slid(-tolerance) < -1.97


def test_a_model_that_would_match_beyond_the_background_is_refused() -> None:
    with pytest.raises(
        BadInput, match=r"place\.model: would stand \d+ mm from the sensor plane, beyond the background"
    ):
        solve({"place.model": None, "scale.ratio": 1.0, "place.background": "400 mm", "place.seems_at": "80 m"})
