"""The move as the head makes it: its axis, the lens's pupil, the two targets, the field before and after the turn.

A pan is seen from above, a tilt from the side. Along the lens axis only the order is to scale; across it the angles
are drawn in proportion to each other, as tall as there is room for.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from forescale.engine.answer import Answer
from forescale.engine.shot.records import TILTS
from forescale.engine.units import angle_text
from forescale.tui.diagrams.canvas import NARROWEST, Canvas
from forescale.tui.diagrams.wording import lettered
from forescale.tui.glyphs import Glyphs

AXIS_AT = 4  # column
MODEL_AT = 0.45  # of the width
PUPIL_OFF = 3  # columns from the axis to a pupil that is not on it
STEEPEST_DEG = 85.0  # past it a line would run along the axis's own column
RAIL_FROM = 7  # rows in all
FIELDS_FROM = 5  # rows of picture; with fewer only the axes are drawn


@dataclass(frozen=True, slots=True)
class _Stage:
    """Where everything stands on the canvas; `slope` is how many rows a tangent of one climbs in a column."""

    model: int
    background: int
    row: int
    fields: bool
    slope: float


def draw(answer: Answer, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return the view of the move.

    Rows in the order in which they appear as the height grows: the axes and targets, what the move is in words, the
    targets' distances, the picture across the axis, the slide as a rail, the legend.
    """
    canvas = Canvas(width, height, glyphs)
    if width < NARROWEST:
        return canvas.lines()
    rail = height >= RAIL_FROM
    picture = max(height - 2 - 2 * rail, 1)
    stage = _stage(answer, width, picture)
    _targets(canvas, stage, answer)
    _rays(canvas, stage, answer)
    _lens_axis(canvas, stage)
    if height >= 3:
        _distances(canvas, stage, answer, picture)
    words = picture + (height >= 3)
    canvas.side_by_side(words, _words(answer))
    if rail:
        _rail(canvas, words + 1, answer)
        canvas.side_by_side(words + 2, _legend(answer, glyphs))
    return canvas.lines()


def _turns(answer: Answer) -> bool:
    return answer.slip.axis != "none" and answer.slip.sweep_deg > 0


def _stage(answer: Answer, width: int, rows: int) -> _Stage:
    far, fields = width - 3, rows >= FIELDS_FROM
    above, below = _tangents(answer)[1:] if fields else (_tangents(answer)[0], 0.0)
    row = round((rows - 1) * above / (above + below)) if above else (rows - 1) // 2
    row = min(row, rows - 2) if below else row
    fits = [room / tangent for room, tangent in ((row, above), (rows - 1 - row, below)) if tangent]
    return _Stage(round(width * MODEL_AT), far, row, fields, min(fits, default=0.0) / (far - AXIS_AT))


def _tangents(answer: Answer) -> tuple[float, float, float]:
    """Return the tangents of the turn, of the field's far edge after it, and of the other edge before it."""
    tilts = answer.slip.axis in TILTS
    frame = answer.lineup.frame_height_model_mm if tilts else answer.lineup.frame_width_model_mm
    half = frame / 2 / answer.setup.model_mm
    sweep_deg = answer.slip.sweep_deg if _turns(answer) else 0.0
    far_edge_deg = min(sweep_deg + math.degrees(math.atan(half)), STEEPEST_DEG)
    return math.tan(math.radians(sweep_deg)), math.tan(math.radians(far_edge_deg)), half


def _targets(canvas: Canvas, stage: _Stage, answer: Answer) -> None:
    """Set the letters of axis, pupil (or, where nothing turns, lens), model and background."""
    glyphs, slip = canvas.glyphs, answer.slip
    canvas.letter(stage.row, AXIS_AT, glyphs.axis if _turns(answer) else glyphs.lens)
    if slip.offset_mm is not None:
        passes = abs(slip.offset_mm) <= (slip.tolerance_mm or 0.0)
        columns = math.copysign(1 if passes else PUPIL_OFF, slip.offset_mm)
        canvas.letter(stage.row, AXIS_AT + int(columns), glyphs.pupil)
    canvas.letter(stage.row, stage.model, glyphs.model)
    canvas.letter(stage.row, stage.background, glyphs.background)


