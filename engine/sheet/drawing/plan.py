"""The shot from above: where camera, model and background stand, what the frame sees, and the sharp zone."""

from __future__ import annotations

from forescale.engine.answer import Answer
from forescale.engine.formulas import optics
from forescale.engine.sheet.drawing import views
from forescale.engine.sheet.drawing.ink import Ink, fitted, text_width_mm
from forescale.engine.sheet.drawing.model import draw_from_above
from forescale.engine.sheet.drawing.strip import strip
from forescale.engine.sheet.drawing.views import ASIDE_MM, DrawnView, FrameRays
from forescale.engine.sheet.voice import Voice
from forescale.engine.shot.records import PANS

ROW_MM = 5.4
ROWS = 6
FOCUS_REACH = 2.2  # the focus is drawn in its place where it lies within so many times the model's distance


def reach_mm(answer: Answer) -> float:
    """Return how far the foreground goes, from the pupil: the model, and the focus where it lies not far beyond."""
    setup = answer.setup
    near_by = setup.level(setup.focus_mm) <= FOCUS_REACH * setup.level(setup.model_mm)
    return max(setup.level(setup.model_mm), setup.level(setup.focus_mm)) if near_by else setup.level(setup.model_mm)


def plan_view(answer: Answer, left: float, top: float, right: float, foot: float) -> DrawnView:
    """Return the view from above on a part of the paper; the dimensions take its lower rows."""
    setup, move = answer.setup, answer.setting.move
    half = optics.half_field_deg(setup.frame_width_mm, setup.image_mm)
    way = {"pan": 1.0, "pan left": -1.0}.get(move.axis, 0.0)
    field = FrameRays(half, way * move.sweep, -way * move.start)
    foot -= ROW_MM * ROWS + 3
    tall = setup.level(setup.model_mm) * (field.upper + field.lower)
    along = strip(left, right, reach_mm(answer), setup.level(setup.background_mm), tall / (0.92 * (foot - top)))
    axis = top + (foot - top) * field.upper / (field.upper + field.lower)
    return DrawnView("plan", "From above", along, axis, top, foot, field)


def draw_plan(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Draw the view from above."""
    setup = answer.setup
    views.begin(ink, view)
    views.draw_sight(ink, view)
    views.draw_background(ink, view, setup.level(setup.background_mm))
    views.draw_standing(ink, view, setup.level(setup.near_mm), "dash")
    if not draw_from_above(ink, answer, view):
        views.draw_standing(ink, view, setup.level(setup.model_mm), "bold")
    views.draw_break(ink, view)
    views.draw_camera(ink, view, setup.pupil.ahead_mm)
    _pan_axis(ink, answer, view)
    ink.end()
    _pupil(ink, answer, view)
    _widths(ink, answer, view)
    _tapes(ink, answer, view)


def _pupil(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Say under it all where the entrance pupil stands and what the slide reads: no drawing shows them so small."""
    voice, slip = Voice(answer), answer.slip
    said = [f"pupil {voice.pupil(slip.pupil_ahead_mm, 'the mark')}" if slip.pupil_known else "pupil not known"]
    if slip.slide_mm is not None:
        said.append(f"slide at {voice.reading(slip.slide_mm)}")
    room = view.strip.end_mm - view.left
    ink.text(view.left + 1, view.foot + ROWS * ROW_MM - 0.6, fitted(", ".join(said), room))


def _pan_axis(ink: Ink, answer: Answer, view: DrawnView) -> None:
    offset = answer.slip.offset_mm
    if offset is not None and answer.slip.axis in PANS:
        ink.circle(view.strip.start_mm - offset / view.strip.front, view.axis, 0.8)


def _widths(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Draw how wide the frame is at the model, and how wide the model must be over the move."""
    voice, lined, distance = Voice(answer), answer.lineup, answer.setup.level(answer.setup.model_mm)
    place, half = view.strip.at(distance), lined.frame_width_model_mm / 2
    ends = view.height(half, distance), view.height(-half, distance)
    views.draw_frame(ink, view, _off_nearest(answer, view), ends, f"frame {voice.length(2 * half)}")
    if len(view.field.turns) > 1 and lined.cover_width_mm is not None:
        ends = view.height(distance * view.field.upper, distance), view.height(-distance * view.field.lower, distance)
        views.draw_height(ink, view, place + ASIDE_MM, ends, f"cover {voice.length(lined.cover_width_mm)}")


def _off_nearest(answer: Answer, view: DrawnView) -> float:
    """Return where the frame's dimension stands: before the model, and not on the line of its nearest part."""
    near, place = (
        view.strip.at(answer.setup.level(answer.setup.near_mm)),
        view.strip.at(answer.setup.level(answer.setup.model_mm)) - ASIDE_MM,
    )
    return near - ASIDE_MM / 2 if abs(near - place) < ASIDE_MM / 2 else place


def _tapes(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Draw the tape distances in rows under the view, the nearest first, and the sharp zone last."""
    voice, setup = Voice(answer), answer.setup
    lined, near = answer.lineup, answer.setting.place.model_near
    tapes = [
        ("model", setup.level(setup.model_mm), lined.model_mm),
        ("focus mark", setup.level(setup.focus_mm), answer.focus.focus_mm),
        ("background", setup.level(setup.background_mm), lined.background_mm),
    ]
    if near is not None:
        tapes.insert(0, ("nearest part", setup.level(setup.near_mm), near))
    sensor = view.strip.at(-setup.pupil.ahead_mm)
    ink.line(sensor, view.axis, sensor, view.foot + ROW_MM * len(tapes), "faint")
    for row, (name, distance, told) in enumerate(sorted(tapes, key=lambda tape: tape[1]), start=1):
        height, place = view.foot + ROW_MM * row - 0.6, view.strip.at(distance)
        if view.strip.shows(distance):
            ink.line(place, view.axis, place, height, "faint")
        ink.across(sensor, place, height, f"{name} {voice.length(told)}")
    _zone(ink, answer, view, view.foot + ROW_MM * (len(tapes) + 1) - 0.6)


def _zone(ink: Ink, answer: Answer, view: DrawnView, height: float) -> None:
    """Draw the sharp zone as a bar, running off the paper where it has no end."""
    voice, zone, ahead = Voice(answer), answer.focus, answer.setup.pupil.ahead_mm
    near, far = view.strip.at(zone.near_mm - ahead), view.strip.at(zone.far_mm - ahead)
    ink.box(near, height - 2.1, max(far - near, 0.3), 4.2, "grey")
    words = f"sharp {voice.sharp_from(zone.near_mm)} to {voice.sharp_to(zone.far_mm)}"
    if far - near > text_width_mm(words):
        ink.text((near + far) / 2, height + 1.2, words, anchor="middle")
    elif near - text_width_mm(words) > view.left:
        ink.text(near - 1, height + 1.2, words, anchor="end")
    else:
        ink.text(far + 1, height + 1.2, words)
