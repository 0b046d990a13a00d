"""The words in which people write a unit, quantity by quantity; how large each is stands in `sizes.py`."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

UnitSystem = Literal["imperial", "metric"]


@dataclass(frozen=True, slots=True, eq=False)
class UnitKind:
    """One kind of thing that is entered with a unit.

    `base` is the unit of the floats inside; `words` leads from what people write to the name of the unit; `like` is
    an example; `chains` are the units that may follow one another from large to small; `others` says that Pint may
    know further units; `refused` has units of another quantity that is easily taken for this one, with the reason.
    """

    name: str
    base: str
    words: Mapping[str, str]
    like: str
    chains: tuple[tuple[str, ...], ...] = ()
    others: bool = False
    refused: Mapping[str, str] = field(default_factory=dict)


def _words(**spellings: str) -> dict[str, str]:
    return {word: unit for unit, words in spellings.items() for word in words.split()}


LENGTH = UnitKind(
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
    others=True,
)

ANGLE = UnitKind(
    name="angle",
    base="degree",
    words=_words(
        degree="deg degree degrees °",
        arcminute="arcmin arcminute arcminutes '",
        arcsecond='arcsec arcsecond arcseconds "',
    ),
    like="15 deg or 9.5 deg",
    chains=(("degree", "arcminute", "arcsecond"),),
    others=True,
)

TIME = UnitKind(
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
    others=True,
)

SPEED = UnitKind(
    name="speed",
    base="millimetre / second",
    words=dict.fromkeys(("mph",), "mile / hour") | dict.fromkeys(("kph", "kmh"), "kilometre / hour"),  # and LENGTH/TIME
    like="30 mph, 22 ft/s or 10 m/s",
    others=True,
)

_LUMINANCE = "nit nits cd/m2 cd/m² fl ftl foot-lambert foot-lamberts footlambert footlamberts lambert lamberts asb sb"

ILLUMINANCE = UnitKind(
    name="illuminance",
    base="lux",
    words=_words(
        lux="lx lux",
        kilolux="klx klux kilolux",
        footcandle="fc footcandle footcandles foot-candle foot-candles",
        kilofootcandle="kfc",
    ),
    like="15000 lx or 1400 fc",
    refused=dict.fromkeys(
        _LUMINANCE.split(), "measures luminance, what a surface gives off, and not the light that falls on the model"
    ),
)

FORCE = UnitKind(
    name="force",
    base="newton",
    words=_words(newton="n newton newtons", kilonewton="kn", kilogram_force="kgf", pound_force="lbf"),
    like="20 N or 5 lbf",
    refused=dict.fromkeys(("lb", "lbs"), "measures weight; a pull of as many pounds is written in lbf")
    | dict.fromkeys(("kg",), "measures weight; a pull of as many kilograms is written in kgf"),
)

WEIGHT = UnitKind(
    name="weight",
    base="kilogram",
    words=_words(
        gram="g gram grams",
        kilogram="kg kilogram kilograms",
        tonne="t tonne tonnes",
        ounce="oz ounce ounces",
        pound="lb lbs pound pounds",
    ),
    like="12 kg or 30 lb",
    chains=(("pound", "ounce"), ("kilogram", "gram")),
    refused=dict.fromkeys(("lbf", "kgf", "n"), "measures force; what a thing weighs is written in kg or lb"),
)

_AREAS = {"mm": "millimetre", "cm": "centimetre", "m": "metre", "in": "inch", "ft": "foot"}

AREA = UnitKind(
    name="area",
    base="metre ** 2",
    words={text: f"{unit} ** 2" for word, unit in _AREAS.items() for text in (f"{word}2", f"{word}²", f"sq{word}")},
    like="1.1 m2 or 12 ft2",
)

DENSITY = UnitKind(
    name="density",
    base="kilogram / metre ** 3",
    words={
        f"{weight}/{volume}": f"{whole} / {part} ** 3"
        for weight, whole, word, part in (
            ("kg", "kilogram", "m", "metre"),
            ("g", "gram", "cm", "centimetre"),
            ("lb", "pound", "ft", "foot"),
        )
        for volume in (f"{word}3", f"{word}³", f"cu{word}")
    },
    like="450 kg/m3 or 28 lb/ft3",
)
