"""Where the camera stands now against where it stood, from marks on things that stay.

By tapes, by the picture, or by both. Tapes run straight from the sensor-plane mark, `pupil_ahead_mm` behind the pupil
along the lens; what was taped then is held against what is taped now, so that a tape always long by as much does no
harm. A picture tells how the lens is turned too. The fit begins at the old place, and so finds the pose nearest to it
where three marks in the picture allow several (the perspective three-point problem).
"""

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from forescale.engine.formulas.least_squares import Fit, doubtful, fit
from forescale.engine.formulas.projection import Frame, Pixels, Point, Pose, in_pixels, pose

TAPE_READING_MM = 2.0  # one standard error of a taut tape read to the nearest 1/8 in (common practice, no source)
LARGEST_ERROR = 0.01  # of the marks' mean distance
FARTHEST = 1.0  # of the marks' mean distance: nobody comes back to so wrong a place
MOVES = ("right", "up", "forward")
TURNS = ("pan", "tilt", "roll")
TAPES_FOR_HEIGHT = 3  # with two the lens is taken to stand as high as before
DOUBTED_TAPES, DOUBTED_PICTURES = 5, 5  # the fewest readings of which one can be doubted


class Witness(NamedTuple):
    """A mark that stays, by how much the tape to it has grown, and its picture now, pixels from the frame's middle."""

    mark: Point
    tape_grown_mm: float | None = None
    picture: Pixels | None = None


class Stood(NamedTuple):
    """How the camera stood, and how well a picture is read (pixels, one standard error)."""

    lens_height_mm: float
    aim_deg: float
    pupil_ahead_mm: float
    frame: Frame
    reading_px: float


class Return(NamedTuple):
    """What to do to come back, mm and degrees by name, each with one standard error; None for what cannot be told.

    Right, up, forward, pan to the right, tilt up and roll clockwise are +. Where pictures were read, what is moved
    is the entrance pupil, else the sensor-plane mark. `holds` tells whether errors of reading explain what is left;
    `doubtful` are the places, from 0, of marks that the others gainsay.
    """

    told: dict[str, float | None]
    errors: dict[str, float | None]
    residual_mm: float | None
    residual_px: float | None
    freedom: int
    holds: bool
    doubtful: tuple[int, ...]


@lru_cache(maxsize=16)
def come_back(marks: tuple[Witness, ...], stood: Stood) -> Return | None:
    """Return what brings the camera back to where it stood, None if no place does; ValueError with nothing read."""
    if any(one.picture is not None for one in marks):
        return _by_pictures(marks, stood)
    return _by_tapes(marks, stood)


def in_rolled_picture(point: Point, at: Pose, roll_deg: float, frame: Frame) -> Pixels | None:
    """Return where a lens rolled clockwise by so many degrees sees a point, pixels; None behind it."""
    level = in_pixels(point, at, frame)
    if level is None:
        return None
    across, up = level.across * frame.width_mm / frame.width_px, level.up * frame.height_mm / frame.height_px
    cos, sin = math.cos(math.radians(roll_deg)), math.sin(math.radians(roll_deg))
    return Pixels(
        (across * cos - up * sin) * frame.width_px / frame.width_mm,
        (across * sin + up * cos) * frame.height_px / frame.height_mm,
    )


def sensor_mark(at: Pose, pupil_ahead_mm: float) -> Point:
    """Return where the sensor-plane mark of a lens stands: behind its pupil along the lens."""
    level = pupil_ahead_mm * at.cos_tilt
    return Point(at.x - level * at.sin_pan, at.h - pupil_ahead_mm * at.sin_tilt, at.z - level * at.cos_pan)


