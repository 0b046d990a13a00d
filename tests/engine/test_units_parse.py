"""Text to floats: what is read, and as what; what is refused, and in which words."""

import math

import pint
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from forescale.engine.units import (
    EntryError,
    parse_angle,
    parse_length,
    parse_number,
    parse_quantity,
    parse_ratio,
    parse_stop,
    parse_time,
    says_infinity,
)
from forescale.engine.units.vocabulary import (
    ANGLE,
    AREA,
    DENSITY,
    FORCE,
    ILLUMINANCE,
    LENGTH,
    SPEED,
    TIME,
    WEIGHT,
    size,
)

QUANTITIES = (LENGTH, ANGLE, TIME, SPEED, ILLUMINANCE, FORCE, WEIGHT, AREA, DENSITY)


def parse_speed(text, bare_unit=None):
    return parse_quantity(text, SPEED, bare_unit)


def parse_illuminance(text, bare_unit=None):
    return parse_quantity(text, ILLUMINANCE, bare_unit)


# Worked by hand from the exact definitions, 1 in = 25.4 mm and 12 in = 1 ft: each is an exact decimal, so the
# float nearest to it is the only right answer and there is no tolerance.
LENGTHS = [
    ("10 ft", 3048.0),
    ("10' 6\"", 3200.4),
    ("6' 3 3/4\"", 1924.05),
    ("6 3/4 in", 171.45),
    ("10 ft 6 in", 3200.4),
    ("10ft6in", 3200.4),
    ("10 ft 6", 3200.4),
    ("10'6", 3200.4),
    ("10'-6", 3200.4),
    ("-10' 6¾", -3219.45),
    ("5' 3", 1600.2),
    ("17 ft 1 3/8", 5216.525),
    ("1 yd 2 ft 3", 1600.2),
    ("10ft 6 3/4in", 3219.45),
    ("6-3/4 in", 171.45),
    ("10'-6\"", 3200.4),
    ("10'-6 3/4\"", 3219.45),
    ("10′ 6″", 3200.4),
    ("10’ 6”", 3200.4),
    ("10' 6''", 3200.4),
    ("6¾ in", 171.45),
    ('6 ¾"', 171.45),
    ("¾ in", 19.05),
    ("10' 6½\"", 3213.1),
    ("1⁄2 in", 12.7),
    ("1/16 in", 1.5875),
    ("1/64 in", 0.396875),
    ("1 ft 3/4 in", 323.85),
    ("10 1/2 ft", 3200.4),
    ("10.5 ft", 3200.4),
    (".5 in", 12.7),
    ("10 ft. 6 in.", 3200.4),
    ("10 ft.5 in", 3060.7),
    ("10 FT 6 IN", 3200.4),
    ("10 feet 1 inch", 3073.4),
    ("1 foot 2 inches", 355.6),
    ("2 yd", 1828.8),
    ("1 yd 2 ft 3 in", 1600.2),
    ("1 mi", 1609344.0),
    ("3.05 m", 3050.0),
    ("76 mm", 76.0),
    ("1,5 m", 1500.0),
    ("0,500 m", 500.0),
    (",5 m", 500.0),
    ("1234,567 mm", 1234.567),
    ("12,34 cm", 123.4),
    ("1 m 50 cm", 1500.0),
    ("3 metres", 3000.0),
    ("8 km", 8e6),
    ("-12 mm", -12.0),
    ("−12 mm", -12.0),
    ("-10' 6\"", -3200.4),
    ("+3 in", 76.2),
    ("0 mm", 0.0),
    ("1e-05 mm", 1e-05),
    ("2.5e+3 mm", 2500.0),
    ("  10\u00a0ft  ", 3048.0),
]


@pytest.mark.parametrize(("text", "mm"), LENGTHS)
def test_a_length_is_read(text, mm):
    assert parse_length(text) == mm


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        ("10", "ft", 3048.0),
        ("6 3/4", "in", 171.45),
        ("1,5", "m", 1500.0),
        ("-85", "mm", -85.0),
        ("30", "cm", 300.0),
        ("76 mm", "ft", 76.0),
        ("10' 6\"", "m", 3200.4),
    ],
)
def test_a_bare_number_is_read_in_the_unit_given(text, unit, mm):
    assert parse_length(text, unit) == mm


@pytest.mark.parametrize("text", ["inf", "infinity", "Infinity", "∞", " inf "])
def test_infinity_is_read_where_it_is_allowed_only(text):
    assert says_infinity(text)
    with pytest.raises(EntryError, match="infinity cannot be used here"):
        parse_length(text)


