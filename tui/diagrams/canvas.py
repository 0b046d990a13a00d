"""A grid of cells: line art below, lettering above it; no text is ever cut, covered or drawn off the edge."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import wraps

from forescale.engine.answer import Answer
from forescale.tui.glyphs import Glyphs, plain
from forescale.tui.runs import Row

NARROWEST = 20  # columns; with fewer a diagram stays blank
GAP = 2  # blank columns between two texts in a row, so that two numbers never read as one
REACH = 6  # how far to the side of its mark a text that names it by letter may end up
Text = str | tuple[str, str]  # a text alone, or with the style of its first word, the sign that it explains
Drawing = Callable[[Answer, int, int, Glyphs], list[Row]]


class Canvas:
    """What a diagram draws on; rows and columns count from 0 at the top left. Line art and lettering have styles."""

    def __init__(self, width: int, height: int, glyphs: Glyphs) -> None:
        self.width = width
        self.height = height
        self.glyphs = glyphs
        self._cells = [[" "] * width for _ in range(height)]
        self._styles = [["drawing"] * width for _ in range(height)]
        self._lettered = [[False] * width for _ in range(height)]
        self._quiet = [[False] * width for _ in range(height)]
        self._placed: list[tuple[int, int, int]] = []  # row, column of the mark, start of its text

    def mark(self, row: int, column: int, glyph: str, style: str = "drawing") -> None:
        """Draw line art in one cell; under lettering, beside a text and off the canvas nothing is drawn."""
        if self._inside(row, column) and not self._lettered[row][column] and not self._quiet[row][column]:
            self._cells[row][column] = glyph
            self._styles[row][column] = style

    def across(self, row: int, start: int, end: int, glyph: str, style: str = "drawing") -> None:
        """Draw line art along a row, both ends included."""
        for column in range(start, end + 1):
            self.mark(row, column, glyph, style)

    def down(self, column: int, top: int, bottom: int, glyph: str, style: str = "drawing") -> None:
        """Draw line art along a column, both ends included."""
        for row in range(top, bottom + 1):
            self.mark(row, column, glyph, style)

    def box(self, top: int, left: int, bottom: int, right: int) -> None:
        """Draw a frame, its corners in these rows and columns."""
        glyphs = self.glyphs
        for row, ends in (
            (top, (glyphs.top_left, glyphs.top_right)),
            (bottom, (glyphs.bottom_left, glyphs.bottom_right)),
        ):
            self.across(row, left + 1, right - 1, glyphs.horizontal)
            self.mark(row, left, ends[0])
            self.mark(row, right, ends[1])
        for column in (left, right):
            self.down(column, top + 1, bottom - 1, glyphs.vertical)

    def letter(self, row: int, column: int, letter: str) -> bool:
        """Set a single letter into the line art; False, and nothing drawn, where there is one already."""
        if not self._inside(row, column) or self._lettered[row][column] or self._quiet[row][column]:
            return False
        self.mark(row, column, letter, "value")
        self._lettered[row][column] = True
        return True

    def write(self, row: int, column: int, text: str, sign: str = "answer") -> bool:
        """Write a whole text, clear of line art; False, and nothing drawn, where it does not fit or would touch.

        The text's first word, which may be the sign that the rest explains, has the style `sign`.
        """
        shown = plain(text, self.glyphs)
        end = column + len(shown)
        if not (0 <= row < self.height and column >= 0 and end <= self.width):
            return False
        if any(self._lettered[row][max(column - GAP, 0) : end + GAP]):
            return False
        for at in range(max(column - 1, 0), min(end + 1, self.width)):
            self._cells[row][at] = " "
            self._quiet[row][at] = True
        first = len(shown.partition(" ")[0])
        self._cells[row][column:end] = shown
        self._styles[row][column:end] = [sign] * first + ["answer"] * (len(shown) - first)
        self._lettered[row][column:end] = [True] * len(shown)
        return True

    def place(self, rows: Sequence[int], column: int, texts: Iterable[str], reach: int = REACH) -> bool:
        """Write the first of `texts` that fits, as near to centred on `column` as may be and never past `reach`.

        With a reach of 0 the text lies across its column.
        """
        return any(self._place(row, column, text, reach) for text in texts for row in rows)

    def _place(self, row: int, column: int, text: str, reach: int) -> bool:
        length = len(plain(text, self.glyphs))
        starts = range(column - length + 1 - reach, column + reach + 1)
        by_distance = sorted(starts, key=lambda start: abs(start + (length - 1) / 2 - column))
        start = next((at for at in by_distance if self._in_order(row, column, at) and self.write(row, at, text)), None)
        if start is not None:
            self._placed.append((row, column, start))
        return start is not None

    def _in_order(self, row: int, column: int, start: int) -> bool:
        """Whether a text there keeps the texts of a row in the order of their marks."""
        return all(
            (start - other_start) * (column - other_column) >= 0
            for other_row, other_column, other_start in self._placed
            if other_row == row
        )

    def side_by_side(self, row: int, texts: Iterable[Text]) -> None:
        """Write as many texts as fit whole, from the left, with the style of each one's sign where it has one.

        One that does not fit gives way to the next.
        """
        column = 0
        for one in texts:
            text, sign = (one, "answer") if isinstance(one, str) else one
            if self.write(row, column, text, sign):
                column += len(plain(text, self.glyphs)) + GAP

    def rows(self) -> list[Row]:
        """Return the rows as they stand, without blanks at their ends."""
        return [self._row(row) for row in range(self.height)]

    def _row(self, row: int) -> Row:
        text = "".join(self._cells[row]).rstrip()
        runs: list[tuple[str, str]] = []
        for glyph, style in zip(text, self._styles[row], strict=False):
            if runs and (runs[-1][1] == style or glyph == " "):
                runs[-1] = (runs[-1][0] + glyph, runs[-1][1])
            else:
                runs.append((glyph, style))
        return tuple(runs)

    def _inside(self, row: int, column: int) -> bool:
        return 0 <= row < self.height and 0 <= column < self.width


def diagram(draw: Callable[[Canvas, Answer], None]) -> Drawing:
    """Make a drawing of what puts an answer on a canvas: exactly as many rows as it is high, blank where too narrow."""

    @wraps(draw)
    def drawn(answer: Answer, width: int, height: int, glyphs: Glyphs) -> list[Row]:
        canvas = Canvas(max(width, 0), max(height, 0), glyphs)
        if width >= NARROWEST and height > 0:
            draw(canvas, answer)
        return canvas.rows()

    return drawn
