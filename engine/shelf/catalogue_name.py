"""What the name of a lens says of it, as engraved: focal length, widest stop, whether a converter is added.

Names are given in small letters.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

Span = tuple[float, float]

FOCAL_MM, F_NUMBER = (1.0, 5000.0), (0.5, 256.0)  # what a lens may have at all

_NUMBER = r"(\d+(?:[.,]\d+)?)"
_SPAN = rf"{_NUMBER}(?:\s*-\s*{_NUMBER})?"
_START = r"(?<!\d)(?<!\d[.,])"
_FOCAL = re.compile(rf"{_START}{_SPAN}\s*mm")
_F = r"(?:f/|(?<=mm)f|(?<=mm )f|(?<=/)f|(?<![a-z])f(?=\s*\d+[.,]\d))"  # an f and whole digits alone may be a model's
_STOP = re.compile(rf"{_F}\s*{_SPAN}(?![\d.,]|\s*mm)")
_RATIO = re.compile(rf"(?<!\d)1:{_SPAN}(?![\d.,]|\s*mm)")
_STOP_OVER_FOCAL = re.compile(rf"{_START}{_SPAN}\s*/\s*(\d{{2,4}})(?:\s*-\s*(\d{{2,4}}))?(?![\d.,])")
_ADDED = re.compile(r"conver|\bconv\b|\bexten|\bext\b|reducer|adapter")
_FISHEYE = re.compile(r"fish.?eye")


def named_focal(names: Iterable[str]) -> Span | None:
    """Return the focal lengths in mm that the names of a lens give, as "50 mm" or behind the stop, as "2/50"."""
    for name in names:
        if found := _FOCAL.search(name):
            return span(numbers(found.groups(), *FOCAL_MM))
        if found := _STOP_OVER_FOCAL.search(name):
            return span(numbers(found.groups()[2:], *FOCAL_MM))
    return None


def named_stop(names: Sequence[str]) -> Span | None:
    """Return the widest stop in the names of a lens, two where the zoom loses some, "f/3.5-5.6", "1:2" or "2/50".

    "1:1" behind an f-number is a reproduction ratio, so f-numbers go first.
    """
    for pattern in (_STOP, _RATIO, _STOP_OVER_FOCAL):
        for name in names:
            if found := pattern.search(name):
                return span(numbers(found.groups()[:2], *F_NUMBER))
    return None


def is_added_to(names: Iterable[str]) -> bool:
    """Tell whether a lens is named with something before or behind it that changes its focal length."""
    return any(map(_ADDED.search, names))


def is_fisheye(names: Iterable[str]) -> bool:
    """Tell whether a lens is named as one that bends straight lines."""
    return any(map(_FISHEYE.search, names))


def number(text: str | None, low: float, high: float) -> float | None:
    """Return a number within its bounds, None for anything else."""
    try:
        value = float((text or "").replace(",", "."))
    except ValueError:
        return None
    return value if low <= value <= high else None


def numbers(texts: Iterable[str | None], low: float, high: float) -> list[float]:
    """Return those of some texts that are numbers within their bounds."""
    return [value for text in texts if (value := number(text, low, high)) is not None]


def span(values: Iterable[float]) -> Span | None:
    """Return the least and the greatest of some numbers, None for no number."""
    known = list(values)
    return (min(known), max(known)) if known else None
