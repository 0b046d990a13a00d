"""A shot: everything that a shot file says, validated and frozen; and the rows and tables of its day."""

import math
from collections.abc import Callable, Mapping
from datetime import date as Date
from datetime import datetime
from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from forescale.engine.fields.kinds import Height, Light, Quantity, Record, Size
from forescale.engine.files.faults import At, Unfit, nearest, read_model, refuse_twice
from forescale.engine.shot import rows, sections
from forescale.engine.shot.rows import READ, Name
from forescale.engine.units import UnitSystem, quoted

Bearing = Annotated[float, Quantity("angle", 0, 360)]
UtcOffset = Annotated[float, Quantity("offset", -14 * 3600, 14 * 3600)]
Clock = Annotated[float, Quantity("clock", 0, 86_399)]


def _read(read: Callable[[str], object], value: object, what: str, right: str) -> object:
    try:
        return read(value.strip()) if isinstance(value, str) else value
    except ValueError:
        raise Unfit(f"{quoted(str(value))} is not {what}", right=right) from None


def _moment(value: object) -> object:
    found = _read(datetime.fromisoformat, value, "a day and a time", "write them like 2026-05-03 10:10")
    if isinstance(found, datetime) and found.tzinfo is not None:
        raise Unfit(f'"{value}" has an offset in it', right="give that as plate_utc_offset")
    return found


Day = Annotated[Date, BeforeValidator(lambda day: _read(Date.fromisoformat, day, "a day", "write it like 2026-06-21"))]


class Sun(Record):
    """Where and when, and in which bearing the lens looks: by a map, a compass with its declination, or the sun."""

    latitude: Annotated[float, Quantity("north", -90, 90)] | None = None
    longitude: Annotated[float, Quantity("east", -180, 180)] | None = None
    date: Day | None = None
    time: Clock | None = None
    utc_offset: UtcOffset | None = None
    facing: Bearing | None = None
    declination: Annotated[float, Quantity("east", -90, 90)] | None = None
    sun_seen: Annotated[float, Quantity("side", -180, 180)] | None = None  # how far right of the lens's axis it stood
    sun_time: Clock | None = None
    plate_time: Annotated[datetime, BeforeValidator(_moment)] | None = None
    plate_utc_offset: UtcOffset | None = None
    rig_height: Height | None = None  # of what may throw a shadow
    rig_width: Size | None = None

    def check(self) -> None:
        if self.sun_seen is not None and self.facing is not None:
            raise Unfit("give ", At("sun.facing"), " or ", At("sun.sun_seen"), ", not both: they say the same thing")
        if self.date is not None and not 1950 <= self.date.year <= 2050:
            raise Unfit(At("sun.date"), " is out of range: 1950 to 2050, for which the sun's series holds")


MOST_LAMPS = 1000  # of a kind
LampPlace = Annotated[float, Quantity("length", 10, 304_800)]  # to 1000 ft
LampSize = Annotated[float, Quantity("length", 1, 30_480)]  # to 100 ft, a large cloth that light is sent through


class Lamp(Record):
    """One kind of lamp: each `gives` its light at the distance `at`; it `stands` so far from the model."""

    name: Name
    gives: Light
    at: LampPlace
    number: Annotated[int, Field(ge=1, le=MOST_LAMPS)] = 1
    stands: LampPlace | None = None
    loss: Annotated[float, Quantity("number", 0, 20)] = 0.0  # stops, before it
    size: LampSize | None = None
    depth: Annotated[float, Quantity("share", 0, 1)] | None = None  # of its pulse: the first harmonic over the mean
    pulse: Annotated[float, Quantity("number", 10, 1_000_000, word="hz")] | None = None  # None: as the mains


class Cue(Record):
    """Something that is called at a time on screen, counted from the first frame that is used."""

    name: Name
    screen: Annotated[float, Quantity("time", 0, 86_400)]


