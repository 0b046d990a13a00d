"""Works out the sums in a put-in text with nothing but its printed digits.

A printed number stands for every number that would be printed so. A sum therefore has a lowest and a highest
outcome, and what the text gives as its result must lie between them. That each input is monotone over so small a
range is taken for granted, so the corners of the ranges bound the outcome.
"""

from __future__ import annotations

import itertools
import math
import re

from scipy.integrate import quad

Range = tuple[float, float]

_INCH = r"\d+ \d+/\d+ in\b|\d+/\d+ in\b"
_UNITS = "line pairs/mm|MB/s|ft/s|in/s|mm/s|m/s|km/h|mm|km|mi|in|ms|min|m|fps|frames|times|dioptres|mireds|px"
_UNITS = f"px a mm|px an inch|{_UNITS}|lx|fc|Hz|MB|GB|lbf|lb|kg|N|stops?|s"
_TOKEN = re.compile(
    rf"\d+ ft\b(?!/)(?: (?:{_INCH}|\d+ in\b))?|{_INCH}|\d+ min \d+ s\b|\d+(?:\.\d+)?(?: ?(?:%|°)| (?:{_UNITS})\b)?"
)
_FEET = re.compile(r"(?:(\d+) ft)? ?(?:(\d+)(?= |$))? ?(?:(\d+)/(\d+))?(?: in)?")
# What one of each unit is; mm, s and degrees as radians, everything else by its own count.
_SIZES = {"m": 1000.0, "km": 1e6, "in": 25.4, "mi": 1609344.0, "ms": 0.001, "GB": 1000.0, "min": 60.0, "%": 0.01}
_SIZES |= {"°": math.pi / 180, "ft/s": 304.8, "in/s": 25.4, "m/s": 1000.0}
# Results that are rounded to three digits although no unit follows.
_ROUNDED = re.compile(r"(?:ISO |1:)(\d+(?:\.\d+)?)")
INPUT_DIGITS, RESULT_DIGITS = 5, 4
ROUNDED_DIGITS = 3
_ROUNDED_UNITS = {"px", "MB", "GB", "lx", "fc", "s", "ms", "h", "lbf", "lb", "kg", "N"}


def equations(put_in: str) -> list[list[str]]:
    """Return the sums in a put-in text, each as what is said to be equal: letters for a name are left out."""
    found = []
    for clause in put_in.split("; "):
        sides = clause.rpartition(": ")[2].split(" = ")
        sides[-1] = sides[-1].partition(", ")[0]
        sides = [side for side in sides if not re.fullmatch("[A-Za-z]+", side)]
        if len(sides) > 1:
            found.append(sides)
    return found


def outcome(side: str, *, result: bool) -> Range:
    """Return the lowest and the highest that one side of a sum can come to."""
    if signed := re.fullmatch(r"(\d+\.\d) stops? (over|short)", side):
        stops = float(signed[1]) * (1 if signed[2] == "over" else -1)
        return stops - 0.05, stops + 0.05
    if mark := re.fullmatch(r"(T|f/)(\d+(?:\.\d+)?)", side):
        return _stop(mark[1], float(mark[2]))
    if rounded := _ROUNDED.fullmatch(side):
        return _to_digits(float(rounded[1]), ROUNDED_DIGITS)
    if side == "infinity":
        return math.inf, math.inf
    ranges: list[Range] = []
    names: dict[str, str] = {}

    def name(match: re.Match[str]) -> str:
        if match[0] not in names:
            names[match[0]] = f"x[{len(ranges)}]"
            ranges.append(_printed(match[0], RESULT_DIGITS if result else INPUT_DIGITS))
        return names[match[0]]

    plain = side.replace(" to the foot", "").replace("log2(", "log(").replace("infinity", "inf")
    python = _TOKEN.sub(name, re.sub(r"√(\d+(?:\.\d+)?)", r"√(\1)", plain))
    for sign, meant in (("×", "*"), ("÷", "/"), ("−", "-"), ("²", "**2"), ("^", "**"), ("√", "sqrt")):
        python = python.replace(sign, meant)
    code = compile(python, side, "eval")
    outcomes = [eval(code, _WORDS | {"x": corner}) for corner in itertools.product(*ranges)]
    return min(outcomes), max(outcomes)


