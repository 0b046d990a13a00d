"""Lengths as people read them off a tape, as a shop cuts them, and as a file keeps them; and 1:S, a ratio of two."""

import math
import re
from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache, partial
from typing import Literal, NamedTuple

from forescale.engine.units.quantities import DECIMAL, KEPT_TEXTS, EntryError, exact_value, parse_length, quoted, tidied
from forescale.engine.units.text import fixed_text, in_full, shortest_exact
from forescale.engine.units.vocabulary import LENGTH, SIZES, UnitSystem

Rounding = Literal["1/16 in", "1/32 in", "1/64 in", "0.5 mm", "0.1 mm"]

INCH_MM, MILE_MM = float(SIZES["inch"]), float(SIZES["mile"])
FINEST = 16  # parts of an inch that a tape is read to
FAR_MM = 30_000.0  # from here on no tape tells more than inches
LARGEST_RATIO = 10_000

_PARTS: dict[Rounding, int] = {"1/16 in": 16, "1/32 in": 32, "1/64 in": 64, "0.5 mm": 2, "0.1 mm": 10}
_HALF = 0.5 + 1e-6  # of a step: what falls so little short of a half is one, so that no last digit of a float tells
# Upper limit of a size in mm, and the step in mm that is worth reading there.
_METRIC_STEPS = ((1, 0.001), (100, 0.1), (10_000, 1.0), (1_000_000, 10.0), (math.inf, 1000.0))


class ShopLength(NamedTuple):
    """A length as a shop cuts it: the text, its value in mm, and rounded less exact in mm."""

    text: str
    mm: float
    error_mm: float


def length_text(mm: float, system: UnitSystem, *, fraction: int = 16) -> str:
    """A length for people, which reads back and is then written the same; infinity is "infinity"."""
    if math.isinf(mm):
        return "infinity" if mm > 0 else "-infinity"
    if system == "metric":  # to a mm under 10 m, finer under 100 mm, then to a cm, from a km on to a m; a half goes up
        step = next(step for limit, step in _METRIC_STEPS if abs(mm) < limit)
        rounded = round(math.copysign(math.floor(abs(mm) / step + _HALF), mm) * step, 3)
        # The unit follows the rounded size, or 999.9 mm would be "1000 mm" now and "1 m" when read back.
        size, unit = (1, "mm") if abs(rounded) < 1000 else (1000, "m") if abs(rounded) < 1e6 else (1e6, "km")
        return f"{fixed_text(rounded / size, 3)} {unit}"
    steps = _steps(mm, INCH_MM / fraction)  # of 1, 2, 4 ... 64; less than half a step in decimals, miles from one on
    if abs(steps) >= MILE_MM / INCH_MM * fraction:
        return f"{fixed_text(mm / MILE_MM, 3)} mi"
    return _feet_and_inches(steps, fraction) if steps else f"{fixed_text(mm / INCH_MM, 4)} in"


@lru_cache(maxsize=KEPT_TEXTS)
def tape_text(mm: float, system: UnitSystem, *, fraction: int = FINEST) -> str:
    """A length as a tape is read there: 1/`fraction` inch, whole inches from 30 m on."""
    # Whole sixteenths, as only an entered length has, are told whole however far.
    whole = math.isfinite(mm) and fraction >= FINEST and _steps(mm, INCH_MM / FINEST) * 254 / (10 * FINEST) == mm
    if math.isinf(mm) or system == "metric" or whole:
        return length_text(mm, system)
    return length_text(mm, system, fraction=1 if abs(mm) >= FAR_MM else fraction)


def _limit_text(mm: float, system: UnitSystem, *, fraction: int = FINEST) -> str:
    """A limit, which nobody tapes: as a tape has it, an eighth of an inch from 3 m on."""
    return tape_text(mm, system, fraction=min(fraction, 8) if abs(mm) >= 3_000 else fraction)


def _on_safe_side(way: int, write: Callable[..., str], mm: float, system: UnitSystem, **finest: int) -> str:
    text, off = write(mm, system, **finest), 0.0
    while math.isfinite(mm) and (wrong := way * (mm - parse_length(text))) > 1e-9 * mm:
        off = max(2 * off, wrong)  # it rounds to the next step before it can pass another
        text = write(mm + way * off, system, **finest)
    return text


# A positive length as it is written otherwise, that reads back as no less or as no more: from there on, or so far, a
# thing holds.
tape_at_least, tape_at_most = partial(_on_safe_side, 1, _limit_text), partial(_on_safe_side, -1, _limit_text)
length_at_most = partial(_on_safe_side, -1, length_text)


def _steps(mm: float, step_mm: float) -> int:
    """The nearest whole number of steps; a half, give or take a millionth, goes towards zero."""
    return int(math.copysign(math.ceil(abs(mm) / step_mm - _HALF), mm))


