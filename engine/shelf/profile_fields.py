"""The fields of camera, lens and head profiles, as a person sees and types them, one after another."""

from datetime import date
from typing import Any, NamedTuple

from pydantic import BaseModel

from forescale.engine import units
from forescale.engine.fields.kinds import Quantity
from forescale.engine.kit.gauges import usual_frames
from forescale.engine.kit.profiles import Head, Lens, Profile, Rates
from forescale.engine.kit.slide_scale import marked_in_inches
from forescale.engine.shot import edit
from forescale.engine.units import EntryError, UnitSystem, Unlike, number_text, quoted

FOCAL = "focal_length"  # of a lens itself: a prime's, or where a zoom begins and ends
FOCALS = (FOCAL, "focal_min", "focal_max")
PIXELS = (16, 100_000)
IN_MM = "uncertainty"  # read in millimetres beside the pupil's place, whatever the shot's units


class FieldPlace(NamedTuple):
    """A field of a profile, or of its mode or pupil row `row`: its name in the file, its label, and what it is."""

    name: str
    label: str
    says: str
    row: int | None = None

    @property
    def is_focal(self) -> bool:
        """Whether it is the focal length of a lens, one or two, for which the file has three fields."""
        return self.row is None and self.name == FOCAL


def rows_of(profile: Profile) -> tuple[Any, ...]:
    """Return the modes of a camera, the pupil rows of a lens, nothing of a head."""
    return tuple(getattr(profile, profile.rows)) if profile.rows else ()


def places(profile: Profile) -> tuple[FieldPlace, ...]:
    """Return all fields of a profile that a person edits, which have a label, in order, those of its rows last."""
    frames = f". Usual frames, in mm: {usual_frames()}"
    return tuple(
        FieldPlace(name, field.title, f"{field.description}{frames if name == 'width' else ''}", row)
        for row, record in ((None, profile), *enumerate(rows_of(profile)))
        for name, field in type(record).model_fields.items()
        if field.title is not None
    )


def _record(profile: Profile, place: FieldPlace) -> BaseModel:
    return profile if place.row is None else rows_of(profile)[place.row]


def quantity_at(profile: Profile, place: FieldPlace) -> Quantity | None:
    """Return the kind and range of what stands at a place, None where it is no plain quantity."""
    if place.is_focal or place.name == "fps":
        return None
    quantity = edit.quantity_of(type(_record(profile, place)), place.name)
    return quantity._replace(in_mm=False) if quantity is not None and isinstance(profile, Head) else quantity


def value_at(profile: Profile, place: FieldPlace) -> Any:
    """Return what stands at a place; of a lens's focal length, its shortest and its longest."""
    if isinstance(profile, Lens) and place.is_focal:
        return (profile.shortest, profile.longest)
    return getattr(_record(profile, place), place.name)


def shown_text(profile: Profile, place: FieldPlace, system: UnitSystem) -> str:
    """Return what stands at a place as people read it, marked where it is but a guess; a dash where nothing does."""
    guesses = getattr(_record(profile, place), "guesses", ())
    guess = " (a guess)" if {place.name, *(FOCALS if place.is_focal else ())} & {*guesses} else ""
    return f"{entry_text(profile, place, system, exact=False) or '-'}{guess}"


def _system(profile: Profile, place: FieldPlace, system: UnitSystem) -> UnitSystem:
    """Return the units that a place is shown and typed in: a head's as its slide is marked, else the shot's."""
    if isinstance(profile, Head):
        return "imperial" if marked_in_inches(profile) else "metric"
    return "metric" if place.name == IN_MM else system


def entry_text(profile: Profile, place: FieldPlace, system: UnitSystem, *, exact: bool = True) -> str:
    """Return what stands at a place as an entry that reads back as the same, or rounded."""
    value, quantity = value_at(profile, place), quantity_at(profile, place)
    system = _system(profile, place, system)
    match value:
        case tuple() if place.is_focal:
            return " to ".join(f"{number_text(end, 9)} mm" for end in dict.fromkeys(value))
        case tuple():
            return " ".join(number_text(rate, 9) for rate in sorted(value))
        case Rates():
            return f"{number_text(value.min, 9)} to {number_text(value.max, 9)}"
    if quantity is None or value is None:
        return edit.text_of(value, None, system)
    feet = quantity.kind == "length" and not quantity.in_mm and system == "imperial"  # whatever its file has
    return quantity.show(value, system) if exact and not feet else quantity.shown(value, system)


