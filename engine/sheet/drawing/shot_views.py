"""The shot from above and from the side, of an answer that `levelled` gave: distances count level from the pupil."""

import math
from typing import NamedTuple

from forescale.engine.answer import Answer
from forescale.engine.findings.scale import frame_upright
from forescale.engine.findings.words import Words
from forescale.engine.formulas import optics, silhouette
from forescale.engine.sheet.drawing import views
from forescale.engine.sheet.drawing.ink import Ink, fitted, text_width_mm
from forescale.engine.sheet.drawing.views import ASIDE_MM, WORD_MM, DrawnView, frame_rays, strip
from forescale.engine.shot.sections import PANS
from forescale.engine.solve.view import outline_points, stances

ROW_MM = 5.4  # the height of a row of dimensions or words under the view from above
ROWS = 6  # so many of them
FOCUS_REACH = 2.2  # the focus is drawn in its place where it lies within so many times the model's distance
BACK_RISE = 1.7  # how much higher on paper a line of sight meets the background than it leaves the foreground
GROUND_REACH = 3.0  # a lens higher over the ground than so many foregrounds leaves the ground off the paper


class Built(NamedTuple):
    """The model as it stands, mm: aside (right +), heights over the background's ground, how deep it is."""

    left: float
    right: float
    bottom: float | None
    top: float | None
    deep: float


def _built(answer: Answer) -> Built | None:
    """Return the model's size by its outlines or its parts; None where neither says how large it is."""
    setting = answer.setting
    foot = answer.lineup.foot_height_mm
    ratio = answer.scale.ratio
    deep = max((part.deep / ratio for part in setting.build if part.deep), default=0.0)
    rows = [row for row in setting.outline if row.of == "model" and row.piece is None]
    if rows:
        placed = stances(setting, answer.kit, answer.setup, "shot")
        points = [point for row in rows for point in outline_points(row, setting, answer.setup, placed)]
        left, bottom, right, top = silhouette.extent((point.x, point.h) for point in points)
        return Built(left, right, bottom, top, deep)
    wide = max((part.wide / ratio for part in setting.build if part.wide), default=0.0)
    # The full size of a part stands for the height that a part with a width leaves out.
    tall = max(((one.tall or (one.other if one.wide else 0.0) or 0.0) / ratio for one in setting.build), default=0.0)
    if not wide:
        return None
    return Built(-wide / 2, wide / 2, foot, None if foot is None or not tall else foot + tall, deep)


def _box(ink: Ink, view: DrawnView, found: Built, distance: float, above: tuple[float, float]) -> None:
    """Draw the model's extent across the view, and its depth as far as the paper goes: a line at least."""
    place = view.strip.at(distance)
    top, foot = (view.height(height, distance) for height in above)
    deep = max(min(found.deep / view.strip.front, view.strip.end_mm - place), 0.6)
    ink.box(place, top, deep, max(foot - top, 0.6), "solid")


def _reach_mm(answer: Answer) -> float:
    """Return how far the foreground goes, from the pupil: the model, and the focus where it lies not far beyond."""
    model, focus = answer.setup.model_mm, answer.setup.focus_mm
    return max(model, focus) if focus <= FOCUS_REACH * model else model


def plan_view(answer: Answer, left: float, top: float, right: float, foot: float) -> DrawnView:
    """Return the view from above on a part of the paper; the dimensions take its lower rows."""
    setup = answer.setup
    move = answer.setting.move
    half = optics.half_field_deg(setup.frame_width_mm, setup.image_mm)
    field = frame_rays(half, {"pan": 1.0, "pan left": -1.0}.get(move.axis, 0.0), move)
    foot -= ROW_MM * ROWS + 3
    tall = setup.model_mm * sum(field.reach)
    along = strip(left, right, _reach_mm(answer), setup.background_mm, tall / (0.92 * (foot - top)))
    axis = top + (foot - top) * field.reach[0] / sum(field.reach)
    return DrawnView("plan", "From above", along, axis, top, foot, field)


