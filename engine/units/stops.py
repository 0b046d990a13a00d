"""Lens stops: what an engraved mark stands for, the third-stop series, how a stop is written; and filters, in stops.

A mark is rounded for engraving and stands for the exact value on the nearest third of the root-two series
(ISO 517: 2.8 is 2.8284, 11 is 11.314, 22 is 22.627). A value that is meant as written carries an equals sign.
"""

import math
import re
from dataclasses import dataclass
from typing import Literal

from forescale.engine.units.quantities import DECIMAL, EntryError, parse_number, quoted, tidied
from forescale.engine.units.text import number_text

Marks = Literal["f", "T"]

SMALLEST_STOP_NUMBER, LARGEST_STOP_NUMBER = 0.5, 256.0

_LIKE = "write it like f/16, T2.8 or, as measured, f/=13.0"
_STOP = re.compile(rf"(?:(?P<marks>[fƒt])\s*/?\s*)?(?P<exactly>=?)\s*(?P<number>{DECIMAL})")

_PREFIXES: dict[str | None, str] = {"f": "f/", "T": "T", None: ""}

# The marks as engraved, third by third from 0.5; below 0.7 and above 90 hardly any lens has them.
_ENGRAVED = (
    "0.5 0.56 0.63 0.7 0.8 0.9 1 1.1 1.2 1.4 1.6 1.8 2 2.2 2.5 2.8 3.2 3.5 4 4.5 5 5.6 6.3 7.1 8 9 10 11 13 14 16 "
    "18 20 22 25 29 32 36 40 45 51 57 64 72 80 90 102 114 128 144 161 181 203 228 256"
)
_LABELS = _ENGRAVED.split()
_FIRST_THIRD = -6


@dataclass(frozen=True, slots=True)
class Stop:
    """A stop as entered: its exact value, "f" or "T" if written, and whether it is a mark or as measured."""

    value: float
    marks: Marks | None
    marked: bool


def parse_stop(text: str | float) -> Stop:
    """A stop, 0.5 to 256: `f/16`, `T2.8`, `16`, as measured `f/=13.0`; no fractions. Raises EntryError."""
    if isinstance(text, bool):
        raise EntryError(f"{text}: not a stop", _LIKE)
    text = str(text)
    match = _STOP.fullmatch(tidied(text, _LIKE))
    if match is None:
        raise EntryError(f"{quoted(text)}: not a stop", _LIKE)
    number = float(match["number"])
    if not SMALLEST_STOP_NUMBER <= number <= LARGEST_STOP_NUMBER:
        raise EntryError(f"{quoted(text)}: a stop goes from 0.5 to 256", _LIKE)
    marks: Marks | None = None if match["marks"] is None else "T" if match["marks"] == "t" else "f"
    marked = not match["exactly"]
    return Stop(_on_third(_third(number)) if marked else number, marks, marked)


def off_the_marks(text: str) -> str:
    """Return what is to be said of a stop that is entered off the third-stop marks: that it is set to one; else ""."""
    stop, number = parse_stop(text), re.sub(r"^\D*?(?=\.?[0-9])", "", tidied(text))
    engraved = f"{float(number):g}" == stop_label(stop.value) or math.isclose(float(number), stop.value, rel_tol=1e-3)
    if engraved or not stop.marked:
        return ""
    mark = stop_text(stop.value, stop.marks)
    return f"{number} is no third of a stop, so the mark {mark} is set; {_PREFIXES[stop.marks]}={number} is as written"


def _third(value: float) -> int:
    return round(6 * math.log2(value))  # the nearest, counted from 1


def _on_third(third: int) -> float:
    return math.pow(2, third / 6)


def third_stops(widest: float, smallest: float) -> tuple[float, ...]:
    """The exact third-stop marks nearest `widest` to nearest `smallest`, the larger number; else raises EntryError."""
    if smallest < widest:
        raise EntryError(f"the widest stop ({widest:g}) must be a smaller number than the smallest ({smallest:g})")
    return tuple(_on_third(third) for third in range(_third(widest), _third(smallest) + 1))


def stop_label(value: float) -> str:
    """The engraved mark of a third-stop value ("11" for 11.314), else "=" and the whole number ("=13.0")."""
    third = _third(value)
    if 0 <= third - _FIRST_THIRD < len(_LABELS) and math.isclose(value, _on_third(third), rel_tol=1e-12):
        return _LABELS[third - _FIRST_THIRD]
    return f"={float(value)!r}"


def stop_text(value: float, marks: str | None) -> str:
    """A stop that `parse_stop` reads back: "f/16", "T2.8", "f/=13.0", "T=13.0"; with no marks "16"."""
    return _PREFIXES[marks] + stop_label(value)


DENSITY_A_STOP = 0.3  # as filters are marked; a half is 0.30103 of density (common practice, no source)
_DENSITY = rf"nd\s*(?P<density>{DECIMAL})"
_BY_DENSITY = re.compile(_DENSITY)
_BY_STOPS = re.compile(rf"(?P<stops>.*?)\s*stops?(?:\s*\({_DENSITY}\))?")
_POINTED = re.compile(r"[0-9]*\.[0-9]+")
_WANTED_FILTER = 'write "2 stops", or a density with its point, "ND 0.6"'


def parse_filter(text: str) -> float:
    """A filter in stops: `2`, `2 stops`, `ND 0.6`, `2 stops (ND 0.6)`; EntryError for `ND 4`, `0.3`: may be two."""
    plain = tidied(text)
    if by_density := _BY_DENSITY.fullmatch(plain):
        return _stops(by_density["density"], text)
    by_stops = _BY_STOPS.fullmatch(plain)
    if not by_stops and _POINTED.fullmatch(plain):  # a whole number is in stops; with a point a crew means either
        meant = f"stops or a density? ND {plain} is {stops_text(number_text(_stops(plain, text), 3))}"
        raise EntryError(f"{quoted(text)}: {meant}", f'write "{plain} stops" or "ND {plain}"')
    try:
        stops = parse_number(by_stops["stops"] if by_stops else plain)
    except EntryError:
        raise EntryError(f"{quoted(text)}: not a filter", _WANTED_FILTER) from None
    if by_stops and by_stops["density"] and abs(_stops(by_stops["density"], text) - stops) > 0.05:
        raise EntryError(f"{quoted(text)}: stops and density differ", _WANTED_FILTER)
    return stops


def _stops(density: str, text: str) -> float:
    if "." not in density:
        raise EntryError(f"{quoted(text)}: a density, or how many times less light?", _WANTED_FILTER)
    return round(float(density) / DENSITY_A_STOP, 9)


def filter_text(stops: float) -> str:
    """Return a filter as everything shows it, "1 stop (ND 0.3)"."""
    if not stops:
        return "0 stops (no filter)"
    density = f"{DENSITY_A_STOP * stops:.2f}".removesuffix("0")
    return f"{stops_text(number_text(stops, 3))} (ND {density})"


def stops_text(number: str) -> str:
    """Return a count of stops, its number as it is written: "1 stop", "-1.0 stop", "1.5 stops"."""
    return f"{number} stop{'' if abs(float(number)) == 1 else 's'}"
