"""The kinds of value that a file or a field holds: how each is read, written, and how far it may go.

A value is text outside and a float inside, in one unit a kind (mm, s, degrees, lux, mm/s); `Quantity` is the
one place where the two meet, for files and for the app alike.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, Literal, NamedTuple, Self

from pydantic import BaseModel, GetCoreSchemaHandler, model_validator
from pydantic_core import CoreSchema, core_schema

from forescale.engine import units
from forescale.engine.fields.kind_table import EXAMPLES, IMPERIAL, KINDS, Kind, plain_number
from forescale.engine.files.faults import Unfit
from forescale.engine.units import EntryError, Stop, UnitSystem, Unlike


class Record(BaseModel, frozen=True, extra="forbid", allow_inf_nan=False, serialize_by_alias=True, defer_build=True):
    """A frozen table of a file, in which an unknown key is a fault."""

    @model_validator(mode="after")
    def _checked(self) -> Self:
        self.check()
        return self

    def check(self) -> None:
        """Raise Unfit where values do not go together; in most tables any do."""


class Written:
    """How pydantic reads a value of a file, and writes one in a system of units."""

    def __init__(self, read: Callable[[Any], Any], held: Callable[[Any, UnitSystem], Any]) -> None:
        self.read, self.held = read, held

    def __get_pydantic_core_schema__(self, _source: Any, _handler: GetCoreSchemaHandler) -> CoreSchema:
        def dump(value: Any, info: Any) -> Any:
            return self.held(value, (info.context or {}).get("units", "metric"))

        write = core_schema.plain_serializer_function_ser_schema(dump, info_arg=True, when_used="unless-none")
        return core_schema.no_info_plain_validator_function(self.read, serialization=write)


class Quantity(NamedTuple):
    """A number with a range: `low` to `high` in the unit held inside, infinity only where `infinite`.

    `in_mm` marks what is read off an instrument's own millimetre scale, whatever the shot's units; `word` is what
    people write before or behind such a number, and may stay. `ways` are the words for + and −, "right" and "left",
    which stand behind the value; where `way_needed` no sign will do. `example` is one that goes with the other fields.
    """

    kind: Kind
    low: float
    high: float
    infinite: bool = False
    in_mm: bool = False
    word: str = ""
    ways: tuple[str, str] | None = None
    way_needed: bool = False
    example: str = ""

    def read(self, text: object) -> float:
        """Return the value that `text` stands for; raises ValueError saying what would be right."""
        kind = KINDS[self.kind]
        if isinstance(text, bool) or not isinstance(text, str | int | float):
            raise Unfit(f"{text!r} should be {kind.like}")
        if not isinstance(text, str) and kind.bare:
            raise Unfit(f"{text} has no unit", right=f"write it as {kind.like}")
        if not isinstance(text, str):
            return self.check(self.parse(text), str(text))
        plain, signed = self.without_way(text)
        return self.check(signed(self.parse(plain)), text)

    def parse(self, text: Any, bare_unit: str | None = None, system: UnitSystem = "imperial") -> float:
        """Return the value of a text, in range or not, a bare number read in `bare_unit`; EntryError with examples."""
        if self.infinite and isinstance(text, str) and units.says_infinity(text):
            return math.inf
        try:
            return KINDS[self.kind].parse(text, bare_unit)
        except Unlike as error:
            raise EntryError(error.wrong, self.like(system) or error.right) from None

    def like(self, system: UnitSystem = "imperial") -> str:
        """Return what would be right, by examples in this field's range, own units first; "" for any of its kind."""
        if self.example:
            return f"write it like {self.example}"
        found = [text for text in EXAMPLES.get(self.kind, ()) if "mm" in text or not self.in_mm]
        fit = [text for text in found if self.low <= KINDS[self.kind].parse(text, None) <= self.high]
        if not found:
            return ""
        own_first = sorted(fit[:2], key=lambda text: (text.split()[-1] in IMPERIAL) is (system == "metric"))
        way = f" {self.ways[0]}" if self.ways else ""
        return f"write it like {' or '.join(f'{text}{way}' for text in own_first) or self.show(self.low)}"

    def without_way(self, text: str) -> tuple[str, Callable[[float], float]]:
        """Return an entry without its way, and what gives its value the sign; the value raises ValueError if not so."""
        if not self.ways:
            return text, lambda value: value
        plus, minus = self.ways
        body, _, last = text.strip().rpartition(" ")
        way = {plus: 1.0, minus: -1.0}.get(last.casefold()) if body else None

        def signed(value: float) -> float:
            if way is None and self.way_needed and value != 0:
                size, wrong = text.strip(" -+"), f'"{text.strip()}" does not say which side'
                raise Unfit(wrong, right=f'write "{size} {minus}" or "{size} {plus}"')
            if way is not None and value < 0:
                raise Unfit(f"{text.strip()} has both a sign and a way", right="write one of them")
            return value if way is None else way * value + 0.0

        return (text if way is None else body), signed

    def check(self, value: float, written: str | None = None, system: UnitSystem = "metric") -> float:
        """Return `value` if it lies in the range; raises ValueError with the range otherwise, `written` as it was."""
        if self.infinite and value == math.inf:
            return value
        if not self.low <= value <= self.high:
            wrong = f"{written or self.show(value)} is out of range: {self.range_text(system)}"
            raise Unfit(wrong, right=self.like(system))
        return value

    def range_text(self, system: UnitSystem = "metric") -> str:
        """Return the range in words, '10 mm to 100 km'."""

        def edge(value: float) -> str:
            return f"{units.number_text(value, 8)} mm" if self.in_mm else KINDS[self.kind].edge(value, system)

        low = self.with_way(self.low, edge) if self.low else "0"
        return f"{low} to {self.with_way(self.high, edge)}{' or inf' if self.infinite else ''}"

    def shown(self, value: float, system: UnitSystem) -> str:
        """Return `value` as people read it, rounded as a crew would."""
        if self.in_mm:
            return f"{units.number_text(value, 6)} mm"
        return self.with_way(value, lambda plain: KINDS[self.kind].shown(plain, system))

    def show(self, value: float, system: UnitSystem = "metric") -> str:
        """Return `value` as the text that a file holds, which reads back as exactly `value`."""
        return self.with_way(value, lambda plain: KINDS[self.kind].write(plain, "metric" if self.in_mm else system))

    def with_way(self, value: float, write: Callable[[float], str]) -> str:
        """Return a value as `write` has it, with the way behind it in place of a sign; nothing has no way."""
        return f"{write(abs(value))} {self.ways[value < 0]}" if self.ways and value else write(value)

    def held(self, value: float, system: UnitSystem) -> str | float:
        """Return what a file holds: text with a unit, or the bare number where the kind has none."""
        if self.kind in {"number", "share", "filter"}:
            return int(value) if value == int(value) else value
        return self.show(value, system)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read by `read`, write by `held`: what pydantic needs to know."""
        return Written(self.read, self.held).__get_pydantic_core_schema__(source, handler)


@dataclass(frozen=True, slots=True)
class Sharpness:
    """How sharp is sharp: a share of the frame's diagonal, a length on the sensor in mm, pixels, or as measured."""

    by: Literal["diagonal", "length", "pixels", "measured"]
    value: float

    @classmethod
    def read(cls, text: object) -> Self:
        """Read "diagonal/1500", "0.025 mm" or "2 px"; raises ValueError saying what would be right."""
        if isinstance(text, cls):
            return text
        wanted = 'write "diagonal/1500", a length, "0.025 mm", pixels, "2 px", or "measured"'
        if not isinstance(text, str):
            raise Unfit(f"{text!r} is not a sharpness", right=wanted)
        plain = text.strip().lower()
        if plain == "measured":
            return cls("measured", 0.0)
        try:
            if plain.startswith("diagonal") and "/" in plain:
                return cls("diagonal", _within(units.parse_number(plain.split("/", 1)[1]), 100, 20000, ""))
            if plain.endswith("px"):
                return cls("pixels", _within(units.parse_number(plain.removesuffix("px")), 0.25, 100, " px"))
            return cls("length", _within(units.parse_length(plain), 0.0005, 1, " mm"))
        except EntryError as error:
            raise Unfit(f"{units.quoted(text)} is not a sharpness", right=wanted) from error

    def __str__(self) -> str:
        """Return the text that reads back as this."""
        number = plain_number(self.value)
        ways = {"diagonal": f"diagonal/{number}", "pixels": f"{number} px", "measured": "measured"}
        return ways.get(self.by, f"{number} mm")

    def coc_mm(self, width_mm: float, height_mm: float, pixel_mm: float, measured_mm: float | None = None) -> float:
        """Return the circle of confusion in mm on an active area of this size and pixel pitch.

        `measured_mm` is what test strips gave there; without any, as measured is a 1500th of the diagonal.
        """
        if self.by == "diagonal" or (self.by == "measured" and measured_mm is None):
            return math.hypot(width_mm, height_mm) / (self.value if self.by == "diagonal" else 1500)
        if self.by == "measured" and measured_mm is not None:
            return measured_mm
        return self.value * (pixel_mm if self.by == "pixels" else 1.0)


