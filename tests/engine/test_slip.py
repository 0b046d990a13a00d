"""Slip by its own laws: the formula written out, there and back, signs, limits, and the whole of the turn."""

import math

import pytest
from closed_forms import picture_height_mm
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.formulas import misses
from forescale.engine.formulas.projection import Frame, Point, pose
from forescale.engine.formulas.slip import (
    Turn,
    offset_for_slip_mm,
    offsets_within_mm,
    slip_mm,
    slip_per_offset,
    slipping_by,
    zero_offset_mm,
)

PAN = Turn(sweep_deg=15, model_mm=3048, background_mm=73152, image_distance_mm=35.4)
TILT = Turn(sweep_deg=-12, model_mm=2500, background_mm=math.inf, image_distance_mm=51.0, rise_mm=90)
PIXEL_MM = 16.6 / 2048


def formula(turn: Turn, offset: float, share: float = 1.0) -> float:
    """The slip as the difference of two picture heights, written out, after a share of the sweep."""
    theta = math.radians(turn.sweep_deg) * share

    def height(z: float) -> float:
        if math.isinf(z):
            return turn.image_distance_mm * math.tan(theta)
        across = z * math.sin(theta) + turn.rise_mm * (1 - math.cos(theta))
        return turn.image_distance_mm * across / (z * math.cos(theta) + turn.rise_mm * math.sin(theta) - offset)

    return math.copysign(1.0, turn.sweep_deg) * (height(turn.model_mm) - height(turn.background_mm))


def brute_largest(turn: Turn, offset: float, steps: int = 1000) -> float:
    return max((formula(turn, offset, step / steps) for step in range(1, steps + 1)), key=abs)


def tolerance_mm(turn: Turn, passing: float) -> float:
    """How far the pupil may stand from its zero, the smaller of the two sides."""
    (low, high), zero = offsets_within_mm(turn, passing), zero_offset_mm(turn)
    return max(0.0, min(high - zero, zero - low))


sweeps = st.one_of(st.floats(0.5, 45), st.floats(-45, -0.5))
turns = st.builds(
    lambda sweep, model, ratio, rise, image: Turn(
        sweep_deg=sweep, model_mm=model, background_mm=model * ratio, rise_mm=rise, image_distance_mm=image
    ),
    sweeps,
    st.floats(700, 20000),
    st.one_of(st.floats(1.5, 100), st.just(math.inf)),
    st.one_of(st.just(0.0), st.floats(-200, 200)),
    st.floats(8, 320),
)
offsets = st.floats(-250, 250)


@given(turns, offsets)
def test_slip_is_the_difference_of_the_two_picture_heights(turn: Turn, offset: float) -> None:
    sign = math.copysign(1.0, turn.sweep_deg)
    heights = [picture_height_mm(z, turn, offset) for z in (turn.model_mm, turn.background_mm)]
    # The difference of two heights of up to 320 mm keeps about 1e-13 of them.
    assert slip_mm(turn, offset) == pytest.approx(sign * (heights[0] - heights[1]), rel=1e-9, abs=1e-10)
    assert slip_mm(turn, offset) == pytest.approx(formula(turn, offset), rel=1e-9, abs=1e-10)


@given(turns, offsets)
def test_an_offset_comes_back_from_its_slip(turn: Turn, offset: float) -> None:
    back = offset_for_slip_mm(turn, slip_mm(turn, offset))
    assert back == pytest.approx(offset, rel=1e-8, abs=1e-7)


@given(turns)
def test_the_zero_offset_does_not_slip_and_forward_of_it_outruns(turn: Turn) -> None:
    zero = zero_offset_mm(turn)
    assert slip_mm(turn, zero) == pytest.approx(0.0, abs=1e-12)
    assert slip_mm(turn, zero + 5) > 0 > slip_mm(turn, zero - 5)
    assert offset_for_slip_mm(turn, 0.0) == pytest.approx(zero, abs=1e-9)


@given(turns)
def test_slip_per_offset_is_the_slope_at_the_zero(turn: Turn) -> None:
    zero = zero_offset_mm(turn)
    numeric = (slip_mm(turn, zero + 0.01) - slip_mm(turn, zero - 0.01)) / 0.02
    assert slip_per_offset(turn) == pytest.approx(numeric, rel=1e-6)


@given(turns, st.floats(0.0005, 0.05))
def test_the_tolerance_is_reached_just_there_and_not_before(turn: Turn, passing: float) -> None:
    tolerance, zero = tolerance_mm(turn, passing), zero_offset_mm(turn)
    if tolerance == 0:
        assert abs(brute_largest(turn, zero)) >= passing * (1 - 1e-6)
        return
    sides = [abs(brute_largest(turn, zero + side * tolerance)) for side in (-1, 1)]
    assert max(sides) == pytest.approx(passing, rel=1e-5)
    for share in (-0.99, -0.5, 0.5, 0.99):
        assert abs(brute_largest(turn, zero + share * tolerance)) <= passing * (1 + 1e-6)


