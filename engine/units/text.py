"""Numbers, angles, times, speeds, light, forces, weights, areas and densities as text, for people and for files.

What is for people (`..._text`) is rounded, and is read back as it says; `exact_...` reads back as the very same float.
"""

import math
import re
from collections.abc import Callable
from decimal import Decimal
from functools import cache

from forescale.engine.units.quantities import parse_quantity, parse_time, rounded_down, rounded_up, unit_named
from forescale.engine.units.vocabulary import AREA, ILLUMINANCE, SPEED, UnitKind, UnitSystem, size

_HANDY_DECIMALS, _HANDY_LARGEST = 3, 1e12


def number_text(x: float, digits: int = 3) -> str:
    """A number to so many significant digits, no exponent, no trailing zeros; "infinity" for math.inf."""
    if math.isinf(x):
        return "infinity" if x > 0 else "-infinity"
    text = f"{x:.{digits}g}"
    return f"{Decimal(text):f}" if "e" in text else "0" if text == "-0" else text


def with_plus(x: float, digits: int = 3) -> str:
    """A number to so many significant digits, with a "+" where it is more than nothing: "+1.5", "-2", "0"."""
    return f"{'+' if x > 0 else ''}{number_text(x, digits)}"


def signed_text(x: float, decimals: int) -> str:
    """A number to so many decimals with its sign, which what rounds to nothing has not: "+1.5", "-2.0", "0.0"."""
    rounded = round(x, decimals)
    return f"{rounded:+.{decimals}f}" if rounded else f"{0:.{decimals}f}"


def fixed_text(x: float, decimals: int) -> str:
    """A number to so many decimals at most, with no trailing zeros."""
    text = f"{x:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def shortest_exact(x: float, read: Callable[[str], float], sizes: dict[str, float], filled: float = 1.0) -> str | None:
    """The shortest text that reads back as this float, few decimals in a unit that it fills or the last, or None."""
    if abs(x) > _HANDY_LARGEST:
        return None
    *_, last = sizes
    fit = {unit: size for unit, size in sizes.items() if unit == last or abs(x) >= filled * size}
    texts = (f"{fixed_text(x / size, _HANDY_DECIMALS)} {unit}" for unit, size in fit.items())
    return min((text for text in texts if read(text) == x), key=len, default=None)


def in_full(value: float) -> str:
    """Every digit that the float needs, and no idle ".0"."""
    return repr(value).removesuffix(".0")


def angle_text(deg: float) -> str:
    """An angle in degrees to 0.01 deg: "172.8 deg"."""
    return f"{fixed_text(deg, 2)} deg"


def exact_angle(deg: float, _system: UnitSystem = "imperial") -> str:
    """An angle in degrees for a file; the same in both systems."""
    return f"{in_full(deg)} deg"


def time_text(s: float) -> str:
    """A time: "4.17 ms", "0.5 s", "13.4 s", "1 min 30 s"; three digits, whole seconds from a minute on; "infinity"."""
    if math.isinf(s):
        return number_text(s)
    rounded = float(f"{s:.3g}")
    if abs(rounded) >= 60:
        return ("-" if s < 0 else "") + hours_text(s)
    if abs(rounded) >= 0.1 or rounded == 0:
        return f"{number_text(rounded)} s"
    return f"{number_text(1000 * rounded)} ms"


def stopwatch_text(s: float) -> str:
    """A time at which something is called, to the hundredth of a second that a stopwatch has: "12.35 s"."""
    return f"{fixed_text(s, 2)} s"


