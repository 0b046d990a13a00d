"""The parts of a shot that belong to the day: the sun, lamps, and cues."""

from collections.abc import Callable
from datetime import date as Date
from datetime import datetime
from typing import Annotated, Self

from pydantic import BeforeValidator, Field, model_validator

from forescale.engine.fields.kinds import Height, Light, Quantity, Record, Size, Tape
from forescale.engine.files.faults import At, Unfit

Bearing = Annotated[float, Quantity("angle", 0, 360)]
UtcOffset = Annotated[float, Quantity("offset", -14 * 3600, 14 * 3600)]
Clock = Annotated[float, Quantity("clock", 0, 86_399)]


def _day(value: object) -> object:
    return _read(Date.fromisoformat, value, "a day", "write it like 2026-06-21")


def _moment(value: object) -> object:
    found = _read(datetime.fromisoformat, value, "a day and a time", "write them like 2026-05-03 10:10")
    if isinstance(found, datetime) and found.tzinfo is not None:
        raise Unfit(f'"{value}" has an offset in it', right="give that as plate_utc_offset")
    return found


def _read(read: Callable[[str], object], value: object, what: str, right: str) -> object:
    try:
        return read(value.strip()) if isinstance(value, str) else value
    except ValueError:
        raise Unfit(f'"{value}" is not {what}', right=right) from None


class Sun(Record):
    """Where and when, and in which bearing the lens looks: by a map, by a compass with its declination, or by the sun.

    `sun_seen` is how far right of the lens's axis the sun stood at `sun_time`. `plate_time` is when the piece to match
    was shot; `rig_height` and `rig_width` are of what may throw a shadow into the picture.
    """

    latitude: Annotated[float, Quantity("north", -90, 90)] | None = None
    longitude: Annotated[float, Quantity("east", -180, 180)] | None = None
    date: Annotated[Date, BeforeValidator(_day)] | None = None
    time: Clock | None = None
    utc_offset: UtcOffset | None = None
    facing: Bearing | None = None
    declination: Annotated[float, Quantity("east", -90, 90)] | None = None
    sun_seen: Annotated[float, Quantity("side", -180, 180)] | None = None
    sun_time: Clock | None = None
    plate_time: Annotated[datetime, BeforeValidator(_moment)] | None = None
    plate_utc_offset: UtcOffset | None = None
    rig_height: Height | None = None
    rig_width: Size | None = None

    @model_validator(mode="after")
    def _one_bearing(self) -> Self:
        if self.sun_seen is not None and self.facing is not None:
            raise Unfit("give ", At("sun.facing"), " or ", At("sun.sun_seen"), ", not both: they say the same thing")
        if self.date is not None and not 1950 <= self.date.year <= 2050:
            raise Unfit(At("sun.date"), " is out of range: 1950 to 2050, for which the sun's series holds")
        return self


MOST_LAMPS = 1000  # of a kind


class Lamp(Record):
    """One kind of lamp: each `gives` its light at the distance `at`; it `stands` so far from the model.

    `loss` is what is before it takes, in stops. `depth` is the first harmonic of its pulse over its mean, 0 to 1;
    `pulse` in Hz, left out as the mains make it.
    """

    name: str = Field(min_length=1)
    gives: Light
    at: Tape
    number: Annotated[int, Field(ge=1, le=MOST_LAMPS)] = 1
    stands: Tape | None = None
    loss: Annotated[float, Quantity("number", 0, 20)] = 0.0
    size: Size | None = None
    depth: Annotated[float, Quantity("number", 0, 1)] | None = None
    pulse: Annotated[float, Quantity("number", 10, 1_000_000, word="hz")] | None = None


class Cue(Record):
    """Something that is called at a time on screen, counted from the first frame that is used."""

    name: str = Field(min_length=1)
    screen: Annotated[float, Quantity("time", 0, 86_400)]