def _rays(canvas: Canvas, stage: _Stage, answer: Answer) -> None:
    """Draw the lens axis after the turn and, dotted, the field's edges before it and its far edge after it."""
    glyphs = canvas.glyphs
    turn, far_edge, half = _tangents(answer)
    first, last = AXIS_AT + 1, stage.background

    def row(tangent: float, column: int) -> float:
        return stage.row - tangent * stage.slope * (column - AXIS_AT)

    rays = [(tangent, glyphs.dot) for tangent in (half, -half, far_edge) if stage.fields]
    if _turns(answer) and round(row(turn, last)) < stage.row:
        canvas.place([round(row(turn, last))], last, [angle_text(answer.slip.sweep_deg)])
        rays.append((turn, glyphs.horizontal))
    for tangent, glyph in rays:
        canvas.slant((first, row(tangent, first)), (last, row(tangent, last)), glyph)


def _lens_axis(canvas: Canvas, stage: _Stage) -> None:
    glyphs = canvas.glyphs
    canvas.across(stage.row, 0, stage.background, glyphs.horizontal)
    middle = (stage.model + stage.background) // 2
    for step, glyph in enumerate(glyphs.break_mark):
        canvas.mark(stage.row, middle + step, glyph)


def _distances(canvas: Canvas, stage: _Stage, answer: Answer, row: int) -> None:
    glyphs, line, system = canvas.glyphs, answer.lineup, answer.system
    canvas.place([row], stage.model, lettered(glyphs.model, line.model_mm, system))
    canvas.place([row], stage.background, lettered(glyphs.background, line.background_mm, system))


def _words(answer: Answer) -> list[str]:
    """Return where the pupil is, what the move is, and where the slide stands."""
    slip = answer.slip
    if not _turns(answer):
        return ["no move: nothing turns"]
    slide = [] if slip.slide_mm is None else [f"slide {slip.slide_mm:g} mm"]
    return [_pupil(answer), *slide, f"{slip.axis} {angle_text(slip.sweep_deg)}"]


def _pupil(answer: Answer) -> str:
    slip = answer.slip
    if not slip.pupil_known:
        return "pupil not measured"
    if slip.offset_mm is None:
        return "no head is named" if answer.kit.head is None else "slide not set"
    size = f"{abs(slip.offset_mm):.1f}"
    if float(size) == 0:
        return "P on A"
    return f"P {size} mm {'ahead of' if slip.offset_mm > 0 else 'behind'} A"


def _rail(canvas: Canvas, row: int, answer: Answer) -> None:
    """Draw the head's slide from end to end, with where it is set and where nothing slips."""
    head, slip, glyphs = answer.kit.head, answer.slip, canvas.glyphs
    if head is None or not _turns(answer):
        return
    low, high = f"{head.slide_min:g}", f"{head.slide_max:g} mm"
    left, right = len(low) + 1, canvas.width - len(high) - 2
    canvas.write(row, 0, low)
    canvas.write(row, right + 2, high)
    canvas.across(row, left, right, glyphs.horizontal)
    for reading, letter in ((slip.slide_mm, glyphs.slide), (slip.slide_for_zero_mm, glyphs.zero)):
        if reading is not None and head.slide_min <= reading <= head.slide_max:
            share = (reading - head.slide_min) / (head.slide_max - head.slide_min)
            canvas.letter(row, left + round(share * (right - left)), letter)


def _legend(answer: Answer, glyphs: Glyphs) -> list[str]:
    zero = answer.slip.slide_for_zero_mm
    no_slip = [] if zero is None else [f"{glyphs.zero} no slip at {zero:.1f} mm"]
    named = {
        glyphs.axis if _turns(answer) else glyphs.lens: "axis" if _turns(answer) else "lens",
        glyphs.pupil: "pupil",
        glyphs.slide: "slide",
        glyphs.model: "model",
        glyphs.background: "background",
    }
    if answer.slip.offset_mm is None:
        del named[glyphs.pupil], named[glyphs.slide]
    return [*no_slip, *(f"{letter} {word}" for letter, word in named.items()), f"{glyphs.break_mark} left out"]
