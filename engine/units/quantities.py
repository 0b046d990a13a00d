"""From a text to a number, and to a float in the unit that the engine counts in; rounding to the safe side.

A number is `12`, `3.05`, `1,5`, `6 3/4`, `6¾`. An entry with units is a sign and parts, each a number and its unit:
`10 ft`, `10' 6"`, `1 min 30 s`, added up as exact fractions and rounded to a float once: `10 ft` is 3048 mm. A last
number right after the feet may leave its unit out and is in inches: `17 ft 1 3/8`, `5' 3`.
"""

import math
import re
import unicodedata
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from forescale.engine.units.vocabulary import ANGLE, LENGTH, SPEED, TIME, UnitKind, other_unit, size

_LONGEST_TEXT, _LONGEST_SHOWN = 100, 40
KEPT_TEXTS = 2000  # values whose texts are kept: a step of one field reads and writes its whole section
_SLACK = 1e-9  # of a step: a value that a float misses by its last digit is still on the step
_SAME_SIGNS = str.maketrans("′’‘ʹ″”“ʺ−‐‑–º˚⁄", "''''\"\"\"\"----°°/")
_FRACTION_SIGN = re.compile("([0-9]?)([¼-¾⅐-⅞])")
_DIGITS_AND_MARKS = re.compile(r"[0-9.,]*[0-9]")
_WITH_THOUSANDS = re.compile(
    r"(?P<whole>[0-9]{1,3}(?P<mark>[.,])[0-9]{3}(?:(?P=mark)[0-9]{3})*)(?:(?!(?P=mark))[.,](?P<rest>[0-9]+))?"
)

DECIMAL = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:e[+-]?[0-9]{1,3})?"
NUMBER = rf"(?:(?:(?P<whole>[0-9]+)(?:\s+|-))?(?P<over>[0-9]+)\s*/\s*(?P<under>[0-9]+)|(?P<decimal>{DECIMAL}))"
_SIGNED_NUMBER = re.compile(rf"(?P<sign>[+-]?)\s*{NUMBER}")
# A point after an abbreviation is dropped, but in "10 ft.5 in" it is a decimal point.
_UNIT = r"""(?P<unit>['"°]|[^\W\d_]+(?:\s*/\s*[^\W\d_]+|-[^\W\d_]+)?)?(?:(?<=[^\W\d_])\.(?![0-9]))?"""
_PART = re.compile(rf"{NUMBER}\s*{_UNIT}")
# Where no further part can follow, a unit may have a power: m2, sq ft, kg/m3.
_NAME = r"(?:(?:sq|cu)\.?\s*)?[^\W\d_]+[23]?"
_ONLY_PART = re.compile(rf"{NUMBER}\s*(?P<unit>{_NAME}(?:\s*/\s*{_NAME}|-{_NAME})?)?\.?")
# Feet and inches are often joined by a hyphen, 10'-6"; one with spaces could be a subtraction: refused.
_BETWEEN = re.compile(r"\s+|(?<=[^\s0-9])-(?=[0-9.])|")
_INFINITE = {"inf", "infinity", "∞"}


class EntryError(ValueError):
    """A text that cannot be read: what is `wrong`, and what would be `right`; the message is both in one line."""

    def __init__(self, wrong: str, right: str = "") -> None:
        self.wrong, self.right = wrong, right
        super().__init__(f"{wrong}; {right}" if right else wrong)


class Unlike(EntryError):
    """A text that is nothing of its kind; what is `right` is an example of the kind, for which a field has its own."""


def quoted(text: str) -> str:
    """The text as an error shows it: on one line, printable, cut where it is long."""
    shown = "".join(char if char.isprintable() else "?" for char in " ".join(text.split()))
    if len(shown) > _LONGEST_SHOWN:
        shown = shown[: _LONGEST_SHOWN - 3] + "..."
    mark = "`" if '"' in shown else '"'
    return f"{mark}{shown}{mark}"


def tidied(text: str, like: str = "write it like 12 or 10 ft 6 in") -> str:
    """The text with one spelling for every sign, in lower case; EntryError if too long, or with an unclear comma."""
    if len(text) > _LONGEST_TEXT:
        raise Unlike(f"{quoted(text)}: far too long", like)
    text = " ".join(text.translate(_SAME_SIGNS).casefold().split())
    # A fraction sign is spaced off, or 6¾ would read as 63/4.
    text = _FRACTION_SIGN.sub(_spelt_out, text).replace("''", '"')
    return _DIGITS_AND_MARKS.sub(lambda run: _with_point(run[0], text), text).strip()


def _spelt_out(match: re.Match[str]) -> str:
    digit, sign = match.groups()
    fraction = unicodedata.normalize("NFKC", sign).replace("⁄", "/")
    return f"{digit} {fraction} " if digit else f"{fraction} "


