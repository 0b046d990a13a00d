"""The ratio 1:S of a model: read from the ways a scale is named, and written."""

import math
import re
from fractions import Fraction

from forescale.engine.units.errors import EntryError, quoted
from forescale.engine.units.numbers import DECIMAL, as_float, tidied
from forescale.engine.units.quantities import exact_value
from forescale.engine.units.text import fixed_text, in_full
from forescale.engine.units.vocabulary import LENGTH

LARGEST_RATIO = 10_000

_LIKE = "write it like 1:24 or 1/2 in = 1 ft"
_RATIO = re.compile(rf"(?:(?P<model>{DECIMAL})\s*(?P<mark>[:/])\s*)?(?P<real>{DECIMAL})")


def parse_ratio(text: str | float) -> float:
    """S of the ratio 1:S, from `1:24`, `1/24`, `24`, `1/2 in = 1 ft` or `10 mm = 1 m`.

    S is from 1 (life size) to 10 000. Raises EntryError.
    """
    shown = quoted(str(text))
    if not isinstance(text, str):
        if isinstance(text, bool) or not math.isfinite(text):
            raise EntryError(f"{shown}: not a ratio", _LIKE)
        exact = Fraction(text)
    elif "=" in text:  # exactly: 3.5 mm = 1 ft is 304.8 over 3.5
        left, _, right = text.partition("=")
        model_mm, real_mm = exact_value(left, LENGTH), exact_value(right, LENGTH)
        if model_mm <= 0:
            raise EntryError(f"{shown}: the model's length must be more than nothing", _LIKE)
        exact = real_mm / model_mm
    else:
        match = _RATIO.fullmatch(tidied(text))
        if match is None:
            raise EntryError(f"{shown}: not a ratio", _LIKE)
        model, real = Fraction(match["model"] or 1), Fraction(match["real"])
        # 3/4 alone is more likely three quarters of an inch to the foot than a ratio of 1:1.33.
        if not model or (match["mark"] == "/" and model != 1):
            raise EntryError(f"{shown}: a ratio starts with 1, and a scale names both units", _LIKE)
        exact = real / model
    if not 1 <= exact <= LARGEST_RATIO:
        raise EntryError(f"{shown}: a ratio goes from 1:1 to 1:{LARGEST_RATIO}", _LIKE)
    return as_float(exact, str(text))


def ratio_text(ratio: float) -> str:
    """A ratio for people, S to a tenth, or to a hundredth below 10: "1:24", "1:87.1", "1:1.25"."""
    return f"1:{fixed_text(ratio, 1 if ratio >= 10 else 2)}"


def exact_ratio(ratio: float) -> str:
    """A ratio for a file: reads back as the same float."""
    return f"1:{in_full(ratio)}"
