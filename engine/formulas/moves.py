"""How the camera or the model is to be moved: from misses read at the line-up, or from marks that stay on coming back.

Misses take two fits each. First where the thing stands: the offset from which the misses foretold are those read. Then
the place from which the misses foretold are least, 0 where the model stands at its match. What is to be moved is the
second less the first; its errors are those of the first. Turning the head moves the pictures of model and place alike.

The way back is found by tapes, by the picture, or by both. Tapes run straight from the sensor-plane mark; what was
taped then is held against what is taped now, so that a tape always long by as much does no harm. A picture tells how
the lens is turned too. The fit begins at the old place, and so finds the pose nearest to it where three marks in the
picture allow several (the perspective three-point problem).
"""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from forescale.engine.formulas.least_squares import doubtful, fit, surest
from forescale.engine.formulas.misses import Pair, miss
from forescale.engine.formulas.projection import Frame, Pixels, Point, Pose, in_lens, in_pixels, pose

Seen = Callable[[Sequence[float]], Iterable[Pixels | None]]  # the misses foretold once the thing was moved
DOUBTED_CAMERA, DOUBTED_MODEL, DOUBTED_MARKS = 4, 5, 5  # the fewest points or marks of which one can be doubted
FEWEST = 2
LARGEST_ERROR = 0.01  # of the distance of model or marks
FARTHEST = 1.0  # of that distance: nobody stands so far off and reads misses, or comes back to so wrong a place
ASTRAY, ASTRAY_MM = 0.5, 1000.0  # of a mark's distance, and mm: nobody comes back by more (common practice, no source)
CAMERA = ("right", "up", "forward")
MODEL = (*CAMERA, "turn", "lean", "roll")
TURNS = ("pan", "tilt", "roll")
TAPE_READING_MM = 2.0  # one standard error of a taut tape read to the nearest 1/8 in (common practice, no source)
TAPES_FOR_HEIGHT = 3  # with two the lens is taken to stand as high as before


class ReadMiss(NamedTuple):
    """A point as the model has it, standing as planned, and in the place; and the miss that was read."""

    pair: Pair
    miss: Pixels


class Witness(NamedTuple):
    """A mark that stays, by how much the tape to it has grown, and its picture now, pixels from the frame's middle."""

    mark: Point
    tape_grown_mm: float | None = None
    picture: Pixels | None = None
    tape_error_mm: float = TAPE_READING_MM  # one standard error of how much it has grown
    placed_error_mm: float = 0.0  # one standard error of each coordinate of its place


class Taped(NamedTuple):
    """A mark whose tape then, or `now`, cannot be right, and how long its place, or the tape then, makes it, mm."""

    mark: str
    placed_mm: float
    now: bool = False


class LineUp(NamedTuple):
    """How the lens stands at the line-up, how well a picture is read (pixels), and the model's level distance, mm."""

    lens_height_mm: float
    aim_deg: float
    pupil_ahead_mm: float
    frame: Frame
    reading_px: float
    model_mm: float = math.inf


class Go(NamedTuple):
    """A move that is worth making, `up_mm` or `lean_deg`, when no other is made but those beside it; and its error."""

    name: str
    by: float
    error: float


class Moves(NamedTuple):
    """What is to be moved by name, mm and degrees: right, up, forward, pan right, tilt up, roll clockwise are +."""

    told: dict[str, float | None]  # None for what cannot be told; of the pupil, by tapes alone of the sensor-plane mark
    errors: dict[str, float | None]  # one standard error of each
    residual_px: float | None  # what the found place leaves unexplained: root mean square of a coordinate
    freedom: int  # readings that check it
    holds: bool  # errors of reading explain what is left
    doubtful: tuple[int, ...]  # places, from 0, of readings that the others gainsay
    residual_mm: float | None = None  # root mean square of a tape
    left_px: float = 0.0  # the longest miss foretold when what is told is done
    ends_mm: tuple[float, ...] = ()  # where it then stands, right, up and forward of where it is planned
    left_each_px: tuple[Pixels | None, ...] = ()  # what each point then misses by, with what nothing explains of it
    do: tuple[Go, ...] = ()  # what passes its errors, with all else left as it is; of misses alone


