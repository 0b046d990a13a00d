"""Lines on a canvas as finely as its glyphs allow: eight dots a cell in braille, else one sign a cell."""

from __future__ import annotations

from typing import Any

from forescale.tui.diagrams.canvas import Canvas
from forescale.tui.glyphs import Glyphs

BRAILLE = 0x2800
_BITS = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))  # Unicode 5.2, 15.11: column by column from the top
Place = tuple[float, float]  # column and row; whole numbers are the middles of cells


class Dots:
    """Dots over a part of a canvas, both ends of its columns and rows included; `put` draws them."""

    def __init__(self, canvas: Canvas, left: int, top: int, right: int, bottom: int) -> None:
        self._canvas, self._columns, self._rows = canvas, range(left, right + 1), range(top, bottom + 1)
        self._fine = canvas.glyphs.name == "full"
        self._cells: dict[tuple[int, int], list[Any]] = {}  # the dots set in a cell, and the look of the first of them

    def line(self, begin: Place, end: Place, sign: str, style: str = "drawing", every: int = 1) -> None:
        """Draw every so many dots of a line, `sign` for braille; the first line in a cell keeps its sign and style."""
        across, down = (2, 4) if self._fine else (1, 1)
        (x0, y0), (x1, y1) = (((x + 0.5) * across - 0.5, (y + 0.5) * down - 0.5) for x, y in (begin, end))
        count = max(abs(x1 - x0), abs(y1 - y0))
        if count > 200 * max(len(self._columns), len(self._rows)):  # nearly all of it far outside
            return
        for step in range(0, round(count) + 1, every):
            share = step / count if count >= 1 else 0.0
            x, y = round(x0 + share * (x1 - x0)), round(y0 + share * (y1 - y0))
            row, column = y // down, x // across
            if row in self._rows and column in self._columns:
                cell = self._cells.setdefault((row, column), [0, sign, style])
                cell[0] |= _BITS[x % 2][y % 4]

    def put(self) -> None:
        """Draw all dots on the canvas."""
        for (row, column), (bits, sign, style) in self._cells.items():
            self._canvas.mark(row, column, chr(BRAILLE + bits) if self._fine else sign, style)


def sample(glyphs: Glyphs, sign: str, every: int = 1) -> str:
    """Return what a line looks like, for a legend."""
    return ("⠒⠒" if every == 1 else "⠂⠂") if glyphs.name == "full" else 2 * sign
