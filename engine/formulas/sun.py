"""Where the sun stands, when it rises and sets, and when it comes back to where it once stood.

Angles in degrees: azimuth from true north over east, elevation above a level horizon, latitude north + and longitude
east +. A moment is `day`, the days since 1 January 2000, 12:00 UTC. Source of the series: J. Meeus, Astronomical
Algorithms, chapters 12, 22 and 25 (the sun to 0.01°), 1950 to 2050. Along a day the sun keeps to one circle but for
0.02° an hour, so that both its height and its distance from a fixed point of the sky go one way between the turning
points found here.
"""

import math
from collections.abc import Callable
from itertools import pairwise
from typing import NamedTuple

_CENTURY = 36525.0
_TERRESTRIAL_DAYS = 69.2 / 86400  # terrestrial time less universal time about 2025; a minute is 0.0007° of the sun
_PARALLAX_DEG = 8.794 / 3600  # of the sun at its mean distance: IAU
RISE_DEG = -0.833  # of the sun's centre, without air, as its upper edge meets the horizon: common to almanacs
SUN_WIDTH_DEG = 0.533  # of the disc at its mean distance, from memory
_CLOSE_DAYS = 0.5 / 86400  # half a second
_SUN_DEG_PER_DAY = 360.0


class Direction(NamedTuple):
    """A direction in the sky: azimuth 0 to 360 from true north over east, elevation −90 to 90."""

    azimuth_deg: float
    elevation_deg: float


def sun_seen(day: float, latitude_deg: float, longitude_deg: float) -> Direction:
    """Return where the sun's centre is seen, lifted by the air (1010 mbar, 10 °C); within 0.02° of an ephemeris."""
    azimuth, elevation = sun_without_air(day, latitude_deg, longitude_deg)
    return Direction(azimuth, elevation + refraction_deg(elevation))


def sun_without_air(day: float, latitude_deg: float, longitude_deg: float) -> Direction:
    """Return where the sun's centre would be seen without air, from the ground (parallax counted)."""
    ascension, declination, sidereal = _equatorial(day)
    hour = sidereal + math.radians(longitude_deg) - ascension
    latitude = math.radians(latitude_deg)
    east = -math.cos(declination) * math.sin(hour)
    north = math.sin(declination) * math.cos(latitude) - math.cos(declination) * math.cos(hour) * math.sin(latitude)
    up = math.sin(latitude) * math.sin(declination) + math.cos(latitude) * math.cos(declination) * math.cos(hour)
    elevation = math.degrees(math.asin(max(-1.0, min(1.0, up))))
    azimuth = math.degrees(math.atan2(east, north)) % 360
    return Direction(azimuth, elevation - _PARALLAX_DEG * math.cos(math.radians(elevation)))


def hour_angle_deg(day: float, longitude_deg: float) -> float:
    """Return how far the sun is past its noon, −180 to 180, 15° an hour; 0 is due south or north."""
    ascension, _, sidereal = _equatorial(day)
    return (math.degrees(sidereal - ascension) + longitude_deg + 180) % 360 - 180


def refraction_deg(elevation_deg: float) -> float:
    """Return how far air (1010 mbar, 10 °C) lifts a true elevation, 0 out of sight. Sæmundsson; Meeus, chapter 16."""
    if elevation_deg < RISE_DEG - 0.01:
        return 0.0
    return 1.02 / (60 * math.tan(math.radians(elevation_deg + 10.3 / (elevation_deg + 5.11))))


def separation_deg(one: Direction, other: Direction) -> float:
    """Return the angle between two directions along a great circle, 0 to 180. Source: haversine formula."""
    rise = math.radians(other.elevation_deg - one.elevation_deg)
    turn = math.radians(other.azimuth_deg - one.azimuth_deg)
    level = math.cos(math.radians(one.elevation_deg)) * math.cos(math.radians(other.elevation_deg))
    square = math.sin(rise / 2) ** 2 + level * math.sin(turn / 2) ** 2
    return 2 * math.degrees(math.asin(min(1.0, math.sqrt(square))))


def turns_deg_per_min(day: float, latitude_deg: float, longitude_deg: float) -> float:
    """Return how fast the sun moves along the sky, in degrees a minute, over the minute about `day`; 0.25 at most."""
    half = 0.5 / 1440
    before, after = (sun_without_air(day + step, latitude_deg, longitude_deg) for step in (-half, half))
    return separation_deg(before, after)


def from_bearing_deg(azimuth_deg: float, bearing_deg: float) -> float:
    """Return how far a direction lies from a bearing, −180 to 180, right +."""
    turn = (azimuth_deg - bearing_deg + 180) % 360 - 180
    return 180.0 if turn == -180 else turn


