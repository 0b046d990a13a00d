"""The bench by eye: the zero stays in the bracket, the next reading halves it, a misreading is named."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.formulas.bench_fit import Bracket, Reading, Seen, bracket


def seen_at(slide: float, zero: float, blind: float = 0.0) -> Reading:
    """Forward of the zero the foreground outruns; within `blind` of it nothing is seen to move."""
    if abs(slide - zero) <= blind:
        return Reading(slide, seen="locked")
    return Reading(slide, seen="outruns" if slide > zero else "lags")


slides = st.lists(st.integers(0, 150).map(float), min_size=1, max_size=12)
zeros = st.integers(0, 149).map(lambda whole: whole + 0.37)


@given(slides, zeros, st.sampled_from([0.0, 2.5, 20.0]))
def test_true_readings_bracket_the_zero(places: list[float], zero: float, blind: float) -> None:
    found = bracket([seen_at(place, zero, blind) for place in places], 0, 150)
    assert found.contradicting == ()
    assert found.low_mm is None or found.low_mm < zero
    assert found.high_mm is None or found.high_mm > zero
    assert (found.low_mm is None) == all(place >= zero - blind for place in places)
    assert (found.high_mm is None) == all(place <= zero + blind for place in places)
    if found.locked_mm is not None:
        assert abs(found.locked_mm - zero) <= blind
    if found.try_next_mm is not None:
        assert 0 <= found.try_next_mm <= 150


@given(slides, zeros, st.data())
def test_one_misreading_never_moves_the_bracket_off_the_zero(
    places: list[float], zero: float, data: st.DataObject
) -> None:
    readings = [seen_at(place, zero) for place in places]
    wrong = data.draw(st.integers(0, len(places) - 1))
    flipped: Seen = "lags" if readings[wrong].seen == "outruns" else "outruns"
    found = bracket([*readings[:wrong], Reading(places[wrong], seen=flipped), *readings[wrong + 1 :]])
    if found.contradicting:
        assert wrong in found.contradicting
        assert found.low_mm is None or found.low_mm < zero
        assert found.high_mm is None or found.high_mm > zero
    else:  # the misread one stands at the edge, where nothing gives it away
        rest = [place for index, place in enumerate(places) if index != wrong]
        assert not any(min(zero, places[wrong]) < place < max(zero, places[wrong]) for place in rest)
        assert places[wrong] not in rest


@given(zeros)
def test_following_the_advice_closes_in_on_the_zero(zero: float) -> None:
    readings: list[Reading] = []
    for _ in range(9):
        place = bracket(readings, 0, 150).try_next_mm
        assert place is not None
        readings.append(seen_at(place, zero))
    found = bracket(readings, 0, 150)
    ends = (0 if found.low_mm is None else found.low_mm, 150 if found.high_mm is None else found.high_mm)
    assert ends[0] < zero < ends[1]
    assert ends[1] - ends[0] == pytest.approx(150 / 2**9)


@given(st.floats(-400, 400), st.floats(-100, 100))
def test_without_a_range_the_search_still_reaches_the_zero(zero: float, start: float) -> None:
    readings = [seen_at(start, zero)]
    while bracket(readings).low_mm is None or bracket(readings).high_mm is None:
        place = bracket(readings).try_next_mm
        assert place is not None
        readings.append(seen_at(place, zero))
        assert len(readings) <= 4 + math.log2(1 + abs(zero - start) / 20)  # each step reaches twice as far


def by_eye(*seen: tuple[float, str]) -> list[Reading]:
    return [Reading(slide, seen=what) for slide, what in seen]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        (by_eye((40, "lags"), (100, "outruns")), Bracket(40, 100, 70, None, ())),
        (by_eye((40, "lags")), Bracket(40, None, 95, None, ())),
        (by_eye((60, "outruns")), Bracket(None, 60, 30, None, ())),
        (by_eye((150, "lags")), Bracket(150, None, None, None, ())),
        (by_eye((40, "lags"), (60, "locked"), (64, "locked"), (100, "outruns")), Bracket(40, 100, 82, 62, ())),
        ([], Bracket(None, None, 75, None, ())),
        ([Reading(40, -12), Reading(100, 14.5), Reading(70, 0.0), Reading(55)], Bracket(40, 100, 55, 70, ())),
        # One against three: named, and the bracket is that of the three.
        (by_eye((20, "lags"), (40, "outruns"), (60, "lags"), (80, "lags"), (120, "outruns")),
         Bracket(80, 120, 100, None, (1,))),
        # One against one: either may be wrong, so both are named, and read between them decides.
        (by_eye((40, "lags"), (60, "outruns"), (70, "lags"), (90, "outruns")), Bracket(40, 90, 65, None, (1, 2))),
        # The same place cannot do both.
        (by_eye((40, "lags"), (60, "lags"), (60, "outruns"), (90, "outruns")), Bracket(40, 90, 65, None, (1, 2))),
        (by_eye((50, "outruns"), (60, "lags")), Bracket(None, None, 75, None, (0, 1))),
        (by_eye((40, "lags"), (50, "locked"), (60, "lags"), (70, "lags"), (90, "outruns")),
         Bracket(70, 90, 80, None, (1,))),
    ],
)  # fmt: skip
def test_worked_brackets_on_a_slide_of_150_mm(readings: list[Reading], expected: Bracket) -> None:
    assert bracket(readings, 0, 150) == expected


def test_nothing_read_and_no_range_gives_no_advice() -> None:
    assert bracket([]) == Bracket(None, None, None, None, ())
