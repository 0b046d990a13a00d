"""What each kind of value is written in: how its text is read, kept in a file, and shown to people."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, Literal, NamedTuple

from forescale.engine import units
from forescale.engine.units import EntryError, UnitSystem, compass
from forescale.engine.units.vocabulary import UnitKind

Kind = Literal[
    "length", "angle", "time", "speed", "light", "force", "weight", "area", "density", "ratio", "number",
    "north", "east", "side", "clock", "offset", "share", "filter",
]  # fmt: skip
Writer = Callable[[float, UnitSystem], str]


class KindOfValue(NamedTuple):
    """How a kind is read (a text, and the unit of a bare number), written exactly and shown; an example of it.

    `bare` is the unit in which a bare number is read in each system, empty where the kind has no unit; `edge` shows
    the edge of a range.
    """

    like: str
    parse: Callable[[Any, str | None], float]
    write: Writer
    shown: Writer
    edge: Writer
    bare: dict[UnitSystem, str]


def plain_number(value: float) -> str:
    """Return a number with as many digits as read back as the same float."""
    short = f"{value:g}"
    return short if float(short) == value else repr(value)


def _number(text: str | float, _bare_unit: str | None) -> float:
    value = units.parse_number(text) if isinstance(text, str) else float(text)
    if not math.isfinite(value):
        raise EntryError(f"{text} is not a number that can be used", "write a plain number such as 24")
    return value


def _share(text: str | float, bare_unit: str | None) -> float:
    """Read a share of a whole: 0.22 or "22 %"."""
    if isinstance(text, str) and text.rstrip().endswith("%"):
        return _number(text.rstrip().removesuffix("%"), bare_unit) / 100
    return _number(text, bare_unit)


def _percent(value: float, _system: UnitSystem) -> str:
    return f"{units.number_text(100 * value, 4)} %"


def _measured(quantity: UnitKind, like: str, imperial: str, metric: str, **shows: Writer) -> KindOfValue:
    """Return a kind with units: read and written as its quantity is, but for what `shows` shows otherwise."""
    writers: dict[str, Writer] = {
        "write": lambda value, system: units.exact_text(value, quantity, system),
        "shown": lambda value, system: units.measure_text(value, quantity, system),
    } | shows
    return KindOfValue(
        like=f"text with a unit, such as {like}",
        parse=lambda text, bare_unit: units.parse_quantity(text, quantity, bare_unit),
        write=writers["write"],
        shown=writers["shown"],
        edge=writers.get("edge", writers["shown"]),
        bare={"imperial": imperial, "metric": metric},
    )


def _written(
    like: str, parse: Callable[[Any, str | None], float], write: Callable[[float], str], bare: str = ""
) -> KindOfValue:
    """Return a kind that is written in one way everywhere."""

    def written(value: float, _system: UnitSystem) -> str:
        return write(value)

    return KindOfValue(like, parse, written, written, written, {"imperial": bare, "metric": bare} if bare else {})


def _on_a_side(like: str, sides: compass.Sides) -> KindOfValue:
    return _written(
        like,
        lambda text, bare_unit: compass.parse_sided(text, sides, bare_unit),
        lambda value: compass.sided_text(value, sides),
        "deg",
    )


KINDS: dict[Kind, KindOfValue] = {
    "length": _measured(
        units.LENGTH, '"10 ft" or "3.05 m"', "ft", "m", write=units.exact_length, shown=units.length_text
    ),
    "angle": _measured(
        units.ANGLE,
        '"15 deg"',
        "deg",
        "deg",
        write=units.exact_angle,
        shown=lambda value, _: units.angle_text(value),
        edge=units.exact_angle,
    ),
    "time": _measured(
        units.TIME, '"6 s"', "s", "s", write=units.exact_time, shown=lambda value, _: units.time_text(value)
    ),
    "speed": _measured(  # shown in the unit in which a bare number is read
        units.SPEED,
        '"30 mph" or "10 m/s"',
        "mph",
        "km/h",
        shown=lambda value, system: units.exact_text(value, units.SPEED, system),
        edge=units.road_speed_text,
    ),
    "light": _measured(units.ILLUMINANCE, '"15000 lx" or "1400 fc"', "fc", "lx", shown=units.illuminance_text),
    "force": _measured(units.FORCE, '"20 N" or "5 lbf"', "lbf", "N"),
    "weight": _measured(units.WEIGHT, '"12 kg" or "30 lb"', "lb", "kg"),
    "area": _measured(units.AREA, '"1.1 m2" or "12 ft2"', "ft2", "m2"),
    "density": _measured(units.DENSITY, '"450 kg/m3" or "28 lb/ft3"', "lb/ft3", "kg/m3"),
    "north": _on_a_side('text with its side, such as "51.2 deg N"', compass.NORTH_SOUTH),
    "east": _on_a_side('text with its side, such as "2.4 deg W"', compass.EAST_WEST),
    "side": _on_a_side('text with its side, such as "40 deg left"', compass.RIGHT_LEFT),
    "clock": _written('a time of day, such as "10:30"', lambda text, _: compass.parse_clock(text), compass.clock_text),
    "offset": _written('text such as "+1 h" or "-3 h 30 min"', compass.parse_offset, compass.offset_text, "h"),
    "ratio": KindOfValue(
        like='a ratio, such as "1:24" or "1/2 in = 1 ft"',
        parse=lambda text, _: units.parse_ratio(text),
        write=lambda value, _: f"1:{plain_number(value)}",
        shown=lambda value, _: units.ratio_text(value),
        edge=lambda value, _: f"1:{plain_number(value)}",
        bare={},
    ),
    "number": KindOfValue(
        like="a plain number, such as 24",
        parse=_number,
        write=lambda value, _: plain_number(value),
        shown=lambda value, _: units.number_text(value, 5),
        edge=lambda value, _: units.number_text(value, 8),
        bare={},
    ),
    "filter": KindOfValue(
        like='stops or a density, such as 2, "2 stops" or "ND 0.6"',
        parse=lambda text, bare: units.parse_filter(text) if isinstance(text, str) else _number(text, bare),
        write=lambda value, _: f"{plain_number(value)} stop{'' if value == 1 else 's'}",
        shown=lambda value, _: units.filter_text(value),
        edge=lambda value, _: f"{plain_number(value)} stops",
        bare={},
    ),
    "share": KindOfValue(
        like='a share, such as 0.22 or "22 %"',
        parse=_share,
        write=lambda value, _: plain_number(value),
        shown=_percent,
        edge=_percent,
        bare={},
    ),
}