@given(turns, st.floats(0.0005, 0.05))
def test_offsets_within_are_those_that_pass(turn: Turn, passing: float) -> None:
    low, high = offsets_within_mm(turn, passing)
    bottom = max(low, -1000.0)  # the lowest may be infinite: then no lag is ever too much
    if bottom < high:
        for share in (0.001, 0.5, 0.999):
            assert abs(brute_largest(turn, bottom + share * (high - bottom))) <= passing * (1 + 1e-6)
    assert abs(brute_largest(turn, high + 0.01)) > passing
    if low > -200:  # short of where the branch turns, 600 mm back or more for these turns
        assert abs(brute_largest(turn, low - 0.01)) > passing


def test_the_slip_of_a_pan_by_hand() -> None:
    # v·z·sin θ/(z·cos θ − e) with v 35.4, θ 15°, e 38: the model at 3048, the background at 73152.
    sin, cos = math.sin(math.pi / 12), math.cos(math.pi / 12)
    expected = 35.4 * sin * (3048 / (3048 * cos - 38) - 73152 / (73152 * cos - 38))
    assert slip_mm(PAN, 38.0) == pytest.approx(expected, rel=1e-12)
    assert 14 < slip_mm(PAN, 38.0) / PIXEL_MM < 15.5


def test_a_turn_the_other_way_slips_the_same() -> None:
    back = Turn(sweep_deg=-15, model_mm=3048, background_mm=73152, image_distance_mm=35.4)
    assert slip_mm(back, 38.0) == pytest.approx(slip_mm(PAN, 38.0), rel=1e-12)
    assert picture_height_mm(3048, back, 38.0) == pytest.approx(-picture_height_mm(3048, PAN, 38.0), rel=1e-12)


def test_a_far_background_tends_to_infinity() -> None:
    far = Turn(sweep_deg=12, model_mm=2500, background_mm=1e12, image_distance_mm=51, rise_mm=90)
    endless = Turn(sweep_deg=12, model_mm=2500, background_mm=math.inf, image_distance_mm=51, rise_mm=90)
    for offset in (-80.0, 10.0, 120.0):
        assert slip_mm(far, offset) == pytest.approx(slip_mm(endless, offset), rel=1e-7)
    assert picture_height_mm(math.inf, endless, 10.0) == pytest.approx(51 * math.tan(math.radians(12)), rel=1e-12)


def test_a_tilt_strays_on_the_way_where_its_end_is_still() -> None:
    turn = Turn(sweep_deg=15, model_mm=3048, background_mm=73152, image_distance_mm=35.4, rise_mm=100)
    zero = zero_offset_mm(turn)
    assert zero == pytest.approx(100 * math.tan(math.radians(7.5)), rel=1e-12)
    # v·h·θ²/8·(1/d − 1/D), to second order in the sweep: 15° leaves a few parts in a hundred.
    stray = 35.4 * 100 * math.radians(15) ** 2 / 8 * (1 / 3048 - 1 / 73152)
    assert brute_largest(turn, zero) == pytest.approx(stray, rel=0.05)
    assert tolerance_mm(turn, 0.75 * stray) == 0.0
    # A pupil a little farther back shares the stray out: at best h·θ·(√2 − 1), where 0.69 of it is left.
    low, high = offsets_within_mm(turn, 0.75 * stray)
    assert low < 100 * math.radians(15) * (math.sqrt(2) - 1) < high < zero
    none_low, none_high = offsets_within_mm(turn, 0.6 * stray)
    assert none_low > none_high


def test_a_pan_tolerates_the_smaller_side() -> None:
    tolerance = tolerance_mm(PAN, PIXEL_MM)
    ahead, behind = (offset_for_slip_mm(PAN, sign * PIXEL_MM) for sign in (1, -1))
    assert ahead is not None
    assert behind is not None
    assert tolerance == pytest.approx(min(ahead, -behind), rel=1e-9)


@pytest.mark.parametrize(
    "turn",
    [
        Turn(sweep_deg=0, model_mm=3000, background_mm=9000, image_distance_mm=35),
        Turn(sweep_deg=20, model_mm=3000, background_mm=3000, image_distance_mm=35),
    ],
    ids=["no sweep", "one distance"],
)
def test_where_nothing_can_slip_any_offset_serves(turn: Turn) -> None:
    assert slip_mm(turn, 50.0) == 0.0
    assert tolerance_mm(turn, 0.01) == math.inf
    assert offset_for_slip_mm(turn, 0.01) is None
    assert offset_for_slip_mm(turn, 0.0) == zero_offset_mm(turn)