def _within(value: float, low: float, high: float, unit: str) -> float:
    if not low <= value <= high:
        raise Unfit(f"{value:g}{unit} is out of range: {low:g} to {high:g}{unit}")
    return value


def _read_stop(text: object) -> Stop:
    """Read a stop of a file: "f/16", "T2.8", 16 or "f/=13.0"; raises ValueError saying what would be right."""
    if isinstance(text, Stop):
        return text
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise Unfit(f"{text!r} is not a stop", right='write "f/16", "T2.8" or "f/=13.0"')
    return units.parse_stop(text)


StopValue = Annotated[Stop, Written(_read_stop, lambda stop, _system: units.stop_text(stop.value, stop.marks))]
SharpnessValue = Annotated[Sharpness, Written(Sharpness.read, lambda sharpness, _system: str(sharpness))]

KM_MM = 1e6
Tape = Annotated[float, Quantity("length", 10, 100 * KM_MM)]
FarTape = Annotated[float, Quantity("length", 10, 100 * KM_MM, infinite=True)]
Size = Annotated[float, Quantity("length", 0.01, 100 * KM_MM)]
Height = Annotated[float, Quantity("length", 0, 10 * KM_MM)]
Offset = Annotated[float, Quantity("length", -2000, 2000, in_mm=True)]
FocalLength = Annotated[float, Quantity("length", 1, 5000, in_mm=True)]
SensorSide = Annotated[float, Quantity("length", 0.5, 500, in_mm=True)]
Ratio = Annotated[float, Quantity("ratio", 1, 10000)]
Rate = Annotated[float, Quantity("number", 0.1, 100000, word="fps", example="24")]
Iso = Annotated[float, Quantity("number", 1, 1e7, word="iso", example="800")]
Duration = Annotated[float, Quantity("time", 1e-6, 86400)]
ShutterAngle = Annotated[float, Quantity("angle", 0.1, 360)]
Sweep = Annotated[float, Quantity("angle", 0, 80)]
Elevation = Annotated[float, Quantity("angle", -89, 89)]
Speed = Annotated[float, Quantity("speed", 0, 1e7)]
Light = Annotated[float, Quantity("light", 0.001, 1e7)]
Force = Annotated[float, Quantity("force", 0.001, 1e6)]
Weight = Annotated[float, Quantity("weight", 0.0001, 1e6)]
Area = Annotated[float, Quantity("area", 1e-6, 1e6)]
Density = Annotated[float, Quantity("density", 1, 25_000)]
Depth = Annotated[float, Quantity("length", 0, KM_MM)]
