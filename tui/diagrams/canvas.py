"""A grid of cells: line art below, as finely as its glyphs allow, whole lettering above it, never off the edge."""

from collections.abc import Callable, Iterable, Sequence
from functools import wraps
from itertools import pairwise, product
from math import ceil, floor
from typing import Any

from forescale.engine.answer import Answer
from forescale.tui.glyphs import Glyphs, plain
from forescale.tui.runs import Row, Run

NARROWEST = 20  # columns; with fewer a diagram stays blank
GAP = 2  # blank columns between two texts in a row, so that two numbers never read as one
REACH = 6  # how far to the side of its mark a text that names it by letter may end up
Text = str | tuple[str, str]  # a text alone, or with the style of its first word, the sign that it explains
BRAILLE = 0x2800
_BITS = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))  # Unicode 5.2, 15.11: column by column from the top
CellPlace = tuple[float, float]  # column and row; whole numbers are the middles of cells
Drawing = Callable[[Answer, int, int, Glyphs], list[Row]]


class Canvas:
    """What a diagram draws on; rows and columns count from 0 at the top left. Line art and lettering have styles."""

    def __init__(self, width: int, height: int, glyphs: Glyphs) -> None:
        self.width = width = max(width, 0)  # a window of one column leaves less than none
        self.height = height = max(height, 0)
        self.glyphs = glyphs
        self._cells, self._styles = ([[sign] * width for _ in range(height)] for sign in (" ", "drawing"))
        self._lettered, self._quiet = ([bytearray(width) for _ in range(height)] for _ in range(2))  # 1 where so
        self._placed: list[tuple[int, int, int]] = []  # row, column of the mark, start of its text

    def mark(self, row: int, column: int, glyph: str, style: str = "drawing") -> bool:
        """Draw line art in one cell; False, and nothing drawn, under lettering, beside a text and off the canvas."""
        clear = 0 <= row < self.height and 0 <= column < self.width and not self._quiet[row][column]
        if clear:
            self._cells[row][column] = glyph
            self._styles[row][column] = style
        return clear

    def across(self, row: int, start: int, end: int, glyph: str, style: str = "drawing") -> None:
        """Draw line art along a row, both ends included."""
        start, end = max(start, 0), min(end + 1, self.width)
        if start < end and 0 <= row < self.height and self._quiet[row].find(1, start, end) < 0:
            self._cells[row][start:end] = glyph * (end - start)
            self._styles[row][start:end] = [style] * (end - start)
            return
        for column in range(start, end):
            self.mark(row, column, glyph, style)

    def down(self, column: int, top: int, bottom: int, glyph: str, style: str = "drawing") -> None:
        """Draw line art along a column, both ends included."""
        for row in range(top, bottom + 1):
            self.mark(row, column, glyph, style)

    def box(self, top: int, left: int, bottom: int, right: int) -> None:
        """Draw a frame, its corners in these rows and columns."""
        of = self.glyphs
        for row, begin, end in ((top, of.top_left, of.top_right), (bottom, of.bottom_left, of.bottom_right)):
            self.across(row, left, right, of.horizontal)
            self.mark(row, left, begin)
            self.mark(row, right, end)
        for column in (left, right):
            self.down(column, top + 1, bottom - 1, of.vertical)

    def letter(self, row: int, column: int, letter: str) -> None:
        """Set a single letter into the line art; nothing is drawn where there is one already."""
        if self.mark(row, column, letter, "value"):
            self._lettered[row][column] = self._quiet[row][column] = 1

    def write(self, row: int, column: int, text: str, sign: str = "answer") -> bool:
        """Write a whole text clear of line art, its first word in the style `sign`; False where it finds no room."""
        shown = plain(text, self.glyphs)
        end = column + len(shown)
        if column < 0 or end > self.width or not self._has_room(row, column, end):
            return False
        left, right = max(column - 1, 0), min(end + 1, self.width)
        self._cells[row][left:right] = " " * (right - left)
        self._quiet[row][left:right] = b"\1" * (right - left)
        first = len(shown.partition(" ")[0])
        self._cells[row][column:end] = shown
        self._styles[row][column:end] = [sign] * first + ["answer"] * (len(shown) - first)
        self._lettered[row][column:end] = b"\1" * len(shown)
        return True

    def _has_room(self, row: int, start: int, end: int) -> bool:
        return 0 <= row < self.height and self._lettered[row].find(1, max(start - GAP, 0), end + GAP) < 0

    def place(self, rows: Sequence[int], column: int, texts: Iterable[str], reach: int = REACH) -> bool:
        """Write the first of `texts` that fits, as near to centred on `column` as may be, across it for no reach."""
        for text, row in product(texts, rows):
            length = len(plain(text, self.glyphs))
            centred = column - (length - 1) / 2
            starts = range(max(column - length + 1 - reach, 0), min(column + reach, self.width - length) + 1)
            others = [(mark, at) for other, mark, at in self._placed if other == row]
            for start in sorted(starts, key=lambda start: abs(start - centred)):
                in_order = not others or all((start - at) * (column - mark) >= 0 for mark, at in others)  # as the marks
                if in_order and self._has_room(row, start, start + length) and self.write(row, start, text):
                    self._placed.append((row, column, start))
                    return True
        return False

    def side_by_side(self, row: int, texts: Iterable[Text]) -> None:
        """Write as many texts as fit whole, from the left; one that does not gives way to the next."""
        column = 0
        for one in texts:
            text, sign = (one, "answer") if isinstance(one, str) else one
            if self.write(row, column, text, sign):
                column += len(plain(text, self.glyphs)) + GAP

    def rows(self) -> list[Row]:
        """Return the rows as they stand, without blanks at their ends."""
        rows = list[Row]()
        for cells, styles in zip(self._cells, self._styles, strict=True):
            text, row = "".join(cells).rstrip(), list[Run]()
            start, look = 0, styles[0] if text else ""
            for end, style in enumerate(styles[: len(text)]):
                if style != look and text[end] != " ":  # a blank goes with its left
                    row.append((text[start:end], look))
                    start, look = end, style
            rows.append((*row, (text[start:], look)) if text else ())
        return rows


