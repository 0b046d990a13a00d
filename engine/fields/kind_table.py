"""What each kind of value is written in: how its text is read, kept in a file, and shown to people."""

import math
from collections.abc import Callable
from typing import Any, Literal, NamedTuple

from forescale.engine import units
from forescale.engine.units import MILE_MM, EntryError, UnitKind, UnitSystem, compass

Kind = Literal[
    "length", "angle", "time", "speed", "light", "force", "weight", "area", "density", "ratio", "number",
    "north", "east", "side", "clock", "offset", "share", "filter",
]  # fmt: skip
Reader = Callable[[Any, str | None], float]  # of a text, and the unit of a bare number
Writer = Callable[[float, UnitSystem], str]
Plain = Callable[[float], str]


class KindOfValue(NamedTuple):
    """How a kind is read (a text, and the unit of a bare number), written exactly and shown; examples of it.

    `edge` shows the edge of a range; `bare` is the unit in which a bare number is read in each system, empty where the
    kind has no unit.
    """

    like: str
    parse: Reader
    write: Writer
    shown: Writer
    edge: Writer
    bare: dict[UnitSystem, str]
    examples: tuple[str, ...]


def plain_number(value: float) -> str:
    """Return a number with as many digits as read back as the same float."""
    short = f"{value:g}"
    return short if float(short) == value else repr(value)


def _number(text: str | float, _bare_unit: str | None = None) -> float:
    value = units.parse_number(text) if isinstance(text, str) else float(text)
    if not math.isfinite(value):
        raise EntryError(f"{text} is not a number that can be used", "write a plain number such as 24")
    return value


def _share(text: str | float, _bare_unit: str | None) -> float:
    """Read a share of a whole: 0.22 or "22 %"."""
    if isinstance(text, str) and text.rstrip().endswith("%"):
        return _number(text.rstrip().removesuffix("%")) / 100
    return _number(text)


def _percent(value: float) -> str:
    return f"{units.number_text(100 * value, 4)} %"


def _measured(quantity: UnitKind, imperial: str, metric: str, *examples: str, **shows: Writer) -> KindOfValue:
    """Return a kind with units: read and written as its quantity is, but for what `shows` shows otherwise."""
    shown = shows.get("shown", lambda value, system: units.measure_text(value, quantity, system))
    return KindOfValue(
        f"text with a unit, such as {_either(examples)}",
        lambda text, bare_unit: units.parse_quantity(text, quantity, bare_unit),
        shows.get("write", lambda value, system: units.exact_text(value, quantity, system)),
        shown,
        shows.get("edge", shown),
        {"imperial": imperial, "metric": metric},
        examples,
    )


def _either(examples: tuple[str, ...]) -> str:
    return " or ".join(f'"{text}"' for text in examples)


def _reach(mm: float, system: UnitSystem) -> str:
    """Return the edge of a range of lengths, miles to two digits and no more than they are."""
    if system == "metric" or abs(mm) < MILE_MM:
        return units.length_text(mm, system)
    return f"{'-' if mm < 0 else ''}{units.number_text(units.rounded_down(abs(mm) / MILE_MM), 2)} mi"


def _written(
    like: str, parse: Reader, write: Plain, shown: Plain | None = None, edge: Plain | None = None, bare: str = "",
    examples: tuple[str, ...] = (),
) -> KindOfValue:  # fmt: skip
    """Return a kind that is written in one way in both systems, and shown so where not told; `{}` has the examples."""
    ways = (_alike(write), _alike(shown or write), _alike(edge or write))
    bares: dict[UnitSystem, str] = {"imperial": bare, "metric": bare} if bare else {}
    return KindOfValue(like.format(_either(examples)), parse, *ways, bares, examples)


def _alike(write: Plain) -> Writer:
    return lambda value, _: write(value)


def _as_read(mm_s: float, system: UnitSystem) -> str:
    """Return a speed in the unit in which a bare number is read."""
    return units.exact_text(mm_s, units.SPEED, system)