def _by_tapes(marks: Sequence[Witness], stood: Stood) -> Return | None:
    taped = [(place, one) for place, one in enumerate(marks) if one.tape_grown_mm is not None]
    if not taped:
        raise ValueError("nothing is read of any mark as it is now")
    names = MOVES if len(taped) >= TAPES_FOR_HEIGHT else ("right", "forward")
    old = sensor_mark(pose(0.0, stood.lens_height_mm, 0.0, 0.0, stood.aim_deg), stood.pupil_ahead_mm)

    def predict(moved: Sequence[float]) -> list[float]:
        by = dict(zip(names, moved, strict=True))
        now = Point(old.x + by["right"], old.h + by.get("up", 0.0), old.z + by["forward"])
        return [_grown(one, old, now) / TAPE_READING_MM for _, one in taped]

    readings = [(one.tape_grown_mm or 0.0) / TAPE_READING_MM for _, one in taped]
    reach = sum(math.dist(one.mark[:3], old[:3]) for _, one in taped) / len(taped)
    found = _near(fit(predict, readings, len(names), LARGEST_ERROR * reach), reach)
    if found is None:
        return None
    doubted = tuple(taped[place][0] for place in doubtful(found, 1, DOUBTED_TAPES))
    return _told(found, dict.fromkeys(names, 1.0), len(taped), doubted, stood)


def _by_pictures(marks: Sequence[Witness], stood: Stood) -> Return | None:
    taped = [one for one in marks if one.tape_grown_mm is not None]
    seen = [(place, one.mark, one.picture) for place, one in enumerate(marks) if one.picture is not None]
    before = pose(0.0, stood.lens_height_mm, 0.0, 0.0, stood.aim_deg)
    old = sensor_mark(before, stood.pupil_ahead_mm)
    reach = sum(math.dist(mark[:3], before[:3]) for _, mark, _ in seen) / len(seen)
    turn_deg = math.degrees(1 / reach)

    def predict(moved: Sequence[float]) -> list[float] | None:
        right, up, forward, *arcs = moved
        pan, tilt, roll = (arc * turn_deg for arc in arcs)
        at = pose(right, stood.lens_height_mm + up, forward, pan, stood.aim_deg + tilt)
        now = sensor_mark(at, stood.pupil_ahead_mm)
        found = [_grown(one, old, now) / TAPE_READING_MM for one in taped]
        for _, mark, _ in seen:
            picture = in_rolled_picture(mark, at, roll, stood.frame)
            if picture is None:
                return None
            found += [part / stood.reading_px for part in picture]
        return found

    readings = [(one.tape_grown_mm or 0.0) / TAPE_READING_MM for one in taped]
    readings += [part / stood.reading_px for _, _, picture in seen for part in picture]
    found = _near(fit(predict, readings, 6, LARGEST_ERROR * reach), reach)
    if found is None:
        return None
    doubted = doubtful(found, 2, DOUBTED_PICTURES) if not taped else ()
    units = dict.fromkeys(MOVES, 1.0) | dict.fromkeys(TURNS, turn_deg)
    return _told(found, units, len(taped), tuple(seen[place][0] for place in doubted), stood)


def _near(found: Fit | None, reach: float) -> Fit | None:
    return None if found is None or math.hypot(*found.held[:3]) > FARTHEST * reach else found


def _grown(one: Witness, old: Point, now: Point) -> float:
    return math.dist(one.mark[:3], now[:3]) - math.dist(one.mark[:3], old[:3])


def _told(found: Fit, units: dict[str, float], tapes: int, doubted: tuple[int, ...], stood: Stood) -> Return:
    """Return the way back from the way gone, and what the fit leaves unexplained as a root mean square."""
    told, errors = (
        dict.fromkeys((*MOVES, *TURNS))
        | {name: None if one is None else sign * one * units[name] for name, one in zip(units, values, strict=True)}
        for sign, values in ((-1, found.values), (1, found.errors))
    )
    left_mm, left_px = (
        math.sqrt(sum(one * one for one in part) / len(part)) * unit if part else None
        for part, unit in ((found.residuals[:tapes], TAPE_READING_MM), (found.residuals[tapes:], stood.reading_px))
    )
    return Return(told, errors, left_mm, left_px, found.freedom, found.holds, doubted)
