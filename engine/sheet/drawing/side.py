"""The shot from the side: the ground, the lens, how high the model's point hangs, and the line of sight through it."""

from __future__ import annotations

import math

from forescale.engine.answer import Answer
from forescale.engine.formulas import optics
from forescale.engine.sheet.drawing import views
from forescale.engine.sheet.drawing.ink import Ink
from forescale.engine.sheet.drawing.model import built, draw_from_side
from forescale.engine.sheet.drawing.plan import reach_mm
from forescale.engine.sheet.drawing.strip import strip
from forescale.engine.sheet.drawing.views import ASIDE_MM, WORD_MM, DrawnView, FrameRays
from forescale.engine.sheet.voice import Voice

BACK_RISE = 1.7  # how much higher on paper a line of sight meets the background than it leaves the foreground
GROUND_REACH = 3.0  # a lens higher over the ground than so many foregrounds leaves the ground off the paper


def side_view(answer: Answer, left: float, top: float, right: float, foot: float) -> DrawnView:
    """Return the view from the side on a part of the paper."""
    setup, move = answer.setup, answer.setting.move
    half = optics.half_field_deg(answer.kit.mode.height, setup.image_mm)
    way = {"tilt": -1.0, "tilt down": 1.0}.get(move.axis, 0.0)
    field = FrameRays(half, way * move.sweep, -way * move.start, answer.setting.place.aim)
    above, below = setup.level(setup.model_mm) * field.upper, setup.level(setup.model_mm) * field.lower
    if (hang := _hang_mm(answer)) is not None:
        rise = BACK_RISE * hang * reach_mm(answer) / setup.level(setup.model_mm)
        above, below = max(above, rise), max(below, -rise)
    if (ground := _ground_mm(answer)) is not None:
        below = max(below, 1.05 * ground)
    along = strip(
        left, right, reach_mm(answer), setup.level(setup.background_mm), (above + below) / (0.95 * (foot - top))
    )
    axis = top + (foot - top) * above / (above + below)
    return DrawnView("side", "From the side", along, axis, top, foot, field)


def _ground_mm(answer: Answer) -> float | None:
    """Return how far below the lens the ground lies, None where that is not known or will not go on the paper."""
    height = answer.setting.place.lens_height
    return height if height is not None and height <= GROUND_REACH * reach_mm(answer) else None


def _hang_mm(answer: Answer) -> float | None:
    """Return how far above the lens the point to meet is built, None where not known or over 45° off the axis."""
    hang, lens = answer.lineup.hang_height_mm, answer.setting.place.lens_height
    if hang is None or lens is None or abs(hang - lens) > answer.setup.level(answer.setup.model_mm):
        return None
    return hang - lens


def draw_side(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Draw the view from the side."""
    setup = answer.setup
    views.begin(ink, view)
    views.draw_sight(ink, view)
    _ground(ink, answer, view)
    back = view.strip.at(setup.level(setup.background_mm))
    views.draw_background(ink, view, setup.level(setup.background_mm), _lines_at(answer, view, back + ASIDE_MM))
    ground = _ground_mm(answer)
    if ground is None or built(answer) is None:
        views.draw_standing(ink, view, setup.level(setup.model_mm), "bold")
    if ground is not None:
        draw_from_side(ink, answer, view, ground)
    _line_of_sight(ink, answer, view)
    views.draw_break(ink, view)
    views.draw_camera(ink, view, setup.pupil.ahead_mm)
    ink.end()
    _heights(ink, answer, view)


def _ground(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Draw the ground the background stands on: its two parts, each at its own scale, meet in the break."""
    ground, along = _ground_mm(answer), view.strip
    if ground is None:
        return
    front = view.axis + ground / along.front
    ink.line(view.left, front, along.end_mm if along.break_mm is None else along.break_mm[0], front)
    if along.break_mm is not None and math.isfinite(along.back):
        back = view.axis + ground / along.back
        ink.line(along.break_mm[1], back, along.end_mm, back)


def _line_of_sight(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Draw the line from the lens through the model's point to the real one."""
    hang, distance, along = _hang_mm(answer), answer.setup.level(answer.setup.model_mm), view.strip
    if hang is None or not view.holds(hang, distance):
        return
    rise = hang / distance * (along.end_mm - along.start_mm)
    ink.line(along.start_mm, view.axis, along.end_mm, view.axis - rise, "dash")
    ink.circle(along.at(distance), view.height(hang, distance), 0.9, "solid")


def _lines_at(answer: Answer, view: DrawnView, x: float) -> list[float]:
    """Return the paper heights at which the line of sight and the ground pass a place of the strip."""
    ground, hang, along = _ground_mm(answer), _hang_mm(answer), view.strip
    lines = []
    if hang is not None:
        lines.append(view.axis - hang / answer.setup.level(answer.setup.model_mm) * (x - along.start_mm))
    if ground is not None:
        front = along.break_mm is None or x <= along.break_mm[0]
        lines.append(view.axis + ground / (along.front if front else along.back))
    return lines


def _heights(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Draw the heights: the frame at the model, the lens, and the point on the model and on the real thing."""
    voice, lined, distance = Voice(answer), answer.lineup, answer.setup.level(answer.setup.model_mm)
    place, half = view.strip.at(distance), lined.frame_height_model_mm / 2
    aimed = distance * math.tan(math.radians(answer.setting.place.aim))
    ends = view.height(aimed + half, distance), view.height(aimed - half, distance)
    views.draw_frame(ink, view, place - ASIDE_MM, ends, f"frame {voice.length(2 * half)}")
    ground, hang = _ground_mm(answer), _hang_mm(answer)
    if ground is None:
        return
    foot, lens = view.height(-ground, 0.0), view.strip.start_mm + ASIDE_MM
    views.draw_height(ink, view, lens, (view.axis, foot), f"lens {voice.length(ground)}")
    if hang is not None and lined.hang_height_mm is not None and view.holds(hang, distance):
        label = f"point {voice.length(lined.hang_height_mm)}"
        point = view.height(hang, distance)
        ends, aside = (min(point, foot), max(point, foot)), place + ASIDE_MM
        views.draw_height(ink, view, aside, ends, label, _lines_at(answer, view, aside))
        _real_height(ink, answer, view, ground)
    table = lined.foot_height_mm
    if table is not None and view.holds(table - ground, distance):
        aside = place - 2 * ASIDE_MM
        ink.upright(aside, view.height(table - ground, distance), foot)
        ink.label(aside, foot + WORD_MM, f"table {voice.length(table)}")


def _real_height(ink: Ink, answer: Answer, view: DrawnView, ground: float) -> None:
    """Draw the height of the point on the real thing, where there is one on the paper."""
    feature, back = answer.setting.place.feature_height, answer.setup.level(answer.setup.background_mm)
    if feature is None or not view.strip.shows(back) or not view.holds(feature - ground, back):
        return
    top, foot = view.height(feature - ground, back), view.height(-ground, back)
    aside = view.strip.at(back) + 2 * ASIDE_MM
    label = f"point {Voice(answer).length(feature)}"
    views.draw_height(ink, view, aside, (top, foot), label, _lines_at(answer, view, aside))
