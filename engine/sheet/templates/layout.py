"""Where figures lie on the pages: several small ones on a page, a large one over many."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import dist

from forescale.engine.formulas.tiles import Place, Tiling, crossed, tiling
from forescale.engine.sheet.drawing.ink import text_width_mm
from forescale.engine.sheet.templates.figures import Figure

WIDE_MM, HIGH_MM = 178.0, 230.0  # of a page's window
OVERLAP_MM = 10.0
GAP_MM = 7.0
NAME_MM = 11.0  # what the two lines over a small figure take
MOST_PAGES = 40  # a figure over more pages is listed and not printed
Shared = list[
    tuple[Figure, Place]
]  # figures on one page, each with where its origin lies in the window, from lower left


@dataclass(frozen=True, slots=True)
class Tile:
    """One page of a figure that goes over several."""

    figure: Figure
    pages: Tiling
    printed: tuple[tuple[int, int], ...]
    number: int

    @property
    def at(self) -> Place:
        """Where the figure's origin lies in the window."""
        x, y = self.pages.corner(*self.printed[self.number])
        return -x, -y

    def crosses(self) -> Iterator[tuple[str, Place]]:
        """Yield the crosses on this page: name, and place in the figure."""
        for place in _corners(self.printed[self.number]):
            yield cross_name(*place), self.pages.cross(*place)


def _corners(tile: tuple[int, int]) -> tuple[tuple[int, int], ...]:
    column, row = tile
    return tuple((across, up) for across in (column, column + 1) for up in (row, row + 1))


def cross_name(column: int, row: int) -> str:
    """Return a cross's name on every page that shows it: letters across, numbers up."""
    tens, letter = divmod(column, 26)
    return f"{chr(96 + tens) if tens else ''}{chr(97 + letter)}{row + 1}"


def check_across(tiles: Sequence[Tile]) -> tuple[str, str, float]:
    """Return the two crosses farthest apart on the pages of a figure, and what lies between them in mm."""
    pages = tiles[0].pages
    places = sorted({place for tile in tiles[0].printed for place in _corners(tile)})
    first, last = max(combinations(places, 2), key=lambda pair: dist(pages.cross(*pair[0]), pages.cross(*pair[1])))
    return cross_name(*first), cross_name(*last), dist(pages.cross(*first), pages.cross(*last))


def tiles(figure: Figure) -> tuple[Tile, ...]:
    """Return the pages of a large figure, none where they would be too many."""
    pages = tiling(figure.box, WIDE_MM, HIGH_MM, OVERLAP_MM)
    if max(pages.columns, pages.rows) > MOST_PAGES:
        return ()
    printed = tuple(crossed(pages, figure.lines))
    count = len(printed) if len(printed) <= MOST_PAGES else 0
    return tuple(Tile(figure, pages, printed, number) for number in range(count))


def is_small(figure: Figure) -> bool:
    """Return whether a figure and its name go on a page with others."""
    left, bottom, right, top = figure.box
    return right - left <= WIDE_MM - 2 * GAP_MM and top - bottom <= HIGH_MM - NAME_MM - GAP_MM


def shared(figures: Sequence[Figure]) -> list[Shared]:
    """Return small figures on as few pages as rows of them make, tall ones first."""
    pages: list[Shared] = []
    x, shelf_top, shelf_foot = WIDE_MM, 0.0, HIGH_MM
    for figure in sorted(figures, key=lambda one: one.box[1] - one.box[3]):
        left, bottom, _, top = figure.box
        wide, high = room_mm(figure) + GAP_MM, top - bottom + NAME_MM + GAP_MM
        if not pages or x + wide > WIDE_MM:
            x, shelf_top = 0.0, shelf_foot
            if not pages or shelf_top < high:
                pages.append([])
                shelf_top = HIGH_MM
            shelf_foot = shelf_top - high
        pages[-1].append((figure, (x - left, shelf_top - NAME_MM - top)))
        x += wide
    return pages


def room_mm(figure: Figure) -> float:
    """Return how wide a figure is with its words: its name may be cut to half the page, what it is is not."""
    left, _, right, _ = figure.box
    beside = max((x + text_width_mm(text) for (x, _), text in figure.words), default=0.0)
    name, about = min(text_width_mm(figure.name), WIDE_MM / 2 - GAP_MM), text_width_mm(figure.about)
    return min(max(right - left, beside - left, name, about), WIDE_MM - GAP_MM)
