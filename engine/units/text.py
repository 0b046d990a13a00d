"""Numbers, angles, times, speeds and light as people read them and as a file keeps them (`exact_...`).

What is for people is rounded, and what it says reads back and is written the same; what is for a file reads
back as the very same float.
"""

import math
from collections.abc import Callable, Mapping
from decimal import Decimal

from forescale.engine.units.quantities import parse_illuminance, parse_speed, parse_time
from forescale.engine.units.registry import factor
from forescale.engine.units.rounding import rounded_down
from forescale.engine.units.vocabulary import ILLUMINANCE, SPEED, UnitSystem

_HANDY_DECIMALS = 3
_HANDY_LARGEST = 1e12


def number_text(x: float, digits: int = 3) -> str:
    """A number to so many significant digits, no exponent, no trailing zeros; "infinity" for math.inf."""
    if math.isinf(x):
        return "infinity" if x > 0 else "-infinity"
    return _trimmed(f"{Decimal(f'{x:.{digits}g}'):f}")


def fixed_text(x: float, decimals: int) -> str:
    """A number to so many decimals at most, with no trailing zeros."""
    return _trimmed(f"{x:.{decimals}f}")


def _trimmed(text: str) -> str:
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def shortest_exact(value: float, read: Callable[[str], float], sizes: Mapping[str, float]) -> str | None:
    """The shortest text, of those with few decimals in each unit, that reads back as this float.

    `sizes` has the size of each unit; one larger than the value is left out, but for the last. None where no
    text reads back.
    """
    if abs(value) > _HANDY_LARGEST:
        return None
    *_, last = sizes
    texts = (
        f"{fixed_text(value / size, _HANDY_DECIMALS)} {unit}"
        for unit, size in sizes.items()
        if unit == last or abs(value) >= size
    )
    return min((text for text in texts if read(text) == value), key=len, default=None)


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
    """A time: "4.17 ms", "13.4 s", "1 min 30 s", "1 h 5 min"; three digits, whole seconds from a minute on.

    Infinity is "infinity".
    """
    if math.isinf(s):
        return number_text(s)
    rounded = float(f"{s:.3g}")
    if abs(rounded) >= 60:
        return _minutes_text(round(s))
    if abs(rounded) >= 1 or rounded == 0:
        return f"{number_text(rounded)} s"
    return f"{number_text(1000 * rounded)} ms"


def _minutes_text(whole_s: int) -> str:
    minutes, seconds = divmod(abs(whole_s), 60)
    hours, minutes = divmod(minutes, 60)
    parts = [f"{count} {unit}" for count, unit in ((hours, "h"), (minutes, "min"), (seconds, "s")) if count]
    return ("-" if whole_s < 0 else "") + " ".join(parts)


def exact_time(s: float, _system: UnitSystem = "imperial") -> str:
    """A time for a file; the same in both systems."""
    return shortest_exact(s, parse_time, {"s": 1, "ms": 0.001}) or f"{in_full(s)} s"


def _speed_size(unit: str) -> float:
    return float(factor(SPEED.words[unit], SPEED.base))


def speed_text(mm_s: float, system: UnitSystem) -> str:
    """A speed to three digits: "22 ft/s" or, under a foot a second, "4.5 in/s"; "1.5 m/s" or "85 mm/s"."""
    small, large = ("mm/s", "m/s") if system == "metric" else ("in/s", "ft/s")
    in_small = f"{mm_s / _speed_size(small):.3g}"
    if abs(float(in_small)) < factor(SPEED.words[large], SPEED.words[small]):
        return f"{number_text(float(in_small))} {small}"
    return f"{number_text(mm_s / _speed_size(large))} {large}"


def road_speed_text(mm_s: float, system: UnitSystem) -> str:
    """A speed, no more than it is, in the unit in which a bare one is read: to four digits in "mph" or "km/h"."""
    unit = "km/h" if system == "metric" else "mph"
    return f"{number_text(rounded_down(mm_s / _speed_size(unit), 4), 4)} {unit}"


_SPEED_UNITS: dict[UnitSystem, tuple[str, ...]] = {
    "imperial": ("mph", "ft/s", "in/s"),
    "metric": ("km/h", "m/s", "mm/s"),
}


def exact_speed(mm_s: float, system: UnitSystem) -> str:
    """A speed for a file: handy in the system asked for, else in the other, else mm/s with every digit."""
    for tried in _preferred_first(system):
        sizes = {unit: _speed_size(unit) for unit in _SPEED_UNITS[tried]}
        text = shortest_exact(mm_s, parse_speed, sizes)
        if text:
            return text
    return f"{in_full(mm_s)} mm/s"


def _footcandle() -> float:
    return float(factor("footcandle", ILLUMINANCE.base))


def illuminance_text(lux: float, system: UnitSystem) -> str:
    """An illuminance to three digits: "20000 lx" or "1860 fc"."""
    return f"{number_text(lux)} lx" if system == "metric" else f"{number_text(lux / _footcandle())} fc"


def exact_illuminance(lux: float, system: UnitSystem) -> str:
    """An illuminance for a file: handy in the system asked for, else in the other, else lux in full."""
    units: dict[UnitSystem, Mapping[str, float]] = {"imperial": {"fc": _footcandle()}, "metric": {"lx": 1}}
    for tried in _preferred_first(system):
        text = shortest_exact(lux, parse_illuminance, units[tried])
        if text:
            return text
    return f"{in_full(lux)} lx"


def _preferred_first(system: UnitSystem) -> tuple[UnitSystem, UnitSystem]:
    return ("metric", "imperial") if system == "metric" else ("imperial", "metric")
