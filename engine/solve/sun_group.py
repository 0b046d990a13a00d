"""The answer's sun group: the sun's day, and where the sun and the rig's shadow stand from the lens."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from functools import lru_cache
from typing import NamedTuple

from forescale.engine.formulas import projection, sun
from forescale.engine.formulas.sun import Direction, Site, nearest, noon, rise_and_set, windows
from forescale.engine.formulas.tiling import covers
from forescale.engine.shot.records import Setting, Sun
from forescale.engine.solve.lens_setup import LensSetup
from forescale.engine.solve.view import View
from forescale.engine.units.compass import DAY_S

WITHIN_DEG = 5.0  # of where the sun stood the light is taken as the same (common practice, no source)
DAYS_AHEAD = 30
STRAIGHT_DEG = 2.0  # so near the axis the sun is on neither side
ASIDE_DEG = 22.5  # so near a right angle to the axis it stands at the side
_EPOCH = datetime(2000, 1, 1, 12)
_RADIUS = math.tan(math.radians(sun.SUN_WIDTH_DEG / 2))


class RigShadow(NamedTuple):
    """Where the shadow of the rig's top lies at the model's distance: aside (right +), and up from the ground, mm."""

    aside_mm: float
    up_mm: float
    in_frame: bool | None


class SunNearest(NamedTuple):
    """On a day: the local time at which the sun, up, comes nearest to where it stood, and by how much it misses."""

    date: str
    time: str | None
    misses_deg: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SunAnswer:
    """The sun at the time in hand, over its day, and against the sun of the plate; local times as text."""

    azimuth_deg: float
    elevation_deg: float  # as seen, with refraction
    up: bool
    facing_deg: float | None
    from_lens_deg: float | None = None
    side: str | None = None
    shadow_per_height: float | None
    rise: str | None
    noon: str
    noon_elevation_deg: float
    set: str | None
    turns_deg_per_min: float
    in_frame: bool | None = None
    nearest_to_axis_deg: float | None = None  # the least angle between sun and lens axis over the move
    rig_shadow: RigShadow | None = None
    towards_azimuth_deg: float  # where it stood at the plate's time, or stands at the time in hand
    towards_elevation_deg: float
    windows: tuple[tuple[str, str], ...]  # when it stands so, each in whole minutes that lie within
    nearest_today: SunNearest
    nearest_on: tuple[SunNearest, ...]  # when it comes nearest to that


def _site(there: Sun) -> Site | None:
    """Return where the sun is seen from; None where the shot does not say where, or at what time."""
    if there.latitude is None or there.longitude is None or there.time is None:
        return None
    return Site(there.latitude, there.longitude)


def moment(day: date, seconds: float, offset_s: float) -> float:
    """Return the days since the epoch of the sun's series of a local time, `seconds` after midnight."""
    return (datetime(day.year, day.month, day.day) - _EPOCH) / timedelta(days=1) + (seconds - offset_s) / DAY_S


def path_of_day(there: Sun, steps: int) -> tuple[tuple[float, Direction], ...]:
    """Return the sun at `steps` + 1 even times of the day, each in s from midnight; none where it is not said when."""
    if (place := _site(there)) is None or there.date is None or there.utc_offset is None:
        return ()
    times = [DAY_S * step / steps for step in range(steps + 1)]
    return tuple((at, sun.sun_seen(moment(there.date, at, there.utc_offset), *place)) for at in times)


@lru_cache(maxsize=8)  # no lens changes it, and every step of the shot asks for it again
def _day(there: Sun) -> SunAnswer | None:
    """Return what the sun does on its day, seen from no lens; None where the shot does not say when and where."""
    place, offset = _site(there), there.utc_offset
    if place is None or there.date is None or there.time is None or offset is None:
        return None
    now, start = moment(there.date, there.time, offset), moment(there.date, 0.0, offset)
    seen, at_noon = sun.sun_seen(now, *place), noon(start, place)
    rise, set_ = rise_and_set(start, place)
    towards = seen
    if there.plate_time is not None:
        own = offset if there.plate_utc_offset is None else there.plate_utc_offset
        towards = sun.sun_seen((there.plate_time - _EPOCH) / timedelta(days=1) - own / DAY_S, *place)
    facing = None  # the true bearing of the lens: a compass's with its declination, or from where it saw the sun
    if there.facing is not None:
        facing = (there.facing + (there.declination or 0.0)) % 360
    elif there.sun_seen is not None and there.sun_time is not None:
        seen_then = sun.sun_seen(moment(there.date, there.sun_time, offset), *place)
        facing = (seen_then.azimuth_deg - there.sun_seen) % 360
    days, nearest_on = [there.date + timedelta(days=ahead) for ahead in range(DAYS_AHEAD + 1)], []
    for day in days:
        begins = moment(day, 0.0, offset)
        found = nearest(begins, towards, place)
        time = None if found is None else clock(found.day - begins)
        nearest_on.append(SunNearest(day.isoformat(), time, found and found.misses_deg))
    spans = windows(start, towards, WITHIN_DEG, place)
    told = [(clock(first - start, math.ceil), clock(last - start, math.floor)) for first, last in spans]
    return SunAnswer(
        azimuth_deg=seen.azimuth_deg,
        elevation_deg=seen.elevation_deg,
        up=seen.elevation_deg > -sun.SUN_WIDTH_DEG / 2,
        facing_deg=facing,
        shadow_per_height=sun.shadow_per_height(seen.elevation_deg),
        rise=None if rise is None else clock(rise - start),
        noon=clock(at_noon - start),
        noon_elevation_deg=sun.sun_seen(at_noon, *place).elevation_deg,
        set=None if set_ is None else clock(set_ - start),
        turns_deg_per_min=sun.turns_deg_per_min(now, *place),
        towards_azimuth_deg=towards.azimuth_deg,
        towards_elevation_deg=towards.elevation_deg,
        windows=tuple(one for one in told if one[0] <= one[1]),
        nearest_today=nearest_on[0],
        nearest_on=tuple(nearest_on[1:]),
    )