def shadow_per_height(elevation_deg: float) -> float | None:
    """Return the length of a level shadow over the height of what throws it, 1/tan; None with the sun down."""
    return 1 / math.tan(math.radians(elevation_deg)) if elevation_deg > 0 else None


def shadow_of_rig(
    from_lens_deg: float, elevation_deg: float, distance_mm: float, height_mm: float
) -> tuple[float, float] | None:
    """Return where the shadow of a rig's top lies in a plane square to the lens: aside (right +) and up, in mm.

    With δ = 180° − |from_lens| it lies d·tan δ aside, on the side away from the sun, and reaches up to
    height − d/cos δ·tan(elevation); below 0 it ends on the ground before. None unless the sun is up behind the lens.
    """
    behind = math.radians(180 - abs(from_lens_deg))
    if elevation_deg <= 0 or abs(from_lens_deg) <= 90:
        return None
    aside = -math.copysign(distance_mm * math.tan(behind), from_lens_deg)
    return aside, height_mm - distance_mm / math.cos(behind) * math.tan(math.radians(elevation_deg))


def _equatorial(day: float) -> tuple[float, float, float]:
    """Return right ascension, declination and the sidereal time of Greenwich, in radians."""
    century = (day + _TERRESTRIAL_DAYS) / _CENTURY
    anomaly = math.radians(357.52911 + (35999.05029 - 0.0001537 * century) * century)
    centre = (
        (1.914602 - (0.004817 + 0.000014 * century) * century) * math.sin(anomaly)
        + (0.019993 - 0.000101 * century) * math.sin(2 * anomaly)
        + 0.000289 * math.sin(3 * anomaly)
    )
    node = math.radians(125.04 - 1934.136 * century)
    nutation = -0.00478 * math.sin(node)
    longitude = math.radians(280.46646 + (36000.76983 + 0.0003032 * century) * century + centre - 0.00569 + nutation)
    tilt = math.radians(23.4392911 - 0.0130042 * century + 0.00256 * math.cos(node))
    ascension = math.atan2(math.cos(tilt) * math.sin(longitude), math.cos(longitude))
    declination = math.asin(math.sin(tilt) * math.sin(longitude))
    sidereal = math.radians((280.46061837 + 360.98564736629 * day) % 360 + nutation * math.cos(tilt))
    return ascension, declination, sidereal


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
    """Return when the sun's centre passes −0.833° without air, up and down, in the day from `start`; None if never."""

    def height(day: float) -> float:
        return sun_without_air(day, *place).elevation_deg - RISE_DEG

    turns = sorted((start, noon(start, place), _at_hour_angle(start, 180.0, place), start + 1))
    seen = [*pairwise((at, height(at)) for at in turns)]
    rises = (_crossing(height, one, other) for (one, before), (other, after) in seen if before < 0 <= after)
    sets = (_crossing(height, one, other) for (one, before), (other, after) in seen if after < 0 <= before)
    return next(rises, None), next(sets, None)


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
    """Return when in the day from `start` the sun, up, stands within an angle of a direction: once mostly, or twice."""

    def past(day: float) -> float:
        return separation_deg(sun_seen(day, *place), towards) - within_deg

    closest = _closest(start, towards, place)
    opposite = _at_hour_angle(start, hour_angle_deg(closest, place.longitude_deg) + 180, place)
    edges = sorted({start, start + 1, closest, opposite, *(at for at in rise_and_set(start, place) if at is not None)})
    found: list[tuple[float, float]] = []
    for one, other in pairwise(edges):
        first, last = past(one), past(other)
        if min(first, last) > 0 or not is_up((one + other) / 2, place):
            continue
        begins = one if first <= 0 else _crossing(past, one, other)
        spell = begins, other if last <= 0 else _crossing(past, one, other)
        joins = found and spell[0] - found[-1][1] < 2 * _CLOSE_DAYS
        found[-1:] = [(found[-1][0], spell[1])] if joins else [*found[-1:], spell]
    return found


def _at_hour_angle(start: float, hour_deg: float, place: Site) -> float:
    day = start + 0.5
    for _ in range(3):
        behind = (hour_deg - hour_angle_deg(day, place.longitude_deg) + 180) % 360 - 180
        day += behind / _SUN_DEG_PER_DAY
    return day - math.floor(day - start)


def _closest(start: float, towards: Direction, place: Site) -> float:
    """Return when the sun, up or not, comes nearest to a direction: where their hour angles agree."""
    latitude = math.radians(place.latitude_deg)
    azimuth, elevation = math.radians(towards.azimuth_deg), math.radians(towards.elevation_deg)
    west, north = -math.cos(elevation) * math.sin(azimuth), math.cos(elevation) * math.cos(azimuth)
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