def _on_a_side(example: str, sides: compass.Sides) -> KindOfValue:
    return _written(
        "text with its side, such as {}",
        lambda text, bare: compass.parse_sided(text, sides, bare),
        lambda value: compass.sided_text(value, sides),
        bare="deg",
        examples=(example,),
    )


def _lit(lux: float, system: UnitSystem) -> str:
    """Return the edge of a range of light; the least has too many noughts in foot-candles."""
    return "above 0" if system == "imperial" and lux < 1 else units.illuminance_text(lux, system)


_ANGLE = _alike(units.angle_text)
OFFSETS, FILTERS = ("+1 h", "-3 h 30 min"), ("2 stops", "ND 0.6")
KINDS: dict[Kind, KindOfValue] = {
    "length": _measured(
        units.LENGTH, "ft", "m", "10 ft", "3.05 m", write=units.exact_length, shown=units.length_text, edge=_reach
    ),
    "angle": _measured(
        units.ANGLE, "deg", "deg", "15 deg", write=units.exact_angle, shown=_ANGLE, edge=units.exact_angle
    ),
    "time": _measured(units.TIME, "s", "s", "6 s", write=units.exact_time, shown=_alike(units.time_text)),
    "speed": _measured(units.SPEED, "mph", "km/h", "30 mph", "10 m/s", shown=_as_read, edge=units.road_speed_text),
    "light": _measured(units.ILLUMINANCE, "fc", "lx", "15000 lx", "1400 fc", shown=units.illuminance_text, edge=_lit),
    "force": _measured(units.FORCE, "lbf", "N", "20 N", "5 lbf"),
    "weight": _measured(units.WEIGHT, "lb", "kg", "12 kg", "30 lb"),
    "area": _measured(units.AREA, "ft2", "m2", "1.1 m2", "12 ft2"),
    "density": _measured(units.DENSITY, "lb/ft3", "kg/m3", "450 kg/m3", "28 lb/ft3"),
    "north": _on_a_side("51.2 deg N", compass.NORTH_SOUTH),
    "east": _on_a_side("2.4 deg W", compass.EAST_WEST),
    "side": _on_a_side("40 deg left", compass.RIGHT_LEFT),
    "clock": _written('a time of day, such as "10:30"', lambda text, _: compass.parse_clock(text), compass.clock_text),
    "offset": _written("text such as {}", compass.parse_offset, compass.offset_text, bare="h", examples=OFFSETS),
    "ratio": _written(
        'a ratio, such as "1:24" or "1/2 in = 1 ft"',
        lambda text, _: units.parse_ratio(text),
        lambda value: f"1:{plain_number(value)}",
        units.ratio_text,
    ),
    "number": _written(
        "a plain number, such as 24",
        _number,
        plain_number,
        lambda value: units.number_text(value, max(5, len(f"{value:.0f}"))),
        lambda value: units.number_text(value, 8),
    ),
    "filter": _written(
        "stops or a density, such as 2, {}",
        lambda text, _: units.parse_filter(text) if isinstance(text, str) else _number(text),
        lambda value: units.stops_text(plain_number(value)),
        units.filter_text,
        lambda value: units.stops_text(plain_number(value)),
        examples=FILTERS,
    ),
    "share": _written('a share, such as 0.22 or "22 %"', _share, plain_number, _percent, _percent),
}
IMPERIAL = frozenset({"in", "ft", "mph", "fc", "lbf", "lb", "ft2", "lb/ft3"})  # units at the ends of examples
# What is shown for a text that is nothing of its kind or out of range: the first two in the field's own range.
EXAMPLES: dict[Kind, tuple[str, ...]] = {
    **{kind: of.examples for kind, of in KINDS.items() if of.examples},
    "length": ("10 ft 6 in", "3.05 m", "76 mm", "3 in", "1/8 in", "3 mm", "0.02 mm"),
    "angle": ("15 deg", "9.5 deg"),
    "time": ("6 s", "20 ms"),
    "number": ("12", "1.5", "3/4", "100", "5600"),
    "share": ("0.22", "22 %"),
}
