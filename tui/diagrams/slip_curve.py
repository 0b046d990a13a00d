"""How far the model slides against the background in the course of the move, and how far it may."""

from __future__ import annotations

from dataclasses import dataclass

from engine.answer import Answer
from engine.answer.curves import slip_over_move
from engine.units import angle_text, number_text
from tui.diagrams.canvas import NARROWEST, Canvas
from tui.glyphs import Glyphs

PLOT_FROM = 5  # rows; with fewer the same is said in words alone


@dataclass(frozen=True, slots=True)
class _Frame:
    """The columns and rows of the plot, and the slips, in pixels, at its top and bottom row."""

    left: int
    right: int
    bottom: int
    high_px: float
    low_px: float

    def row(self, slip_px: float) -> int:
        return round((self.high_px - slip_px) / (self.high_px - self.low_px) * self.bottom)


def draw(answer: Answer, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return the slip in pixels over the angle turned, on the band of what may pass; in words where room is short.

    Above zero the model outruns the background, below it lags.
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
    bottom = height - (3 if height == PLOT_FROM else 4)
    frame = _Frame(left, width - 1, bottom, max(*numbers, *slips), min(*numbers, *slips))
    _upright(canvas, frame, numbers)
    _band_and_curve(canvas, frame, answer.slip.tolerance_px, slips)
    _angles(canvas, frame, answer)
    canvas.side_by_side(bottom + 3, _legend(answer, glyphs))
    return canvas.lines()


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
    """Return the numbers of the upright axis: where the move ends, how much may pass to either side, and zero."""
    slip = answer.slip
    marked = (slip.slip_px or 0.0, slip.tolerance_px, -slip.tolerance_px, 0.0)
    return {px: _signed(px) for px in marked}


def _upright(canvas: Canvas, frame: _Frame, numbers: dict[float, str]) -> None:
    glyphs = canvas.glyphs
    canvas.down(frame.left - 1, 0, frame.bottom, glyphs.vertical)
    for px, number in numbers.items():
        if canvas.write(frame.row(px), frame.left - 2 - len(number), number):
            canvas.mark(frame.row(px), frame.left - 1, glyphs.tee_left)


def _band_and_curve(canvas: Canvas, frame: _Frame, tolerance_px: float, slips: list[float]) -> None:
    glyphs = canvas.glyphs
    canvas.across(frame.row(0.0), frame.left, frame.right, glyphs.dot)
    for edge_px in (tolerance_px, -tolerance_px):
        canvas.across(frame.row(edge_px), frame.left, frame.right, glyphs.shade_light)
    for column, slip in enumerate(slips, frame.left):
        canvas.mark(frame.row(slip), column, glyphs.point)


def _angles(canvas: Canvas, frame: _Frame, answer: Answer) -> None:
    glyphs, row, sweep = canvas.glyphs, frame.bottom + 1, answer.slip.sweep_deg
    canvas.mark(row, frame.left - 1, glyphs.bottom_left)
    canvas.across(row, frame.left, frame.right, glyphs.horizontal)
    for share in (1.0, 0.0, 0.5):
        column = round(frame.left + share * (frame.right - frame.left))
        if canvas.place([row + 1], column, [angle_text(share * sweep)], reach=0):
            canvas.mark(row, column, glyphs.tee_down)


def _legend(answer: Answer, glyphs: Glyphs) -> list[str]:
    slip = answer.slip
    return [
        f"{glyphs.point} slip in px, at the end {_signed(slip.slip_px or 0.0)}",
        f"{glyphs.shade_light} may pass up to here",
        "+ model outruns",
        "- lags",
    ]