@lru_cache(maxsize=16)
def camera_moves(read: tuple[ReadMiss, ...], line_up: LineUp) -> Moves | None:
    """Return how the camera is to be moved, its aim kept; None where nothing is found, ValueError under two points."""

    def seen(moved: Sequence[float]) -> Iterable[Pixels | None]:
        right, up, forward = moved
        at = pose(right, line_up.lens_height_mm + up, forward, 0.0, line_up.aim_deg)
        return (miss(one.pair, at, line_up.frame) for one in read)

    return _moves(seen, read, line_up, dict.fromkeys(CAMERA, 1.0), DOUBTED_CAMERA)


@lru_cache(maxsize=16)
def model_moves(read: tuple[ReadMiss, ...], line_up: LineUp) -> Moves | None:
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


def _moves(seen: Seen, read: Sequence[ReadMiss], line_up: LineUp, units: dict[str, float], least: int) -> Moves | None:
    """Return what is told from the two fits, each unknown, in mm, times its unit."""
    if len(read) < FEWEST:
        raise ValueError("what misses must be read at two points at least")
    error_px = line_up.reading_px

    def predict(moved: Sequence[float]) -> list[float] | None:
        """Return the misses foretold in errors of reading, one number a coordinate; None where a picture is missing."""
        pictures = list(seen(moved))
        return None if None in pictures else [part / error_px for one in pictures if one is not None for part in one]

    asked = len(units), LARGEST_ERROR * line_up.model_mm
    stands = fit(predict, [part / error_px for one in read for part in one.miss], *asked)
    best = fit(predict, [0.0] * (2 * len(read)), *asked)
    if stands is None or best is None or math.hypot(*stands.held[:3]) > FARTHEST * line_up.model_mm:
        return None
    to_go = [there - here for there, here in zip(best.held, stands.held, strict=True)]
    told = [None if one is None else go for one, go in zip(stands.values, to_go, strict=True)]
    worth = surest(to_go, stands.slopes, [one is not None for one in told])
    moved = [here + (go or 0.0) for go, here in zip(told, stands.held, strict=True)]
    left = list(seen(moved))
    off = [one * error_px for one in stands.residuals]
    each = zip(left, off[::2], off[1::2], strict=True)
    return Moves(
        told=_named(units, told),
        errors=_named(units, stands.errors),
        residual_px=_strays(stands.residuals, error_px),
        freedom=stands.freedom,
        holds=stands.holds,
        doubtful=doubtful(stands, 2, least),
        left_px=0.0 if None in left else max(one.length for one in left if one is not None),
        ends_mm=tuple(moved[:3]),
        left_each_px=tuple(one and Pixels(one.across + across, one.up + up) for one, across, up in each),
        do=tuple(_go(name, units[name], *worth[place]) for place, name in enumerate(units) if place in worth),
    )


def _go(name: str, unit: float, by: float, error: float) -> Go:
    return Go(f"{name}_{'mm' if name in CAMERA else 'deg'}", by * unit, error * unit)


def _named(units: dict[str, float], found: Sequence[float | None], sign: int = 1) -> dict[str, float | None]:
    together = zip(units.items(), found, strict=True)
    return {name: None if one is None else sign * one * unit for (name, unit), one in together}


def _strays(residuals: Sequence[float], unit: float) -> float | None:
    """Return the root mean square of residuals, each in standard errors of that size; None of none."""
    return math.sqrt(sum(one * one for one in residuals) / len(residuals)) * unit if residuals else None


