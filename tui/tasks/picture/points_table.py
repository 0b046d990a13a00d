"""The columns of the points and of the outlines' corners, with where each is built and how it meets."""

from functools import partial

from forescale.engine.shot.pictured_entry import point_text
from forescale.engine.solve.picture_groups import PicturePoint
from forescale.engine.solve.record import Answer
from forescale.engine.units import signed_text, tape_text
from forescale.tui.tasks.frame import Column

NONE = "-"


def point_columns(answer: Answer, *, wide: bool) -> list[Column]:
    """Return the points: where the real one stands, how it meets, and where the model has it, to scale and on sight."""
    rows = answer.setting.point
    solved = {point.name: point for point in (answer.picture.points if answer.picture is not None else ())}
    told = [solved.get(row.name) for row in rows]

    height, aside = partial(_height, answer), partial(_aside, answer)
    own = tuple(height(row.distance) for row in rows)
    places = [
        point_text(row, answer.system) if row.aside is None else (aside(row.aside), height(row.height)) for row in rows
    ]
    return [
        Column("name", "point", tuple(row.name for row in rows)),
        Column("across", "aside", tuple(place[0] for place in places)),
        Column("up", "height", tuple(place[1] for place in places)),
        *[Column("distance", "distance", own, 3)] * (wide or any(text != NONE for text in own)),
        Column("miss", "misses, px", tuple(map(_miss, told)), 1),
        Column("seen", "in frame", tuple(map(_seen, told)), 2),
        Column("model", "model aside", tuple(aside(one and one.model_aside_mm) for one in told), 4),
        Column("model_h", "model high", tuple(height(one and one.model_height_mm) for one in told), 5),
        Column("stands", "stands at", tuple(height(one and one.stands_mm) for one in told), 6),
        Column("sight", "sight aside", tuple(aside(one and one.sight_aside_mm) for one in told), 7),
        Column("sight_h", "sight high", tuple(height(one and one.sight_height_mm) for one in told), 8),
    ]


def _height(answer: Answer, mm: float | None) -> str:
    return NONE if mm is None else tape_text(mm, answer.system)


def _aside(answer: Answer, mm: float | None) -> str:
    way = "" if mm is None or abs(mm) < 0.05 else " right" if mm > 0 else " left"
    return f"{_height(answer, mm and abs(mm))}{way}"


def _miss(point: PicturePoint | None) -> str:
    if point is None or point.miss_across_px is None or point.miss_up_px is None:
        return NONE
    return f"{signed_text(point.miss_across_px, 1)}, {signed_text(point.miss_up_px, 1)}"


def _seen(point: PicturePoint | None) -> str:
    if point is None or not point.in_frame:
        return NONE if point is None else "no"
    return "yes" if point.leaves_share is None else "leaves"


def corners_of(answer: Answer) -> list[tuple[int, int]]:
    """Return every corner of every outline as the place of its outline and its own in that."""
    return [(place, corner) for place, row in enumerate(answer.setting.outline) for corner in range(len(row.corners))]


def corner_columns(answer: Answer) -> list[Column]:
    """Return the corners of the outlines, the name of each beside its first."""
    outlines, places = answer.setting.outline, corners_of(answer)
    held = [outlines[row].corners[corner] for row, corner in places]
    return [
        Column("name", "outline", tuple("" if corner else outlines[row].name for row, corner in places)),
        Column("of", "of", tuple("" if corner else outlines[row].of for row, corner in places), 2),
        Column("across", "aside", tuple(_aside(answer, corner.x) for corner in held)),
        Column("up", "height", tuple(_height(answer, corner.h) for corner in held)),
        Column("arc", "arc", tuple("arc" if corner.arc else "" for corner in held), 1),
    ]
