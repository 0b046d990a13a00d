"""The fields of camera, lens and head profiles, as a person sees and types them, one after another."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from pydantic import BaseModel

from forescale.engine import units
from forescale.engine.fields.kinds import Quantity
from forescale.engine.kit.gauges import usual_frames
from forescale.engine.kit.profiles import Camera, Head, Lens, Mode, Profile, PupilRow, Rates
from forescale.engine.shot import edit
from forescale.engine.units import EntryError, Stop, UnitSystem, number_text

FOCAL = "focal"  # a lens's focal length, one or two: the file has three fields for it
IN_MM = frozenset({"uncertainty", "slide_step"})  # read off a millimetre scale, whatever the shot's units
PIXELS = (16, 100_000)
INNER: dict[type[Profile], tuple[str, type[BaseModel], str]] = {
    Camera: ("mode", Mode, "mode"),
    Lens: ("pupil", PupilRow, "pupil"),
}


@dataclass(frozen=True, slots=True)
class ProfileField:
    """A field: its name in the file, its label, and what it is."""

    name: str
    label: str
    says: str


@dataclass(frozen=True, slots=True)
class FieldPlace:
    """Where a field stands in a profile: of itself, or of its mode or pupil row number `row`."""

    field: ProfileField
    row: int | None = None


_NAMED = (
    ProfileField("name", "name", "its file's name, and what a shot calls it by"),
    ProfileField("title", "title", "what people call it"),
    ProfileField("notes", "notes", "anything worth keeping with it"),
)
_MODE = (
    ProfileField("name", "mode", "what a shot calls it by"),
    ProfileField(
        "width", "width", f"of the area that is recorded, on the sensor. Usual frames, in mm: {usual_frames()}"
    ),
    ProfileField("height", "height", "of the area that is recorded, on the sensor"),
    ProfileField("width_px", "pixels across", "how many pixels are recorded across"),
    ProfileField("height_px", "pixels down", "how many pixels are recorded from top to bottom"),
    ProfileField("fps", "rates", "set rates as 24 25 30, or 1 to 120 for any whole rate between"),
    ProfileField("iso_base", "base ISO", "taken where a shot leaves the ISO open"),
    ProfileField("iso_max", "top ISO", "the highest that is still good"),
    ProfileField("iso_min", "lowest ISO", "the lowest that may be set; empty: the base"),
    ProfileField(
        "readout", "readout", "time to read a frame from top to bottom, 0 ms for all at once; empty if not known"
    ),
    ProfileField("data_rate", "data rate", "MB a second at the top rate; empty if not known"),
    ProfileField("sharpness", "own sharpness", "the circle of confusion that test strips gave; empty if not known"),
    ProfileField("sharpness_error", "its error", "half of the band that holds it 95 times in 100"),
    ProfileField("sharpness_measured", "found on", "the day, as 2026-03-14; empty if not known"),
)
_LENS = (
    ProfileField(FOCAL, "focal length", "35 mm for a prime, 24 mm to 80 mm for a zoom"),
    ProfileField("marks", "marked in", "f or T: which stops stand on the ring"),
    ProfileField("widest", "widest stop", "the first mark on the ring"),
    ProfileField("smallest", "last stop", "the last mark on the ring"),
    ProfileField("transmission_loss", "loss", "stops lost in the glass, between f and T"),
    ProfileField("close_focus", "close focus", "the nearest focus mark, from the sensor plane"),
    ProfileField("squeeze", "squeeze", "1 for a spherical lens, 2 where it squeezes to half the width"),
    ProfileField(
        "pupil_magnification", "exit/entrance", "width of the exit pupil over the entrance pupil's; empty if not known"
    ),
)
_PUPIL = (
    ProfileField("focal_length", "pupil at", "the focal length at which it was found"),
    ProfileField("focus", "focused at", "the focus mark at which it was found, or inf"),
    ProfileField("ahead", "ahead", "entrance pupil ahead of the sensor plane; negative is behind"),
    ProfileField("uncertainty", "give or take", "how far off it may be; empty if not known"),
    ProfileField("measured", "measured", "the day, as 2026-03-14; empty if not known"),
    ProfileField(
        "pupil_magnification", "exit/entrance", "of the pupils here, where it differs; empty: as the lens has it"
    ),
)
_HEAD = (
    ProfileField("slide_min", "slide from", "the lowest reading on the slide"),
    ProfileField("slide_max", "slide to", "the highest reading on the slide"),
    ProfileField("slide_step", "slide step", "how finely the slide is marked"),
    ProfileField(
        "sensor_at_zero", "sensor at 0", "sensor plane ahead of the pan axis at reading 0; negative is behind"
    ),
    ProfileField("tilt_drop", "tilt below", "how far the tilt axis lies below the lens axis"),
    ProfileField("tilt_ahead", "tilt ahead", "how far the tilt axis lies ahead of the pan axis"),
)
_OWN: dict[type[Profile], tuple[ProfileField, ...]] = {Camera: _NAMED, Lens: (*_NAMED, *_LENS), Head: (*_NAMED, *_HEAD)}
_OF_ROW: dict[str, tuple[ProfileField, ...]] = {"mode": _MODE, "pupil": _PUPIL}


def labels(profile: Profile) -> dict[str, str]:
    """Return the labels of the fields whose names in the file are not words, by those names."""
    fields = (*_OWN[type(profile)], *_OF_ROW.get(rows_name(profile) or "", ()))
    return {field.name: field.label for field in fields if "_" in field.name}


def rows_name(profile: Profile) -> str | None:
    """Return the field that holds the profile's rows, modes or pupil rows; None for a head."""
    return INNER[type(profile)][0] if type(profile) in INNER else None


