"""Floats to text: what people read, what a shop cuts, what a file keeps; and that all of it reads back."""

import math
from functools import partial

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from forescale.engine.units import (
    AREA,
    DENSITY,
    FORCE,
    ILLUMINANCE,
    SPEED,
    WEIGHT,
    angle_text,
    data_text,
    exact_angle,
    exact_length,
    exact_text,
    exact_time,
    illuminance_text,
    length_text,
    measure_text,
    number_text,
    parse_angle,
    parse_length,
    parse_number,
    parse_quantity,
    parse_time,
    says_infinity,
    shop_length,
    speed_text,
    time_text,
)


def parse_speed(text, bare_unit=None):
    return parse_quantity(text, SPEED, bare_unit)


def parse_illuminance(text, bare_unit=None):
    return parse_quantity(text, ILLUMINANCE, bare_unit)


SYSTEMS = st.sampled_from(["imperial", "metric"])
FRACTIONS = st.sampled_from([1, 2, 4, 8, 16, 32, 64])
ROUNDINGS = {"1/16 in": 25.4 / 16, "1/32 in": 25.4 / 32, "1/64 in": 25.4 / 64, "0.5 mm": 0.5, "0.1 mm": 0.1}
ANY_FLOAT = st.floats(allow_nan=False, allow_infinity=False)
# From a thousandth of a millimetre to a thousand kilometres, and as people tape them: sixteenths and tenths.
LENGTHS = (
    st.floats(-1e9, 1e9)
    | st.floats(-20_000, 20_000)
    | st.integers(0, 200_000).map(lambda n: n * 25.4 / 64)
    | st.integers(0, 200_000).map(lambda n: n / 10)
)


@pytest.mark.parametrize(
    ("mm", "imperial", "metric"),
    [
        (3200.4, "10 ft 6 in", "3.2 m"),
        (171.45, "6 3/4 in", "171 mm"),
        (2857.5, "9 ft 4 1/2 in", "2.858 m"),
        (562.5 - 5e-10, "1 ft 10 1/8 in", "563 mm"),  # a half but for the last digits of a float
        (562.5 + 5e-10, "1 ft 10 1/8 in", "563 mm"),
        (-562.5, "-1 ft 10 1/8 in", "-563 mm"),
        (3562.5 - 5e-10, "11 ft 8 1/4 in", "3.563 m"),
        (3562.49, "11 ft 8 1/4 in", "3.562 m"),
        (76.2, "3 in", "76.2 mm"),
        (762.0, "2 ft 6 in", "762 mm"),
        (3050.0, "10 ft 0 1/16 in", "3.05 m"),
        (36_000.0, "118 ft 1 5/16 in", "36 m"),
        (73_152.0, "240 ft", "73.15 m"),
        (8e6, "4.971 mi", "8 km"),
        (1e6, "3280 ft 10 1/16 in", "1 km"),
        (8_046_720.0, "5 mi", "8.047 km"),
        (1_609_344.0, "1 mi", "1.609 km"),
        (0.0, "0 in", "0 mm"),
        (0.025, "0.001 in", "0.025 mm"),
        (-76.2, "-3 in", "-76.2 mm"),
        (-3200.4, "-10 ft 6 in", "-3.2 m"),
        (-0.0001, "0 in", "0 mm"),
        (304.7, "1 ft", "305 mm"),
        (999.7, "3 ft 3 3/8 in", "1 m"),
        (99.97, "3 15/16 in", "100 mm"),
        (math.inf, "infinity", "infinity"),
    ],
)
def test_a_length_is_written_for_people(mm, imperial, metric):
    assert length_text(mm, "imperial") == imperial
    assert length_text(mm, "metric") == metric


@pytest.mark.parametrize(("fraction", "text"), [(1, "118 ft 1 in"), (4, "118 ft 1 1/4 in"), (64, "118 ft 1 21/64 in")])
def test_a_length_is_as_fine_as_asked_for(fraction, text):
    assert length_text(36_000.0, "imperial", fraction=fraction) == text