def hours_text(s: float) -> str:
    """How long a time is, to the second and whatever its sign, in each unit that it fills: "1 h 5 min"."""
    minutes, seconds = divmod(round(abs(s)), 60)
    parts = ((minutes // 60, "h"), (minutes % 60, "min"), (seconds, "s"))
    return " ".join(f"{count} {unit}" for count, unit in parts if count)


def data_text(megabytes: float) -> str:
    """An amount of recorded data to three digits, from a thousand megabytes on in gigabytes: "730 MB", "1.66 GB"."""
    rounded = float(f"{megabytes:.3g}")
    return f"{number_text(rounded)} MB" if rounded < 1000 else f"{number_text(rounded / 1000)} GB"


def exact_time(s: float, _system: UnitSystem = "imperial") -> str:
    """A time for a file; the same in both systems."""
    return shortest_exact(s, parse_time, {"s": 1, "ms": 0.001}) or f"{in_full(s)} s"


@cache
def _sizes(quantity: UnitKind, system: UnitSystem) -> dict[str, float]:
    """Return the units in which a quantity is written, and how large each is in the one counted in."""
    written = quantity.metric if system == "metric" else quantity.imperial
    named = {word: unit_named(word.casefold(), quantity) for word in written.split()}
    return {word: float(size(str(unit), quantity.base)) for word, unit in named.items()}


def _filled(quantity: UnitKind, system: UnitSystem) -> float:
    """Return how much of a unit a value takes to be written in it: of a square metre a tenth, which is 1000 cm2."""
    return 0.1 if quantity is AREA and system == "metric" else 1.0


def exact_text(value: float, quantity: UnitKind, system: UnitSystem) -> str:
    """A value for a file: handy in the system asked for, else in the other, else every digit in the unit inside."""
    for tried in (system, "imperial" if system == "metric" else "metric"):
        sizes, filled = _sizes(quantity, tried), _filled(quantity, tried)
        text = shortest_exact(value, lambda text: parse_quantity(text, quantity), sizes, filled)
        if text:
            return text
    inside = next(word for word, size in _sizes(quantity, "metric").items() if size == 1)
    return f"{in_full(value)} {inside}"


def measure_text(value: float, quantity: UnitKind, system: UnitSystem) -> str:
    """A value to three digits in the first of its units that it fills, else in the last: "20 N", "30 lb", "450 g"."""
    sizes, filled = _sizes(quantity, system), _filled(quantity, system)
    *_, last = sizes
    unit = next((unit for unit, size in sizes.items() if abs(float(f"{value / size:.3g}")) >= filled), last)
    return f"{number_text(value / sizes[unit])} {unit}"


def measured_in(value: float, quantity: UnitKind, system: UnitSystem) -> tuple[float, str]:
    """A value in the largest of its units, whatever its size, and that unit: for sums, whose terms must agree."""
    (unit, size), *_ = _sizes(quantity, system).items()
    return value / size, unit


def no_less_text(value: float, quantity: UnitKind, system: UnitSystem) -> str:
    """A value that must be reached, as `measure_text` has it but never less than it is."""
    sizes, unit = _sizes(quantity, system), measure_text(value, quantity, system).split(" ", 1)[1]
    return f"{number_text(rounded_up(value / sizes[unit], 3))} {unit}"


def wind_text(mm_s: float, system: UnitSystem, *, limit: bool = False) -> str:
    """A wind to a tenth of a "mph" or "m/s"; one that is a limit no more than it is."""
    unit = "m/s" if system == "metric" else "mph"
    value = mm_s / _sizes(SPEED, system)[unit]
    if math.isfinite(value):
        value = (math.floor(value * 10 + 1e-6) if limit else round(value * 10)) / 10
    return f"{number_text(value, 6)} {unit}"


def speed_text(mm_s: float, system: UnitSystem) -> str:
    """A speed to three digits: "22 ft/s" or, under a foot a second, "4.5 in/s"; "1.5 m/s" or "85 mm/s"."""
    small, large = ("mm/s", "m/s") if system == "metric" else ("in/s", "ft/s")
    sizes = _sizes(SPEED, system)
    in_small = f"{mm_s / sizes[small]:.3g}"
    if abs(float(in_small)) < (1000 if system == "metric" else 12):
        return f"{number_text(float(in_small))} {small}"
    return f"{number_text(mm_s / sizes[large])} {large}"


def road_speed_text(mm_s: float, system: UnitSystem) -> str:
    """A speed, no more than it is, in the unit in which a bare one is read: to four digits in "mph" or "km/h"."""
    unit = "km/h" if system == "metric" else "mph"
    return f"{number_text(rounded_down(mm_s / _sizes(SPEED, system)[unit], 4), 4)} {unit}"


_MOST_LUX = 1e7  # a hundred times the sun's


def illuminance_text(lux: float, system: UnitSystem) -> str:
    """An illuminance to three digits: "20000 lx" or "1860 fc"; beyond what may be entered, in words."""
    if lux > _MOST_LUX:
        return "over 10 million lx" if system == "metric" else "over a million fc"
    (unit, size), *_ = _sizes(ILLUMINANCE, system).items()
    return f"{number_text(lux / size)} {unit}"


# What no line may break: a number and its unit, a length in feet and inches

KEPT = "\u00a0"
_SPACES = re.compile(rf"[^\S{KEPT}]+")
_UNITS = "ft|in|mi|mm|cm|m|km|s|ms|min|h|deg|fps|lx|fc|px|m2|ft2|Hz|MB|GB|kg|g|lb|oz|N|lbf|stops?"
_AFTER_NUMBER = re.compile(rf"(?<=\d) (?=\d|%|(?:{_UNITS})\b)")
_BEFORE_NUMBER = re.compile(rf"(?:(?<={KEPT}ft)|(?<={KEPT}mi)|(?<={KEPT}min)|(?<=±)|(?<=ISO)|(?<=ND)) (?=\d)")


def words_of(text: str) -> list[str]:
    """Return the words between which a text may be broken; what stays together has `KEPT` between its own words."""
    return _BEFORE_NUMBER.sub(KEPT, _AFTER_NUMBER.sub(KEPT, _SPACES.sub(" ", text).strip(" "))).split(" ")
