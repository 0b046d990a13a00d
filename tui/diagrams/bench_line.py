"""The bench drawn: the slips with the line through them and its zero, or what the eye saw along the slide."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from forescale.engine.answer import Answer
from forescale.engine.kit.kit import taken_with
from forescale.engine.solve.bench_group import BenchLine, bench_line
from forescale.engine.solve.groups import BenchAnswer
from forescale.engine.units import number_text
from forescale.tui.diagrams.canvas import NARROWEST, Canvas
from forescale.tui.glyphs import Glyphs

PLOT_FROM = 5  # rows; with fewer nothing is drawn, since the readings say the same
LEGEND_FROM = 8
MARGIN = 0.06  # of what is drawn, beyond the outermost of it
_SEEN = {"outruns": "+", "lags": "-", "locked": "0"}


@dataclass(frozen=True, slots=True)
class _Frame:
    """The columns of the plot and the slides at its ends, mm; its bottom row, and the slips at top and bottom, px."""

    left: int
    right: int
    low_mm: float
    high_mm: float
    bottom: int = 0
    high_px: float = 0.0
    low_px: float = 0.0

    def column(self, slide_mm: float) -> int:
        share = (slide_mm - self.low_mm) / (self.high_mm - self.low_mm)
        return round(self.left + share * (self.right - self.left))

    def row(self, slip_px: float) -> int:
        return round((self.high_px - slip_px) / (self.high_px - self.low_px) * self.bottom)

    def slide(self, column: int) -> float:
        return self.low_mm + (column - self.left) / (self.right - self.left) * (self.high_mm - self.low_mm)


def draw(answer: Answer, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return the slip in pixels over the slide, with the zero and where it lies 95 times of 100; blank for nothing.

    Readings by eye alone give the slide with what was seen along it, and the stretch that holds the zero.
    """
    canvas = Canvas(width, height, glyphs)
    bench = answer.slip.bench
    if bench is None or bench.fault is not None or width < NARROWEST or height < PLOT_FROM:
        return canvas.lines()
    line = bench_line(answer)
    if line is not None:
        _plot(canvas, line, bench)
    else:
        _along_the_slide(canvas, answer, bench)
    return canvas.lines()


def _ends(places: Sequence[float]) -> tuple[float, float]:
    """Return the slides at the ends of the drawing: a little beyond the outermost places."""
    low, high = min(places), max(places)
    spare = MARGIN * (high - low) or 1.0
    return low - spare, high + spare


# Slips in pixels


def _plot(canvas: Canvas, line: BenchLine, bench: BenchAnswer) -> None:
    slips = [point.straight_px for point in line.points]
    as_read = {point.straight_px: point.slip_px for point in line.points}
    numbers = {px: _signed(as_read.get(px, px)) for px in (max(slips), min(slips), 0.0)}
    left = max(map(len, numbers.values())) + 2
    low_mm, high_mm = _ends([line.zero_mm, *(point.slide_mm for point in line.points)])
    bottom = canvas.height - (3 if canvas.height < LEGEND_FROM else 4)
    top_px, bottom_px = max(*slips, 0.0), min(*slips, 0.0)
    if top_px == bottom_px:
        top_px, bottom_px = 1.0, -1.0
    frame = _Frame(left, canvas.width - 1, low_mm, high_mm, bottom, top_px, bottom_px)
    _upright(canvas, frame, numbers)
    canvas.across(frame.row(0.0), left, frame.right, canvas.glyphs.dot)
    _band(canvas, frame, bench, frame.row(0.0))
    _line(canvas, frame, line)
    for point in line.points:
        canvas.mark(frame.row(point.straight_px), frame.column(point.slide_mm), canvas.glyphs.point)
    canvas.letter(frame.row(0.0), frame.column(line.zero_mm), canvas.glyphs.zero)
    _slides(canvas, frame, bottom + 1, [line.zero_mm, *(point.slide_mm for point in line.points)])
    canvas.side_by_side(bottom + 3, _legend(bench, canvas.glyphs))


def _signed(px: float) -> str:
    text = number_text(px)
    return f"+{text}" if px > 0 else text


