"""The sun over a day: when it rises and sets, and when it comes back to where it once stood.

Moments are days since 1 January 2000, 12:00 UTC, as in the module on the sun; angles in degrees. Along a day the sun
keeps to one circle but for 0.02° an hour, so that both its height and its distance from a fixed point of the sky go one
way between the turning points found here; a crossing is then closed in on by halving.
"""

import math
from collections.abc import Callable
from itertools import pairwise
from typing import NamedTuple

from forescale.engine.formulas.sun import (
    RISE_DEG,
    Direction,
    hour_angle_deg,
    separation_deg,
    sun_seen,
    sun_without_air,
)

_CLOSE_DAYS = 0.5 / 86400  # half a second
_SUN_DEG_PER_DAY = 360.0


class Site(NamedTuple):
    """A place on the ground, north + and east +."""

    latitude_deg: float
    longitude_deg: float


class Nearest(NamedTuple):
    """The moment of a day at which the sun, up, comes nearest to a direction, and by how much it misses."""

    day: float
    misses_deg: float


def noon(start: float, place: Site) -> float:
    """Return when the sun stands due south or north, highest, within the day that begins at `start`."""
    return _at_hour_angle(start, 0.0, place)


def rise_and_set(start: float, place: Site) -> tuple[float | None, float | None]:
    """Return when the sun rises and sets in the day that begins at `start`; None where it does not.

    The upper edge meets a level horizon: the centre at −0.833°, without air.
    """

    def height(day: float) -> float:
        return sun_without_air(day, *place).elevation_deg - RISE_DEG

    turns = sorted((start, noon(start, place), _at_hour_angle(start, 180.0, place), start + 1))
    rise = set_ = None
    for one, other in pairwise(turns):
        before, after = height(one), height(other)
        if before < 0 <= after and rise is None:
            rise = _crossing(height, one, other)
        elif after < 0 <= before and set_ is None:
            set_ = _crossing(height, one, other)
    return rise, set_


def is_up(day: float, place: Site) -> bool:
    """Return whether any of the sun's disc stands above a level horizon."""
    return sun_without_air(day, *place).elevation_deg >= RISE_DEG


def nearest(start: float, towards: Direction, place: Site) -> Nearest | None:
    """Return when in the day that begins at `start` the sun, up, comes nearest to a direction; None if not up."""
    moments = [at for at in (_closest(start, towards, place), start, start + 1) if is_up(at, place)]
    moments += [at for at in rise_and_set(start, place) if at is not None]
    found = (Nearest(at, separation_deg(sun_seen(at, *place), towards)) for at in moments)
    return min(found, key=lambda one: one.misses_deg, default=None)


def windows(start: float, towards: Direction, within_deg: float, place: Site) -> list[tuple[float, float]]:
    """Return from when to when in the day that begins at `start` the sun, up, stands within an angle of a direction.

    Most days have one; a sun that does not set may have two, about midnight.
    """

    def past(day: float) -> float:
        return separation_deg(sun_seen(day, *place), towards) - within_deg

    closest = _closest(start, towards, place)
    rise, set_ = rise_and_set(start, place)
    opposite = _at_hour_angle(start, hour_angle_deg(closest, place.longitude_deg) + 180, place)
    edges = sorted({start, start + 1, closest, opposite, *(at for at in (rise, set_) if at is not None)})
    found: list[tuple[float, float]] = []
    for one, other in pairwise(edges):
        first, last = past(one), past(other)
        if min(first, last) > 0 or not is_up((one + other) / 2, place):
            continue
        spell = (
            one if first <= 0 else _crossing(past, one, other),
            other if last <= 0 else _crossing(past, one, other),
        )
        joins = found and spell[0] - found[-1][1] < 2 * _CLOSE_DAYS
        found[-1:] = [(found[-1][0], spell[1])] if joins else [*found[-1:], spell]
    return found


def _at_hour_angle(start: float, hour_deg: float, place: Site) -> float:
    """Return when in the day that begins at `start` the sun has an hour angle."""
    day = start + 0.5
    for _ in range(3):
        behind = (hour_deg - hour_angle_deg(day, place.longitude_deg) + 180) % 360 - 180
        day += behind / _SUN_DEG_PER_DAY
    turns = math.floor(day - start)
    return day - turns


def _closest(start: float, towards: Direction, place: Site) -> float:
    """Return when the sun, up or not, comes nearest to a direction: where their hour angles agree."""
    latitude = math.radians(place.latitude_deg)
    azimuth, elevation = math.radians(towards.azimuth_deg), math.radians(towards.elevation_deg)
    west = -math.cos(elevation) * math.sin(azimuth)
    north = math.cos(elevation) * math.cos(azimuth)
    hour = math.degrees(math.atan2(west, math.sin(elevation) * math.cos(latitude) - north * math.sin(latitude)))
    return _at_hour_angle(start, hour, place)


def _crossing(value: Callable[[float], float], low: float, high: float) -> float:
    """Return where a value that changes sign between two moments is zero, to half a second."""
    low_side = value(low) < 0
    while high - low > _CLOSE_DAYS:
        middle = (low + high) / 2
        if (value(middle) < 0) == low_side:
            low = middle
        else:
            high = middle
    return (low + high) / 2
