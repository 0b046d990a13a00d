"""Values with a way said in a word, so far to the left, so many degrees up; and places in a picture."""

from dataclasses import dataclass
from typing import Annotated, Literal, Self, get_args

from forescale.engine import units
from forescale.engine.fields.kinds import KM_MM, Quantity, Written
from forescale.engine.files.faults import Unfit
from forescale.engine.formulas.head import Travel
from forescale.engine.formulas.silhouette import Corner

Way = Literal["right", "left", "up", "down", "forward", "back"]
WAYS: tuple[Way, ...] = get_args(Way)
FARTHEST_MM = 100_000.0  # that a move carries a camera

ASIDE = Quantity("length", -100 * KM_MM, 100 * KM_MM, ways=("right", "left"), way_needed=True)
SHARE = Quantity("share", 0, 1)
LEVEL = Quantity("length", -10 * KM_MM, 10 * KM_MM)

Aside = Annotated[float, ASIDE]
SignedHeight = Annotated[float, LEVEL]
Aim = Annotated[float, Quantity("angle", -80, 80, ways=("up", "down"))]


@dataclass(frozen=True, slots=True)
class Carried:
    """How far a move carries the camera, in mm, and which way; never negative."""

    way: Way
    mm: float

    @classmethod
    def read(cls, text: object, bare_unit: str | None = None) -> Self:
        """Read "2 in left", "1.5 m forward"; raises ValueError saying what would be right."""
        if isinstance(text, cls):
            return text
        wanted = f'write it like "{"5 cm" if bare_unit == "m" else "2 in"} left"; ways are {", ".join(WAYS)}'
        words = text.split() if isinstance(text, str) else []
        way = next((way for way in WAYS if words and words[-1].casefold() == way), None)
        if way is None or len(words) < 2:
            raise Unfit(f"{units.quoted(str(text))} is not a travel", right=wanted)
        mm = units.parse_length(" ".join(words[:-1]), bare_unit)
        if not 0 <= mm <= FARTHEST_MM:
            raise Unfit(f"{text} is out of range: 0 to {FARTHEST_MM / 1000:g} m one way")
        return cls(way, mm)

    def text(self, system: units.UnitSystem) -> str:
        """Return the text that reads back as this."""
        return f"{units.exact_length(self.mm, system)} {self.way}"

    @property
    def travel(self) -> Travel:
        """The travel in the frame of reference."""
        against = {"left": "right", "down": "up", "back": "forward"}.get(self.way)
        return Travel(**{f"{against or self.way}_mm": -self.mm if against else self.mm})


@dataclass(frozen=True, slots=True)
class FramePlace:
    """Where a thing stands along one side of the picture: a share of it, 0 to 1, or recorded pixels."""

    value: float
    in_pixels: bool = False

    @classmethod
    def read(cls, text: object) -> Self:
        """Read 0.31, "31 %" or "635 px"; raises ValueError saying what would be right."""
        if isinstance(text, cls):
            return text
        wanted = 'write a share of the frame such as 0.31 or 31 %, or pixels such as "635 px"'
        if isinstance(text, bool) or not isinstance(text, str | int | float):
            raise Unfit(f"{text!r} is not a place in the picture", right=wanted)
        plain = str(text).strip().lower()
        in_pixels = plain.endswith("px")
        value = SHARE.parse(plain) if not in_pixels else units.parse_number(plain.removesuffix("px").strip())
        if not 0 <= value <= (100_000 if in_pixels else 1):
            raise Unfit(f"{text} lies outside the picture", right=wanted)
        return cls(value, in_pixels)

    def held(self) -> str | float:
        """Return what a file holds for this."""
        number = int(self.value) if self.value == int(self.value) else self.value
        return f"{number} px" if self.in_pixels else number

    def share(self, pixels: float) -> float:
        """Return it as a share of a side with so many pixels."""
        return self.value / pixels if self.in_pixels else self.value


def read_corner(value: object) -> Corner:
    """Read ["2 ft left", "59 ft"] or the same with "arc"; raises ValueError saying what would be right."""
    if isinstance(value, Corner):
        return value
    if not isinstance(value, list | tuple) or len(value) not in {2, 3} or list(value[2:]) not in ([], ["arc"]):
        right = 'write ["2 ft left", "59 ft"], in the middle of an arc "arc" last'
        raise Unfit(f"{value!r} is not a corner", right=right)
    return Corner(ASIDE.read(value[0]), LEVEL.read(value[1]), len(value) == 3)


def corner_held(corner: Corner, system: units.UnitSystem) -> list[str]:
    """Return what a file holds for a corner."""
    return [ASIDE.show(corner.x, system), LEVEL.show(corner.h, system), *(["arc"] if corner.arc else [])]


CarriedValue = Annotated[Carried, Written(Carried.read, Carried.text)]
FramePlaceValue = Annotated[FramePlace, Written(FramePlace.read, lambda place, _system: place.held())]
CornerValue = Annotated[Corner, Written(read_corner, corner_held)]
