"""Readings on the bench and of the survey keep what they were taken with, before that becomes another."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from forescale.engine.answer import Answer
from forescale.engine.bench import bench_entry
from forescale.engine.shot.pictured import PointRow
from forescale.engine.shot.records import Setting, SurveyRow

READINGS = ("bench", "survey", "point")
SURVEY_WITH = ("camera", "mode", "lens", "focal_length", "focus", "model", "background", "lens_height", "aim")


def kept(before: Answer) -> dict[str, Any]:
    """Return the lists of readings, each saying itself with what it was taken."""
    return {
        "bench": bench_entry.noted(before.setting.bench, before),
        "survey": _survey_noted(before),
        "point": _points_noted(before),
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
    ratio = shot.scale.ratio if place.model is None else None  # it then says where the model stands
    own = {"bench": (move.axis, move.sweep), "survey": (place.lens_height,)}.get(name, ())
    return kit, place.model, place.background, place.aim, shot.focus.distance, ratio, own


def _taken_with(of: Answer) -> dict[str, Any]:
    kit, place = of.kit, of.setting.place
    with_it: dict[str, Any] = {"camera": kit.camera.name, "mode": kit.mode.name, "lens": kit.lens.name}
    with_it |= {"focal_length": kit.focal_mm, "focus": of.focus.focus_mm, "model": of.lineup.model_mm}
    return with_it | {"background": of.lineup.background_mm, "aim": place.aim}


def _survey_noted(of: Answer) -> tuple[SurveyRow, ...]:
    with_it = _taken_with(of) | {"lens_height": of.setting.place.lens_height}
    return tuple(
        row.model_copy(update={name: now for name, now in with_it.items() if getattr(row, name) is None})
        for row in of.setting.survey
    )


def _points_noted(of: Answer) -> tuple[PointRow, ...]:
    """Return the points, those read in the picture with what they were read with."""
    with_it = _taken_with(of)
    return tuple(
        row
        if row.frame_across is None
        else row.model_copy(update={name: now for name, now in with_it.items() if getattr(row, name) is None})
        for row in of.setting.point
    )


def survey_as_now(rows: tuple[SurveyRow, ...]) -> tuple[SurveyRow, ...]:
    """Return readings that count as read with whatever the shot has, and from where it stands."""
    return tuple(row.model_copy(update=dict.fromkeys(SURVEY_WITH)) for row in rows)