REFUSED_LENGTHS = [
    ("", "nothing entered"),
    ("   ", "nothing entered"),
    ("10", "a unit is missing after 10"),
    ("10 6", "a unit is missing after 10"),
    ("10 m 6", "a unit is missing after 6"),
    ("9-10 ft", "a unit is missing after 9"),
    ("1 500 mm", "a unit is missing after 1"),
    ("5 cubits", '"cubits" is not a unit of length'),
    ("5 s", '"s" is not a unit of length'),
    ("10²mm", "not a unit of length"),
    ("10 ft/s", "not a unit of length"),
    ("nan", "not a length"),
    ("nan mm", "not a length"),
    ("-inf", "not a length"),
    ("inf mm", "not a length"),
    ("in", "not a length"),
    ("-", "not a length"),
    ("--12 mm", "not a length"),
    ("ten feet", "not a length"),
    ("10 ft -6 in", "not a length"),
    ("10 ft - 6 in", "not a length"),
    ("10 ft + 6 in", "not a length"),
    ("10 ft, 6 in", "not a length"),
    ("6 - 3/4 in", "a unit is missing after 6"),
    ("6 -3/4 in", "a unit is missing after 6"),
    ("1.2.3 m", "a unit is missing"),
    ("1/2/3 in", "a unit is missing"),
    ("¾5 in", "a unit is missing after 3/4"),
    ("1_000 mm", "a unit is missing"),
    ("٣ m", "not a length"),
    ("10' 12\"", "must be less than one foot"),
    ("10 ft 14 in", "must be less than one foot"),
    ("1 m 100 cm", "must be less than one metre"),
    ("10.5 ft 6 in", "must be a whole number"),
    ("10 1/2 ft 6 in", "must be a whole number"),
    ("6 in 10 ft", "cannot follow"),
    ("6 ft 6 ft", "cannot follow"),
    ("3 m 6 in", "cannot follow"),
    ("1'500 mm", "cannot follow"),
    ("1/0 in", "over zero"),
    ("6 5/4 in", "less than one"),
    ("1e999 mm", "too large"),
    ("1e308 km", "too large"),
    ("1e-999 mm", "too small"),
    ("9" * 101, "too long"),
    ("1,500,000 mm", "decimal point alone"),
    ("1,500.5 mm", "could be 1500.5 mm; write it with a decimal point alone"),
    ("1.500,5 mm", "decimal point alone"),
]


@pytest.mark.parametrize(("text", "why"), REFUSED_LENGTHS)
def test_a_length_is_refused_and_the_line_says_why(text, why):
    with pytest.raises(EntryError) as caught:
        parse_length(text)
    assert why in str(caught.value)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize(
    ("text", "meanings"),
    [
        ("1,500 mm", "1500 mm or 1.5 mm?"),
        ("12,345 ft", "12345 ft or 12.345 ft?"),
        ("1,000 m", "1000 m or 1 m?"),
        ("-1,500 mm", "-1500 mm or -1.5 mm?"),
    ],
)
def test_a_comma_that_may_separate_thousands_is_asked_about(text, meanings):
    with pytest.raises(EntryError) as caught:
        parse_length(text)
    assert meanings in str(caught.value)


@pytest.mark.parametrize(
    ("text", "unit", "right"),
    [
        ("5 cubits", None, "write it like 10 ft 6 in or 3.05 m"),
        ("17-50", "mm", "write it like 76 mm"),
        ("wide", "mm", "write it like 76 mm"),
        ("10 ft 13", None, "write it like 10 ft 6 in or 3.05 m"),
        ("10 1/2 ft 3", "ft", "write it like 10 ft 6 in or 3.05 m"),
        ("10 ft 6 in 3", None, "write it like 10 ft 6 in or 3.05 m"),
        ("1 yd 2", None, "write 1 yd 2 ft"),
        ("-1 mi 3 3/4", None, "write -1 mi 3 3/4 yd"),
        ("1 m 50", "m", "write 1 m 50 cm"),
        ("3 in 5", None, "write it like 10 ft 6 in or 3.05 m"),
        ("1.000,5 m", None, "could be 1000.5 m; write it with a decimal point alone"),
        ("1,500.25", "m", "could be 1500.25; write it with a decimal point alone"),
        ("1,500,000 mm", None, "could be 1500000 mm; write it with a decimal point alone"),
        ("1.5,5 m", None, "write the number with a decimal point alone, as in 1500.5"),
    ],
)
def test_a_refusal_says_what_would_be_right(text, unit, right):
    with pytest.raises(EntryError) as caught:
        parse_length(text, unit)
    assert str(caught.value).endswith(f"; {right}") or str(caught.value).endswith(f": {right}")


