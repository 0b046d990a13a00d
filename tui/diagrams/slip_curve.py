"""How far the model slides against the background in the course of the move, and how far it may."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from forescale.engine.answer import Answer
from forescale.engine.solve.curves import slip_over_move
from forescale.engine.units import angle_text, number_text
from forescale.tui.diagrams.canvas import NARROWEST, Canvas
from forescale.tui.glyphs import Glyphs

PLOT_FROM = 5  # rows; with fewer the same is said in words alone
LEGEND_FROM = 6  # with fewer the legend stands between the angles


@dataclass(frozen=True, slots=True)
class _Side:
    """The slips to one side of zero: so many rows of the plot for those up to `end_px`, positive here.

    What may pass has a row at least, and so has what is past it, so that no two lines share one and no slip that shows
    is drawn on the line of what may pass; all else is in even steps.
    """

    rows: int
    tolerance_px: float
    end_px: float

    def offset(self, slip_px: float) -> int:
        """Return how many rows from the zero row a slip stands, which lies on this side."""
        past = self.end_px > self.tolerance_px
        edge = max(min(self.rows * self.tolerance_px / self.end_px, self.rows - past), 1)
        if slip_px <= self.tolerance_px:
            return round(edge * slip_px / self.tolerance_px)
        even = edge + (self.rows - edge) * (slip_px - self.tolerance_px) / (self.end_px - self.tolerance_px)
        return max(round(even), min(round(edge) + 1, self.rows))


@dataclass(frozen=True, slots=True)
class _Frame:
    """The columns and rows of the plot: above the zero row the model outruns, below it lags."""

    left: int
    right: int
    bottom: int
    above: _Side
    below: _Side

    def row(self, slip_px: float) -> int:
        zero = self.above.rows
        return zero - self.above.offset(slip_px) if slip_px > 0 else zero + self.below.offset(-slip_px)


def draw(answer: Answer, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return the slip in pixels over the angle turned, from zero on; in words where room is short.

    Above the zero row the model outruns the background, below it lags; a line to either side shows what may pass.
    """
    canvas = Canvas(width, height, glyphs)
    if width < NARROWEST:
        return canvas.lines()
    missing = _missing(answer)
    if missing or height < PLOT_FROM:
        for row, text in enumerate(missing or _in_words(answer)):
            canvas.side_by_side(row, [text])
        return canvas.lines()
    numbers = _numbers(answer)
    left = max(map(len, numbers.values())) + 2
    slips = [slip for _, slip in slip_over_move(answer, width - 1 - left)]
    bottom = height - (2 if height < LEGEND_FROM else 3)
    frame = _Frame(left, width - 1, bottom, *_sides(answer, bottom, [*slips, *numbers]))
    _upright(canvas, frame, numbers)
    _lines_and_curve(canvas, frame, answer.slip.tolerance_px, slips)
    _angles(canvas, frame, answer)
    if height >= LEGEND_FROM:
        canvas.side_by_side(height - 1, _legend(glyphs))
    return canvas.lines()


def _sides(answer: Answer, bottom: int, marked: Sequence[float]) -> tuple[_Side, _Side]:
    """Return both sides of the zero row, which stands where even steps would have it, with room for each line."""
    tolerance, high, low = answer.slip.tolerance_px, max(marked), -min(marked)
    even = bottom * high / (high + low)
    ends_above = (answer.slip.slip_px or 0.0) > 0
    zero = math.floor(even + 0.5) if ends_above else math.ceil(even - 0.5)  # a slip of half a row is to show
    above, below = (2 if end > tolerance else 1 for end in (high, low))
    zero = max(min(zero, bottom - below), min(above, bottom - 1))
    return _Side(zero, tolerance, high), _Side(bottom - zero, tolerance, low)


def _missing(answer: Answer) -> list[str]:
    """Return why there is no slip to draw, in short lines; nothing where there is."""
    slip = answer.slip
    if slip.axis == "none" or slip.sweep_deg == 0:
        return ["no move", "nothing can slip"]
    if not slip.pupil_known:
        return ["slip not known", "pupil not measured", "find it on the bench"]
    if answer.kit.head is None:
        return ["slip not known", "no head is named"]
    return ["slip not known", "slide not set"] if slip.slip_px is None else []


def _in_words(answer: Answer) -> list[str]:
    slip = answer.slip
    worst = slip.largest_slip_px or 0.0  # a tilt may slip more on the way than at its end
    does = "outruns" if worst > 0 else "lags"
    return [
        f"slip {_signed(slip.slip_px or 0.0)} px at {angle_text(slip.sweep_deg)}",
        f"{number_text(slip.tolerance_px)} px may pass",
        f"the model {does}" if abs(worst) > slip.tolerance_px else "it will not show",
    ]


def _signed(px: float) -> str:
    text = number_text(px)
    return f"+{text}" if px > 0 else text


def _numbers(answer: Answer) -> dict[float, str]:
    """Return the numbers of the upright axis, the most wanted first: zero, the end, the most, and what may pass."""
    slip = answer.slip
    marked = (0.0, slip.slip_px or 0.0, slip.largest_slip_px or 0.0, slip.tolerance_px, -slip.tolerance_px)
    return {px: _signed(px) for px in marked}


def _upright(canvas: Canvas, frame: _Frame, numbers: dict[float, str]) -> None:
    glyphs = canvas.glyphs
    canvas.down(frame.left - 1, 0, frame.bottom, glyphs.vertical)
    for px, number in numbers.items():
        if canvas.write(frame.row(px), frame.left - 2 - len(number), number):
            canvas.mark(frame.row(px), frame.left - 1, glyphs.tee_left if px else glyphs.cross)


def _lines_and_curve(canvas: Canvas, frame: _Frame, tolerance_px: float, slips: list[float]) -> None:
    glyphs = canvas.glyphs
    for edge_px in (tolerance_px, -tolerance_px):
        canvas.across(frame.row(edge_px), frame.left, frame.right, glyphs.shade_light)
    canvas.across(frame.row(0.0), frame.left, frame.right, glyphs.horizontal)
    for column, slip in enumerate(slips, frame.left):
        canvas.mark(frame.row(slip), column, glyphs.point)


def _angles(canvas: Canvas, frame: _Frame, answer: Answer) -> None:
    """Write the angles turned below the plot: where it starts and ends, and the middle or the legend between."""
    sweep, row = answer.slip.sweep_deg, frame.bottom + 1
    for share in (1.0, 0.0):
        column = round(frame.left + share * (frame.right - frame.left))
        canvas.place([row], column, [angle_text(share * sweep)], reach=0)
    slip, passes, *_ = _legend(canvas.glyphs)
    between = [angle_text(sweep / 2)] if canvas.height >= LEGEND_FROM else [f"{slip}  {passes}", passes, slip]
    canvas.place([row], (frame.left + frame.right) // 2, between, reach=0)


def _legend(glyphs: Glyphs) -> list[str]:
    slip, passes = f"{glyphs.point} slip in px", f"{glyphs.shade_light} may pass up to here"
    return [slip, passes, "+ model outruns", "- lags"]