def clock(days: float, to_minute: Callable[[float], int] = round) -> str:
    """Return a time of day to the minute from the days since midnight, "04:54"; the day's end is "24:00"."""
    minutes = to_minute(round(days * 1440, 4))
    return f"{minutes // 60:02}:{minutes % 60:02}"


def sun_group(setting: Setting, setup: LensSetup, view: View) -> SunAnswer | None:
    """Return what the sun does; None where the shot does not say when and where."""
    day = _day(setting.sun)
    if day is None or day.facing_deg is None:
        return day
    from_lens = sun.from_bearing_deg(day.azimuth_deg, day.facing_deg)
    in_frame, to_axis = _against_lens(view, from_lens, day.elevation_deg)
    return replace(
        day,
        from_lens_deg=from_lens,
        side=side_of(from_lens),
        in_frame=in_frame,
        nearest_to_axis_deg=to_axis,
        rig_shadow=_rig_shadow(setting, setup, view, from_lens, day.elevation_deg),
    )


def side_of(from_lens_deg: float) -> str:
    """Return in words from where the sun shines, as the camera sees it."""
    off = abs(from_lens_deg)
    if off <= STRAIGHT_DEG:
        return "from straight ahead"
    if off >= 180 - STRAIGHT_DEG:
        return "from straight behind"
    hand = "right" if from_lens_deg > 0 else "left"
    if abs(off - 90) <= ASIDE_DEG:
        return f"from the {hand}"
    return f"from {'ahead' if off < 90 else 'behind'}, {hand}"


def _against_lens(view: View, from_lens_deg: float, elevation_deg: float) -> tuple[bool, float]:
    """Return whether any of the disc comes into the frame over the move, and how near its middle comes to the axis."""
    aside, up = math.radians(from_lens_deg), math.radians(elevation_deg)
    towards = projection.Point(math.cos(up) * math.sin(aside), math.sin(up), math.cos(up) * math.cos(aside), 0.0)
    within, ahead, frame = False, -1.0, view.frame
    for _, pose in view.poses:
        away = projection.in_lens(towards, pose)[2]
        ahead, share = max(ahead, away), projection.in_frame(towards, pose, frame)
        if share is not None:
            disc_mm = frame.image_mm * _RADIUS / away**2
            across, rise = disc_mm / frame.width_mm, disc_mm / frame.height_mm
            within |= -across <= share.across <= 1 + across and -rise <= share.up <= 1 + rise
    return within, math.degrees(math.acos(min(ahead, 1.0)))


def _rig_shadow(setting: Setting, setup: LensSetup, view: View, from_deg: float, up_deg: float) -> RigShadow | None:
    """Return where the rig's shadow lies; None without a height, or where it does not fall ahead."""
    away, height = setup.level(setup.model_mm), setting.sun.rig_height
    found = None if height is None else sun.shadow_of_rig(from_deg, up_deg, away, height)
    if found is None or height is None or setting.place.lens_height is None:
        return None if found is None else RigShadow(*found, in_frame=None)
    (aside, up), half = found, (setting.sun.rig_width or 0.0) / 2
    # Along the ground to the shadow's end or the model's plane, and up that plane.
    along = [height / (height - min(up, 0.0)) * step / 12 for step in range(1, 13)]
    left, right = (
        [projection.Point(aside * share + edge, 0.0, away * share) for share in along] for edge in (-half, half)
    )
    outline = [*left, *(projection.Point(aside + edge, up, away) for edge in (-half, half) if up > 0), *reversed(right)]
    shares = ([projection.in_frame(point, pose, view.frame) for point in outline] for _, pose in view.poses)
    seen = any(covers([*filter(None, shown)], (0.0, 0.0, 1.0, 1.0)) for shown in shares)
    return RigShadow(*found, in_frame=seen)
