"""What a shot has to cut, in mm at true size, x right, y up, and on what pages: small ones share, large take many."""

import math
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from forescale.engine.findings.words import Words
from forescale.engine.formulas.scale import cutout_size_mm
from forescale.engine.formulas.silhouette import XY, Corner, extent, line
from forescale.engine.formulas.tiling import Tiling, crossed, tiling
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.drawing.ink import text_width_mm
from forescale.engine.shot.sections import Part
from forescale.engine.solve.built import running
from forescale.engine.units import UnitSystem, shop_length

Line = tuple[XY, ...]
FINE_STEPS = 180  # lines for an arc: a half circle of 500 mm is off by 0.02 mm, less than a pencil line
ROD_MM = 6.0  # how wide a rod is drawn
PAST_MM = 4.0  # how far a centre line runs past what it halves
APART_MM = 5.0  # the least between two words on a rod
CARD_MM: dict[UnitSystem, float] = {"imperial": 609.6, "metric": 600.0}  # an arm's length, where none is given
LEAST_MM = 0.5  # nothing smaller is drawn


class Figure(NamedTuple):
    """One thing at true size: cut edges, none where it is too small to draw; centre lines, ticks, words at places."""

    name: str
    about: str
    cut: tuple[Line, ...] = ()
    centre: tuple[Line, ...] = ()
    ticks: tuple[Line, ...] = ()
    words: tuple[tuple[XY, str], ...] = ()

    @property
    def lines(self) -> tuple[Line, ...]:
        """Every line that is drawn."""
        return (*self.cut, *self.centre, *self.ticks)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of all that is drawn."""
        return extent(place for one in self.lines for place in one)


def outline_figure(name: str, about: str, corners: Sequence[Corner], ratio: float, *, closed: bool) -> Figure:
    """Return an outline at 1:ratio, with an upright centre line where it encloses something."""
    small = tuple(Corner(corner.x / ratio, corner.h / ratio, corner.arc) for corner in corners)
    edge = line(small, closed=closed, steps=FINE_STEPS)
    left, bottom, right, top = extent(edge)
    if max(right - left, top - bottom) < LEAST_MM:
        return Figure(name, about)
    middle = (left + right) / 2
    centre = (((middle, bottom - PAST_MM), (middle, top + PAST_MM)),) if closed else ()
    return Figure(name, about, (edge,), centre)


def face_figure(name: str, about: str, wide_mm: float, tall_mm: float) -> Figure:
    """Return a rectangle with both its centre lines."""
    if min(wide_mm, tall_mm) < LEAST_MM:
        return Figure(name, about)
    ring = ((0.0, 0.0), (wide_mm, 0.0), (wide_mm, tall_mm), (0.0, tall_mm), (0.0, 0.0))
    upright = ((wide_mm / 2, -PAST_MM), (wide_mm / 2, tall_mm + PAST_MM))
    level = ((-PAST_MM, tall_mm / 2), (wide_mm + PAST_MM, tall_mm / 2))
    return Figure(name, about, (ring,), (upright, level))


def rod_figure(name: str, about: str, places_mm: Sequence[float], texts: Sequence[str]) -> Figure:
    """Return a rod to mark lengths by: a tick at each place from the datum at its foot, words where they have room."""
    last = places_mm[-1]
    at = -APART_MM
    if last < LEAST_MM:
        return Figure(name, about)
    words: list[tuple[XY, str]] = []
    for mm, text in zip(places_mm, texts, strict=True):
        if mm == last or (mm - at >= APART_MM and (last - mm >= APART_MM or not words)):
            words.append(((ROD_MM + 1.5, mm), text))
            at = mm
    ticks = tuple(((0.0, mm), (ROD_MM, mm)) for mm in places_mm)
    return Figure(name, about, (((0.0, 0.0), (0.0, last)), ((0.0, 0.0), (ROD_MM, 0.0))), (), ticks, tuple(words))


def ratios(voice: Words) -> tuple[float, ...]:
    """Return every ratio in use: the shot's, the second, those of the pieces."""
    scale = voice.of.scale
    used = (scale.ratio, scale.compare_ratio, *(piece.ratio for piece in voice.of.setting.piece))
    return tuple(dict.fromkeys(ratio for ratio in used if ratio is not None))


