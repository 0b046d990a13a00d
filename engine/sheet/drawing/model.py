"""The model at its size on the drawing: its outlines' extents, or the sizes of its parts, on its table."""

from __future__ import annotations

from dataclasses import dataclass

from forescale.engine.answer import Answer
from forescale.engine.formulas.tiles import extent
from forescale.engine.sheet.drawing.ink import Ink
from forescale.engine.sheet.drawing.views import DrawnView
from forescale.engine.solve.view import outline_points, stances


@dataclass(frozen=True, slots=True)
class Built:
    """The model as it stands, mm: aside (right +), heights over the background's ground, how deep it is."""

    left: float
    right: float
    bottom: float | None
    top: float | None
    deep: float


def built(answer: Answer) -> Built | None:
    """Return the model's size where it stands; None where neither an outline nor a part says how large it is."""
    setting, foot, ratio = answer.setting, answer.lineup.foot_height_mm, answer.scale.ratio
    deep = max((part.deep / ratio for part in setting.build if part.deep), default=0.0)
    rows = [row for row in setting.outline if row.of == "model" and row.piece is None]
    if rows:
        placed = stances(setting, answer.kit, answer.setup, "shot")
        points = [point for row in rows for point in outline_points(row, setting, answer.setup, placed)]
        left, bottom, right, top = extent((point.x, point.h) for point in points)
        return Built(left, right, bottom, top, deep)
    wide = max((part.wide / ratio for part in setting.build if part.wide), default=0.0)
    tall = max((_tall(part.tall, part.wide, part.real) / ratio for part in setting.build), default=0.0)
    if not wide:
        return None
    return Built(-wide / 2, wide / 2, foot, None if foot is None or not tall else foot + tall, deep)


def _tall(tall: float | None, wide: float | None, real: float) -> float:
    """Return how tall a part is: its full size stands for the height that a part with a width leaves out."""
    return tall or (real if wide else 0.0)


def _deep(found: Built, view: DrawnView, distance: float) -> float:
    """Return how deep the model is on paper: a line at least, and no farther than the paper."""
    return max(min(found.deep / view.strip.front, view.strip.end_mm - view.strip.at(distance)), 0.6)


def draw_from_above(ink: Ink, answer: Answer, view: DrawnView) -> bool:
    """Draw the model's width and depth where it stands; False where they are not known."""
    found, distance = built(answer), answer.setup.level(answer.setup.model_mm)
    if found is None:
        return False
    place, deep = view.strip.at(distance), _deep(found, view, distance)
    top, foot = view.height(-found.left, distance), view.height(-found.right, distance)
    ink.box(place, top, deep, max(foot - top, 0.6), "solid")
    return True


def draw_from_side(ink: Ink, answer: Answer, view: DrawnView, ground_mm: float) -> None:
    """Draw the model's height and depth, its table and its ground; `ground_mm` is how far that lies below the lens."""
    found, distance, foot = built(answer), answer.setup.level(answer.setup.model_mm), answer.lineup.foot_height_mm
    place = view.strip.at(distance)
    if foot is not None and view.holds(foot - ground_mm, distance):
        table, floor = view.height(foot - ground_mm, distance), view.height(-ground_mm, distance)
        ink.line(place - 5, table, place + 5, table, "bold")
        for leg in (place - 4, place + 4):
            ink.line(leg, table, leg, floor)
    if found is not None and found.top is not None and found.bottom is not None:
        deep = _deep(found, view, distance)
        top, bottom = (view.height(height - ground_mm, distance) for height in (found.top, found.bottom))
        ink.box(place, top, deep, max(bottom - top, 0.6), "solid")
