"""From how the model's points miss the real ones in the picture: how the camera, or the model, is to be moved.

Two fits each. First where the thing stands: the offset from which the misses foretold are those read. Then the place
from which the misses foretold are least, 0 where the model stands at its match. What is to be moved is the second less
the first; its errors are those of the first. Turning the head moves the pictures of model and place alike.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from forescale.engine.formulas.least_squares import doubtful, fit
from forescale.engine.formulas.parting import Pair, miss
from forescale.engine.formulas.projection import Frame, Pixels, Point, pose

DOUBTED_CAMERA, DOUBTED_MODEL = 4, 5  # the fewest points of which one can be doubted
FEWEST = 2
LARGEST_ERROR = 0.01  # of the model's distance
FARTHEST = 1.0  # of the model's distance: nobody stands so far off and reads misses
CAMERA = ("right", "up", "forward")
MODEL = (*CAMERA, "turn", "lean", "roll")


class Read(NamedTuple):
    """A point as the model has it, standing as planned, and in the place; and the miss that was read."""

    pair: Pair
    miss: Pixels


class LineUp(NamedTuple):
    """How the lens stands at the line-up, how well a picture is read (pixels), and the model's level distance, mm."""

    lens_height_mm: float
    aim_deg: float
    frame: Frame
    reading_px: float
    model_mm: float


class Moves(NamedTuple):
    """What is to be moved by name, mm and degrees, each with one standard error; None for what cannot be told.

    `residual_px` is what the found place leaves unexplained, root mean square of a coordinate; `left_px` the longest
    miss that is foretold when what is told is done, and `ends_mm` where it then stands, right, up and forward of where
    it is planned. `holds` tells whether errors of reading explain the residual, `freedom` how many readings check it;
    `doubtful` are the places, from 0, of readings that the others gainsay.
    """

    told: dict[str, float | None]
    errors: dict[str, float | None]
    residual_px: float
    left_px: float
    ends_mm: tuple[float, ...]
    holds: bool
    freedom: int
    doubtful: tuple[int, ...]
    residuals_px: tuple[Pixels, ...]


@lru_cache(maxsize=16)
def camera_moves(read: tuple[Read, ...], line_up: LineUp) -> Moves | None:
    """Return how the camera is to be moved, its aim kept; None where nothing is found, ValueError under two points."""

    def seen(moved: Sequence[float]) -> Iterable[Pixels | None]:
        right, up, forward = moved
        at = pose(right, line_up.lens_height_mm + up, forward, 0.0, line_up.aim_deg)
        return (miss(one.pair, at, line_up.frame) for one in read)

    return _moves(seen, read, line_up, dict.fromkeys(CAMERA, 1.0), DOUBTED_CAMERA)


@lru_cache(maxsize=16)
def model_moves(read: tuple[Read, ...], line_up: LineUp) -> Moves | None:
    """Return how the model is to be moved and turned about the centre of its read points; as `camera_moves`."""
    centre = Point(*(sum(one.pair.built[axis] for one in read) / max(len(read), 1) for axis in range(3)))
    spread = math.sqrt(sum(math.dist(one.pair.built[:3], centre[:3]) ** 2 for one in read) / max(len(read), 1))
    at = pose(0.0, line_up.lens_height_mm, 0.0, 0.0, line_up.aim_deg)
    arm = max(spread, 1e-6 * line_up.model_mm)

    def seen(moved: Sequence[float]) -> Iterable[Pixels | None]:
        right, up, forward, *arcs = moved
        by = Rotation(*(arc / arm for arc in arcs))
        for one in read:
            place = rotated(one.pair.built, centre, by)
            there = Point(place.x + right, place.h + up, place.z + forward)
            yield miss(Pair(there, one.pair.real), at, line_up.frame)

    units = dict.fromkeys(CAMERA, 1.0) | dict.fromkeys(MODEL[3:], math.degrees(1 / arm))
    return _moves(seen, read, line_up, units, DOUBTED_MODEL)


def _moves(
    seen: Callable[[Sequence[float]], Iterable[Pixels | None]],
    read: Sequence[Read],
    line_up: LineUp,
    units: dict[str, float],
    least: int,
) -> Moves | None:
    """Return what is told from the two fits, each unknown, in mm, times its unit."""
    if len(read) < FEWEST:
        raise ValueError("what misses must be read at two points at least")
    error_px, furthest = line_up.reading_px, line_up.model_mm

    def predict(moved: Sequence[float]) -> list[float] | None:
        """Return the misses foretold in errors of reading, one number a coordinate; None where a picture is missing."""
        pictures = list(seen(moved))
        return None if None in pictures else [part / error_px for one in pictures if one is not None for part in one]

    asked = len(units), LARGEST_ERROR * furthest
    stands = fit(predict, [part / error_px for one in read for part in one.miss], *asked)
    best = fit(predict, [0.0] * (2 * len(read)), *asked)
    if stands is None or best is None or math.hypot(*stands.held[:3]) > FARTHEST * furthest:
        return None
    to_go = [there - here for there, here in zip(best.held, stands.held, strict=True)]
    told = [None if one is None else go for one, go in zip(stands.values, to_go, strict=True)]
    moved = [here + (go or 0.0) for go, here in zip(told, stands.held, strict=True)]
    left = list(seen(moved))
    across, up = stands.residuals[::2], stands.residuals[1::2]
    return Moves(
        told=_named(units, told),
        errors=_named(units, stands.errors),
        residual_px=math.sqrt(stands.misfit / len(stands.residuals)) * error_px,
        left_px=0.0 if None in left else max(one.length for one in left if one is not None),
        ends_mm=tuple(moved[:3]),
        holds=stands.holds,
        freedom=stands.freedom,
        doubtful=doubtful(stands, 2, least),
        residuals_px=tuple(Pixels(a * error_px, b * error_px) for a, b in zip(across, up, strict=True)),
    )


def _named(units: dict[str, float], found: Sequence[float | None]) -> dict[str, float | None]:
    return {name: None if one is None else one * unit for (name, unit), one in zip(units.items(), found, strict=True)}


class Rotation(NamedTuple):
    """A turn as a vector, radians about its direction: turn + right end away, lean + top away, roll + clockwise."""

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