def _upright(canvas: Canvas, frame: _Frame, numbers: dict[float, str]) -> None:
    canvas.down(frame.left - 1, 0, frame.bottom, canvas.glyphs.vertical)
    for px, number in numbers.items():
        if canvas.write(frame.row(px), frame.left - 2 - len(number), number):
            canvas.mark(frame.row(px), frame.left - 1, canvas.glyphs.tee_left)


def _band(canvas: Canvas, frame: _Frame, bench: BenchAnswer, row: int) -> None:
    """Shade where the zero lies: 95 times of 100, and within one standard error."""
    zero = bench.slide_for_zero_mm
    if zero is None:
        return
    for half, glyph in ((bench.band_mm, canvas.glyphs.shade_light), (bench.std_error_mm, canvas.glyphs.shade)):
        if half is not None:
            start, end = frame.column(zero - half), frame.column(zero + half)
            canvas.across(row, max(start, frame.left), min(end, frame.right), glyph)


def _line(canvas: Canvas, frame: _Frame, line: BenchLine) -> None:
    """Draw the line, on the zero row only where nothing is shaded yet."""
    rises = line.slope_px_per_mm > 0
    glyph = canvas.glyphs.slope_up if rises else canvas.glyphs.slope_down
    for column in range(frame.left, frame.right + 1):
        row = frame.row(line.at(frame.slide(column)))
        if 0 <= row <= frame.bottom and row != frame.row(0.0):
            canvas.mark(row, column, glyph)


def _slides(canvas: Canvas, frame: _Frame, row: int, places: Sequence[float]) -> None:
    """Draw the slide with the zero and the ends of the readings on it."""
    glyphs = canvas.glyphs
    canvas.mark(row, frame.left - 1, glyphs.bottom_left)
    canvas.across(row, frame.left, frame.right, glyphs.horizontal)
    zero, *readings = places
    texts = {zero: f"{zero:.1f}", min(readings): "", max(readings): ""}
    for place, text in texts.items():
        column = frame.column(place)
        if canvas.place([row + 1], column, [text or number_text(place, 5)], reach=3):
            canvas.mark(row, column, glyphs.tee_down)


def _legend(bench: BenchAnswer, glyphs: Glyphs) -> list[str]:
    told = ["px over mm of slide", f"{glyphs.zero} zero"]
    if bench.band_mm is not None:
        told += [f"{glyphs.shade_light} 95 of 100"]
    return [*told, f"{glyphs.point} read"]


# By eye


def _along_the_slide(canvas: Canvas, answer: Answer, bench: BenchAnswer) -> None:
    rows = [row for row in answer.setting.bench if taken_with(row, answer.setting, answer.kit) and row.seen is not None]
    tried = [] if bench.try_next_mm is None else [bench.try_next_mm]
    low_mm, high_mm = _ends([*(row.slide for row in rows), *tried])
    frame = _Frame(1, canvas.width - 2, low_mm, high_mm)
    middle = canvas.height // 2 - 1
    _bracket(canvas, frame, bench, middle + 1)
    for row in rows:
        canvas.mark(middle, frame.column(row.slide), _SEEN[str(row.seen)])
    for place, text in _marked(bench, rows[0].slide):
        if canvas.place([middle + 2], frame.column(place), [text], reach=3):
            canvas.mark(middle + 1, frame.column(place), canvas.glyphs.tee_down)
    canvas.side_by_side(middle + 3, ["+ outruns", "- lags", "0 locked", f"{canvas.glyphs.shade_light} holds the zero"])


def _bracket(canvas: Canvas, frame: _Frame, bench: BenchAnswer, row: int) -> None:
    """Draw the slide, shaded where the zero may lie."""
    canvas.across(row, frame.left, frame.right, canvas.glyphs.horizontal)
    low, high = bench.bracket_mm or (None, None)
    start = frame.left if low is None else frame.column(low)
    end = frame.right if high is None else frame.column(high)
    canvas.across(row, start, end, canvas.glyphs.shade_light)


def _marked(bench: BenchAnswer, first: float) -> list[tuple[float, str]]:
    """Return the places of the slide that are named: what bounds the zero, and where to look next."""
    low, high = bench.bracket_mm or (None, None)
    wanted = [place for place in (bench.slide_for_zero_mm, bench.try_next_mm, low, high) if place is not None]
    return [(place, number_text(round(place, 1), 5)) for place in dict.fromkeys(wanted or [first])]