def draw_plan(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Draw the view from above."""
    setup, slip, found, voice = answer.setup, answer.slip, _built(answer), Words(answer)
    views.begin(ink, view)
    views.draw_background(ink, view, setup.background_mm)
    views.draw_standing(ink, view, setup.near_mm, "dash")
    if found is None:
        views.draw_standing(ink, view, setup.model_mm, "bold")
    else:
        _box(ink, view, found, setup.model_mm, (-found.left, -found.right))
    views.draw_camera(ink, view, setup.pupil.ahead_mm)
    if slip.offset_mm is not None and slip.axis in PANS:
        ink.circle(view.strip.start_mm - slip.offset_mm / view.strip.front, view.axis, 0.8)
    ink.end()
    # No drawing shows the pupil's place and the slide so small, so they are said.
    said = [f"pupil {voice.pupil(slip.pupil_ahead_mm, 'the mark')}" if slip.pupil_known else "pupil not known"]
    if slip.slide_mm is not None:
        said.append(f"slide at {voice.reading(slip.slide_mm)}")
    text = fitted(", ".join(said), view.strip.end_mm - view.left)
    ink.text(view.left + 1, view.foot + ROWS * ROW_MM - 0.6, text)
    _widths(ink, answer, view)
    _tapes(ink, answer, view)


def _widths(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Draw how wide the frame is at the model, and how wide the model must be over the move."""
    voice, lined, distance = Words(answer), answer.lineup, answer.setup.model_mm
    place = view.strip.at(distance)
    half = lined.frame_width_model_mm / 2
    near = view.strip.at(answer.setup.near_mm)
    before = place - ASIDE_MM
    if abs(near - before) < ASIDE_MM / 2:  # not on the line of the nearest part
        before = near - ASIDE_MM / 2
    ends = view.height(half, distance), view.height(-half, distance)
    views.dimension(ink, view, before, ends, f"frame {voice.length(2 * half)}", beyond=True)
    if len(view.field.turns) > 1 and lined.cover_width_mm is not None:
        cover = f"cover {voice.length(lined.cover_width_mm)}"
        views.dimension(ink, view, place + ASIDE_MM, view.swept(distance), cover)


def _tapes(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Draw the tape distances in rows under the view, the nearest first, and the sharp zone as a bar under them."""
    voice, setup, zone = Words(answer), answer.setup, answer.focus
    nearest = answer.setting.place.model_near
    tapes = [] if nearest is None else [("nearest part", setup.near_mm, nearest)]
    tapes.append(("model", setup.model_mm, answer.lineup.model_mm))
    tapes.append(("focus mark", setup.focus_mm, zone.focus_mm))
    tapes.append(("background", setup.background_mm, answer.lineup.background_mm))
    sensor = view.strip.at(-setup.pupil.ahead_mm)
    ink.line(sensor, view.axis, sensor, view.foot + ROW_MM * len(tapes), "faint")
    for row, (name, distance, told) in enumerate(sorted(tapes, key=lambda tape: tape[1]), start=1):
        height = view.foot + ROW_MM * row - 0.6
        place = view.strip.at(distance)
        if view.strip.shows(distance):
            ink.line(place, view.axis, place, height, "faint")
        ink.across(sensor, place, height, f"{name} {voice.length(told)}")
    height = view.foot + ROW_MM * (len(tapes) + 1) - 0.6
    near, far = (view.strip.at(mm - setup.pupil.ahead_mm) for mm in (zone.near_mm, zone.far_mm))
    ink.box(near, height - 2.1, max(far - near, 0.3), 4.2, "grey")  # off the paper where it has no end
    words = f"sharp {voice.sharp_from(zone.near_mm)} to {voice.sharp_to(zone.far_mm)}"
    if far - near > text_width_mm(words):
        ink.text((near + far) / 2, height + 1.2, words, anchor="middle")
    elif near - text_width_mm(words) > view.left:
        ink.text(near - 1, height + 1.2, words, anchor="end")
    else:
        ink.text(far + 1, height + 1.2, words)


def side_view(answer: Answer, left: float, top: float, right: float, foot: float) -> DrawnView:
    """Return the view from the side on a part of the paper."""
    setup = answer.setup
    move = answer.setting.move
    half = optics.half_field_deg(answer.kit.mode.height, setup.image_mm)
    way = {"tilt": -1.0, "tilt down": 1.0}.get(move.axis, 0.0)
    field = frame_rays(half, way, move, answer.setting.place.aim)
    above, below = (setup.model_mm * reach for reach in field.reach)
    if (hang := _hang_mm(answer)) is not None:
        rise = BACK_RISE * hang * _reach_mm(answer) / setup.model_mm
        above, below = max(above, rise), max(below, -rise)
    if (ground := _ground_mm(answer)) is not None:
        below = max(below, 1.05 * ground)
    along = strip(left, right, _reach_mm(answer), setup.background_mm, (above + below) / (0.95 * (foot - top)))
    axis = top + (foot - top) * above / (above + below)
    return DrawnView("side", "From the side", along, axis, top, foot, field)


def _ground_mm(answer: Answer) -> float | None:
    """Return how far below the lens the ground lies, None where that is not known or will not go on the paper."""
    height = answer.setting.place.lens_height
    return height if height is not None and height <= GROUND_REACH * _reach_mm(answer) else None


def _hang_mm(answer: Answer) -> float | None:
    """Return how far above the lens the point to meet is built, None where not known or over 45° off the axis."""
    hang = answer.lineup.hang_height_mm
    lens = answer.setting.place.lens_height
    return None if hang is None or lens is None or abs(hang - lens) > answer.setup.model_mm else hang - lens


def draw_side(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Draw the view from the side."""
    setup, along, ground, found = answer.setup, view.strip, _ground_mm(answer), _built(answer)
    views.begin(ink, view)
    if ground is not None:  # its two parts, each at its own scale, meet in the break
        front = view.axis + ground / along.front
        ink.line(view.left, front, along.end_mm if along.break_mm is None else along.break_mm[0], front)
        if along.break_mm is not None and math.isfinite(along.back):
            back = view.axis + ground / along.back
            ink.line(along.break_mm[1], back, along.end_mm, back)
    lines = _lines_at(answer, view, along.at(setup.background_mm) + ASIDE_MM)
    views.draw_background(ink, view, setup.background_mm, lines)
    if ground is None or found is None or found.bottom is None:
        views.draw_standing(ink, view, setup.model_mm, "bold")
    if ground is not None:
        table = answer.lineup.foot_height_mm
        if table is not None and view.holds(table - ground, setup.model_mm):
            place = along.at(setup.model_mm)
            top, floor = (view.height(up - ground, setup.model_mm) for up in (table, 0.0))
            ink.line(place - 5, top, place + 5, top, "bold")
            for leg in (place - 4, place + 4):
                ink.line(leg, top, leg, floor)
        if found is not None and found.top is not None and found.bottom is not None:
            _box(ink, view, found, setup.model_mm, (found.top - ground, found.bottom - ground))
    hang = _hang_mm(answer)
    if hang is not None and view.holds(hang, setup.model_mm):  # from the lens through the model's point to the real one
        rise = hang / setup.model_mm * (along.end_mm - along.start_mm)
        ink.line(along.start_mm, view.axis, along.end_mm, view.axis - rise, "dash")
        ink.circle(along.at(setup.model_mm), view.height(hang, setup.model_mm), 0.9, "solid")
    views.draw_camera(ink, view, setup.pupil.ahead_mm)
    ink.end()
    _heights(ink, answer, view)


def _lines_at(answer: Answer, view: DrawnView, x: float) -> list[float]:
    """Return the paper heights at which the line of sight and the ground pass a place of the strip."""
    ground, hang, along = _ground_mm(answer), _hang_mm(answer), view.strip
    lines = [] if hang is None else [view.axis - hang / answer.setup.model_mm * (x - along.start_mm)]
    if ground is not None:
        front = along.break_mm is None or x <= along.break_mm[0]
        lines.append(view.axis + ground / (along.front if front else along.back))
    return lines


def _heights(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Draw the heights: the frame at the model, the lens, the table, and the point on the model and the real thing."""
    voice, lined, distance = Words(answer), answer.lineup, answer.setup.model_mm
    place = view.strip.at(distance)
    top, bottom = frame_upright(answer)
    ends = view.height(top, distance), view.height(bottom, distance)
    ground, hang = _ground_mm(answer), _hang_mm(answer)
    foot = view.height(-(ground or 0.0), 0.0)
    if ground is not None:  # first, since the label of the frame makes room more easily
        views.dimension(ink, view, view.strip.start_mm + ASIDE_MM, (view.axis, foot), f"lens {voice.length(ground)}")
        if (table := lined.foot_height_mm) is not None and view.holds(table - ground, distance):
            ink.upright(place - 2 * ASIDE_MM, view.height(table - ground, distance), foot)
            ink.label(place - 2 * ASIDE_MM, foot + WORD_MM, f"table {voice.length(table)}")
    views.dimension(ink, view, place - ASIDE_MM, ends, f"frame {voice.length(top - bottom)}", beyond=True)
    if ground is None:
        return
    if hang is not None and lined.hang_height_mm is not None and view.holds(hang, distance):
        point = view.height(hang, distance)
        aside = place + ASIDE_MM
        ends = (min(point, foot), max(point, foot))
        label = f"point {voice.length(lined.hang_height_mm)}"
        views.dimension(ink, view, aside, ends, label, _lines_at(answer, view, aside))
        real = answer.setting.place.feature_height
        back = answer.setup.background_mm
        if real is not None and view.strip.shows(back) and view.holds(real - ground, back):
            ends = (view.height(real - ground, back), view.height(-ground, back))
            aside = view.strip.at(back) + 2 * ASIDE_MM
            views.dimension(ink, view, aside, ends, f"point {voice.length(real)}", _lines_at(answer, view, aside))
