"""What the lens sees, to scale: frame, horizon, place and model in outline, points to meet, the ends of the move."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass
from itertools import pairwise

from forescale.engine.answer import Answer
from forescale.engine.formulas.projection import Share
from forescale.engine.solve.seen import Seen, SeenLine, SeenPoint, seen
from forescale.engine.units import angle_text, signed_text
from forescale.tui.diagrams.canvas import GAP, NARROWEST, Canvas
from forescale.tui.diagrams.dots import Dots
from forescale.tui.glyphs import Glyphs

CELL = 0.5  # a cell's width over its height
WIDEST = 3.0  # frames that are shown side by side at most, where a move goes far
LEAST_ROWS = 6  # with fewer nothing could be told apart
NAMES = 9  # points that have a digit


@dataclass(frozen=True, slots=True)
class _Window:
    """The part of the picture that is drawn, in shares of the frame, and the cells that it fills."""

    left: float
    right: float
    bottom: float
    top: float
    columns: int
    rows: int

    def place(self, share: Share) -> tuple[float, float]:
        """Return where a share of the frame lies, from 0 to 1 over the window."""
        return (share.across - self.left) / (self.right - self.left), (share.up - self.bottom) / (
            self.top - self.bottom
        )

    def cell(self, share: Share) -> tuple[int, int]:
        """Return the row and column of a share."""
        x, y = self.place(share)
        return round((1 - y) * (self.rows - 1)), round(x * (self.columns - 1))


def draw(answer: Answer, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return the view, with its legend below where both have room; the legend alone where the view has none."""
    canvas = Canvas(width, height, glyphs)
    if width < NARROWEST or height < 1:
        return canvas.lines()
    picture = seen(answer)
    legend = _legend(answer, picture, glyphs, width)
    if height < LEAST_ROWS:
        for row, text in enumerate(legend[:height]):
            canvas.side_by_side(row, text)
        return canvas.lines()
    if height - len(legend) < LEAST_ROWS:
        legend = []
    rows = height - len(legend)
    window = _window(picture, width, rows)
    _lines(canvas, window, picture)
    _points(canvas, window, picture)
    for row, text in enumerate(legend, start=window.rows):
        canvas.side_by_side(row, text)
    return canvas.lines()


def _window(picture: Seen, width: int, rows: int) -> _Window:
    """Return the frame and what of the move's ends stands beside it, at its true shape in the room there is."""
    ends = [*picture.begin, *picture.end]
    across = [0.0, 1.0, *(min(max(share.across, 1 - WIDEST), WIDEST) for share in ends)]
    up = [0.0, 1.0, *(min(max(share.up, 1 - WIDEST), WIDEST) for share in ends)]
    left, right, bottom, top = min(across), max(across), min(up), max(up)
    shape = picture.shape * (right - left) / (top - bottom) / CELL
    columns = min(width, max(round(rows * shape), 2))
    return _Window(left, right, bottom, top, columns, min(rows, max(round(columns / shape), 2)))


def _lines(canvas: Canvas, window: _Window, picture: Seen) -> None:
    glyphs = canvas.glyphs
    dots = Dots(canvas, 0, 0, window.columns, window.rows)

    def run(line: SeenLine, sign: str, every: int = 1) -> None:
        for begin, end in pairwise(line):
            dots.line(window.place(begin), window.place(end), sign, every)

    for outline in picture.outlines:
        for line in outline.lines:
            run(line, glyphs.solid if outline.of == "model" else glyphs.dot, 1 if outline.of == "model" else 2)
    for end in (picture.begin, picture.end):
        run((*end, *end[:1]), glyphs.break_mark[0], 4)
    run((Share(window.left, picture.horizon_up), Share(window.right, picture.horizon_up)), glyphs.horizontal, 6)
    if picture.table_up is not None:
        run((Share(0.25, picture.table_up), Share(0.75, picture.table_up)), glyphs.heavy, 3)
    dots.put()
    _frame(canvas, window)


def _frame(canvas: Canvas, window: _Window) -> None:
    """Draw the frame at the line-up over all else, with its middle."""
    glyphs = canvas.glyphs
    (bottom, left), (top, right) = window.cell(Share(0.0, 0.0)), window.cell(Share(1.0, 1.0))
    for row in (top, bottom):
        canvas.across(row, left + 1, right - 1, glyphs.horizontal)
    for column in (left, right):
        canvas.down(column, top + 1, bottom - 1, glyphs.vertical)
    corners = (glyphs.top_left, glyphs.top_right, glyphs.bottom_left, glyphs.bottom_right)
    places = ((top, left), (top, right), (bottom, left), (bottom, right))
    for (row, column), glyph in zip(places, corners, strict=True):
        canvas.mark(row, column, glyph)
    canvas.mark(*window.cell(Share(0.5, 0.5)), glyphs.cross)


def _points(canvas: Canvas, window: _Window, picture: Seen) -> None:
    """Set each point by its digit where the real one is, and by a sign where the model has it, apart from that."""
    for number, point in enumerate(picture.points[:NAMES], start=1):
        real = None if point.real is None else window.cell(point.real)
        if real is not None:
            canvas.letter(*real, str(number))
        if point.built is not None and (built := window.cell(point.built)) != real:
            canvas.mark(*built, canvas.glyphs.other_point)


def _legend(answer: Answer, picture: Seen, glyphs: Glyphs, width: int) -> list[list[str]]:
    """Return what the lines and digits stand for, in rows of texts that fit a width."""
    kinds, aim = {outline.of for outline in picture.outlines}, answer.setup.aim_deg
    texts = [f"{glyphs.cross} middle, {f'aimed {angle_text(aim)}' if aim else 'level'}"]
    if "model" in kinds:
        texts.append(f"{'⣿' if glyphs.name == 'full' else glyphs.solid} model")
    if "place" in kinds:
        texts.append(f"{glyphs.dot} place")
    if picture.table_up is not None:
        texts.append(f"{glyphs.heavy} table")
    if picture.end or picture.begin:
        texts.append(f"{glyphs.break_mark[0]} ends of the move")
    told = answer.picture.points if answer.picture is not None else ()
    texts += [
        f"{number} {point.name}{_miss(one.miss_across_px, one.miss_up_px)}{_where(point)}"
        for number, (point, one) in enumerate(zip(picture.points[:NAMES], told, strict=False), start=1)
    ]
    return _in_rows(texts, width)


def _in_rows(texts: list[str], width: int) -> list[list[str]]:
    """Return texts side by side in as few rows as hold them in their order."""
    rows: list[list[str]] = []
    used = width + 1
    for text in (line for one in texts for line in textwrap.wrap(one, width, subsequent_indent="  ")):
        if used + GAP + len(text) > width:
            rows.append([])
            used = -GAP
        rows[-1].append(text)
        used += GAP + len(text)
    return rows


def _miss(across_px: float | None, up_px: float | None) -> str:
    if across_px is None or up_px is None:
        return ""
    if max(abs(across_px), abs(up_px)) < 0.5:
        return " meets"
    return f" misses {signed_text(across_px, 0)}, {signed_text(up_px, 0)} px"


def _where(point: SeenPoint) -> str:
    if point.real is None or not point.real.inside:
        return ", not in frame"
    return ", leaves the frame" if point.leaves else ""
