"""The units that people write, quantity by quantity: their words, and how large each is, exactly.

Sizes are in the unit counted in inside: mm, s, degrees, lux, N, kg, m², m³. Metric: SI Brochure, 9th edition, 2019.
Inch to mile, pound: international yard and pound, 1959. Standard gravity: 3rd CGPM, 1901. A test holds each equal to
Pint's. Pint takes a fifth of a second to import, so it is loaded, with `other_units.txt`, for units without a size.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    import pint

UnitSystem = Literal["imperial", "metric"]
UnitTable = Mapping[str, tuple[Fraction | None, str]]  # a unit's name: its size, None where Pint has it, its words


@dataclass(frozen=True, slots=True, eq=False)
class UnitKind:
    """One kind of thing that is entered with a unit."""

    name: str
    base: str  # the unit inside
    words: Mapping[str, str]  # to the names of units
    like: str  # an example
    imperial: str = ""  # units that values are written in, large to small
    metric: str = ""
    chains: tuple[tuple[str, ...], ...] = ()  # units that may follow one another
    others: bool = False  # whether Pint may know more
    refused: Mapping[str, str] = field(default_factory=dict)  # of a quantity easily taken for this one, and why

    @property
    def one(self) -> str:
        """The name with its article."""
        return f"{'an' if self.name[0] in 'aeiou' else 'a'} {self.name}"


def _words(table: UnitTable) -> dict[str, str]:
    return {word: unit for unit, (_, words) in table.items() for word in words.split()}


_FOOT = Fraction(3048, 10)
_FOOTCANDLE = (1000 / _FOOT) ** 2  # a lumen on a square foot
_POUND = Fraction(45_359_237, 100_000_000)
_GRAVITY = Fraction(980_665, 100_000)  # m/s²

_LENGTHS: UnitTable = {
    "millimetre": (Fraction(1), "mm millimetre millimetres millimeter millimeters"),
    "centimetre": (Fraction(10), "cm centimetre centimetres centimeter centimeters"),
    "metre": (Fraction(1000), "m metre metres meter meters"),
    "kilometre": (Fraction(1_000_000), "km kilometre kilometres kilometer kilometers"),
    "inch": (_FOOT / 12, 'in inch inches "'),
    "foot": (_FOOT, "ft foot feet '"),
    "yard": (None, "yd yard yards"),
    "mile": (5280 * _FOOT, "mi mile miles"),
}
_ANGLES: UnitTable = {
    "degree": (Fraction(1), "deg degree degrees °"),
    "arcminute": (None, "arcmin arcminute arcminutes min minute minutes '"),
    "arcsecond": (None, 'arcsec arcsecond arcseconds "'),
}
_TIMES: UnitTable = {
    "millisecond": (Fraction(1, 1000), "ms millisecond milliseconds"),
    "second": (Fraction(1), "s sec second seconds"),
    "minute": (Fraction(60), "min minute minutes"),
    "hour": (Fraction(3600), "h hr hour hours"),
}
_LIGHT: UnitTable = {
    "lux": (Fraction(1), "lx lux"),
    "kilolux": (Fraction(1000), "klx klux kilolux"),
    "footcandle": (_FOOTCANDLE, "fc footcandle footcandles foot-candle foot-candles"),
    "kilofootcandle": (1000 * _FOOTCANDLE, "kfc"),
}
_FORCES: UnitTable = {
    "newton": (Fraction(1), "n newton newtons"),
    "kilonewton": (Fraction(1000), "kn"),
    "kilogram_force": (_GRAVITY, "kgf"),
    "pound_force": (_POUND * _GRAVITY, "lbf"),
}
_WEIGHTS: UnitTable = {
    "gram": (Fraction(1, 1000), "g gram grams"),
    "kilogram": (Fraction(1), "kg kilogram kilograms"),
    "tonne": (Fraction(1000), "t tonne tonnes"),
    "ounce": (_POUND / 16, "oz ounce ounces"),
    "pound": (_POUND, "lb lbs pound pounds"),
}
_TABLES = (_LENGTHS, _ANGLES, _TIMES, _LIGHT, _FORCES, _WEIGHTS)
SIZES = {unit: size for table in _TABLES for unit, (size, _) in table.items() if size}
SIZES |= {f"{unit} ** {power}": (SIZES[unit] / 1000) ** power for unit in _LENGTHS if unit in SIZES for power in (2, 3)}

_LONG = (("mile", "yard", "foot", "inch"), ("kilometre", "metre", "centimetre", "millimetre"))
_ROUND = (("degree", "arcminute", "arcsecond"),)
_LASTING = (("hour", "minute", "second", "millisecond"),)
_HEAVY = (("pound", "ounce"), ("kilogram", "gram"))
_SPEEDS = {"mph": "mile / hour", "kph": "kilometre / hour", "kmh": "kilometre / hour"}  # and a length over a time
_GLOWS = "nit nits cd/m2 cd/m² fl ftl foot-lambert foot-lamberts footlambert footlamberts lambert lamberts asb sb"
_GLOW = "measures luminance, what a surface gives off, and not the light that falls on the model"
_LUMINANCE = dict.fromkeys(_GLOWS.split(), _GLOW)
_PULL = "measures weight; a pull of as many {} is written in {}"
_PULLS = dict.fromkeys(("lb", "lbs"), _PULL.format("pounds", "lbf")) | {"kg": _PULL.format("kilograms", "kgf")}
_PUSHES = dict.fromkeys(("lbf", "kgf", "n"), "measures force; what a thing weighs is written in kg or lb")


def _powers(word: str, power: int) -> tuple[str, str, str]:
    return f"{word}{power}", f"{word}{'²³'[power - 2]}", f"{('sq', 'cu')[power - 2]}{word}"


LENGTH = UnitKind("length", "millimetre", _words(_LENGTHS), "10 ft 6 in or 3.05 m", chains=_LONG, others=True)
ANGLE = UnitKind("angle", "degree", _words(_ANGLES), "15 deg or 9.5 deg", chains=_ROUND, others=True)
TIME = UnitKind("time", "second", _words(_TIMES), "6 s, 20 ms or 1 min 30 s", chains=_LASTING, others=True)
SPEED = UnitKind(
    "speed", "millimetre / second", _SPEEDS, "30 mph, 22 ft/s or 10 m/s", "mph ft/s in/s", "km/h m/s mm/s", others=True
)
ILLUMINANCE = UnitKind("illuminance", "lux", _words(_LIGHT), "15000 lx or 1400 fc", "fc", "lx", refused=_LUMINANCE)
FORCE = UnitKind("force", "newton", _words(_FORCES), "20 N or 5 lbf", "lbf", "N", refused=_PULLS)
WEIGHT = UnitKind("weight", "kilogram", _words(_WEIGHTS), "12 kg or 30 lb", "lb oz", "kg g", _HEAVY, refused=_PUSHES)
_AREAS = {text: f"{LENGTH.words[word]} ** 2" for word in ("mm", "cm", "m", "in", "ft") for text in _powers(word, 2)}
AREA = UnitKind("area", "metre ** 2", _AREAS, "1.1 m2 or 12 ft2", "ft2 in2", "m2 cm2")
_DENSITIES = {
    f"{weight}/{volume}": f"{WEIGHT.words[weight]} / {LENGTH.words[word]} ** 3"
    for weight, word in (("kg", "m"), ("g", "cm"), ("lb", "ft"))
    for volume in _powers(word, 3)
}
DENSITY = UnitKind("density", "kilogram / metre ** 3", _DENSITIES, "450 kg/m3 or 28 lb/ft3", "lb/ft3", "kg/m3")


@cache
def size(unit: str, base: str) -> Fraction:
    """How many of `base`, the unit counted in inside, make one of `unit`: a name, or one name over another."""
    whole, _, part = unit.partition(" / ")
    if whole in SIZES and (not part or part in SIZES):
        return SIZES[whole] / SIZES.get(part, 1)
    return Fraction(_registry().convert(Fraction(1), unit, base))


def other_unit(word: str, base: str) -> str | None:
    """Return Pint's name of a unit that is not in the table, in the plural or not; None where it measures no `base`."""
    found = {name for _, name, _ in _registry().parse_unit_name(word)}
    fitting = [name for name in found if _registry().is_compatible_with(name, base)]
    return fitting[0] if len(fitting) == 1 else None


@cache
def _registry() -> "pint.UnitRegistry[Fraction]":
    import pint

    return pint.UnitRegistry(str(Path(__file__).with_name("other_units.txt")), non_int_type=Fraction)
