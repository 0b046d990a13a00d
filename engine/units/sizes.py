"""How large each unit is, exactly: the grammar's own from a table, others as Pint reads them from `other_units.txt`.

The table holds each unit in the one that its quantity is counted in inside: mm, s, degrees, lux, N, kg, m², m³.
Metric: SI Brochure, 9th edition, 2019. Inch to mile, pound: international yard and pound, 1959. Standard gravity:
3rd CGPM, 1901. A test holds every size equal to Pint's. Pint takes about a fifth of a second to import, so it is
loaded when the first unit is met that is not in the table.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

_OTHERS = Path(__file__).with_name("other_units.txt")

_INCH = Fraction(254, 10)
_FOOT = 12 * _INCH
_FOOTCANDLE = (1000 / _FOOT) ** 2  # a lumen on a square foot
_POUND = Fraction(45_359_237, 100_000_000)
_GRAVITY = Fraction(980_665, 100_000)  # m/s²

_LENGTHS = {
    "millimetre": Fraction(1),
    "centimetre": Fraction(10),
    "metre": Fraction(1000),
    "kilometre": Fraction(1_000_000),
    "inch": _INCH,
    "foot": _FOOT,
    "mile": 5280 * _FOOT,
}
SIZES: dict[str, Fraction] = {
    **_LENGTHS,
    **{f"{unit} ** {power}": (size / 1000) ** power for unit, size in _LENGTHS.items() for power in (2, 3)},
    "millisecond": Fraction(1, 1000),
    "second": Fraction(1),
    "minute": Fraction(60),
    "hour": Fraction(3600),
    "degree": Fraction(1),
    "lux": Fraction(1),
    "kilolux": Fraction(1000),
    "footcandle": _FOOTCANDLE,
    "kilofootcandle": 1000 * _FOOTCANDLE,
    "newton": Fraction(1),
    "kilonewton": Fraction(1000),
    "kilogram_force": _GRAVITY,
    "pound_force": _POUND * _GRAVITY,
    "gram": Fraction(1, 1000),
    "kilogram": Fraction(1),
    "tonne": Fraction(1000),
    "pound": _POUND,
    "ounce": _POUND / 16,
}


@cache
def size(unit: str, base: str) -> Fraction:
    """How many of `base`, the unit counted in inside, make one of `unit`: a name, or one name over another."""
    whole, _, part = unit.partition(" / ")
    if whole in SIZES and (not part or part in SIZES):
        return SIZES[whole] / SIZES.get(part, 1)
    return pint_size(unit, base)


@cache
def pint_size(unit: str, base: str) -> Fraction:
    """The same as Pint works it out of the definitions."""
    return Fraction(_registry().convert(Fraction(1), unit, base))


def other_unit(word: str, base: str) -> str | None:
    """Return Pint's name of a unit that is not in the table, in the plural or not; None where it measures no `base`."""
    found = {name for _, name, _ in _registry().parse_unit_name(word)}
    fitting = [name for name in found if _registry().is_compatible_with(name, base)]
    return fitting[0] if len(fitting) == 1 else None


@cache
def _registry() -> pint.UnitRegistry[Fraction]:
    import pint

    return pint.UnitRegistry(str(_OTHERS), non_int_type=Fraction)
