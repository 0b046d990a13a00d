"""Where the sun stands. Angles in degrees: azimuth from true north over east, elevation above a level horizon.

A moment is `day`, the days since 1 January 2000, 12:00 UTC. Latitude is north +, longitude east +.
Source of the series: J. Meeus, Astronomical Algorithms, chapters 12, 22 and 25 (the sun to 0.01°), 1950 to 2050.
"""

import math
from typing import NamedTuple

_CENTURY = 36525.0
_TERRESTRIAL_DAYS = 69.2 / 86400  # terrestrial time less universal time about 2025; a minute is 0.0007° of the sun
_PARALLAX_DEG = 8.794 / 3600  # of the sun at its mean distance: IAU
RISE_DEG = -0.833  # of the sun's centre, without air, as its upper edge meets the horizon: common to almanacs
SUN_WIDTH_DEG = 0.533  # of the disc at its mean distance, from memory


class Direction(NamedTuple):
    """A direction in the sky: azimuth 0 to 360 from true north over east, elevation −90 to 90."""

    azimuth_deg: float
    elevation_deg: float


def sun_seen(day: float, latitude_deg: float, longitude_deg: float) -> Direction:
    """Return where the sun's centre is seen, lifted by the air's refraction at 1010 mbar and 10 °C.

    Within 0.02° of an ephemeris in this age. A source of heat or a hill on the horizon is not allowed for.
    """
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
    """Return how far the air lifts a body at a true elevation, at 1010 mbar and 10 °C; 0 where it is out of sight.

    Source: Sæmundsson's formula, Meeus chapter 16, and as in Reda & Andreas, Solar Energy 76 (2004).
    """
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