def _resolution_mm(mm, system, fraction):
    """The step that a length of this size is shown in, as documented."""
    if system == "imperial":
        return 1609.344 if abs(mm) >= 1_609_000 else 25.4 / fraction
    steps = ((1, 0.001), (100, 0.1), (10_000, 1.0), (1e6, 10.0))
    return next((step for limit, step in steps if abs(mm) < limit), 1000.0)


@given(LENGTHS, SYSTEMS, FRACTIONS)
@example(999.96, "metric", 16)
@example(25.4 * 0.0625, "imperial", 8)
@example(25.4 / 128, "imperial", 64)
@example(1_609_343.9, "imperial", 16)
@example(9999.6, "metric", 16)
def test_a_length_for_people_reads_back_to_half_a_step_and_is_stable(mm, system, fraction):
    text = length_text(mm, system, fraction=fraction)
    read = parse_length(text)
    # Half a step, and the error of a float.
    assert abs(read - mm) <= _resolution_mm(mm, system, fraction) * 0.5000001
    assert length_text(read, system, fraction=fraction) == text


def test_infinity_reads_back():
    assert says_infinity(length_text(math.inf, "imperial"))
    assert says_infinity(exact_length(math.inf, "metric"))


@pytest.mark.parametrize(
    ("mm", "imperial", "metric"),
    [
        (3048.0, "10 ft", "3.048 m"),
        (3200.4, "10 ft 6 in", "3200.4 mm"),
        (171.45, "6 3/4 in", "171.45 mm"),
        (2844.8, "9 ft 4 in", "2844.8 mm"),
        (1924.05, "6 ft 3 3/4 in", "1924.05 mm"),
        (3050.0, "3.05 m", "3.05 m"),
        (36_000.0, "36 m", "36 m"),
        (85.0, "85 mm", "85 mm"),
        (0.025, "0.025 mm", "0.025 mm"),
        (8e6, "8 km", "8 km"),
        (1_609_344.0, "1 mi", "1609.344 m"),
        (8_046_720.0, "5 mi", "8046.72 m"),
        (0.396875, "1/64 in", "1/64 in"),
        (2956.56, "9.7 ft", "2956.56 mm"),
        (1000 / 3, "333.3333333333333 mm", "333.3333333333333 mm"),
        (0.0, "0 in", "0 mm"),
        (math.inf, "inf", "inf"),
    ],
)
def test_a_length_is_written_for_a_file(mm, imperial, metric):
    assert exact_length(mm, "imperial") == imperial
    assert exact_length(mm, "metric") == metric


@given(LENGTHS | ANY_FLOAT, SYSTEMS)
@example(5e-324, "metric")
@example(1.7976931348623157e308, "imperial")
def test_a_length_in_a_file_reads_back_as_the_same_float(mm, system):
    assert parse_length(exact_length(mm, system)) == mm


@pytest.mark.parametrize(
    ("mm", "rounding", "text", "rounded_mm"),
    [
        (762.0, "1/16 in", "30 in", 762.0),
        (100.0, "1/16 in", "3 15/16 in", 100.0125),
        (100.0, "1/32 in", "3 15/16 in", 100.0125),
        (100.0, "1/64 in", "3 15/16 in", 100.0125),
        (33.0, "1/64 in", "1 19/64 in", 32.940625),
        (33.3, "0.5 mm", "33.5 mm", 33.5),
        (33.33, "0.1 mm", "33.3 mm", 33.3),
        (4572.0, "1/16 in", "180 in", 4572.0),
        (1234.5, "0.5 mm", "1234.5 mm", 1234.5),
        (0.2, "1/16 in", "0 in", 0.0),
        (-33.3, "1/16 in", "-1 5/16 in", -33.3375),
    ],
)
def test_a_shop_length(mm, rounding, text, rounded_mm):
    shop = shop_length(mm, rounding)
    assert (shop.text, shop.mm) == (text, rounded_mm)
    assert shop.error_mm == rounded_mm - mm


