"""The drawing's sheet of paper: the two views, a bar for each scale, and the title block."""

from __future__ import annotations

import math

from forescale.engine.answer import Answer
from forescale.engine.findings.words import move_text, moves
from forescale.engine.sheet.cells import clean, wrap
from forescale.engine.sheet.drawing.ink import CHARACTER_MM, Ink
from forescale.engine.sheet.drawing.plan import draw_plan, plan_view
from forescale.engine.sheet.drawing.side import draw_side, side_view
from forescale.engine.sheet.drawing.views import BEHIND_MM, View
from forescale.engine.sheet.sections.glance import verdict
from forescale.engine.sheet.voice import INCH_MM, Voice
from forescale.engine.shot.records import Shot
from forescale.engine.units import UnitSystem, angle_text, number_text

PAPER_MM: dict[UnitSystem, tuple[float, float]] = {"metric": (297.0, 210.0), "imperial": (279.4, 215.9)}
MARGIN_MM = 8.0
HEAD_MM = 6.0
BLOCK_MM = 24.0
LINE_MM = 3.6
PLAN_SHARE = 0.62
BAR_MM = 30.0  # the longest bar
LARGE_UNIT_MM: dict[UnitSystem, float] = {"metric": 1000.0, "imperial": 12 * INCH_MM}


def sheet_svg(shot: Shot, answer: Answer) -> str:
    """Return the drawing as an SVG file of its own."""
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{inline_svg(shot, answer)}'


def inline_svg(shot: Shot, answer: Answer) -> str:
    """Return the drawing as an element to stand inside a page."""
    wide, high = PAPER_MM[answer.system]
    left, right = MARGIN_MM + BEHIND_MM + 2, wide - MARGIN_MM - 4
    room = high - 2 * MARGIN_MM - BLOCK_MM - 2 * HEAD_MM
    plan_foot = MARGIN_MM + HEAD_MM + PLAN_SHARE * room
    block_top = high - MARGIN_MM - BLOCK_MM
    plan = plan_view(answer, left, MARGIN_MM + HEAD_MM, right, plan_foot)
    side = side_view(answer, left, plan_foot + HEAD_MM, right, block_top - 2)
    ink = Ink()
    ink.box(0, 0, wide, high, "paper")
    ink.box(MARGIN_MM, MARGIN_MM, wide - 2 * MARGIN_MM, high - 2 * MARGIN_MM)
    draw_plan(ink, answer, plan)
    draw_side(ink, answer, side)
    _head(ink, answer, plan)
    _head(ink, answer, side)
    _block(ink, (_title(shot, answer), _set(answer), _conventions(answer)), block_top, wide - MARGIN_MM)
    return ink.svg(wide, high, shot.title)


def _head(ink: Ink, answer: Answer, view: View) -> None:
    """Write what the view is and its scale, and draw a bar to check the print by."""
    foot, end = view.top - 1.8, view.strip.end_mm + 2
    ink.line(MARGIN_MM, view.top - HEAD_MM, end + 2, view.top - HEAD_MM)
    ink.text(MARGIN_MM + 2, foot, view.name, style="head")
    ink.text(MARGIN_MM + 32, foot, view.strip.words)
    length = _bar_length_mm(view.strip.front, answer.system)
    bar = length / view.strip.front
    ink.box(end - bar, foot - 1.2, bar, 1.2, "solid")
    ink.text(end - bar - 1.5, foot, Voice(answer).length(length), anchor="end")


def _bar_length_mm(scale: float, system: UnitSystem) -> float:
    """Return a round length that makes a bar of 12 mm to 30 mm of paper."""
    longest, unit = BAR_MM * scale, LARGE_UNIT_MM[system]
    power = unit * 10.0 ** math.floor(math.log10(longest / unit))
    return max(step * power for step in (1, 2, 5) if step * power <= longest * (1 + 1e-9))


def _block(ink: Ink, columns: tuple[list[str], ...], top: float, right: float) -> None:
    """Write the title block, in columns side by side."""
    ink.line(MARGIN_MM, top, right, top)
    wide = (right - MARGIN_MM) / len(columns)
    for number, lines in enumerate(columns):
        x = MARGIN_MM + number * wide
        if number:
            ink.line(x, top, x, top + BLOCK_MM)
        _column(ink, x + 2, top, lines, int((wide - 4) / CHARACTER_MM))


def _column(ink: Ink, x: float, top: float, lines: list[str], room: int) -> None:
    """Write lines under each other, the first large; what would leave the block is cut with an ellipsis."""
    first, *others = lines
    wrapped = [("head", part) for part in wrap(clean(first), int(0.75 * room))]
    wrapped += [("text", part) for line in others for part in wrap(clean(line), room)]
    fits = int((BLOCK_MM - 2) / LINE_MM)
    if len(wrapped) > fits:
        wrapped = [*wrapped[: fits - 1], ("text", "…")]
    for row, (style, part) in enumerate(wrapped):
        ink.text(x, top + 4.2 + LINE_MM * row, part, style=style)


def _title(shot: Shot, answer: Answer) -> list[str]:
    kit = answer.kit
    head = "no head" if kit.head is None else kit.head.name
    camera, lens = (
        f"{kit.camera.name}, {kit.mode.name}",
        f"{kit.lens.name} at {number_text(kit.focal_mm, 4)} mm, {head}",
    )
    return [shot.title, f"Verdict: {verdict(answer)[0].value}", camera, lens]


def _set(answer: Answer) -> list[str]:
    voice, slip, lit = Voice(answer), answer.slip, answer.light
    lines = [
        f"Scale {voice.ratio(answer.scale.ratio)}, {voice.to_the_foot()}",
        f"Focus mark {voice.length(answer.focus.focus_mm)}, stop {voice.stop(answer.focus.f_number)}",
        f"{voice.rate(answer.speed.fps)}, shutter {angle_text(answer.setting.action.shutter)}",
        f"ISO {number_text(lit.iso, 5)}{f', ND {lit.filter_stops * 0.3:.1f}' if lit.filter_stops else ''}",
    ]
    if moves(answer):
        slide = "" if slip.slide_mm is None else f", slide at {voice.reading(slip.slide_mm)}"
        lines.append(f"{move_text(answer)}{slide}")
    return lines


def _conventions(answer: Answer) -> list[str]:
    lines = ["How to read it", "Distances on the tape, from the sensor-plane mark."]
    if answer.slip.axis != "none" and answer.slip.sweep_deg > 0:
        where = {"tilt": "tilted up", "tilt down": "tilted down"}.get(answer.slip.axis, "to one side")
        lines.append(f"Dashes: the frame at the end of the move, {where}.")
    if answer.setting.place.lens_height is None:
        lines.append("Lens height not taped, so no ground is drawn.")
    return [*lines, "Printed at full size the scales hold: check the bars."]