@pytest.mark.parametrize("text", ["1 yd 2", "1 m 50"])
def test_what_a_refusal_proposes_is_read(text):
    with pytest.raises(EntryError) as caught:
        parse_length(text)
    assert abs(parse_length(str(caught.value).rpartition("; write ")[2])) > 0


@pytest.mark.parametrize(
    ("parse", "text", "value"),
    [
        (parse_angle, "15 deg", 15.0),
        (parse_angle, "9.5°", 9.5),
        (parse_angle, "9,5 degrees", 9.5),
        (parse_angle, "9° 30′", 9.5),
        (parse_angle, "-0.5 deg", -0.5),
        (parse_time, "6 s", 6.0),
        (parse_time, "1 min 30 s", 90.0),
        (parse_time, "20 ms", 0.02),
        (parse_time, "1/48 s", 1 / 48),
        (parse_time, "1 h 5 min", 3900.0),
        (parse_number, "14.5", 14.5),
        (parse_number, "-14,5", -14.5),
        (parse_number, "+14.5", 14.5),
        (parse_number, "3/4", 0.75),
        (parse_number, "6 3/4", 6.75),
        (parse_number, "24", 24.0),
        (parse_illuminance, "15000 lx", 15000.0),
        (parse_illuminance, "15 klx", 15000.0),
        (parse_speed, "10 m/s", 10_000.0),
        (parse_speed, "36 km/h", 10_000.0),
        (parse_speed, "36 kph", 10_000.0),
        (parse_speed, "22 ft/s", 6705.6),
        (parse_speed, "15 mph", 6705.6),
        (parse_speed, "30 mph", 13411.2),
        (parse_speed, "3 m / min", 50.0),
        (parse_speed, "4.5 in/s", 114.3),
    ],
)
def test_other_quantities_are_read(parse, text, value):
    assert parse(text) == value


@pytest.mark.parametrize(
    ("parse", "text", "unit", "value"),
    [
        (parse_angle, "15", "deg", 15.0),
        (parse_time, "6", "s", 6.0),
        (parse_speed, "30", "mph", 13411.2),
        (parse_illuminance, "15000", "lx", 15000.0),
    ],
)
def test_other_bare_numbers_are_read_in_the_unit_given(parse, text, unit, value):
    assert parse(text, unit) == value
    with pytest.raises(EntryError, match="a unit is missing"):
        parse(text)


@pytest.mark.parametrize(
    ("parse", "text", "why"),
    [
        (parse_angle, "15 ft", "is not a unit of angle"),
        (parse_angle, "9° 60′", "less than one degree"),
        (parse_time, "6 m", "is not a unit of time"),
        (parse_time, "1 min 60 s", "less than one minute"),
        (parse_speed, "24 fps", "is not a unit of speed"),
        (parse_speed, "10 m/s 5 mm/s", "cannot follow"),
        (parse_illuminance, "1,400 fc", "1400 fc or 1.4 fc?"),
        (parse_illuminance, "lots", "not an illuminance"),
        (parse_number, "12 mm", "not a number"),
        (parse_number, "nan", "not a number"),
        (parse_number, "inf", "not a number"),
        (parse_number, "", "nothing entered"),
        (parse_number, "1,500", "1500 or 1.5?"),
        (parse_number, "1/0", "over zero"),
        (parse_number, "1e400", "too large"),
    ],
)
def test_other_quantities_are_refused(parse, text, why):
    with pytest.raises(EntryError) as caught:
        parse(text)
    assert why in str(caught.value)


# NIST Special Publication 811 (2008), appendix B.8, from memory; printed to seven digits, hence the tolerance.
@pytest.mark.parametrize(
    ("parse", "text", "si"),
    [
        (parse_illuminance, "1 fc", 1.076391e1),
        (parse_speed, "1 knot", 1e3 * 5.144444e-1),
        (parse_speed, "1 mph", 1e3 * 4.470400e-1),
        (parse_speed, "1 ft/s", 1e3 * 3.048000e-1),
        (parse_length, "1 yd", 1e3 * 9.144000e-1),
        (parse_length, "1 mi", 1e3 * 1.609344e3),
    ],
)
def test_conversions_are_those_of_the_published_table(parse, text, si):
    assert parse(text) == pytest.approx(si, rel=5e-7)


def test_a_footcandle_is_a_lumen_on_a_square_foot():
    assert parse_illuminance("1 fc") == 1 / (0.3048 * 0.3048)