def diagram(draw: Callable[[Canvas, Answer], None]) -> Drawing:
    """Make a drawing of what puts an answer on a canvas: exactly as many rows as it is high, blank where too narrow."""

    @wraps(draw)
    def drawn(answer: Answer, width: int, height: int, glyphs: Glyphs) -> list[Row]:
        canvas = Canvas(width, height, glyphs)
        if width >= NARROWEST and height > 0:
            draw(canvas, answer)
        return canvas.rows()

    return drawn


class Dots:
    """Dots over a part of a canvas, both ends of its columns and rows included; `put` draws them."""

    def __init__(self, canvas: Canvas, left: int, top: int, right: int, bottom: int) -> None:
        self._canvas, self._columns, self._rows = canvas, range(left, right + 1), range(top, bottom + 1)
        self._fine = canvas.glyphs.name == "full"
        self._cells: dict[tuple[int, int], list[Any]] = {}  # the dots set in a cell, and the look of the first of them

    def curve(self, points: Iterable[CellPlace], sign: str, style: str = "drawing", every: int = 1) -> None:
        """Draw every so many dots from point to point, 0 for dashes; the first in a cell keeps its sign and style."""
        wide, high = (2, 4) if self._fine else (1, 1)
        cells, far_outside = self._cells, 200 * max(len(self._columns), len(self._rows))
        done = 0
        for (x0, y0), (x1, y1) in pairwise(((x + 0.5) * wide, (y + 0.5) * high) for x, y in points):
            right, down = x1 - x0, y1 - y0
            far = max(abs(right), abs(down))
            if far > far_outside:  # nearly all of it
                continue
            count = ceil(far) or 1
            right, down = right / count, down / count
            dashes = (step for step in range(count + 1) if (done + step) % (2 * wide) < wide)
            for step in range(-done % every, count + 1, every) if every else dashes:
                x, y = floor(x0 + step * right), floor(y0 + step * down)
                at = y // high, x // wide
                if (cell := cells.get(at)) is not None:
                    cell[0] |= _BITS[x % 2][y % 4]
                else:
                    cells[at] = [_BITS[x % 2][y % 4], sign, style]
            done += count

    def put(self) -> None:
        """Draw the dots that lie within the part on the canvas."""
        for (row, column), (bits, sign, style) in self._cells.items():
            if row in self._rows and column in self._columns:
                self._canvas.mark(row, column, chr(BRAILLE + bits) if self._fine else sign, style)


def sample(glyphs: Glyphs, sign: str, every: int = 1) -> str:
    """Return what a line with every so many dots, or of dashes for 0, looks like in a legend; a blank ends a word."""
    return {0: "⠒\u2800", 1: "⠒⠒", 2: "⠂⠂", 3: "⠂⠐"}.get(every, "⠂\u2800") if glyphs.name == "full" else 2 * sign
