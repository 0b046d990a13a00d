"""Readings keep what they were taken with, where what counts for them is changed afterwards."""

from collections.abc import Collection
from typing import Any, TypeVar

from forescale.engine.answer import Answer
from forescale.engine.fields.kinds import Record
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import BenchRow, SurveyRow

TAKEN_WITH = ("camera", "mode", "lens", "focal_length", "focus", "head", "axis", "sweep", "model", "background", "aim")
READINGS = ("bench", "survey", "point", "miss")
SURVEY_WITH = ("camera", "mode", "lens", "focal_length", "focus", "model", "background", "lens_height", "aim")
ReadRow = TypeVar("ReadRow", BenchRow, SurveyRow)


def kept(before: Answer) -> dict[str, Any]:
    """Return the lists of readings, each saying itself with what it was taken."""
    of, kit, place = before.setting, before.kit, before.setting.place
    taken_with: dict[str, Any] = {"camera": kit.camera.name, "mode": kit.mode.name, "lens": kit.lens.name}
    taken_with |= {"focal_length": kit.focal_mm, "focus": before.focus.focus_mm, "model": before.lineup.model_mm}
    taken_with |= {"background": before.lineup.background_mm, "aim": place.aim, "lens_height": place.lens_height}
    taken_with |= {"ratio": before.setup.ratio, "head": kit.head and kit.head.name}
    if of.move.axis != "none" and of.move.sweep > 0:
        taken_with |= {"axis": of.move.axis, "sweep": of.move.sweep}

    def noted(row: Record, **exact: Any) -> Record:
        now = taken_with | exact
        return row.model_copy(update={name: now[name] for name in now if getattr(row, name, 0) is None})

    return {
        "bench": tuple(noted(row, background=place.background) for row in of.bench),
        "survey": tuple(map(noted, of.survey)),
        "point": tuple(row if row.frame_across is None else noted(row) for row in of.point),
        "miss": tuple(map(noted, of.miss)),
    }


def kept_in(now: Setting, before: Answer, lists: Collection[str] = READINGS) -> dict[str, Any]:
    """Return the lists of readings as a changed shot must keep them; those that were typed anew stay."""
    was = before.setting
    gone_on = {name for name in lists if _read_with(name, now) != _read_with(name, was)}
    stay = {name for name in gone_on if getattr(now, name) == getattr(was, name)}
    return {name: rows for name, rows in kept(before).items() if name in stay} if stay else {}


def _read_with(name: str, shot: Setting) -> tuple[Any, ...]:
    """Return what counts for the readings of a list."""
    kit, move, place = shot.kit, shot.move, shot.place
    ratio = shot.scale.ratio if place.model is None or name == "miss" else None  # it then says where the model stands
    heights = place.lens_height if name in {"survey", "miss"} else None
    own = (move.axis, move.sweep) if name == "bench" else ()
    return kit, place.model, place.background, place.aim, shot.focus.distance, ratio, heights, own


def as_now(rows: tuple[ReadRow, ...]) -> tuple[ReadRow, ...]:
    """Return readings of bench or survey that count as read with whatever the shot has, and from where it stands."""
    names = [name for name in (*TAKEN_WITH, "lens_height") if rows and name in type(rows[0]).model_fields]
    return tuple(row.model_copy(update=dict.fromkeys(names)) for row in rows)
