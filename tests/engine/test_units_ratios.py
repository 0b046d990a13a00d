"""Ratios: how scales are named, and what they come to."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.units import EntryError, exact_ratio, parse_ratio, ratio_text


@pytest.mark.parametrize(
    ("text", "ratio"),
    [
        ("1:24", 24),
        ("1 : 24", 24),
        ("1/24", 24),
        ("24", 24),
        (24, 24),
        (87.1, 87.1),
        ("1:22.5", 22.5),
        ("1:22,5", 22.5),
        ("1:1", 1),
        ("2:9", 4.5),
        ("1:10000", 10_000),
        ("1/2 in = 1 ft", 24),
        ('1/2" = 1\'-0"', 24),
        ("½\" = 1'", 24),
        ("1 1/2 in = 1 ft", 8),
        ("10 mm = 1 m", 100),
        ("1 in = 10 ft", 120),
        ("1 mm=1 m", 1000),
    ],
)
def test_a_ratio_is_read(text, ratio):
    assert parse_ratio(text) == ratio


# Architect's scales, inches to the foot: common practice, no source. Whole ratios, so exactly.
@pytest.mark.parametrize(
    ("inches", "ratio"),
    [
        ("3", 4),
        ("1 1/2", 8),
        ("1", 12),
        ("3/4", 16),
        ("1/2", 24),
        ("3/8", 32),
        ("1/4", 48),
        ("3/16", 64),
        ("1/8", 96),
    ],
)
def test_the_architects_scales(inches, ratio):
    assert parse_ratio(f"{inches} in = 1 ft") == ratio


# ISO 5455:1979, 5.1, preferred reductions and full size.
@pytest.mark.parametrize("ratio", [1, 2, 5, 10, 20, 50, 100])
def test_the_preferred_scales_of_iso_5455(ratio):
    assert parse_ratio(f"1:{ratio}") == ratio
    assert ratio_text(ratio) == f"1:{ratio}"


def test_a_model_railway_at_three_and_a_half_millimetres_to_the_foot():
    # NMRA/NEM, common practice: HO is printed as 1:87.09, to two decimals: half the last is allowed.
    assert parse_ratio("3.5 mm = 1 ft") == pytest.approx(87.09, abs=0.005)
    assert parse_ratio("3.5 mm = 1 ft") == 304.8 / 3.5


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "not a ratio"),
        ("2:1", "from 1:1 to 1:10000"),
        ("1:0.5", "from 1:1 to 1:10000"),
        ("1:0", "from 1:1 to 1:10000"),
        (0, "from 1:1 to 1:10000"),
        (-24, "from 1:1 to 1:10000"),
        ("1:10001", "from 1:1 to 1:10000"),
        ("0:24", "starts with 1"),
        ("3/4", "starts with 1"),
        ("1 1/2", "not a ratio"),
        ("1:24:2", "not a ratio"),
        ("1:nan", "not a ratio"),
        ("1:-24", "not a ratio"),
        ("HO", "not a ratio"),
        (float("nan"), "not a ratio"),
        (float("inf"), "not a ratio"),
        (True, "not a ratio"),
        ("1:1,500", "1:1500 or 1:1.5?"),
        ("1/2 in = ", "nothing entered"),
        ("1/2 = 1 ft", "a unit is missing after 1/2"),
        ("0 in = 1 ft", "more than nothing"),
        ("1/2 in = 1 ft = 2 ft", "not a length"),
    ],
)
def test_a_ratio_is_refused_and_the_line_says_why(text, why):
    with pytest.raises(EntryError) as caught:
        parse_ratio(text)
    assert why in str(caught.value)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize(
    ("ratio", "text"),
    [(24, "1:24"), (87.0857, "1:87.1"), (1.25, "1:1.25"), (22.5, "1:22.5"), (1234, "1:1234")],
)
def test_a_ratio_is_written_for_people(ratio, text):
    assert ratio_text(ratio) == text


@given(st.floats(1, 10_000))
def test_a_written_ratio_reads_back(ratio):
    assert parse_ratio(exact_ratio(ratio)) == ratio
    shown = ratio_text(ratio)
    # A tenth, or a hundredth below 10: half of that, and a float's error.
    assert abs(parse_ratio(shown) - ratio) <= (0.05 if ratio >= 10 else 0.005) + 1e-9
    assert ratio_text(parse_ratio(shown)) == shown
