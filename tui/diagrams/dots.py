"""Lines on a canvas as finely as its glyphs allow: eight dots a cell in braille, else one sign a cell."""

from __future__ import annotations

from forescale.tui.diagrams.canvas import Canvas

BRAILLE = 0x2800
_BITS = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))  # Unicode 5.2, 15.11: column by column from the top


class Dots:
    """Dots over a part of a canvas, from (0, 0) at its lower left to (1, 1) at its upper right; `put` draws them."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int) -> None:
        self._canvas, self._left, self._top = canvas, left, top
        self._fine = canvas.glyphs.name == "full"
        self._across, self._down = (2, 4) if self._fine else (1, 1)
        self.width, self.height = width * self._across, height * self._down
        self._cells: dict[tuple[int, int], tuple[int, str]] = {}

    def line(self, begin: tuple[float, float], end: tuple[float, float], sign: str, every: int = 1) -> None:
        """Draw a straight line, every so many dots of it; `sign` is what stands in a cell where there is no braille."""
        (x0, y0), (x1, y1) = self._dot(begin), self._dot(end)
        count = max(abs(x1 - x0), abs(y1 - y0))
        if count > 50 * max(self.width, self.height, 1):  # nearly all of it far outside
            return
        for step in range(0, round(count) + 1, every):
            share = step / count if count >= 1 else 0.0
            self._set(round(x0 + share * (x1 - x0)), round(y0 + share * (y1 - y0)), sign)

    def _dot(self, place: tuple[float, float]) -> tuple[float, float]:
        return place[0] * (self.width - 1), (1 - place[1]) * (self.height - 1)

    def _set(self, x: int, y: int, sign: str) -> None:
        if 0 <= x < self.width and 0 <= y < self.height:
            cell = y // self._down, x // self._across
            bit = _BITS[x % 2][y % 4] if self._fine else 0
            bits, first = self._cells.get(cell, (0, sign))
            self._cells[cell] = (bits | bit, first)

    def put(self) -> None:
        """Draw all dots on the canvas."""
        for (row, column), (bits, sign) in self._cells.items():
            self._canvas.mark(self._top + row, self._left + column, chr(BRAILLE + bits) if self._fine else sign)