def alone_means(profile: Profile, place: FieldPlace, system: UnitSystem) -> str:
    """Return the unit in which a number alone is read at a place, "" where there is none."""
    if place.is_focal:
        return "mm"
    if place.name == "readout":
        return "ms"
    return edit.alone_means(quantity_at(profile, place), _system(profile, place, system), _shown(profile, place))


def _shown(profile: Profile, place: FieldPlace) -> float | None:
    """Return the size in whose unit a number alone is read: what stands there, small on a slide or about a pupil."""
    return edit.SMALL_MM if isinstance(profile, Head) or place.name == IN_MM else value_at(profile, place)


def held(profile: Profile, place: FieldPlace, text: str, system: UnitSystem) -> Any:
    """Return what a file would hold for an entry at a place; raises ValueError saying what would be right."""
    text, quantity = " ".join(text.split()), quantity_at(profile, place)
    if quantity is not None and quantity.kind == "length" and text == entry_text(profile, place, system):  # as it is
        return quantity.show(value_at(profile, place))
    match place.name:
        case "fps":
            return read_rates(text)
        case "width_px" | "height_px":
            return _whole(text)
        case "measured" | "sharpness_measured":
            try:
                return date.fromisoformat(text)
            except ValueError:
                raise EntryError(f"{quoted(text)} is not a day", "write it like 2026-03-14") from None
        case "marks":
            if marks := {"f": "f", "t": "T"}.get(text.casefold().removesuffix("-stops").removesuffix("/")):
                return marks
            raise EntryError(f"{quoted(text)} is not known", "write f or T")
        case "widest" | "smallest" if isinstance(profile, Lens):
            stop = units.parse_stop(text)
            return units.stop_text(stop.value, stop.marks or profile.marks)
        case "readout" if quantity is not None:
            return quantity.show(quantity.check(quantity.parse(text, "ms")))
        case _ if quantity is not None:
            return edit.complete(quantity, text, _system(profile, place, system), _shown(profile, place))
    return text


def read_rates(text: str) -> list[float] | dict[str, float]:
    """Return frame rates, `24 25 30` or `24, 25, 30`, or a span of whole rates, `1 to 120`; raises EntryError."""
    body, rate = text.removesuffix("fps").strip(), edit.number_at(Rates, "min").read
    if " to " in body:
        low, high = (rate(end) for end in body.split(" to ", 1))
        if low > high:
            raise EntryError(f"{number_text(low, 6)} is above {number_text(high, 6)}: write the lower rate first")
        return {"min": low, "max": high}
    words = [word.removesuffix(",") for word in body.split()]
    if joined := next((word for word in words if "," in word), None):
        raise EntryError(f'"{joined}" may be one rate or two: put a space between rates, and a point into one: 23.976')
    if not words:
        raise EntryError("a rate is needed: write 24 25 30, or 1 to 120")
    return sorted({rate(word) for word in words})


def read_focal(text: str) -> tuple[float, float]:
    """Return the shortest and the longest focal length in mm, `35 mm` or `24 to 80 mm`; raises EntryError."""
    try:
        ends = [units.parse_length(end, "mm") for end in text.split(" to ", 1)]
    except EntryError:
        raise EntryError(f"{quoted(text)} is not a focal length", "write 35 mm, or 17 to 50 mm for a zoom") from None
    ends = [edit.number_at(Lens, FOCAL).check(end) for end in ends]
    if ends[0] > ends[-1]:
        raise EntryError(f"{number_text(ends[0], 6)} is above {number_text(ends[-1], 6)}: write the shorter first")
    return ends[0], ends[-1]


def _whole(text: str) -> int:
    try:
        count = units.parse_number(text)
    except Unlike as error:
        raise EntryError(error.wrong, "write it like 2048") from None
    if count != int(count):
        raise EntryError(f"{quoted(text)} is not a whole number of pixels", "write it like 2048")
    if not PIXELS[0] <= count <= PIXELS[1]:
        raise EntryError(f"{number_text(count, 9)} is out of range: {PIXELS[0]} to {PIXELS[1]} pixels")
    return int(count)