def sides(part: Part) -> dict[str, tuple[float, float]]:
    """Return the faces of a part at full size, across and up, as far as its sizes are known."""
    wide, deep, tall = part.sizes
    faces = {"front": (wide, tall), "side": (deep, tall), "top": (wide, deep)}
    if part.sizes.count(None) == 2:
        faces = {"face": (wide or deep or part.other, tall or part.other)}
    return {name: (across, up) for name, (across, up) in faces.items() if across is not None and up is not None}


def figures(voice: Words) -> tuple[Figure, ...]:
    """Return everything that is built, at true size; of what is too small to draw, its name and size alone."""
    return (*_outlines(voice), *_parts(voice), *_cards(voice))


def _outlines(voice: Words) -> Iterator[Figure]:
    """Yield the outlines of what is built, each at its own ratio."""
    pieces = {piece.name: piece.ratio for piece in voice.of.setting.piece}
    for row in voice.of.setting.outline:
        if row.of == "model":
            ratio = pieces.get(row.piece or "", voice.of.scale.ratio)
            about = f"{voice.ratio(ratio)}, {_extent(voice, row.corners, ratio)}"
            yield outline_figure(f"{clean(row.name)}, outline", about, row.corners, ratio, closed=row.closed)


def _extent(voice: Words, corners: Sequence[Corner], ratio: float) -> str:
    left, bottom, right, top = extent(line(tuple(corners), closed=False, steps=FINE_STEPS))
    return f"{_cut(voice, (right - left) / ratio)} × {_cut(voice, (top - bottom) / ratio)}"


def _cut(voice: Words, mm: float) -> str:
    return shop_length(mm, voice.of.scale.rounding).text


def _parts(voice: Words) -> Iterator[Figure]:
    """Yield the faces of the parts, a length for those of which no face is known, and rods for those that repeat."""
    ratio, scale = voice.of.scale.ratio, voice.ratio(voice.of.scale.ratio)
    for part in voice.of.setting.build:
        many = f", {part.quantity} of them" if part.quantity > 1 else ""
        names: dict[tuple[float, float], str] = {}
        for side, size in sides(part).items():
            names[size] = f"{names[size]} and {side}" if size in names else side
        for (across, up), side in names.items():
            wide, tall = across / ratio, up / ratio
            about = f"{scale}, {_cut(voice, wide)} × {_cut(voice, tall)}{many}"
            yield face_figure(f"{clean(part.part)}, {side}", about, wide, tall)
        if not names:
            long = _cut(voice, part.real / ratio)
            about = f"{scale}, {long}{many}; no width is given"
            yield rod_figure(f"{clean(part.part)}, length", about, (0.0, part.real / ratio), ("0", long))
    for found in running(voice.of):
        texts = [f"{number}: {place.text}" for number, place in enumerate(found.places, start=1)]
        about = f"{scale}, running from one datum, {len(texts)} to {found.places[-1].text}"
        exact = tuple(place.mm - place.error_mm for place in found.places)
        yield rod_figure(f"{clean(found.part)}, setting out", about, exact, texts)


def _cards(voice: Words) -> Iterator[Figure]:
    """Yield what covers the real thing from where the card is held: the outlines, or the fronts of the parts."""
    setting, setup = voice.of.setting, voice.of.setup
    held = setting.scale.card or CARD_MM[voice.of.system]
    about = f"covers the real thing, held {voice.length(held)} from the eye"
    for row in setting.outline:
        distance = setup.seems_mm if row.of == "model" else setup.background_mm
        if math.isfinite(distance) and row.piece is None:
            name = f"{clean(row.name)}, survey cut-out"
            ratio = distance / held
            told = f"{about}, {_extent(voice, row.corners, ratio)}"
            yield outline_figure(name, told, row.corners, ratio, closed=row.closed)
    if setting.outline or math.isinf(setup.seems_mm):
        return
    for part in setting.build:
        name = f"{clean(part.part)}, survey cut-out"
        faces = [*sides(part).values()]
        across, up = (cutout_size_mm(size, held, setup.seems_mm) for size in (faces or [(0.0, part.real)])[0])
        long = rod_figure(name, about, (0.0, up), ("0", _cut(voice, up)))
        yield face_figure(name, about, across, up) if faces else long