@lru_cache(maxsize=16)
def come_back(marks: tuple[Witness, ...], stood: LineUp) -> Moves | None:
    """Return what brings the camera back to where it stood, None if no place does; ValueError with nothing read."""
    taped = [(place, one) for place, one in enumerate(marks) if one.tape_grown_mm is not None]
    seen = [(place, one.mark, one.picture) for place, one in enumerate(marks) if one.picture is not None]
    if not taped and not seen:
        raise ValueError("nothing is read of any mark as it is now")
    before = pose(0.0, stood.lens_height_mm, 0.0, 0.0, stood.aim_deg)
    old = sensor_mark(before, stood.pupil_ahead_mm)
    unsure = [one.tape_error_mm for _, one in taped]
    unsure += [px for place, *_ in seen for px in _picture_errors(marks[place], before, stood)]
    away = [math.dist(mark[:3], before[:3]) for _, mark, _ in seen]
    away = away or [math.dist(one.mark[:3], old[:3]) for _, one in taped]
    reach = sum(away) / len(away)
    units = dict.fromkeys(CAMERA, 1.0) | dict.fromkeys(TURNS, math.degrees(1 / reach))
    asked = [*units] if seen else [name for name in CAMERA if name != "up" or len(taped) >= TAPES_FOR_HEIGHT]

    def predict(moved: Sequence[float]) -> list[float] | None:
        by = dict.fromkeys(units, 0.0) | {name: one * units[name] for name, one in zip(asked, moved, strict=True)}
        now = Point(old.x + by["right"], old.h + by["up"], old.z + by["forward"])
        found: list[float] = []
        if seen:
            up = stood.lens_height_mm + by["up"]
            at = pose(by["right"], up, by["forward"], by["pan"], stood.aim_deg + by["tilt"])
            now = sensor_mark(at, stood.pupil_ahead_mm)
            for _, mark, _ in seen:
                picture = in_rolled_picture(mark, at, by["roll"], stood.frame)
                if picture is None:
                    return None
                found += picture
        grown = [math.dist(one.mark[:3], now[:3]) - math.dist(one.mark[:3], old[:3]) for _, one in taped]
        return [one / error for one, error in zip((*grown, *found), unsure, strict=True)]

    readings = [*(one.tape_grown_mm or 0.0 for _, one in taped), *(part for *_, picture in seen for part in picture)]
    counted = [one / error for one, error in zip(readings, unsure, strict=True)]
    found = fit(predict, counted, len(asked), LARGEST_ERROR * reach)
    if found is None or math.hypot(*found.held[:3]) > FARTHEST * reach:
        return None
    read = [place for place, *_ in seen or taped]
    doubted = () if seen and taped else doubtful(found, 2 if seen else 1, DOUBTED_MARKS)
    known = {name: units[name] for name in asked}
    untold = dict[str, float | None].fromkeys(units)
    told = untold | _named(known, found.values, -1)  # the way back
    errors = untold | _named(known, found.errors)
    if not found.holds:  # more is wrong than the readings' own errors: what is told is less sure by as much
        wider = math.sqrt(found.misfit / found.freedom)
        errors = {name: None if error is None else wider * error for name, error in errors.items()}
    strays = [off * error for off, error in zip(found.residuals, unsure, strict=True)]
    left_px = _strays(strays[len(taped) :], 1.0)
    named = tuple(read[place] for place in doubted)
    return Moves(told, errors, left_px, found.freedom, found.holds, named, _strays(strays[: len(taped)], 1.0))


def _picture_errors(one: Witness, at: Pose, stood: LineUp) -> Iterator[float]:
    """Yield one standard error of a mark's picture across and up, pixels: of the reading, and of the mark's place."""
    *off, ahead = in_lens(one.mark, at)
    away = max(abs(ahead), 1.0)
    image, width, height, width_px, height_px = stood.frame
    for aside, px_mm in zip(off, (width_px / width, height_px / height), strict=True):
        slope = math.hypot(1.0, aside / away)  # its place is as unsure along the lens as aside
        yield math.hypot(stood.reading_px, one.placed_error_mm * slope * image * px_mm / away)


def in_rolled_picture(point: Point, at: Pose, roll_deg: float, frame: Frame) -> Pixels | None:
    """Return where a lens rolled clockwise by so many degrees sees a point, pixels; None behind it."""
    level = in_pixels(point, at, frame)
    if level is None:
        return None
    across, up = level.across * frame.width_mm / frame.width_px, level.up * frame.height_mm / frame.height_px
    cos, sin = math.cos(math.radians(roll_deg)), math.sin(math.radians(roll_deg))
    x, y = across * cos - up * sin, across * sin + up * cos
    return Pixels(x * frame.width_px / frame.width_mm, y * frame.height_px / frame.height_mm)


def sensor_mark(at: Pose, pupil_ahead_mm: float) -> Point:
    """Return where the sensor-plane mark of a lens stands: behind its pupil along the lens."""
    level = pupil_ahead_mm * at.cos_tilt
    return Point(at.x - level * at.sin_pan, at.h - pupil_ahead_mm * at.sin_tilt, at.z - level * at.cos_pan)


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
    slide, bend = math.sin(angle) / angle, (1 - math.cos(angle)) / angle**2
    return Point(*(old + slide * a + bend * b for old, a, b in zip(point[:3], once, _across(*once, by), strict=True)))


def _across(x: float, h: float, z: float, by: Rotation) -> tuple[float, float, float]:
    """Return how fast a place goes when the turn is done at once."""
    return by.roll * h - by.turn * z, -by.lean * z - by.roll * x, by.turn * x + by.lean * h