@pytest.mark.parametrize(
    ("quantity", "text", "value"),
    [
        (LENGTH, "2 yards", 1828.8),
        (LENGTH, "1 chain", 20_116.8),
        (LENGTH, "3 fathoms", 5486.4),
        (LENGTH, "1 furlong", 201_168.0),
        (LENGTH, "2 nmi", 3_704_000.0),
        (LENGTH, "30 thou", 0.762),
        (LENGTH, "5 µm", 0.005),
        (SPEED, "9 knots", 4630.0),
        (SPEED, "1 fathom/min", 30.48),
        (SPEED, "2 km/day", 2e6 / 86_400),
        (FORCE, "20 N", 20.0),
        (FORCE, "2 kN", 2000.0),
        (FORCE, "3 kgf", 29.41995),
        (FORCE, "5 lbf", 22.2411080763025),
        (WEIGHT, "12 kg", 12.0),
        (WEIGHT, "30 lb", 13.6077711),
        (WEIGHT, "3 lb 4 oz", 3.25 * 0.45359237),
        (WEIGHT, "450 g", 0.45),
        (AREA, "1.1 m2", 1.1),
        (AREA, "1.1 m²", 1.1),
        (AREA, "12 sq ft", 1.11483648),
        (AREA, "12 sq. ft", 1.11483648),
        (AREA, "144 in2", 0.09290304),
        (DENSITY, "450 kg/m3", 450.0),
        (DENSITY, "0.45 g/cm³", 450.0),
        (DENSITY, "28 lb / cu ft", 28 * 0.45359237 / 0.3048**3),
    ],
)
def test_units_beside_the_commonest_are_read(quantity, text, value):
    assert parse_quantity(text, quantity) == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize(
    ("quantity", "text", "why"),
    [
        (FORCE, "5 lb", "a pull of as many pounds is written in lbf"),
        (FORCE, "2 kg", "a pull of as many kilograms is written in kgf"),
        (WEIGHT, "20 N", "measures force; what a thing weighs is written in kg or lb"),
        (AREA, "3 m", "is not a unit of area"),
        (AREA, "3 m3", "is not a unit of area"),
        (AREA, "1 m2 2 m2", "cannot follow"),
        (DENSITY, "450 kg", "is not a unit of density"),
        (LENGTH, "5 ms", "is not a unit of length"),
        (LENGTH, "10 m2", "a unit is missing after 2"),
        (SPEED, "5 m/kg", "is not a unit of speed"),
        (SPEED, "5 s/m", "is not a unit of speed"),
    ],
)
def test_units_of_something_else_are_refused(quantity, text, why):
    with pytest.raises(EntryError) as caught:
        parse_quantity(text, quantity)
    assert why in str(caught.value)


@pytest.mark.parametrize("text", ["100 nit", "100 cd/m2", "100 cd/m²", "30 foot-lamberts", "30 fL", "2 lamberts"])
def test_luminance_is_refused_with_the_reason(text):
    with pytest.raises(EntryError, match="measures luminance, what a surface gives off"):
        parse_illuminance(text)


@pytest.fixture(scope="module")
def pint_default():
    return pint.UnitRegistry()


# Pint's own default definitions are kept apart from ours: every unit that it knows must agree with ours, but for the
# last digits that its floats lose. It counts the foot-candle, as luminance, with a factor of pi.
@pytest.mark.parametrize(
    ("base", "unit"),
    [(q.base, unit) for q in QUANTITIES for unit in sorted(set(q.words.values())) if "footcandle" not in unit],
)
def test_our_sizes_agree_with_the_unit_library(pint_default, base, unit):
    assert float(size(unit, base)) == pytest.approx(pint_default.convert(1.0, unit, base), rel=1e-14)


PARSERS = [
    parse_length,
    parse_angle,
    parse_time,
    says_infinity,
    parse_speed,
    parse_illuminance,
    parse_number,
    parse_ratio,
    lambda text: parse_stop(text).value,
    *(lambda text, quantity=quantity: parse_quantity(text, quantity) for quantity in QUANTITIES[5:]),
]
ENTRY_LIKE = st.text(alphabet="0123456789 .,/-+'\"¾½′″minftcmdegs:=fTe°∞\n", max_size=14)


@pytest.mark.parametrize("parse", PARSERS)
@given(text=ENTRY_LIKE | st.text(max_size=120))
@example(text="1e999999999 mm")
@example(text="\ud800 5 mm\x1b[31m")
def test_any_text_is_a_finite_number_or_one_printable_line(parse, text):
    value, refusal = 0.0, "none"
    try:
        value = parse(text)
    except EntryError as error:
        refusal = str(error)
    assert math.isfinite(value)
    assert refusal.isprintable()


@pytest.mark.parametrize("text", ["3 deg 27 min", "3 deg 27 minutes", "3° 27'", "3 deg 27 minutes of arc", "207 min"])
def test_minutes_of_arc_are_read(text: str) -> None:
    assert parse_angle(text) == pytest.approx(3.45, rel=1e-15)