def test_no_tolerance_leaves_no_room() -> None:
    assert tolerance_mm(PAN, 0.0) == pytest.approx(0.0, abs=1e-12)


def test_no_place_lags_by_more_than_the_background_travels() -> None:
    travel = picture_height_mm(73152, PAN, 0.0)
    assert offset_for_slip_mm(PAN, -travel) is None
    endless = Turn(sweep_deg=15, model_mm=3048, background_mm=math.inf, image_distance_mm=35.4)
    edge = 35.4 * math.tan(math.radians(15))
    assert offset_for_slip_mm(endless, -edge * 1.0001) is None
    assert offset_for_slip_mm(endless, -edge * 0.99) is not None


def test_more_lag_than_any_place_gives_is_refused_where_the_branch_turns() -> None:
    # Sliding back, lag grows only as far as the pupil's −√(d·D)·cos θ, then shrinks again.
    turn = Turn(sweep_deg=20, model_mm=1000, background_mm=4000, image_distance_mm=50)
    turning = -math.sqrt(1000 * 4000) * math.cos(math.radians(20))
    most = slip_mm(turn, turning)
    assert offset_for_slip_mm(turn, most * 1.0001) is None
    assert offset_for_slip_mm(turn, most * 0.9999) == pytest.approx(turning, rel=0.05)


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"sweep_deg": 85.0}, "less than 85"),
        ({"sweep_deg": -90.0}, "less than 85"),
        ({"sweep_deg": math.nan}, "less than 85"),
        ({"model_mm": 0.0}, "ahead of the head's axis"),
        ({"background_mm": 3000.0}, "nearer than the model"),
        ({"background_mm": math.nan}, "nearer than the model"),
        ({"rise_mm": 30000.0}, "too near for a tilt axis"),
    ],
)
def test_an_impossible_turn_is_refused_in_one_sentence(changed: dict[str, float], says: str) -> None:
    usual = {"sweep_deg": 15.0, "model_mm": 3048.0, "background_mm": 73152.0, "image_distance_mm": 35.4}
    with pytest.raises(ValueError, match=says) as refusal:
        Turn(**{**usual, **changed})
    assert "\n" not in str(refusal.value)


def test_a_pupil_at_the_model_is_refused() -> None:
    with pytest.raises(ValueError, match="ahead of the lens's entrance pupil"):
        slip_mm(PAN, 3048 * math.cos(math.radians(15)))
    with pytest.raises(ValueError, match="ahead of the lens's entrance pupil"):
        picture_height_mm(100.0, PAN, 97.0)


def test_a_downward_tilt_under_the_lens_wants_the_pupil_behind() -> None:
    assert zero_offset_mm(TILT) == pytest.approx(-90 * math.tan(math.radians(6)), rel=1e-12)
    assert slip_mm(TILT, 0.0) > 0


def test_a_model_at_half_a_millimetre_slips_as_one_a_thousandfold_as_far() -> None:
    """A picture knows no unit of the place: with every distance divided by 1000 it stays."""
    far = Turn(sweep_deg=10, model_mm=500, background_mm=8000, image_distance_mm=25)
    near = Turn(sweep_deg=10, model_mm=0.5, background_mm=8, image_distance_mm=25)
    assert slip_mm(near, 0.1) == pytest.approx(slip_mm(far, 100), rel=1e-12)
    with pytest.raises(ValueError, match="must stand ahead"):
        Turn(sweep_deg=10, model_mm=0, background_mm=8, image_distance_mm=25)


@pytest.mark.parametrize("mm", [-40.0, 0.0, 25.0])
def test_slips_of_a_carried_pupil_are_those_seen_from_where_it_stands(mm: float) -> None:
    """Of a model off its match, so that it misses at the line-up too, both across and up."""
    pair = misses.Pair(Point(130, 1650, 4100), Point(1900, 4000, 64_000))
    frame, ways = Frame(25.1, 20, 10, 2000, 1000), [(0.0, 0.0, 1.0), (0.17, 0.05, 0.98)]
    stands = [pose(0, 1500, 0), pose(30, 1510, -20, 10, 2)]
    (found,) = slipping_by(pair, list(zip(stands, ways, strict=True)), frame)(mm)
    line_up, end = (at.carried(*(mm * part for part in way)) for at, way in zip(stands, ways, strict=True))
    here, there = misses.miss(pair, line_up, frame), misses.miss(pair, end, frame)
    assert here is not None
    assert there is not None
    assert abs(here.across - here.up) > 10
    assert found == pytest.approx((there.across - here.across, there.up - here.up), rel=1e-9)
