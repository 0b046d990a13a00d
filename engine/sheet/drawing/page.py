"""The drawing's sheet of paper: the two views, a bar for each scale, and the title block."""

from __future__ import annotations

import math

from forescale.engine.answer import Answer
from forescale.engine.findings.words import move_text, moves
from forescale.engine.sheet.cells import clean, wrap
from forescale.engine.sheet.drawing.ink import CHARACTER_MM, Ink, fitted, text_width_mm
from forescale.engine.sheet.drawing.lens_view import Pane, draw_sight
from forescale.engine.sheet.drawing.shot_views import draw_plan, draw_side, plan_view, side_view
from forescale.engine.sheet.drawing.views import BEHIND_MM, DrawnView, levelled
from forescale.engine.sheet.sections.said import verdict
from forescale.engine.sheet.voice import INCH_MM, Voice
from forescale.engine.shot.records import Shot
from forescale.engine.units import UnitSystem, angle_text, filter_text, number_text

WIDE_MM, HIGH_MM = 190.0, 250.0  # as much as a page of either paper has below its stamp
MARGIN_MM = 1.0
HEAD_MM = 7.0
LINE_MM = 4.5
PLAN_MM, SIDE_MM = 108.0, 68.0  # the height of the view from above with its dimensions, and of that from the side
HEAD_NAME_MM = 32.5
SIGHT_MM = 88.0  # the most that the picture takes of the width
BAR_MM = 30.0  # the longest bar
LARGE_UNIT_MM: dict[UnitSystem, float] = {"metric": 1000.0, "imperial": 12 * INCH_MM}


def sheet_svg(shot: Shot, answer: Answer) -> str:
    """Return the drawing as an SVG file of its own."""
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{inline_svg(shot, answer)}'


def inline_svg(shot: Shot, answer: Answer) -> str:
    """Return the drawing as an element to stand inside a page."""
    left, right = MARGIN_MM + BEHIND_MM + 2, WIDE_MM - MARGIN_MM - 4
    plan_foot = MARGIN_MM + PLAN_MM
    sight_top = plan_foot + SIDE_MM
    level = levelled(answer)
    plan = plan_view(level, left, MARGIN_MM + HEAD_MM, right, plan_foot)
    side = side_view(level, left, plan_foot + HEAD_MM, right, sight_top - 5.5)
    pane = Pane(answer, MARGIN_MM + 2, sight_top + HEAD_MM, SIGHT_MM, HIGH_MM - sight_top - HEAD_MM - MARGIN_MM - 2)
    ink = Ink()
    ink.box(0, 0, WIDE_MM, HIGH_MM, "paper")
    ink.box(MARGIN_MM, MARGIN_MM, WIDE_MM - 2 * MARGIN_MM, HIGH_MM - 2 * MARGIN_MM)
    draw_plan(ink, level, plan)
    draw_side(ink, level, side)
    draw_sight(ink, answer, pane)
    _head(ink, answer, plan)
    _head(ink, answer, side)
    ink.line(MARGIN_MM, sight_top, WIDE_MM - MARGIN_MM, sight_top)
    ink.text(MARGIN_MM + 2, sight_top + 5, "What the lens sees", style="head")
    beside = MARGIN_MM + SIGHT_MM + 6
    _block(ink, _notes(shot, answer), beside, sight_top + 5)
    return ink.svg(WIDE_MM, HIGH_MM, shot.title)


def _head(ink: Ink, answer: Answer, view: DrawnView) -> None:
    """Write what the view is and its scale, and draw a bar to check the print by."""
    foot, end = view.top - 1.8, view.strip.end_mm + 2
    ink.line(MARGIN_MM, view.top - HEAD_MM, WIDE_MM - MARGIN_MM, view.top - HEAD_MM)
    ink.text(MARGIN_MM + 2, foot, view.name, style="head")
    length = _bar_length_mm(view.strip.front, answer.system)
    bar, label = length / view.strip.front, Voice(answer).length(length)
    ink.box(end - bar, foot - 1.2, bar, 1.2, "solid")
    ink.text(end - bar - 1.5, foot, label, anchor="end")
    room = end - bar - 1.5 - text_width_mm(label) - 2 - MARGIN_MM - HEAD_NAME_MM
    ink.text(MARGIN_MM + HEAD_NAME_MM, foot, fitted(view.strip.words, room))


def _bar_length_mm(scale: float, system: UnitSystem) -> float:
    """Return a round length that makes a bar of 12 mm to 30 mm of paper."""
    longest, unit = BAR_MM * scale, LARGE_UNIT_MM[system]
    power = unit * 10.0 ** math.floor(math.log10(longest / unit))
    return max(step * power for step in (1, 2, 5) if step * power <= longest * (1 + 1e-9))


def _block(ink: Ink, lines: list[str], left: float, top: float) -> None:
    """Write lines under each other, the first large; what would leave the drawing is cut with an ellipsis."""
    room = WIDE_MM - MARGIN_MM - 2 - left
    ink.text(left, top, fitted(lines[0], room / 1.3), style="head")
    wrapped = [part for line in lines[1:] for part in wrap(clean(line), int(room / CHARACTER_MM))]
    fits = int((HIGH_MM - MARGIN_MM - top - 2) / LINE_MM)
    if len(wrapped) > fits:
        wrapped = [*wrapped[: fits - 1], "…"]
    for row, part in enumerate(wrapped, start=1):
        ink.text(left, top + LINE_MM * row, part)


def _notes(shot: Shot, answer: Answer) -> list[str]:
    """Return title and verdict, how the drawing is to be read, the kit and what is set."""
    kit, voice, slip, lit = answer.kit, Voice(answer), answer.slip, answer.light
    lines = [shot.title, f"Verdict: {verdict(answer)[0].value}", "Distances on the tape, from the sensor-plane mark."]
    if slip.axis != "none":
        where = {"tilt": "tilted up", "tilt down": "tilted down"}.get(slip.axis, "to one side")
        lines.append(f"Dashes: the frame at the end of the move, {where}.")
    if answer.setting.place.lens_height is None:
        lines.append("Lens height not taped, so no ground is drawn.")
    lines += [
        "Printed at full size the scales hold: check the bars.",
        f"{kit.camera.name}, {kit.mode.name}",
        f"{kit.lens.name} at {number_text(kit.focal_mm, 4)} mm, {'no head' if kit.head is None else kit.head.name}",
        f"Scale {voice.ratio(answer.scale.ratio)}, {voice.to_the_foot()}",
        f"Focus mark {voice.length(answer.focus.focus_mm)}, stop {voice.stop(answer.focus.f_number)}",
        f"{voice.rate(answer.speed.fps)}, shutter {angle_text(answer.setting.action.shutter)}",
        f"ISO {number_text(lit.iso, 5)}{f', {filter_text(lit.nd_fitted)}' if lit.nd_fitted else ''}",
    ]
    if moves(answer):
        slide = "" if slip.slide_mm is None else f", slide at {voice.reading(slip.slide_mm)}"
        lines.append(f"{move_text(answer)}{slide}")
    return lines
