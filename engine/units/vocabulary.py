"""The words in which people write a unit, quantity by quantity; how large each is stands in the registry."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

UnitSystem = Literal["imperial", "metric"]


@dataclass(frozen=True, slots=True)
class Quantity:
    """One kind of thing that is entered with a unit.

    `base` is the unit of the floats inside; `words` leads from what people write to the registry's name;
    `like` is an example; `chains` are the units that may follow one another from large to small.
    """

    name: str
    base: str
    words: Mapping[str, str]
    like: str
    chains: tuple[tuple[str, ...], ...] = ()


def _words(**spellings: str) -> dict[str, str]:
    return {word: unit for unit, words in spellings.items() for word in words.split()}


LENGTH = Quantity(
    name="length",
    base="millimetre",
    words=_words(
        millimetre="mm millimetre millimetres millimeter millimeters",
        centimetre="cm centimetre centimetres centimeter centimeters",
        metre="m metre metres meter meters",
        kilometre="km kilometre kilometres kilometer kilometers",
        inch='in inch inches "',
        foot="ft foot feet '",
        yard="yd yard yards",
        mile="mi mile miles",
    ),
    like="10 ft 6 in or 3.05 m",
    chains=(("mile", "yard", "foot", "inch"), ("kilometre", "metre", "centimetre", "millimetre")),
)

ANGLE = Quantity(
    name="angle",
    base="degree",
    words=_words(
        degree="deg degree degrees °",
        arcminute="arcmin arcminute arcminutes '",
        arcsecond='arcsec arcsecond arcseconds "',
    ),
    like="15 deg or 9.5 deg",
    chains=(("degree", "arcminute", "arcsecond"),),
)

TIME = Quantity(
    name="time",
    base="second",
    words=_words(
        millisecond="ms millisecond milliseconds",
        second="s sec second seconds",
        minute="min minute minutes",
        hour="h hr hour hours",
    ),
    like="6 s, 20 ms or 1 min 30 s",
    chains=(("hour", "minute", "second", "millisecond"),),
)

_LENGTH_OVER_TIME = {
    f"{length}/{time}": f"{length_unit} / {time_unit}"
    for length, length_unit in LENGTH.words.items()
    for time, time_unit in TIME.words.items()
}

SPEED = Quantity(
    name="speed",
    base="millimetre / second",
    words=_LENGTH_OVER_TIME
    | dict.fromkeys(("mph",), "mile / hour")
    | dict.fromkeys(("kph", "kmh"), "kilometre / hour")
    | dict.fromkeys(("kn", "kt", "kts", "knot", "knots"), "knot"),
    like="30 mph, 22 ft/s or 10 m/s",
)

ILLUMINANCE = Quantity(
    name="illuminance",
    base="lux",
    words=_words(
        lux="lx lux",
        kilolux="klx klux kilolux",
        footcandle="fc footcandle footcandles foot-candle foot-candles",
    ),
    like="15000 lx or 1400 fc",
)


def unit_pairs() -> set[tuple[str, str]]:
    """Return every unit that can be written, with the base unit it is turned into."""
    return {
        (unit, quantity.base)
        for quantity in (LENGTH, ANGLE, TIME, SPEED, ILLUMINANCE)
        for unit in quantity.words.values()
    }
