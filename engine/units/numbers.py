"""How a number is written, `12`, `3.05`, `1,5`, `6 3/4`, `6¾`; what is refused; rounding to the safe side."""

import math
import re
import unicodedata
from fractions import Fraction

_LONGEST_TEXT, _LONGEST_SHOWN = 100, 40
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


def tidied(text: str) -> str:
    """The text with one spelling for every sign, in lower case; EntryError if too long, or with an unclear comma."""
    if len(text) > _LONGEST_TEXT:
        raise EntryError(f"{quoted(text)}: far too long", "one number with its unit is wanted")
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
        raise EntryError(f"{quoted(text)}: too large to work with") from None
    if exact and not value:
        raise EntryError(f"{quoted(text)}: too small to work with", "write 0 if nothing is meant")
    return value


def parse_number(text: str) -> float:
    """A plain number with no unit: `12`, `-0.5`, `1,5`, `6 3/4`. Raises EntryError for all else, nan and inf too."""
    match = _SIGNED_NUMBER.fullmatch(tidied(text))
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
