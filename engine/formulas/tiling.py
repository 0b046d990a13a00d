"""A drawing at true size on many pages, in mm, x to the right and y up.

A page is named by column and row from the lower left. Neighbours share an overlap, in the middle of which stand the
crosses that they are joined by.
"""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise, product
from typing import NamedTuple

from forescale.engine.formulas.silhouette import XY, encloses, passes_within


class Tiling(NamedTuple):
    """Pages of `wide` by `high` mm over a drawing that begins at `left`, `bottom`; neighbours share `overlap`."""

    left: float
    bottom: float
    columns: int
    rows: int
    wide: float
    high: float
    overlap: float

    def corner(self, column: int, row: int) -> XY:
        """Return the lower left corner of a page's window."""
        return self.left + column * (self.wide - self.overlap), self.bottom + row * (self.high - self.overlap)

    def cross(self, column: int, row: int) -> XY:
        """Return the cross at the lower left of a page: one place, on every page that shows it."""
        x, y = self.corner(column, row)
        return x + self.overlap / 2, y + self.overlap / 2


def tiling(box: tuple[float, float, float, float], wide: float, high: float, overlap: float) -> Tiling:
    """Return the pages over a box (left, bottom, right, top) in their middle, an overlap free at either end."""
    left, bottom, right, top = box
    begins, counts = [], []
    for start, length, page in ((left, right - left, wide), (bottom, top - bottom, high)):
        count = max(1, math.ceil((length + overlap) / (page - overlap) - 1e-9))
        counts.append(count)
        begins.append(start - (count * (page - overlap) + overlap - length) / 2)
    return Tiling(begins[0], begins[1], counts[0], counts[1], wide, high, overlap)


def crossed(pages: Tiling, lines: Sequence[Sequence[XY]]) -> list[tuple[int, int]]:
    """Return the pages (column, row) that a line crosses, from the top row down; those it leaves blank are left out."""
    found = {tile for line in lines for start, end in pairwise(line) for tile in _crossed_by(pages, start, end)}
    return sorted(found, key=lambda tile: (-tile[1], tile[0]))


def _crossed_by(pages: Tiling, start: XY, end: XY) -> Iterable[tuple[int, int]]:
    across, up = (pages.left, pages.wide, pages.columns), (pages.bottom, pages.high, pages.rows)
    spans = []
    for axis, (origin, page, count) in enumerate((across, up)):
        low, high = sorted((start[axis], end[axis]))
        step = page - pages.overlap
        first = max(0, math.ceil((low - origin - page) / step - 1e-9))
        spans.append(range(first, min(count - 1, math.floor((high - origin) / step + 1e-9)) + 1))
    for column, row in product(*spans):
        x, y = pages.corner(column, row)
        if meets(start, end, (x, y, x + pages.wide, y + pages.high)):
            yield column, row


def meets(start: XY, end: XY, box: tuple[float, float, float, float]) -> bool:
    """Return whether a straight line has a place inside a box or on its edge."""
    left, bottom, right, top = box
    return passes_within(*((x - left, right - x, y - bottom, top - y) for x, y in (start, end)))


def covers(outline: Sequence[XY], box: tuple[float, float, float, float]) -> bool:
    """Return whether a closed line has a place inside a box, or lies all around it."""
    sides = [*pairwise((*outline, *outline[:1]))]
    return encloses(sides, *box[:2]) or any(meets(a, b, box) for a, b in sides)
