"""Outlines: corners joined by straight lines and arcs, their size, how soft their edges are. In mm, x right, y up."""

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

ARC_STEPS = 12  # lines that stand for an arc: a half circle is off by under a hundredth of its radius
_STRAIGHT = 1e-9  # a triangle so much flatter than its sides is a line
XY = tuple[float, float]


class Corner(NamedTuple):
    """A corner of an outline: aside (right +), height; an arc's middle has one through its neighbours."""

    x: float
    h: float
    arc: bool = False


@lru_cache(maxsize=64)
def line(corners: tuple[Corner, ...], *, closed: bool, steps: int = ARC_STEPS) -> tuple[XY, ...]:
    """Return the places (aside, height) of an outline, its arcs in short lines that reach as far out as the arcs do."""
    places: list[XY] = []
    for number, corner in enumerate(corners):
        if not corner.arc:
            places.append((corner.x, corner.h))
            continue
        before, after = corners[number - 1], corners[(number + 1) % len(corners)]
        places.extend(arc((before.x, before.h), (corner.x, corner.h), (after.x, after.h), steps))
    return (*places, places[0]) if closed and places else tuple(places)


def crosses_itself(places: tuple[XY, ...], closed: bool) -> bool:
    """Tell whether a line crosses itself; parts that touch do not (O'Rourke, Computational Geometry in C, 1.5)."""
    parts = list(pairwise(places))
    for number, (a, b) in enumerate(parts):
        for other, (c, d) in enumerate(parts[number + 2 :], number + 2):
            joined = closed and number == 0 and other == len(parts) - 1
            if not joined and _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0:
                return True
    return False


def _side(a: XY, b: XY, c: XY) -> float:
    """Return twice the area of a triangle, + where its third corner lies to the left of the way from a to b."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def passes_within(start: Sequence[float], end: Sequence[float]) -> bool:
    """Tell whether any of a straight line is within all sides, by how far its ends are (Cyrus and Beck's clipping)."""
    low, high = 0.0, 1.0
    for first, last in zip(start, end, strict=True):
        if first < 0 and last < 0:
            return False
        if first < 0:
            low = max(low, first / (first - last))
        elif last < 0:
            high = min(high, first / (first - last))
    return low <= high


def encloses(sides: Iterable[tuple[Sequence[float], Sequence[float]]], x: float, h: float) -> bool:
    """Tell whether a closed outline has a place within it: a ray to its right passes an odd number of its sides."""
    passing = ((a, b) for a, b in sides if (a[1] > h) != (b[1] > h))
    return sum(x < a[0] + (b[0] - a[0]) * (h - a[1]) / (b[1] - a[1]) for a, b in passing) % 2 == 1


def arc(begin: XY, middle: XY, end: XY, steps: int = ARC_STEPS) -> Iterator[XY]:
    """Yield the places of the arc through three, its ends left out; the middle alone where the three lie in a line."""
    (bx, by), (ex, ey) = ((p[0] - middle[0], p[1] - middle[1]) for p in (begin, end))
    cross = bx * ey - by * ex
    begin_square, end_square = bx * bx + by * by, ex * ex + ey * ey
    if abs(cross) <= _STRAIGHT * max(begin_square, end_square):
        yield middle
        return
    x = (ey * begin_square - by * end_square) / (2 * cross)
    y = (bx * end_square - ex * begin_square) / (2 * cross)
    centre = (middle[0] + x, middle[1] + y)
    radius = math.hypot(x, y)
    full = 2 * math.pi
    first = math.atan2(begin[1] - centre[1], begin[0] - centre[0])
    swept = (math.atan2(end[1] - centre[1], end[0] - centre[0]) - first) % full  # + against the clock
    if (math.atan2(-y, -x) - first) % full >= swept:  # the middle lies the other way
        swept -= full
    turns = [swept * step / steps for step in range(1, steps)]
    ahead = ((quarter * math.pi / 2 - first) % full for quarter in range(4))  # where it stands farthest out
    outmost = (turn if swept > 0 else turn - full for turn in ahead)
    turns += [turn for turn in outmost if 0 < abs(turn) < abs(swept)]
    for turn in sorted(turns, key=abs):
        yield centre[0] + radius * math.cos(first + turn), centre[1] + radius * math.sin(first + turn)


def overlap_mm(along_mm: float, image_mm: float, blur: float, slip_mm: float) -> float:
    """Return how far a cut edge at Z must reach past its join, for half its blur and the slip: Z/v·(b/2 + 2·t·p)."""
    return along_mm / image_mm * (blur / 2 + 2 * slip_mm)


def extent(places: Iterable[XY]) -> tuple[float, float, float, float]:
    """Return the least and the greatest x and y of places, as left, bottom, right, top."""
    across, up = zip(*places, strict=True)
    return min(across), min(up), max(across), max(up)
