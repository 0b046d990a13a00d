"""The sun of a shot over its day, which no lens changes: kept, since every step of the shot asks for it again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import lru_cache

from forescale.engine.formulas import sun
from forescale.engine.formulas.sun import Direction, Site, nearest, noon, rise_and_set, windows
from forescale.engine.shot.day_records import Sun
from forescale.engine.solve.day_groups import SunNearest
from forescale.engine.units.compass import DAY_S

WITHIN_DEG = 5.0  # of where the sun stood the light is taken as the same (common practice, no source)
DAYS_AHEAD = 30
NEEDED = ("latitude", "longitude", "date", "time", "utc_offset")
_EPOCH = datetime(2000, 1, 1, 12)


@dataclass(frozen=True, slots=True)
class SunDay:
    """Where the sun is seen at the time in hand and where it stood at the plate's, and the day's times as text."""

    seen: Direction
    towards: Direction
    facing_deg: float | None
    turns_deg_per_min: float
    rise: str | None
    noon: str
    noon_elevation_deg: float
    set: str | None
    windows: tuple[tuple[str, str], ...]
    nearest: tuple[SunNearest, ...]


def missing(there: Sun) -> tuple[str, ...]:
    """Return the fields without which nothing can be said of the sun."""
    return tuple(name for name in NEEDED if getattr(there, name) is None)


def moment(day: date, seconds: float, offset_s: float) -> float:
    """Return the days since the epoch of the sun's series of a local time, `seconds` after midnight."""
    midnight = datetime(day.year, day.month, day.day)
    return (midnight - _EPOCH) / timedelta(days=1) + (seconds - offset_s) / DAY_S


def path_of_day(there: Sun, steps: int) -> tuple[tuple[float, Direction], ...]:
    """Return the sun at `steps` + 1 even times of the day, each in s from midnight; none where it is not said when."""
    if missing(there) or there.date is None or there.utc_offset is None:
        return ()
    place, times = _place(there), [DAY_S * step / steps for step in range(steps + 1)]
    return tuple((at, sun.sun_seen(moment(there.date, at, there.utc_offset), *place)) for at in times)


@lru_cache(maxsize=8)
def sun_day(there: Sun) -> SunDay | None:
    """Return the day of the sun; None where the shot does not say when and where."""
    if missing(there) or there.date is None or there.time is None or there.utc_offset is None:
        return None
    place, offset = _place(there), there.utc_offset
    now, start = moment(there.date, there.time, offset), moment(there.date, 0.0, offset)
    seen, at_noon = sun.sun_seen(now, *place), noon(start, place)
    rise, set_ = rise_and_set(start, place)
    towards = seen if there.plate_time is None else _at_plate(there, there.plate_time, place, offset)
    return SunDay(
        seen=seen,
        towards=towards,
        facing_deg=_facing(there, there.date, place, offset),
        turns_deg_per_min=sun.turns_deg_per_min(now, *place),
        rise=None if rise is None else clock(rise - start),
        noon=clock(at_noon - start),
        noon_elevation_deg=sun.sun_seen(at_noon, *place).elevation_deg,
        set=None if set_ is None else clock(set_ - start),
        windows=tuple(
            (clock(first - start), clock(last - start)) for first, last in windows(start, towards, WITHIN_DEG, place)
        ),
        nearest=tuple(
            _nearest(there.date + timedelta(days=ahead), towards, place, offset) for ahead in range(DAYS_AHEAD + 1)
        ),
    )


def clock(days: float) -> str:
    """Return a time of day to the minute from the days since midnight, "04:54"; the day's end is "24:00"."""
    minutes = round(days * 1440)
    return f"{minutes // 60:02}:{minutes % 60:02}"


def _place(there: Sun) -> Site:
    return Site(there.latitude or 0.0, there.longitude or 0.0)


def _at_plate(there: Sun, plate: datetime, place: Site, offset_s: float) -> Direction:
    """Return where the sun stood when the plate was shot."""
    own = offset_s if there.plate_utc_offset is None else there.plate_utc_offset
    return sun.sun_seen((plate - _EPOCH) / timedelta(days=1) - own / DAY_S, *place)


def _facing(there: Sun, day: date, place: Site, offset_s: float) -> float | None:
    """Return the true bearing of the lens: a compass's with its declination, or from where it saw the sun."""
    if there.facing is not None:
        return (there.facing + (there.declination or 0.0)) % 360
    if there.sun_seen is None or there.sun_time is None:
        return None
    return (sun.sun_seen(moment(day, there.sun_time, offset_s), *place).azimuth_deg - there.sun_seen) % 360


def _nearest(day: date, towards: Direction, place: Site, offset_s: float) -> SunNearest:
    start = moment(day, 0.0, offset_s)
    found = nearest(start, towards, place)
    return SunNearest(day.isoformat(), None if found is None else clock(found.day - start), found and found.misses_deg)