def _stop(prefix: str, mark: float) -> Range:
    """An f-number is exact to four digits; a T-stop to a tenth, or an engraved mark for its third of a stop."""
    if prefix == "f/":
        return _to_digits(mark, 4)
    third = 2 ** (round(6 * math.log2(mark)) / 6)
    low, high = _to_digits(mark, 3)
    near = math.isclose(third, mark, rel_tol=0.04)
    return (min(low, third), max(high, third)) if near else (low, high)


def _printed(token: str, digits: int) -> Range:
    """Return the range of numbers that would be printed so, in mm, s, radians or the unit itself."""
    if re.search(r"\bft\b(?!/)|\d/\d", token):
        inches = _feet_and_inches(token)
        half = 1 / 32 if digits != RESULT_DIGITS else _tape_step(inches)
        return (inches - half) * 25.4, (inches + half) * 25.4
    if minutes := re.fullmatch(r"(\d+) min (\d+) s", token):
        seconds = 60 * float(minutes[1]) + float(minutes[2])
        return seconds - 0.5, seconds + 0.5
    number, unit = re.fullmatch(r"([\d.]+) ?(.*)", token).groups()
    value, size = float(number), _SIZES.get(unit, 1.0)
    half = _half_step(number, value, unit, digits)
    return (value - half) * size, (value + half) * size


def _tape_step(inches: float) -> float:
    """A result is told as a tape is read there, a limit to its safe side: an eighth from 3 m, an inch from 30 m."""
    return 1 if inches * 25.4 >= 30_000 else 1 / 8 if inches * 25.4 >= 3_000 else 1 / 32


def _half_step(number: str, value: float, unit: str, digits: int) -> float:
    decimals = len(number.partition(".")[2])
    match unit:
        case "mm" | "m" if number == "1":
            return 0.0  # a unit that keeps the dimensions right
        case "mm" if decimals > 2:
            return min(0.5 * 10**-decimals, _half_digit(value, 3))
        case "mm":
            return 0.5 * 10 ** -max(decimals, 1 if value < 100 else 0)
        case "m":
            return 0.0005 if value < 10 else 0.005
        case "km" | "mi":
            return 0.0005
        case "in":
            return 1 / 32 if not decimals and value >= 1 else min(0.5 * 10**-decimals, _half_digit(value, 3))
        case "%":
            return 0.05 if decimals else 0.5
        case "°":
            return 0.005
        case "ft/s" | "in/s" | "mm/s" | "m/s":
            return _half_digit(value, ROUNDED_DIGITS)
        case "":
            return _half_digit(value, INPUT_DIGITS)
        case _ if unit in _ROUNDED_UNITS and digits == RESULT_DIGITS:
            return _half_digit(value, ROUNDED_DIGITS)
        case _:
            return _half_digit(value, digits)


def _half_digit(value: float, digits: int) -> float:
    """Return half a unit of a number's so-many-eth digit."""
    return 0.5 * 10 ** (math.floor(math.log10(value)) - digits + 1) if value else 0.0


def _to_digits(value: float, digits: int) -> Range:
    return value - _half_digit(value, digits), value + _half_digit(value, digits)


def _feet_and_inches(token: str) -> float:
    feet, whole, over, under = _FEET.fullmatch(token).groups()
    return 12 * float(feet or 0) + float(whole or 0) + (float(over) / float(under) if over else 0.0)


def _hopkins(q: float, waves: float) -> float:
    """H. H. Hopkins's integral (Proc. R. Soc. A 231, 1955) by adaptive quadrature; negative is no contrast."""

    def pupil(x: float) -> float:
        return math.sqrt(max(1 - (x + q) ** 2, 0.0)) * math.cos(8 * math.pi * waves * q * x)

    return max(4 / math.pi * quad(pupil, 0, 1 - q)[0], 0.0) if q < 1 else 0.0


_WORDS = {name: getattr(math, name) for name in ("sqrt", "sin", "cos", "tan", "atan", "exp", "pi", "inf")}
_WORDS |= {"log": math.log2, "min": min, "MTF": _hopkins}
