"""The one unit registry: how large each unit is, as Pint works it out from `forescale_units.txt`.

Pint takes about a fifth of a second to import, so it is loaded on the first conversion only, and each factor
is asked for once. The registry counts in fractions: a length is rounded to a float once, at the very end.

A program that starts often can keep what Pint worked out in a file (`remember`) and begin from it the next time
(`recall`), so that Pint is loaded only after the definitions have changed.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

_DEFINITIONS = Path(__file__).with_name("forescale_units.txt")
_known: dict[tuple[str, str], Fraction] = {}  # recalled, or asked of Pint


@cache
def _registry() -> pint.UnitRegistry[Fraction]:
    import pint

    return pint.UnitRegistry(str(_DEFINITIONS), non_int_type=Fraction)


def factor(unit: str, base: str) -> Fraction:
    """How many of `base` make one of `unit`, exactly; each is a name in the definitions, or a quotient."""
    if (unit, base) not in _known:
        _known[unit, base] = Fraction(_registry().convert(Fraction(1), unit, base))
    return _known[unit, base]


def recall(text: str) -> None:
    """Begin from what an earlier run remembered, unless it is of other definitions or cannot be read."""
    try:
        kept = json.loads(text)
        if kept["definitions"] == _DEFINITIONS.read_text(encoding="utf-8"):
            _known.update({(unit, base): Fraction(size) for unit, base, size in kept["factors"]})
    except (ValueError, KeyError, TypeError, ZeroDivisionError):
        _known.clear()


def remember(pairs: Iterable[tuple[str, str]] = ()) -> str | None:
    """Return what `recall` takes: these pairs of unit and base and all that are known; None where Pint told nothing."""
    for unit, base in pairs:
        factor(unit, base)
    if not _registry.cache_info().currsize:
        return None
    factors = [(unit, base, str(size)) for (unit, base), size in sorted(_known.items())]
    return json.dumps({"definitions": _DEFINITIONS.read_text(encoding="utf-8"), "factors": factors})
