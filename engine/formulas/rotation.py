"""A thing turned a little about a place of its own: which end goes away from the camera, which end down."""

from __future__ import annotations

import math
from typing import NamedTuple

from forescale.engine.formulas.projection import Point


class Rotation(NamedTuple):
    """A turn as a vector, radians: turn + right end away, lean + top away, roll + clockwise as the camera sees it.

    Its length is the angle about its own direction, so that none of the three is done before another.
    """

    turn: float
    lean: float
    roll: float


def rotated(point: Point, about: Point, by: Rotation) -> Point:
    """Return a point turned about another (Rodrigues' formula; where nothing is turned the point stays)."""
    angle = math.hypot(*by)
    if angle == 0:
        return point
    once = _across(point.x - about.x, point.h - about.h, point.z - about.z, by)
    twice = _across(*once, by)
    slide, bend = math.sin(angle) / angle, (1 - math.cos(angle)) / angle**2
    return Point(*(old + slide * a + bend * b for old, a, b in zip(point[:3], once, twice, strict=True)))


def _across(x: float, h: float, z: float, by: Rotation) -> tuple[float, float, float]:
    """Return how fast a place goes when the turn is done at once."""
    return by.roll * h - by.turn * z, -by.lean * z - by.roll * x, by.turn * x + by.lean * h
