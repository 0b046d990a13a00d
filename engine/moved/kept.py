"""Readings keep what they were taken with, before that becomes another: of bench, survey, points and line-up."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from forescale.engine.answer import Answer
from forescale.engine.bench import bench_entry
from forescale.engine.fields.kinds import Record
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import SurveyRow

READINGS = ("bench", "survey", "point", "miss")
SURVEY_WITH = ("camera", "mode", "lens", "focal_length", "focus", "model", "background", "lens_height", "aim")


def kept(before: Answer) -> dict[str, Any]:
    """Return the lists of readings, each saying itself with what it was taken."""
    of, kit, place = before.setting, before.kit, before.setting.place
    taken_with: dict[str, Any] = {"camera": kit.camera.name, "mode": kit.mode.name, "lens": kit.lens.name}
    taken_with |= {"focal_length": kit.focal_mm, "focus": before.focus.focus_mm, "model": before.lineup.model_mm}
    taken_with |= {"background": before.lineup.background_mm, "aim": place.aim, "lens_height": place.lens_height}
    taken_with["ratio"] = before.setup.ratio

    def noted(row: Record) -> Record:
        own = {name: now for name, now in taken_with.items() if getattr(row, name, 0) is None}
        return row.model_copy(update=own)

    return {
        "bench": bench_entry.noted(of.bench, before),
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


def survey_as_now(rows: tuple[SurveyRow, ...]) -> tuple[SurveyRow, ...]:
    """Return readings that count as read with whatever the shot has, and from where it stands."""
    return tuple(row.model_copy(update=dict.fromkeys(SURVEY_WITH)) for row in rows)
