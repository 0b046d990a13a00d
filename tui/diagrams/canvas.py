"""A grid of characters: line art below, lettering above it; no text is ever cut, covered or drawn off the edge."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from forescale.tui.glyphs import Glyphs, plain

NARROWEST = 20  # columns; with fewer a diagram stays blank
GAP = 2  # blank columns between two texts in a row, so that two numbers never read as one
REACH = 6  # how far to the side of its mark a text that names it by letter may end up


class Canvas:
    """What a diagram draws on; rows and columns count from 0 at the top left."""

    def __init__(self, width: int, height: int, glyphs: Glyphs) -> None:
        self.width = width
        self.height = height
        self.glyphs = glyphs
        self._cells = [[" "] * width for _ in range(height)]
        self._lettered = [[False] * width for _ in range(height)]
        self._quiet = [[False] * width for _ in range(height)]
        self._placed: list[tuple[int, int, int]] = []  # row, column of the mark, start of its text

    def mark(self, row: int, column: int, glyph: str) -> None:
        """Draw line art in one cell; under lettering, beside a text and off the canvas nothing is drawn."""
        if self._inside(row, column) and not self._lettered[row][column] and not self._quiet[row][column]:
            self._cells[row][column] = glyph

    def across(self, row: int, start: int, end: int, glyph: str) -> None:
        """Draw line art along a row, both ends included."""
        for column in range(start, end + 1):
            self.mark(row, column, glyph)

    def down(self, column: int, top: int, bottom: int, glyph: str) -> None:
        """Draw line art along a column, both ends included."""
        for row in range(top, bottom + 1):
            self.mark(row, column, glyph)

    def slant(self, start: tuple[int, float], end: tuple[int, float], glyph: str) -> None:
        """Draw a straight line of one glyph a column, from one (column, row) to another further right."""
        (first, top), (last, bottom) = start, end
        for column in range(first, last + 1):
            share = (column - first) / max(last - first, 1)
            self.mark(round(top + share * (bottom - top)), column, glyph)

    def letter(self, row: int, column: int, letter: str) -> bool:
        """Set a single letter into the line art; False, and nothing drawn, where there is one already."""
        if not self._inside(row, column) or self._lettered[row][column] or self._quiet[row][column]:
            return False
        self._cells[row][column] = letter
        self._lettered[row][column] = True
        return True

    def write(self, row: int, column: int, text: str) -> bool:
        """Write a whole text, clear of line art; False, and nothing drawn, where it does not fit or would touch."""
        shown = plain(text, self.glyphs)
        if not self._has_room(row, column, len(shown)):
            return False
        end = column + len(shown)
        for at in range(max(column - 1, 0), min(end + 1, self.width)):
            self._cells[row][at] = " "
            self._quiet[row][at] = True
        self._cells[row][column:end] = shown
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

    def side_by_side(self, row: int, texts: Iterable[str]) -> None:
        """Write as many texts as fit whole, from the left; one that does not fit gives way to the next."""
        column = 0
        for text in texts:
            if self.write(row, column, text):
                column += len(plain(text, self.glyphs)) + GAP

    def lines(self) -> list[str]:
        """Return the rows as they stand, without blanks at their ends."""
        return ["".join(cells).rstrip() for cells in self._cells]

    def _inside(self, row: int, column: int) -> bool:
        return 0 <= row < self.height and 0 <= column < self.width

    def _has_room(self, row: int, column: int, length: int) -> bool:
        if not (0 <= row < self.height and column >= 0 and column + length <= self.width):
            return False
        around = self._lettered[row][max(column - GAP, 0) : column + length + GAP]
        return not any(around)