@given(st.floats(0, 1e6), st.sampled_from(sorted(ROUNDINGS)))
def test_a_shop_length_is_off_by_half_a_step_at_most(mm, rounding):
    shop = shop_length(mm, rounding)
    assert abs(shop.error_mm) <= ROUNDINGS[rounding] / 2 + 1e-6
    assert shop.mm == parse_length(shop.text)
    assert shop.error_mm == shop.mm - mm
    assert shop_length(shop.mm, rounding).text == shop.text


@pytest.mark.parametrize(
    ("x", "digits", "text"),
    [
        (24.0, 3, "24"),
        (13.668, 3, "13.7"),
        (0.000123456, 3, "0.000123"),
        (20_480.0, 3, "20500"),
        (1e15, 3, "1000000000000000"),
        (2.5, 1, "2"),
        (-0.5, 3, "-0.5"),
        (0.0, 3, "0"),
        (-0.0, 3, "0"),
        (1.10, 3, "1.1"),
        (100.0, 3, "100"),
        (83.1384, 5, "83.138"),
        (math.inf, 3, "infinity"),
        (-math.inf, 3, "-infinity"),
    ],
)
def test_a_number_is_written(x, digits, text):
    assert number_text(x, digits) == text


@given(st.floats(-1e9, 1e9), st.integers(1, 9))
def test_a_written_number_reads_back_to_its_digits(x, digits):
    assume(x == 0 or abs(x) > 1e-9)
    text = number_text(x, digits)
    assert "e" not in text
    assert parse_number(text) == pytest.approx(x, rel=0.5000001 * 10 ** (1 - digits))
    assert number_text(parse_number(text), digits) == text


@pytest.mark.parametrize(
    ("text", "written"),
    [
        (angle_text(15.0), "15 deg"),
        (angle_text(172.8), "172.8 deg"),
        (angle_text(-0.001), "0 deg"),
        (time_text(6.0), "6 s"),
        (time_text(0.02), "20 ms"),
        (time_text(1 / 240), "4.17 ms"),
        (time_text(13.42), "13.4 s"),
        (time_text(90.2), "1 min 30 s"),
        (time_text(59.97), "1 min"),
        (time_text(3900.0), "1 h 5 min"),
        (time_text(0.0), "0 s"),
        (time_text(math.inf), "infinity"),
        (speed_text(6705.6, "imperial"), "22 ft/s"),
        (speed_text(114.3, "imperial"), "4.5 in/s"),
        (speed_text(1500.0, "metric"), "1.5 m/s"),
        (speed_text(85.0, "metric"), "85 mm/s"),
        (speed_text(0.0, "metric"), "0 mm/s"),
        (illuminance_text(20_000.0, "metric"), "20000 lx"),
        (illuminance_text(20_000.0, "imperial"), "1860 fc"),
        (exact_angle(9.5), "9.5 deg"),
        (exact_time(6.0), "6 s"),
        (exact_time(0.02), "20 ms"),
        (exact_time(0.008), "8 ms"),
        (exact_text(13411.2, SPEED, "imperial"), "30 mph"),
        (exact_text(13411.2, SPEED, "metric"), "13411.2 mm/s"),
        (exact_text(10_000.0, SPEED, "imperial"), "10 m/s"),
        (exact_text(13_900.0, SPEED, "metric"), "13.9 m/s"),
        (exact_text(20_000.0, ILLUMINANCE, "imperial"), "20000 lx"),
        (exact_text(parse_illuminance("1400 fc"), ILLUMINANCE, "imperial"), "1400 fc"),
        (exact_text(parse_illuminance("1400 fc"), ILLUMINANCE, "metric"), "1400 fc"),
        (exact_text(parse_quantity("5 lbf", FORCE), FORCE, "metric"), "5 lbf"),
        (exact_text(20.0, FORCE, "metric"), "20 N"),
        (exact_text(12.0, WEIGHT, "metric"), "12 kg"),
        (exact_text(0.45, WEIGHT, "metric"), "450 g"),
        (exact_text(1.1, AREA, "metric"), "1.1 m2"),
        (exact_text(450.0, DENSITY, "imperial"), "450 kg/m3"),
        (measure_text(20.0, FORCE, "metric"), "20 N"),
        (measure_text(20.0, FORCE, "imperial"), "4.5 lbf"),
        (measure_text(12.0, WEIGHT, "imperial"), "26.5 lb"),
        (measure_text(0.0123, WEIGHT, "metric"), "12.3 g"),
        (measure_text(1.11483648, AREA, "imperial"), "12 ft2"),
        (measure_text(450.0, DENSITY, "imperial"), "28.1 lb/ft3"),
    ],
)
def test_other_quantities_are_written(text, written):
    assert text == written


