"""From how the model's points miss the real ones in the picture: how the camera, or the model, is to be moved.

Two fits each. First where the thing stands: the offset from where it should be from which the misses foretold are
those read. Then the place from which the misses foretold are least, which is 0 where the model stands at its match.
What is to be moved is the second less the first; its errors are those of the first, since only that is read. Turning
the head is no unknown: it moves the pictures of model and place alike.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from forescale.engine.formulas.least_squares import Fit, Predict, doubtful, fit
from forescale.engine.formulas.parting import Pair, miss
from forescale.engine.formulas.projection import Frame, Pixels, Point, pose
from forescale.engine.formulas.rotation import Rotation, rotated

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
    miss that is foretold when what is told is done; `holds` whether errors of reading explain the residual, and
    `freedom` how many readings check it; `doubtful` the places, from 0, of readings that the others gainsay.
    """

    told: dict[str, float | None]
    errors: dict[str, float | None]
    residual_px: float
    left_px: float
    holds: bool
    freedom: int
    doubtful: tuple[int, ...]
    residuals_px: tuple[Pixels, ...]


@lru_cache(maxsize=16)
def camera_moves(read: tuple[Read, ...], line_up: LineUp) -> Moves | None:
    """Return how the camera is to be moved, right, up and level forward, its aim kept; None where nothing is found.

    At least two points; raises ValueError with fewer.
    """

    def seen(moved: Sequence[float]) -> list[Pixels] | None:
        right, up, forward = moved
        at = pose(right, line_up.lens_height_mm + up, forward, 0.0, line_up.aim_deg)
        return _all(miss(one.pair, at, line_up.frame) for one in read)

    return _moves(seen, read, line_up, dict.fromkeys(CAMERA, 1.0), DOUBTED_CAMERA)


@lru_cache(maxsize=16)
def model_moves(read: tuple[Read, ...], line_up: LineUp) -> Moves | None:
    """Return how the model is to be moved and turned about the centre of its read points; as `camera_moves`."""
    centre = Point(*(sum(one.pair.built[axis] for one in read) / max(len(read), 1) for axis in range(3)))
    spread = math.sqrt(sum(math.dist(one.pair.built[:3], centre[:3]) ** 2 for one in read) / max(len(read), 1))
    at = pose(0.0, line_up.lens_height_mm, 0.0, 0.0, line_up.aim_deg)
    arm = max(spread, 1e-6 * line_up.model_mm)

    def seen(moved: Sequence[float]) -> list[Pixels] | None:
        right, up, forward, *arcs = moved
        by = Rotation(*(arc / arm for arc in arcs))
        places = (rotated(one.pair.built, centre, by) for one in read)
        there = (Point(place.x + right, place.h + up, place.z + forward) for place in places)
        return _all(miss(Pair(place, one.pair.real), at, line_up.frame) for one, place in zip(read, there, strict=True))

    units = dict.fromkeys(CAMERA, 1.0) | dict.fromkeys(MODEL[3:], math.degrees(1 / arm))
    return _moves(seen, read, line_up, units, DOUBTED_MODEL)


def _all(found: Iterable[Pixels | None]) -> list[Pixels] | None:
    """Return the pictures, None where one is missing."""
    pictures = list(found)
    known = [one for one in pictures if one is not None]
    return known if len(known) == len(pictures) else None


def _moves(
    seen: Callable[[Sequence[float]], list[Pixels] | None],
    read: Sequence[Read],
    line_up: LineUp,
    units: dict[str, float],
    least: int,
) -> Moves | None:
    """Return what is told from the two fits, each unknown, in mm, times its unit."""
    if len(read) < FEWEST:
        raise ValueError("what misses must be read at two points at least")
    predict = _counted(seen, line_up.reading_px)
    asked = len(units), LARGEST_ERROR * line_up.model_mm
    stands = fit(predict, [part / line_up.reading_px for one in read for part in one.miss], *asked)
    best = fit(predict, [0.0] * (2 * len(read)), *asked)
    if stands is None or best is None or math.hypot(*stands.held[:3]) > FARTHEST * line_up.model_mm:
        return None
    to_go = [there - here for there, here in zip(best.held, stands.held, strict=True)]
    moved = [
        here + (0.0 if told is None else go) for told, here, go in zip(stands.values, stands.held, to_go, strict=True)
    ]
    left = seen(moved) or []
    return Moves(
        told=_named(units, [None if told is None else go for told, go in zip(stands.values, to_go, strict=True)]),
        errors=_named(units, stands.errors),
        residual_px=math.sqrt(stands.misfit / len(stands.residuals)) * line_up.reading_px,
        left_px=max((one.length for one in left), default=0.0),
        holds=stands.holds,
        freedom=stands.freedom,
        doubtful=doubtful(stands, 2, least),
        residuals_px=_pictures(stands, line_up.reading_px),
    )


def _counted(seen: Callable[[Sequence[float]], list[Pixels] | None], reading_px: float) -> Predict:
    """Return the misses foretold in errors of reading, one number a coordinate."""

    def predict(moved: Sequence[float]) -> list[float] | None:
        found = seen(moved)
        return None if found is None else [part / reading_px for one in found for part in one]

    return predict


def _named(units: dict[str, float], found: Sequence[float | None]) -> dict[str, float | None]:
    return {name: None if one is None else one * unit for (name, unit), one in zip(units.items(), found, strict=True)}


def _pictures(found: Fit, reading_px: float) -> tuple[Pixels, ...]:
    across, up = found.residuals[::2], found.residuals[1::2]
    return tuple(Pixels(a * reading_px, b * reading_px) for a, b in zip(across, up, strict=True))