def _with_point(run: str, text: str) -> str:
    """A run of digits and marks with its decimal comma as a point; never guesses what a comma means."""
    whole, comma, rest = run.partition(",")
    if not comma:
        return run
    if "," in rest or "." in run:
        match = _WITH_THOUSANDS.fullmatch(run)
        if match is None:
            raise EntryError(f"{quoted(text)}: write the number with a decimal point alone, as in 1500.5")
        number = match["whole"].replace(match["mark"], "") + (f".{match['rest']}" if match["rest"] else "")
        could = f"{quoted(text)}: could be {text.replace(run, number)}"  # 1000.5 for 1.000,5
        raise EntryError(could, "write it with a decimal point alone")
    if len(rest) == 3 and 1 <= len(whole) <= 3 and whole[0] != "0":
        thousands = text.replace(run, whole + rest)
        decimal = text.replace(run, f"{whole}.{rest}".rstrip("0").rstrip("."))
        raise EntryError(f"{quoted(text)}: {thousands} or {decimal}? write it without the comma")
    return f"{whole}.{rest}"


def number_in(match: re.Match[str], text: str) -> Fraction:
    """The exact number that a match of NUMBER found in `text`."""
    if match["decimal"]:
        return Fraction(match["decimal"])
    over, under = int(match["over"]), int(match["under"])
    if under == 0:
        raise EntryError(f"{quoted(text)}: a fraction over zero", "write it like 3/4")
    if match["whole"] and over >= under:
        raise EntryError(f"{quoted(text)}: after a whole number the fraction is less than one, as in 6 3/4")
    return int(match["whole"] or 0) + Fraction(over, under)


def as_float(exact: Fraction, text: str) -> float:
    """The float nearest to an exact value; refuses what a float cannot hold."""
    try:
        value = float(exact)
    except OverflowError:
        raise Unlike(f"{quoted(text)}: too large to work with", "write a smaller number") from None
    if exact and not value:
        raise EntryError(f"{quoted(text)}: too small to work with", "write 0 if nothing is meant")
    return value


def parse_number(text: str) -> float:
    """A plain number with no unit: `12`, `-0.5`, `1,5`, `6 3/4`. Raises EntryError for all else, nan and inf too."""
    match = _SIGNED_NUMBER.fullmatch(tidied(text))
    if not text.strip():
        raise Unlike("nothing entered", "write it like 12, 1.5 or 3/4")
    if match is None:
        raise Unlike(f"{quoted(text)}: not a number", "write it like 12, 1.5 or 3/4")
    exact = number_in(match, text)
    return as_float(-exact if match["sign"] == "-" else exact, text)


def rounded_up(value: float, digits: int = 2) -> float:
    """A positive number to so many significant digits that is no less; 0 and infinity stay."""
    step = _step(value, digits)
    return math.ceil(value / step - _SLACK) * step if step else value


def rounded_down(value: float, digits: int = 2) -> float:
    """A positive number to so many significant digits that is no more; 0 and infinity stay."""
    step = _step(value, digits)
    return math.floor(value / step + _SLACK) * step if step else value


def _step(value: float, digits: int) -> float:
    """What one counts for in the last of a number's digits; 0 where it has none."""
    return 0.0 if value == 0 or math.isinf(value) else math.pow(10.0, math.floor(math.log10(value)) - digits + 1)


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


@lru_cache(maxsize=KEPT_TEXTS)
def exact_value(text: str, quantity: UnitKind, bare_unit: str | None = None) -> Fraction:
    """What the text says, in the quantity's base unit, before it is rounded to a float. Raises EntryError."""
    tidy = tidied(text).removesuffix(" of arc" if quantity is ANGLE else "")
    if not tidy:
        raise Unlike("nothing entered", f"write {quantity.one} like {quantity.like}")
    parts = _parts(tidy[1:].lstrip() if tidy[0] in "+-" else tidy, text, quantity, bare_unit)
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
        inches = last and bool(parts) and parts[-1].unit == "foot"  # what a crew leaves unsaid after the feet
        if parts and last and not match["unit"] and not inches:
            raise _unfinished(parts[-1], match[0].strip(), text, quantity)
        alone = last and (inches or not parts)
        parts.append(_part(match, text, quantity, "in" if inches else bare_unit, alone=alone))
        gap = _BETWEEN.match(body, match.end())
        start = gap.end() if gap else match.end()
    if start < len(body) or not parts:
        raise _refusal(text, f"not {quantity.one}", quantity, bare_unit)
    return parts


def _unfinished(larger: _Part, number: str, text: str, quantity: UnitKind) -> EntryError:
    """The refusal of a last number without a unit, with the one that it may well have: 1 min 30 s for 1 min 30."""
    lacks = f"a unit is missing after {number}"
    chain = next((chain[chain.index(larger.unit) + 1 :] for chain in quantity.chains if larger.unit in chain), ())
    if not chain:
        return _refusal(text, lacks, quantity)
    smaller = next(word for word, unit in quantity.words.items() if unit == chain[0])
    return EntryError(f"{quoted(text)}: {lacks}", f"write {tidied(text)} {smaller}")


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
