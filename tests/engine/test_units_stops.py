"""Stops: marks and what they stand for."""

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from forescale.engine.units import (
    EntryError,
    Stop,
    off_the_marks,
    parse_stop,
    stop_label,
    stop_text,
    stops_text,
    third_stops,
)

# ISO 517: 2.8, 11 and 22 with their exact values as printed, the rest of the series from memory. The number of
# printed digits differs, so each is met to half its last digit.
ISO_517 = [
    ("1", "1.0000"),
    ("1.4", "1.4142"),
    ("2", "2.0000"),
    ("2.8", "2.8284"),
    ("4", "4.0000"),
    ("5.6", "5.657"),
    ("8", "8.000"),
    ("11", "11.314"),
    ("16", "16.000"),
    ("22", "22.627"),
    ("32", "32.000"),
]


@pytest.mark.parametrize(("mark", "printed"), ISO_517)
def test_a_full_stop_stands_for_its_exact_value(mark, printed):
    half_digit = 0.5 * 10.0 ** -len(printed.partition(".")[2])
    assert parse_stop(f"f/{mark}").value == pytest.approx(float(printed), abs=half_digit)


# The marks in thirds of a stop as lenses and meters carry them: common practice, no source.
THIRDS = (
    "0.7 0.8 0.9 1 1.1 1.2 1.4 1.6 1.8 2 2.2 2.5 2.8 3.2 3.5 4 4.5 5 5.6 6.3 7.1 8 9 10 11 13 14 16 18 20 22 25 29 32"
)


def test_the_marks_of_a_lens_are_a_third_of_a_stop_apart():
    stops = third_stops(0.7, 32)
    assert " ".join(stop_label(stop) for stop in stops) == THIRDS
    for n, stop in enumerate(stops):
        # Two thirds of a doubling of the light is a factor of 2^(1/6) in the number; float error only.
        assert stop == pytest.approx(math.sqrt(2) ** ((n - 3) / 3), rel=1e-14)


def test_every_mark_in_range_gives_back_the_same_value():
    stops = third_stops(0.5, 256)
    assert len(stops) == 9 * 6 + 1
    for stop in stops:
        assert parse_stop(stop_label(stop)).value == stop
        assert parse_stop(stop_text(stop, "f")) == Stop(stop, "f", True)
        assert parse_stop(stop_text(stop, "T")) == Stop(stop, "T", True)
        assert parse_stop(stop_text(stop, None)) == Stop(stop, None, True)


@pytest.mark.parametrize(("odd", "mark"), [("1.3", "1.2"), ("3.4", "3.5"), ("28", "29"), ("1.26", "1.2"), ("12", "13")])
def test_a_mark_between_goes_to_the_nearest_third(odd, mark):
    assert stop_label(parse_stop(odd).value) == mark


@pytest.mark.parametrize(
    ("text", "stop"),
    [
        ("f/16", Stop(16.0, "f", True)),
        ("f16", Stop(16.0, "f", True)),
        ("F/16", Stop(16.0, "f", True)),
        ("ƒ/16", Stop(16.0, "f", True)),
        ("f / 16", Stop(16.0, "f", True)),
        ("T4", Stop(4.0, "T", True)),
        ("t/4", Stop(4.0, "T", True)),
        ("T 4,0", Stop(4.0, "T", True)),
        ("16", Stop(16.0, None, True)),
        (16, Stop(16.0, None, True)),
        (16.0, Stop(16.0, None, True)),
        ("f/=13.0", Stop(13.0, "f", False)),
        ("T=13.0", Stop(13.0, "T", False)),
        ("f/= 2.8", Stop(2.8, "f", False)),
        ("=13", Stop(13.0, None, False)),
        ("0.5", Stop(0.5, None, True)),
        ("256", Stop(256.0, None, True)),
    ],
)
def test_a_stop_is_read(text, stop):
    assert parse_stop(text) == stop


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "not a stop"),
        ("f/", "not a stop"),
        ("g/16", "not a stop"),
        ("f/-16", "not a stop"),
        ("f/16 mm", "not a stop"),
        ("8 1/2", "not a stop"),
        ("f/5.6 1/3", "not a stop"),
        ("f/nan", "not a stop"),
        (float("nan"), "not a stop"),
        (float("inf"), "not a stop"),
        (True, "not a stop"),
        ("0", "from 0.5 to 256"),
        (0.49, "from 0.5 to 256"),
        ("f/=256.1", "from 0.5 to 256"),
        ("f/1,400", "f/1400 or f/1.4?"),
    ],
)
def test_a_stop_is_refused_and_the_line_says_why(text, why):
    with pytest.raises(EntryError) as caught:
        parse_stop(text)
    assert why in str(caught.value)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize(
    ("value", "marks", "text"),
    [
        (2 * math.sqrt(2), "T", "T2.8"),
        (8 * math.sqrt(2), "f", "f/11"),
        (16.0, None, "16"),
        (13.0, "f", "f/=13.0"),
        (13, "T", "T=13.0"),
        (2.8, "f", "f/=2.8"),
    ],
)
def test_a_stop_is_written(value, marks, text):
    assert stop_text(value, marks) == text


@given(st.floats(0.5, 256), st.sampled_from(["f", "T", None]))
@example(2.8284271247461907, "f")
def test_a_written_stop_reads_back(value, marks):
    stop = parse_stop(stop_text(value, marks))
    # The same float; next to a third-stop value the error of the root that made it is dropped.
    assert stop.value == pytest.approx(value, rel=1e-12)
    assert stop.marks == marks
    assert stop_text(stop.value, marks) == stop_text(value, marks)


def test_a_range_of_stops_goes_from_mark_to_mark_nearest_its_ends():
    assert [stop_label(stop) for stop in third_stops(1.9, 3.15)] == ["2", "2.2", "2.5", "2.8", "3.2"]
    assert third_stops(4, 4) == (4.0,)
    with pytest.raises(EntryError, match="smaller number"):
        third_stops(22, 1.5)


@pytest.mark.parametrize(
    ("number", "text"),
    [*((one, "stop") for one in ("1", "1.0", "-1.0", "+1.0")), *((one, "stops") for one in ("0", "2", "1.5", "0.99"))],
)
def test_stops_are_counted_as_a_person_counts(number, text):
    assert stops_text(number) == f"{number} {text}"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("T2.1", "2.1 is no third of a stop, so the mark T2 is set; T=2.1 is as written"),
        ("f/12", "12 is no third of a stop, so the mark f/13 is set; f/=12 is as written"),
        (" F/ 12,6 ", "12.6 is no third of a stop, so the mark f/13 is set; f/=12.6 is as written"),
        ("6", "6 is no third of a stop, so the mark 6.3 is set; =6 is as written"),
        *((text, "") for text in ("T=2.1", "T2", "f/2.80", "2.83", "16.0", "f/.5", "5,6")),
    ],
)
def test_a_stop_off_the_marks_is_said_to_be_set_to_one(text, said):
    assert off_the_marks(text) == said
