"""Rounding to the safe side, and lengths as a tape is read: what may be off is never shown as more."""

from __future__ import annotations

import math

import pytest
from cases import solve
from hypothesis import given
from hypothesis import strategies as st
from strategies import logarithmic

from forescale.engine.findings.words import Words
from forescale.engine.units import (
    UnitSystem,
    length_at_most,
    length_text,
    parse_length,
    rounded_down,
    rounded_up,
    tape_at_least,
    tape_at_most,
    tape_text,
)

FT, INCH = 304.8, 25.4
systems = st.sampled_from(["metric", "imperial"])


@pytest.mark.parametrize(
    ("value", "digits", "down", "up"),
    [
        (1227, 2, 1200, 1300),
        (1200, 2, 1200, 1200),
        (0.0263, 2, 0.026, 0.027),
        (3.4167, 3, 3.41, 3.42),
        (0.3, 2, 0.3, 0.3),  # 0.3 / 0.01 is a hair over 30 in floats
        (99.5, 2, 99, 100),
        (0, 2, 0, 0),
        (math.inf, 2, math.inf, math.inf),
    ],
)
def test_to_so_many_digits_either_way(value: float, digits: int, down: float, up: float) -> None:
    assert rounded_down(value, digits) == pytest.approx(down)
    assert rounded_up(value, digits) == pytest.approx(up)


@given(st.floats(1e-9, 1e12), st.integers(1, 4))
def test_the_value_lies_between_and_a_step_apart(value: float, digits: int) -> None:
    low, high = rounded_down(value, digits), rounded_up(value, digits)
    assert low <= value * (1 + 1e-9)
    assert high >= value * (1 - 1e-9)
    assert high - low <= 1.001 * 10 ** (math.floor(math.log10(value)) - digits + 1)


# A tape shows sixteenths, from 30 m on whole inches.
TAPED = [
    (147 * FT + 1.57 * INCH, "imperial", "147 ft 2 in"),
    (147 * FT + 1.5625 * INCH, "imperial", "147 ft 1 9/16 in"),  # whole sixteenths: entered so, told so
    (200 * FT + 0.25 * INCH, "imperial", "200 ft 0 1/4 in"),
    (30_000, "imperial", "98 ft 5 in"),
    (29_999, "imperial", "98 ft 5 1/16 in"),
    (10 * FT + 1.1 * INCH, "imperial", "10 ft 1 1/8 in"),
    (2_999, "imperial", "9 ft 10 1/16 in"),
    (-31_000, "imperial", "-101 ft 8 in"),
    (math.inf, "imperial", "infinity"),
    (2_999.4, "metric", "2.999 m"),
    (44_846, "metric", "44.85 m"),
]


@pytest.mark.parametrize(("mm", "system", "text"), TAPED)
def test_a_length_is_told_as_a_tape_shows_it_there(mm: float, system: UnitSystem, text: str) -> None:
    assert tape_text(mm, system) == text


@given(logarithmic(0.001, 1e8), systems, st.sampled_from([1, 8, 16, 32]))
def test_a_length_told_as_at_most_is_no_more_and_the_next_step_down(
    mm: float, system: UnitSystem, fraction: int
) -> None:
    nearest = parse_length(length_text(mm, system, fraction=fraction))
    told = parse_length(length_at_most(mm, system, fraction=fraction))
    assert told <= mm * (1 + 1e-9)
    if nearest <= mm:
        assert told == nearest
    else:  # nothing is written between the two
        between = parse_length(length_text((nearest + told) / 2, system, fraction=fraction))
        assert told < nearest
        assert min(abs(between - told), abs(between - nearest)) <= 1e-9 * nearest


@given(logarithmic(0.01, 1e5), systems)
def test_what_may_be_off_reads_back_as_no_more(mm: float, system: str) -> None:
    words = Words(solve({"units": system}))
    assert parse_length(words.within(mm).removeprefix("± ")) <= mm * (1 + 1e-9)


@given(logarithmic(0.01, 1e3), systems)
def test_what_the_slide_may_be_off_reads_back_as_no_more_in_both_units(mm: float, system: str) -> None:
    voice = Words(solve({"units": system}))
    for text in (f"{voice.at_most(mm)} mm", f"{voice.at_most(mm / 25.4)} in"):
        assert parse_length(text) <= mm * (1 + 1e-9)


def test_anything_may_be_off_by_any_amount_where_nothing_shows() -> None:
    assert Words(solve()).within(math.inf) == "any amount"


@given(st.floats(1, 1e4))
def test_a_ratio_that_is_served_at_most_is_no_larger(ratio: float) -> None:
    told = float(Words.ratio_at_most(ratio).removeprefix("1:"))
    assert told <= ratio * (1 + 1e-9)
    assert told >= ratio * 0.99


@pytest.mark.parametrize("fraction", [1, 16])
@given(mm=st.floats(1, 2e6), system=systems)
def test_a_limit_is_told_on_its_safe_side_within_a_step(mm: float, system: UnitSystem, fraction: int) -> None:
    near, far = (parse_length(told(mm, system, fraction=fraction)) for told in (tape_at_least, tape_at_most))
    assert far <= mm * (1 + 1e-9)
    assert near >= mm * (1 - 1e-9)
    step = INCH if mm >= 29_000 or fraction == 1 else INCH / 8
    assert near - far <= 2 * (step if system == "imperial" and mm < 1.6e6 else max(10.0, 0.001 * mm))


def test_a_near_limit_is_not_told_nearer_than_it_is() -> None:
    """12 ft 3.18 in: to the nearest eighth that is 3 1/8, which is not sharp any more."""
    mm = 12 * FT + 3.18 * INCH
    assert tape_text(mm, "imperial") == "12 ft 3 3/16 in"
    assert tape_at_least(mm, "imperial") == "12 ft 3 1/4 in"
    assert tape_at_least(mm, "imperial", fraction=1) == "12 ft 4 in"
    assert tape_at_most(mm, "imperial") == "12 ft 3 1/8 in"
    assert tape_at_most(math.inf, "imperial") == "infinity"
