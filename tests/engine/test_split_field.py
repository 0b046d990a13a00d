"""A split-field close-up lens: what is sharp through it, against the blur of the two thin lenses as they stand.

Two thin lenses in contact add their powers: a thing at z is imaged at v_u, 1/v_u = 1/f + P − 1/z, whatever its light
does between them. The sensor stands at v, 1/v = 1/f − 1/s, and a point's blur there is (f/N)·|v − v_u|/v_u.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from cases import solve, text_of
from hypothesis import assume, given
from hypothesis import strategies as st
from strategies import logarithmic

from forescale.engine.answer import Answer
from forescale.engine.formulas.focus import far_limit_mm, near_limit_mm, zone_through_close_up_mm
from forescale.engine.solve.focus_zone import split_field
from forescale.engine.units import parse_length
from forescale.engine.workings import explain


def blur_mm(z: float, dioptres: float, focus: float, focal: float, f_number: float) -> float:
    sensor = 1 / (1 / focal - 1 / focus)
    image = 1 / (1 / focal + dioptres / 1000 - 1 / z)
    return focal / f_number * abs(sensor - image) / image


@given(
    st.floats(0.25, 4),
    logarithmic(2_000, 1e6) | st.just(math.inf),
    st.sampled_from([12.0, 35.0, 100.0]),
    st.sampled_from([4.0, 22.627]),
)
def test_the_blur_at_either_end_is_what_may_pass(power: float, focus: float, focal: float, stop: float) -> None:
    coc = 0.0127
    near, far = zone_through_close_up_mm(power, focus, focal, stop, coc)
    assume(near > 1.5 * focal)
    assert blur_mm(near, power, focus, focal, stop) == pytest.approx(coc, rel=1e-6)
    if math.isfinite(far):
        assert blur_mm(far, power, focus, focal, stop) == pytest.approx(coc, rel=1e-6)
    else:
        assert blur_mm(1e12, power, focus, focal, stop) <= coc * (1 + 1e-6)
    for z in (0.99 * near, 1.01 * far):
        assert math.isinf(z) or blur_mm(z, power, focus, focal, stop) > coc


@given(st.floats(0.25, 4), logarithmic(500, 3_000))
def test_where_the_lens_ends_before_infinity_its_limits_are_seen_nearer(power: float, focus: float) -> None:
    """1/z' = 1/z − P: with the zone from n' to F', it is n = 1/(1/n' + P) to F = 1/(1/F' + P)."""
    near, far = (limit(focus, 35, 2.8, 0.0127) for limit in (near_limit_mm, far_limit_mm))
    assert math.isfinite(far)
    expected = tuple(1 / (1 / limit + power / 1000) for limit in (near, far))
    assert zone_through_close_up_mm(power, focus, 35, 2.8, 0.0127) == pytest.approx(expected)


def test_two_dioptres_on_a_lens_at_infinity_are_sharpest_at_half_a_metre() -> None:
    """By definition of the dioptre."""
    near, far = zone_through_close_up_mm(2, math.inf, 50, 0.5, 1e-6)
    assert near < 500 < far
    assert (near, far) == pytest.approx((500, 500), rel=1e-3)


# What the finding says of it

FLAT: dict[str, Any] = {"place.model": "830 mm", "place.background": "inf"}
DEEP: dict[str, Any] = {"place.model_near": "900 mm", "place.background_far": "inf"}
PUPIL = 30.0


def sharp_at(found: Answer, z_tape: float, power: float, focus_tape: float) -> bool:
    """Whether a thing on the tape is sharp at the smallest stop, as far as a millimetre tells."""
    kit = found.kit
    sharp = blur_mm(z_tape - PUPIL, power, focus_tape - PUPIL, kit.focal_mm, kit.lens.f_numbers[-1])
    return sharp <= found.focus.coc_mm * 1.01


def test_the_background_is_the_mark_and_the_zone_through_the_lens_is_told() -> None:
    """1/0.8 m is 1.25 dioptres, of which 1.5 is the nearest half; at f/22 it reaches 0.54 to either side."""
    found = solve(FLAT)
    text = text_of(found, "zone-short")
    assert (
        "set the focus mark at infinity, for the background, and f/22, with a split-field close-up lens of +1.5 over"
        in text
    )
    assert "the model's part of the frame, sharp there from 520 mm to 1.071 m (the join must be hidden" in text
    assert not sharp_at(found, 510, 1.5, math.inf)
    assert all(sharp_at(found, z, 1.5, math.inf) for z in (520, 830, 1071))
    assert not sharp_at(found, 1100, 1.5, math.inf)


def test_where_the_nearest_half_misses_a_power_that_holds_is_told() -> None:
    found = solve(DEEP)
    text = text_of(found, "zone-short")
    assert found.focus.split_dioptres == 1
    assert "of +0.7 over the model's part of the frame, where one of that power can be had (the join must be" in text
    mark = 128_030.0  # twice the background's 64 m from the pupil, as it must be sharp to infinity
    assert "mark at 128.03 m, for the background, and f/22, with" in text
    assert sharp_at(found, 900, 1, mark)
    assert not sharp_at(found, 4030, 1, mark)
    assert sharp_at(found, 900, 0.7, mark)
    assert sharp_at(found, 4030, 0.7, mark)


@pytest.mark.parametrize(
    "move",
    [
        {"move.axis": "pan", "move.sweep": "10 deg", "move.start": "10 deg"},
        {"move.axis": "tilt down", "move.start": "1 deg"},
        {"move.axis": "none", "move.travel": "200 mm right"},
    ],
)
def test_no_split_field_lens_is_offered_where_the_join_would_sweep(move: dict[str, Any]) -> None:
    assert "split-field" in text_of(solve(FLAT), "zone-short")
    found = solve(FLAT | {"move.axis": "none", "move.sweep": "0 deg", "move.screen_time": "5 s"} | move)
    assert found.focus.split_dioptres is None
    assert split_field(found) is None
    assert "split-field" not in text_of(found, "zone-short")


def test_no_split_field_lens_is_offered_for_a_model_too_deep_for_any() -> None:
    found = solve(DEEP, lens={"smallest": "f/8"})
    split, text = split_field(found), text_of(found, "zone-short")
    assert split is not None
    assert split.holds_background
    assert (split.holds_model, split.wanted_dioptres) == (False, None)
    assert "split-field" not in text
    assert text.endswith(
        "holds it from this focus: let the far end go (it is soft), or move all farther off (line up anew)"
    )
    mark = 128_030.0
    assert not any(sharp_at(found, 900, p / 100, mark) and sharp_at(found, 4030, p / 100, mark) for p in range(1, 300))


def test_a_background_that_is_itself_too_deep_is_not_helped() -> None:
    place = {"place.model": "1030 mm", "place.background": "2030 mm", "place.background_far": "inf", "scale.ratio": 2}
    found = solve(place, lens={"smallest": "f/5.6"})
    split, text = split_field(found), text_of(found, "zone-short")
    assert split is not None
    assert not split.holds_background
    assert not sharp_at(found, 2030, 0, split.focus_mm)
    assert "split-field" not in text
    assert text.endswith(
        "holds it from this focus: let the far end go (it is soft), or move all farther off (line up anew)"
    )


@given(logarithmic(400, 3_000), st.floats(0.4, 1), logarithmic(2, 100), st.sampled_from(["f/8", "f/16", "f/22"]))
def test_what_is_said_to_hold_does(model: float, near: float, beyond: float, smallest: str) -> None:
    place = {"place.model": f"{model} mm", "place.model_near": f"{max(model * near, 330):.1f} mm"}
    found = solve(place | {"place.background": f"{model * beyond} mm", "scale.ratio": 1}, lens={"smallest": smallest})
    split = split_field(found)
    assume(split is not None)
    ends = found.focus.near_needed_mm, found.lineup.model_mm
    held = [sharp_at(found, end, split.dioptres, split.focus_mm) for end in ends]
    assert split.holds_model <= all(held)
    if split.wanted_dioptres is not None:
        assert all(sharp_at(found, end, split.wanted_dioptres, split.focus_mm) for end in ends)
    elif not split.holds_model:
        reach = 1000 * found.focus.coc_mm * found.kit.lens.f_numbers[-1] / 25 / 25  # half its depth, in dioptres
        assert 500 / (ends[0] - PUPIL) - 500 / (ends[1] - PUPIL) > 0.97 * reach - 0.001


def test_the_working_tells_the_zone_as_the_finding_does() -> None:
    found = solve(DEEP)
    explained = explain("focus.split_dioptres", found)
    assert "focus mark for the background at 128.03 m" in explained.put_in
    assert "sharp through it from 677 mm to 2.165 m at f/22" in explained.put_in
    assert parse_length("677 mm") < found.focus.near_needed_mm