def _feet_and_inches(steps: int, fraction: int) -> str:
    feet, rest = divmod(abs(steps), 12 * fraction)
    if feet == 0:
        return _inches(steps, fraction)
    none = "0 " if 0 < rest < fraction else ""  # a fraction called aloud right after the feet is misheard
    return f"{'-' if steps < 0 else ''}{feet} ft" + (f" {none}{_inches(rest, fraction)}" if rest else "")


def _inches(steps: int, fraction: int) -> str:
    whole, rest = divmod(abs(steps), fraction)
    part = Fraction(rest, fraction)
    return f"{'-' if steps < 0 else ''}{f'{whole} {part}' if whole and rest else part if rest else whole} in"


def shop_length(mm: float, rounding: Rounding) -> ShopLength:
    """A finite length as a shop cuts it, to the nearest step: in inches ("30 1/16 in") or mm ("762.5 mm")."""
    parts, metric = _PARTS[rounding], rounding.endswith("mm")
    steps = _steps(mm, (1 if metric else INCH_MM) / parts)
    rounded = steps / parts if metric else steps * 254 / (10 * parts)  # whole numbers: rounded once, as read
    return ShopLength(f"{fixed_text(rounded, 1)} mm" if metric else _inches(steps, parts), rounded, rounded - mm)


@lru_cache(maxsize=KEPT_TEXTS)
def exact_length(mm: float, system: UnitSystem) -> str:
    """A length for a file: the shortest handy text that reads back as this float, in this system if brief; or "inf"."""
    if mm == math.inf:
        return "inf"
    ways = [_exact_imperial, lambda mm: shortest_exact(mm, parse_length, {"km": 1e6, "m": 1e3, "mm": 1})]
    texts = (way(mm) for way in (reversed(ways) if system == "metric" else ways))
    return next(filter(None, texts), f"{in_full(mm)} mm")


def _exact_imperial(mm: float) -> str | None:
    miles = shortest_exact(mm, parse_length, {"mi": MILE_MM}) if abs(mm) >= MILE_MM else None
    if miles or abs(mm) > 1e12:
        return miles
    inches = _feet_and_inches(_steps(mm, INCH_MM / 64), 64)
    if parse_length(inches) == mm:
        return inches
    return shortest_exact(mm, parse_length, {"ft": 12 * INCH_MM, "in": INCH_MM})


_RATIO = re.compile(rf"(?:(?P<model>{DECIMAL})\s*(?P<mark>[:/])\s*)?(?P<real>{DECIMAL})")
_PER = re.compile(r"\s*/\s*(?=(?:ft|foot|m)\s*$)")
_LIKE = "write it like 1:24 or 1/2 in = 1 ft"


def parse_ratio(text: str | float) -> float:
    """S of 1:S, 1 to 10 000: `1:24`, `1/24`, `24`, `1/2 in = 1 ft`, `1/2 in/ft`, `10 mm = 1 m`. Raises EntryError."""

    def refusal(why: str) -> EntryError:
        return EntryError(f"{quoted(str(text))}: {why}", _LIKE)

    text = _PER.sub(" = 1 ", text) if isinstance(text, str) else text
    match = _RATIO.fullmatch(tidied(text, _LIKE)) if isinstance(text, str) and "=" not in text else None
    if match is not None:
        model, real = Fraction(match["model"] or 1), Fraction(match["real"])
        # 3/4 alone is more likely three quarters of an inch to the foot than a ratio of 1:1.33.
        if not model or (match["mark"] == "/" and model != 1):
            raise refusal("a ratio starts with 1, and a scale names both units")
    elif isinstance(text, str) and "=" in text:  # exactly: 3.5 mm = 1 ft is 304.8 over 3.5
        model, real = (exact_value(side, LENGTH) for side in text.split("=", 1))
        if model <= 0:
            raise refusal("the model's length must be more than nothing")
    elif isinstance(text, str | bool) or not math.isfinite(text):
        raise refusal("not a ratio")
    else:
        model, real = Fraction(1), Fraction(text)
    if not 1 <= real / model <= LARGEST_RATIO:
        raise refusal(f"a ratio goes from 1:1 to 1:{LARGEST_RATIO}")
    return float(real / model)


def ratio_text(ratio: float) -> str:
    """A ratio for people, S to a tenth, or to a hundredth below 10: "1:24", "1:87.1", "1:1.25"."""
    return f"1:{fixed_text(ratio, 1 if ratio >= 10 else 2)}"


def exact_ratio(ratio: float) -> str:
    """A ratio for a file: reads back as the same float."""
    return f"1:{in_full(ratio)}"