WINDOW_WIDE_MM, WINDOW_HIGH_MM = 178.0, 230.0  # of a page's window
OVERLAP_MM = 10.0
GAP_MM = 7.0
NAME_MM = 11.0  # what the two lines over a small figure take
MOST_PAGES = 40  # a figure over more pages is listed and not printed
Shared = list[tuple[Figure, XY]]  # figures on one page, each with where its origin lies in the window, from lower left


class Tile(NamedTuple):
    """One page of a figure that goes over several."""

    figure: Figure
    pages: Tiling
    printed: tuple[tuple[int, int], ...]
    number: int

    @property
    def at(self) -> XY:
        """Where the figure's origin lies in the window."""
        x, y = self.pages.corner(*self.printed[self.number])
        return -x, -y

    def crosses(self) -> Iterator[tuple[str, XY]]:
        """Return the crosses on this page: name, and place in the figure."""
        return ((cross_name(*place), self.pages.cross(*place)) for place in _corners(self.printed[self.number]))


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
    first, last = max(combinations(places, 2), key=lambda pair: math.dist(pages.cross(*pair[0]), pages.cross(*pair[1])))
    return cross_name(*first), cross_name(*last), math.dist(pages.cross(*first), pages.cross(*last))


def tiles(figure: Figure) -> tuple[Tile, ...]:
    """Return the pages of a large figure, none where they would be too many."""
    pages = tiling(figure.box, WINDOW_WIDE_MM, WINDOW_HIGH_MM, OVERLAP_MM)
    if max(pages.columns, pages.rows) > MOST_PAGES:
        return ()
    printed = tuple(crossed(pages, figure.lines))
    count = len(printed) if len(printed) <= MOST_PAGES else 0
    return tuple(Tile(figure, pages, printed, number) for number in range(count))


def is_small(figure: Figure) -> bool:
    """Return whether a figure and its name go on a page with others."""
    left, bottom, right, top = figure.box
    return right - left <= WINDOW_WIDE_MM - 2 * GAP_MM and top - bottom <= WINDOW_HIGH_MM - NAME_MM - GAP_MM


def shared(figures: Sequence[Figure]) -> list[Shared]:
    """Return small figures on as few pages as rows of them make, tall ones first."""
    pages: list[Shared] = []
    x = WINDOW_WIDE_MM
    shelf_top, shelf_foot = 0.0, WINDOW_HIGH_MM
    for figure in sorted(figures, key=lambda one: one.box[1] - one.box[3]):
        left, bottom, _, top = figure.box
        wide, high = room_mm(figure) + GAP_MM, top - bottom + NAME_MM + GAP_MM
        if not pages or x + wide > WINDOW_WIDE_MM:
            x = 0.0
            shelf_top = shelf_foot
            if not pages or shelf_top < high:
                pages.append([])
                shelf_top = WINDOW_HIGH_MM
            shelf_foot = shelf_top - high
        pages[-1].append((figure, (x - left, shelf_top - NAME_MM - top)))
        x += wide
    return pages


def room_mm(figure: Figure) -> float:
    """Return how wide a figure is with its words: its name may be cut to half the page, what it is is not."""
    left, _, right, _ = figure.box
    beside = max((x + text_width_mm(text) for (x, _), text in figure.words), default=0.0)
    name = min(text_width_mm(figure.name), WINDOW_WIDE_MM / 2 - GAP_MM)
    return min(max(right - left, beside - left, name, text_width_mm(figure.about)), WINDOW_WIDE_MM - GAP_MM)
