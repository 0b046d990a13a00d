"""The one unit registry: how large each unit is, as Pint works it out from `forescale_units.txt`.

Pint takes about a fifth of a second to import, so it is loaded on the first conversion only, and each factor
is asked for once. The registry counts in fractions: a length is rounded to a float once, at the very end.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

_DEFINITIONS = Path(__file__).with_name("forescale_units.txt")


@cache
def _registry() -> pint.UnitRegistry[Fraction]:
    import pint

    return pint.UnitRegistry(str(_DEFINITIONS), non_int_type=Fraction)


@cache
def factor(unit: str, base: str) -> Fraction:
    """How many of `base` make one of `unit`, exactly; each is a name in the definitions, or a quotient."""
    return Fraction(_registry().convert(Fraction(1), unit, base))