def _in(system, write):
    return lambda value: write(value, system)


def _exact(quantity, system, value):
    return exact_text(value, quantity, system)


def _measure(quantity, system, value):
    return measure_text(value, quantity, system)


FOR_PEOPLE = [
    # write, read, and the largest error for a value: three digits are good to half of the third.
    (angle_text, parse_angle, lambda deg: 0.005),  # noqa: ARG005
    (time_text, parse_time, lambda s: max(abs(s) * 0.005, 0.5 if s >= 59 else 0)),
    (_in("imperial", speed_text), parse_speed, lambda mm_s: abs(mm_s) * 0.005),
    (_in("metric", speed_text), parse_speed, lambda mm_s: abs(mm_s) * 0.005),
    (_in("imperial", illuminance_text), parse_illuminance, lambda lux: abs(lux) * 0.005),
    (_in("metric", illuminance_text), parse_illuminance, lambda lux: abs(lux) * 0.005),
    *(
        (partial(_measure, quantity, system), partial(parse_quantity, quantity=quantity), lambda value: value * 0.005)
        for quantity in (FORCE, WEIGHT, AREA, DENSITY)
        for system in ("imperial", "metric")
    ),
]


@pytest.mark.parametrize(("write", "read", "error"), FOR_PEOPLE)
@given(value=st.floats(1e-6, 1e6) | st.floats(50, 70) | st.floats(300, 310))
def test_what_people_read_reads_back_and_is_then_written_the_same(write, read, error, value):
    text = write(value)
    assert read(text) == pytest.approx(value, abs=error(value) * 1.000001)
    assert write(read(text)) == text


FOR_FILES = [
    (exact_angle, parse_angle),
    (exact_time, parse_time),
    *(
        (partial(_exact, quantity, system), partial(parse_quantity, quantity=quantity))
        for quantity in (SPEED, ILLUMINANCE, FORCE, WEIGHT, AREA, DENSITY)
        for system in ("imperial", "metric")
    ),
]


@pytest.mark.parametrize(("write", "read"), FOR_FILES)
@given(value=ANY_FLOAT | st.floats(0, 1e6) | st.integers(0, 10_000).map(float))
def test_what_a_file_keeps_reads_back_as_the_same_float(write, read, value):
    assert read(write(value)) == value


@pytest.mark.parametrize(
    ("mm2", "says"), [(3e5, "0.3 m2"), (1e5, "0.1 m2"), (9.9e4, "990 cm2"), (4e3, "40 cm2"), (1.2e7, "12 m2")]
)
def test_an_area_is_not_counted_by_thousands_of_square_centimetres(mm2: float, says: str) -> None:
    assert measure_text(mm2 / 1e6, AREA, "metric") == says
    assert exact_text(mm2 / 1e6, AREA, "metric") == says


@pytest.mark.parametrize(
    ("megabytes", "says"), [(0, "0 MB"), (730.4, "730 MB"), (999.4, "999 MB"), (999.6, "1 GB"), (1660, "1.66 GB")]
)
def test_recorded_data_is_told_one_way(megabytes: float, says: str) -> None:
    assert data_text(megabytes) == says