def rows_of(profile: Profile) -> tuple[Any, ...]:
    """Return the modes of a camera, the pupil rows of a lens, nothing of a head."""
    name = rows_name(profile)
    return () if name is None else tuple(getattr(profile, name))


def places(profile: Profile) -> tuple[FieldPlace, ...]:
    """Return all fields of a profile in order, those of its rows after its own."""
    own = [FieldPlace(field) for field in _OWN[type(profile)]]
    inner = _OF_ROW.get(rows_name(profile) or "", ())
    return (*own, *(FieldPlace(field, row) for row in range(len(rows_of(profile))) for field in inner))


def record_at(profile: Profile, place: FieldPlace) -> BaseModel:
    """Return the profile, or the row of it, that a place is in."""
    return profile if place.row is None else rows_of(profile)[place.row]


def quantity_at(profile: Profile, place: FieldPlace) -> Quantity | None:
    """Return the kind and range of what stands at a place, None where it is no plain quantity."""
    if place.field.name in {FOCAL, "fps"}:
        return None
    return edit.quantity_of(type(record_at(profile, place)), place.field.name)


def value_at(profile: Profile, place: FieldPlace) -> Any:
    """Return what stands at a place; of a lens's focal length, its shortest and its longest."""
    if isinstance(profile, Lens) and place.field.name == FOCAL:
        return (profile.shortest, profile.longest)
    return getattr(record_at(profile, place), place.field.name)


def entry_text(profile: Profile, place: FieldPlace, system: UnitSystem) -> str:
    """Return what stands at a place as an entry that reads back as the same."""
    return _text(profile, place, system, exact=True)


def shown_text(profile: Profile, place: FieldPlace, system: UnitSystem) -> str:
    """Return what stands at a place as people read it, a dash where nothing does."""
    return _text(profile, place, system, exact=False) or "-"


