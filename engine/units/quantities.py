"""From a text with a unit to a float in the unit that the engine counts in.

An entry is a sign and parts, each a number and its unit: `10 ft`, `10' 6"`, `1 min 30 s`, added up as exact fractions
and rounded to a float once: `10 ft` is 3048 mm and nothing else.
"""

import re
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from forescale.engine.units.numbers import NUMBER, EntryError, Unlike, as_float, number_in, quoted, tidied
from forescale.engine.units.vocabulary import ANGLE, LENGTH, SPEED, TIME, UnitKind, other_unit, size

# A point after an abbreviation is dropped, but in "10 ft.5 in" it is a decimal point.
_UNIT = r"""(?P<unit>['"°]|[^\W\d_]+(?:\s*/\s*[^\W\d_]+|-[^\W\d_]+)?)?(?:(?<=[^\W\d_])\.(?![0-9]))?"""
_PART = re.compile(rf"{NUMBER}\s*{_UNIT}")
# Where no further part can follow, a unit may have a power: m2, sq ft, kg/m3.
_NAME = r"(?:(?:sq|cu)\.?\s*)?[^\W\d_]+[23]?"
_ONLY_PART = re.compile(rf"{NUMBER}\s*(?P<unit>{_NAME}(?:\s*/\s*{_NAME}|-{_NAME})?)?\.?")
# Feet and inches are often joined by a hyphen, 10'-6"; one with spaces could be a subtraction: refused.
_BETWEEN = re.compile(r"\s+|(?<=[^\s0-9])-(?=[0-9.])|")
_INFINITE = {"inf", "infinity", "∞"}


class _Part(NamedTuple):
    text: str
    unit: str
    number: Fraction
    size: Fraction


def says_infinity(text: str) -> bool:
    """Tell whether a text is a word or the sign for infinity."""
    return text.strip().casefold() in _INFINITE


def parse_length(text: str, bare_unit: str | None = None) -> float:
    """A length in mm, `10' 6"`, `6 3/4 in`, `1,5 m`, minus too; without a unit in `bare_unit`. Raises EntryError."""
    return parse_quantity(text, LENGTH, bare_unit)


def parse_angle(text: str, bare_unit: str | None = None) -> float:
    """An angle in degrees: `15 deg`, `9.5°`, `9° 30'`. Raises EntryError."""
    return parse_quantity(text, ANGLE, bare_unit)


def parse_time(text: str, bare_unit: str | None = None) -> float:
    """A time in s: `6 s`, `20 ms`, `1/48 s`, `1 min 30 s`. Raises EntryError."""
    return parse_quantity(text, TIME, bare_unit)


def parse_quantity(text: str, quantity: UnitKind, bare_unit: str | None = None) -> float:
    """A value of any quantity in the unit counted in inside: `20 N`, `12 kg`, `12 sq ft`. Raises EntryError."""
    if says_infinity(text):
        raise Unlike(f"{quoted(text)}: infinity cannot be used here", f"write it like {quantity.like}")
    return as_float(exact_value(text, quantity, bare_unit), text)


def exact_value(text: str, quantity: UnitKind, bare_unit: str | None = None) -> Fraction:
    """What the text says, in the quantity's base unit, before it is rounded to a float. Raises EntryError."""
    tidy = tidied(text)
    if not tidy:
        raise EntryError("nothing entered", f"write {quantity.one} like {quantity.like}")
    body = tidy[1:].lstrip() if tidy[0] in "+-" else tidy
    parts = _parts(body, text, quantity, bare_unit)
    for larger, smaller in pairwise(parts):
        _check_order(larger, smaller, text, quantity)
    total = sum((part.number * part.size for part in parts), Fraction(0))
    return -total if tidy[0] == "-" else total


def _parts(body: str, text: str, quantity: UnitKind, bare_unit: str | None) -> list[_Part]:
    parts: list[_Part] = []
    pattern = _PART if quantity.chains or quantity is SPEED else _ONLY_PART
    start = 0
    while start < len(body):
        match = pattern.match(body, start)
        if match is None:
            break
        last = match.end() == len(body)
        if parts and last and not match["unit"]:
            raise _unfinished(parts[-1], match[0].strip(), text, quantity)
        parts.append(_part(match, text, quantity, bare_unit, alone=last and not parts))
        gap = _BETWEEN.match(body, match.end())
        start = gap.end() if gap else match.end()
    if start < len(body) or not parts:
        raise _refusal(text, f"not {quantity.one}", quantity, bare_unit)
    return parts


def _unfinished(larger: _Part, number: str, text: str, quantity: UnitKind) -> EntryError:
    """The refusal of a last number without a unit, with the one that it may well have: 10' 6" for 10' 6."""
    lacks = f"a unit is missing after {number}"
    chain = next((chain[chain.index(larger.unit) + 1 :] for chain in quantity.chains if larger.unit in chain), ())
    if not chain:
        return _refusal(text, lacks, quantity)
    smaller = next(word for word, unit in quantity.words.items() if unit == chain[0])
    meant = f'{number}"' if larger.text.endswith("'") and chain[0] == "inch" else f"{number} {smaller}"
    return EntryError(f"{quoted(text)}: {lacks}", f"write {tidied(text).removesuffix(number).rstrip(' -')} {meant}")


def _part(match: re.Match[str], text: str, quantity: UnitKind, bare_unit: str | None, *, alone: bool) -> _Part:
    written = "".join((match["unit"] or "").split()) or (bare_unit.casefold() if bare_unit and alone else None)
    if written is None:
        raise _refusal(text, f"a unit is missing after {match[0].strip()}", quantity, bare_unit)
    unit = unit_named(written.replace(".", ""), quantity)
    if unit is None:
        known = quantity.refused.get(written, f"is not a unit of {quantity.name} known here")
        raise _refusal(text, f"{quoted(written)} {known}", quantity, bare_unit)
    return _Part(match[0].strip(), unit, number_in(match, text), size(unit, quantity.base))


def unit_named(written: str, quantity: UnitKind) -> str | None:
    """Return the unit that is written so: one of the grammar's own, a length over a time, or one that Pint reads."""
    if written in quantity.words:
        return quantity.words[written]
    length, over, time = written.partition("/")
    if over and quantity is SPEED:
        names = unit_named(length, LENGTH), unit_named(time, TIME)
        return None if None in names else " / ".join(map(str, names))
    return other_unit(written, quantity.base) if quantity.others else None


def _check_order(larger: _Part, smaller: _Part, text: str, quantity: UnitKind) -> None:
    """Parts go from the large unit to the small; only the last has a fraction; none fills the one before."""
    chain = next((chain for chain in quantity.chains if {larger.unit, smaller.unit} <= set(chain)), ())
    if not chain or chain.index(larger.unit) >= chain.index(smaller.unit):
        raise _refusal(text, f"{smaller.text} cannot follow {larger.text}", quantity)
    if larger.number.denominator != 1:
        raise _refusal(text, f"{larger.text} must be a whole number where {smaller.text} follows", quantity)
    if smaller.number * smaller.size >= larger.size:
        raise _refusal(text, f"{smaller.text} after {larger.text} must be less than one {larger.unit}", quantity)


def _refusal(text: str, why: str, quantity: UnitKind, bare_unit: str | None = None) -> EntryError:
    like = "76 mm" if bare_unit == "mm" else quantity.like  # off a millimetre scale nobody reads feet
    return Unlike(f"{quoted(text)}: {why}", f"write it like {like}")