class Setting(Record):
    """All that is set for a shot, what a saved state keeps; defaults are made without building validators on import."""

    kit: sections.KitChoice
    scale: sections.ScaleChoice = sections.ScaleChoice.model_construct()
    build: tuple[sections.Part, ...] = ()
    stock: tuple[sections.Stock, ...] = ()
    action: sections.Action = sections.Action.model_construct()
    place: sections.Place
    focus: sections.Focus = sections.Focus.model_construct()
    light: sections.LightSet = sections.LightSet.model_construct()
    move: sections.Move = sections.Move.model_construct()
    point: tuple[rows.PointRow, ...] = ()
    outline: tuple[rows.OutlineRow, ...] = ()
    piece: tuple[rows.PieceRow, ...] = ()
    miss: tuple[rows.MissRow, ...] = ()
    witness: tuple[rows.WitnessRow, ...] = ()
    bench: Annotated[tuple[rows.BenchRow, ...], Field(max_length=rows.MOST_READINGS)] = ()
    survey: tuple[rows.SurveyRow, ...] = ()
    limits: sections.Limits = sections.Limits.model_construct()
    stand: sections.Stand = sections.Stand.model_construct()
    sun: Sun = Sun.model_construct()
    lamp: tuple[Lamp, ...] = ()
    cue: tuple[Cue, ...] = ()

    def check(self) -> None:
        _check_pictured(self)
        _check_readings(self)

    @model_validator(mode="before")
    @classmethod
    def _one_survey(cls, data: Any) -> Any:
        """Take a table of one reading, as files of the first version have it, for a list of one."""
        held = data.get("survey") if isinstance(data, Mapping) else None
        return {**data, "survey": [held]} if isinstance(held, Mapping) else data


def _check_pictured(setting: Setting) -> None:
    """Raise Unfit where points, outlines and pieces do not fit the place or each other."""
    place, points, outlines, pieces = setting.place, setting.point, setting.outline, setting.piece
    for name, listed in (("point", points), ("outline", outlines), ("piece", pieces)):
        refuse_twice(f"rows of {name}", [row.name for row in listed])
    known = {row.name for row in pieces}
    placed: tuple[rows.PointRow | rows.OutlineRow, ...] = (*points, *outlines)
    for row in placed:
        if row.piece is not None and row.piece not in known:
            raise Unfit(f'"{row.name}" names the piece "{row.piece}", and there is none of that name')
    if place.lens_height is None and (outlines or any(point.height is not None for point in points)):
        raise Unfit("heights in the picture count from the lens, and there is no ", At("place.lens_height"))
    far = math.isinf(place.background)
    endless = {None: far and place.seems_at is None} | {row.name: far and row.seems_at is None for row in pieces}
    for point in points:
        if point.aside is not None and point.distance is None and endless[point.piece]:
            nothing = f'"{point.name}" stands at infinity, where aside and height say nothing: give its '
            raise Unfit(nothing, At("point.distance"), ", or ", *READ)
    for outline in outlines:
        if endless[outline.piece] if outline.of == "model" else far:
            endless_at = f'"{outline.name}" stands at infinity, where an outline has no size: give '
            raise Unfit(endless_at, At("place.seems_at"))


def _check_readings(setting: Setting) -> None:
    """Raise Unfit where a miss or a mark does not fit the points or the place."""
    known, read = [point.name for point in setting.point], [miss.point for miss in setting.miss]
    for name in read:
        if name not in known:
            raise Unfit(f'a miss is read at "{name}", and there is no such point', right=nearest(name, known))
        if read.count(name) > 1:
            raise Unfit(f'two misses are read at "{name}"', right="leave one out")
    refuse_twice("rows of witness", [witness.name for witness in setting.witness])
    if setting.witness and setting.place.lens_height is None:
        raise Unfit("heights of witness marks count from the lens, and there is no ", At("place.lens_height"))


class SavedState(Record):
    """A state of the shot kept under a name, to go back to or to compare with."""

    name: Name
    kept: datetime
    setting: Setting


class StoredState(SavedState):
    """What was set for a take, and for every other that was set alike: without parts, bench, survey and limits."""


class Take(Record):
    """One take; `good` is None until it is judged, `state` names the stored one it was shot in; no number: the next."""

    number: Annotated[int, Field(ge=1)] | None = None
    time: datetime
    set: str
    good: bool | None = None
    note: str = ""
    state: str | None = None
    weather: str = ""
    model: str = ""


class Shot(Setting):
    """A shot file."""

    schema_version: Literal[1] = Field(alias="schema")
    title: Name
    notes: str = ""
    units: UnitSystem = "imperial"
    mark: tuple[SavedState, ...] = ()
    state: tuple[StoredState, ...] = ()
    take: tuple[Take, ...] = ()

    def check(self) -> None:
        super().check()
        known = {state.name for state in self.state}
        for place, take in enumerate(self.take, start=1):
            if take.state is not None and take.state not in known:
                raise Unfit(f'take {place}, state: no stored state is called "{take.state}"')

    @classmethod
    def read(cls, data: Mapping[str, Any], where: str = "") -> Self:
        """Validate what a file holds; raises BadInput with one line a fault."""
        return read_model(cls, data, where)

    def dump(self) -> dict[str, Any]:
        """Return what a file of this shot holds, lengths as text in the shot's own units."""
        body = self.model_dump(exclude_none=True, exclude_defaults=True, context={"units": self.units})
        return {"schema": self.schema_version, "title": self.title, "units": self.units} | body