def _text(profile: Profile, place: FieldPlace, system: UnitSystem, *, exact: bool) -> str:
    value, quantity = value_at(profile, place), quantity_at(profile, place)
    system = "metric" if place.field.name in IN_MM else system
    match value:
        case None:
            return ""
        case (float() as low, float() as high) if place.field.name == FOCAL:
            ends = dict.fromkeys((low, high))
            return " to ".join(f"{number_text(end, 9)} mm" for end in ends)
        case tuple():
            return " ".join(number_text(rate, 9) for rate in sorted(value))
        case Rates():
            return f"{number_text(value.min, 9)} to {number_text(value.max, 9)}"
        case Stop():
            return units.stop_text(value.value, value.marks)
        case date():
            return value.isoformat()
        case _ if quantity is not None:
            return quantity.show(value, system) if exact else quantity.shown(value, system)
        case _:
            return str(value)


# What is typed


def held(profile: Profile, place: FieldPlace, text: str, system: UnitSystem) -> Any:
    """Return what a file would hold for an entry at a place; raises ValueError saying what would be right."""
    text = " ".join(text.split())
    quantity = quantity_at(profile, place)
    match place.field.name:
        case "fps":
            return read_rates(text)
        case "width_px" | "height_px":
            return _whole(text)
        case "measured" | "sharpness_measured":
            return _day(text)
        case "marks":
            return _marks(text)
        case "widest" | "smallest" if isinstance(profile, Lens):
            stop = units.parse_stop(text)
            return units.stop_text(stop.value, stop.marks or profile.marks)
        case "readout" if quantity is not None:
            return quantity.show(quantity.check(units.parse_time(text, "ms")))
        case _ if quantity is not None:
            in_mm = place.field.name in IN_MM
            shown = 1.0 if in_mm else value_at(profile, place)
            return edit.complete(quantity, text, "metric" if in_mm else system, shown)
        case _:
            return text


def read_rates(text: str) -> list[float] | dict[str, float]:
    """Return frame rates, `24 25 30` or `24, 25, 30`, or a span of whole rates, `1 to 120`; raises EntryError."""
    body = text.removesuffix("fps").strip()
    if " to " in body:
        low, high = (_rate(end) for end in body.split(" to ", 1))
        if low > high:
            raise EntryError(f"{number_text(low, 6)} is above {number_text(high, 6)}: write the lower rate first")
        return {"min": low, "max": high}
    words = [word.removesuffix(",") for word in body.split()]
    if joined := next((word for word in words if "," in word), None):
        raise EntryError(f'"{joined}" may be one rate or two: put a space between rates, and a point into one: 23.976')
    if not words:
        raise EntryError("a rate is needed: write 24 25 30, or 1 to 120")
    return sorted({_rate(word) for word in words})


def _rate(text: str) -> float:
    quantity = edit.quantity_of(Rates, "min")
    assert quantity is not None
    return quantity.check(units.parse_number(text))


def read_focal(text: str) -> tuple[float, float]:
    """Return the shortest and the longest focal length in mm, `35 mm` or `24 to 80 mm`; raises EntryError."""
    quantity = edit.quantity_of(Lens, "focal_length")
    assert quantity is not None
    try:
        ends = [units.parse_length(end, "mm") for end in text.split(" to ", 1)]
    except EntryError:
        raise EntryError(f'"{text}" is not a focal length', "write it like 35 mm, or 17 to 50 mm for a zoom") from None
    ends = [quantity.check(end) for end in ends]
    if ends[0] > ends[-1]:
        raise EntryError(f"{number_text(ends[0], 6)} is above {number_text(ends[-1], 6)}: write the shorter first")
    return ends[0], ends[-1]


def _whole(text: str) -> int:
    count = units.parse_number(text)
    if count != int(count):
        raise EntryError(f"{text} is not a whole number of pixels", "write it like 2048")
    if not PIXELS[0] <= count <= PIXELS[1]:
        raise EntryError(f"{number_text(count, 9)} is out of range: {PIXELS[0]} to {PIXELS[1]} pixels")
    return int(count)


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise EntryError(f'"{text}" is not a day', "write it like 2026-03-14") from None


def _marks(text: str) -> str:
    marks = {"f": "f", "t": "T"}.get(text.casefold().removesuffix("-stops").removesuffix("/"))
    if marks is None:
        raise EntryError(f'"{text}" is not known', "write f or T")
    return marks
