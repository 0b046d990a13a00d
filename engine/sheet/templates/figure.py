"""What a template shows at true size: an outline, the face of a part, a rod to set out by. In mm, x right, y up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from forescale.engine.formulas.silhouette import Corner, line
from forescale.engine.formulas.tiles import Place, extent

Line = tuple[Place, ...]
FINE_STEPS = 180  # lines for an arc: a half circle of 500 mm is off by 0.02 mm, less than a pencil line
ROD_MM = 12.0  # how wide a rod is drawn
PAST_MM = 4.0  # how far a centre line runs past what it halves
APART_MM = 5.0  # the least between two words on a rod


@dataclass(frozen=True, slots=True)
class Figure:
    """One thing at true size: cut edges, centre lines, thin ticks, and words at places on it."""

    name: str
    about: str
    cut: tuple[Line, ...]
    centre: tuple[Line, ...] = ()
    ticks: tuple[Line, ...] = ()
    words: tuple[tuple[Place, str], ...] = ()

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
    middle = (left + right) / 2
    centre = (((middle, bottom - PAST_MM), (middle, top + PAST_MM)),) if closed else ()
    return Figure(name, about, (edge,), centre)


def face_figure(name: str, about: str, wide_mm: float, tall_mm: float) -> Figure:
    """Return a rectangle with both its centre lines."""
    ring = ((0.0, 0.0), (wide_mm, 0.0), (wide_mm, tall_mm), (0.0, tall_mm), (0.0, 0.0))
    upright = ((wide_mm / 2, -PAST_MM), (wide_mm / 2, tall_mm + PAST_MM))
    level = ((-PAST_MM, tall_mm / 2), (wide_mm + PAST_MM, tall_mm / 2))
    return Figure(name, about, (ring,), (upright, level))


def rod_figure(name: str, about: str, places_mm: Sequence[float], texts: Sequence[str]) -> Figure:
    """Return a rod to set out repeated parts by: a tick at each place from the datum at its foot, and words."""
    top = places_mm[-1]
    edges = ((0.0, 0.0), (0.0, top)), ((0.0, 0.0), (ROD_MM / 2, 0.0))
    ticks = tuple(((0.0, at), (ROD_MM / 2, at)) for at in places_mm)
    words = tuple(
        ((ROD_MM / 2 + 1.5, places_mm[place]), f"{place + 1}: {texts[place]}") for place in _worded(places_mm)
    )
    return Figure(name, about, edges, ticks=ticks, words=words)


def _worded(places_mm: Sequence[float]) -> Iterator[int]:
    """Yield the places on a rod that have room for words, the first and the last among them."""
    at, last = -APART_MM, places_mm[-1]
    for place, mm in enumerate(places_mm):
        if mm == last or (mm - at >= APART_MM and (last - mm >= APART_MM or place == 0)):
            yield place
            at = mm
