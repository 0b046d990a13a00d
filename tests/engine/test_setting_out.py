"""Running dimensions, the card that covers the real thing, and the pages of a drawing at true size."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forescale.engine.formulas.scale import cutout_size_mm, running_mm, summed_error_mm
from forescale.engine.formulas.tiling import covers, crossed, meets, tiling

INCH = 25.4


def test_running_dimensions_do_not_add_up_their_rounding() -> None:
    """240 courses of 3 in at 1:24 are 1/8 in each; at 1/16 in nothing is lost. At 1:25 the pitch is 0.12 in."""
    assert running_mm(239, 3 * INCH, 24) == pytest.approx(239 * INCH / 8)
    pitch = 3 * INCH / 25
    cut = INCH / 8
    summed = summed_error_mm(240, pitch, cut)
    assert summed == pytest.approx(239 * 0.005 * INCH)
    assert running_mm(239, 3 * INCH, 25) + summed == pytest.approx(239 * cut)


def test_the_card_covers_by_similar_triangles() -> None:
    """A 60 ft stack 240 ft off, the card held 2 ft from the lens: half a foot."""
    assert cutout_size_mm(60 * 12 * INCH, 24 * INCH, 240 * 12 * INCH) == pytest.approx(6 * INCH)
    assert cutout_size_mm(1000, 600, math.inf) == 0


sizes = st.floats(1, 5000)


@given(sizes, sizes, st.floats(50, 300), st.floats(50, 300))
def test_pages_hold_the_drawing_and_no_page_is_wasted(across: float, up: float, wide: float, high: float) -> None:
    pages = tiling((0, 0, across, up), wide, high, 10)
    first, last = pages.corner(0, 0), pages.corner(pages.columns - 1, pages.rows - 1)
    assert first[0] <= -4.99
    assert first[1] <= -4.99
    assert last[0] + wide >= across + 4.99
    assert last[1] + high >= up + 4.99
    assert (pages.columns - 1) * (wide - 10) < across + 10
    assert (pages.rows - 1) * (high - 10) < up + 10


@given(st.lists(st.tuples(st.floats(0, 900), st.floats(0, 900)), min_size=2, max_size=8))
def test_a_page_is_printed_where_a_line_crosses_it_and_nowhere_else(line: list[tuple[float, float]]) -> None:
    """Against a search of every page."""
    pages = tiling((0, 0, 900, 900), 178, 228, 10)
    found = crossed(pages, [line])
    every = [
        (column, row)
        for row in reversed(range(pages.rows))
        for column in range(pages.columns)
        if any(
            meets(a, b, (x, y, x + pages.wide, y + pages.high))
            for a, b in itertools.pairwise(line)
            for x, y in [pages.corner(column, row)]
        )
    ]
    assert found == every
    assert found


def test_neighbours_show_the_same_cross() -> None:
    pages = tiling((0, 0, 900, 900), 178, 228, 10)
    x, y = pages.cross(1, 1)
    for column, row in ((0, 0), (0, 1), (1, 0), (1, 1)):
        left, foot = pages.corner(column, row)
        assert left < x < left + pages.wide
        assert foot < y < foot + pages.high


def test_a_closed_line_covers_a_box_that_it_crosses_or_lies_around() -> None:
    box, around = (0, 0, 1, 1), [(-1, -1), (-1, 2), (2, 2), (2, -1)]
    assert covers(around, box)
    assert covers([(0.4, 0.4), (0.6, 0.4), (0.5, 0.6)], box)
    assert covers([(-3, -1), (4, -1), (0.5, 9)], box)  # its slanting sides pass at -2.65 and 3.65
    assert covers([(-1, 0.5), (2, 0.5)], box)  # a line there and back
    assert covers([(-2, 3), (3, 3), (3, -2)], box)  # cuts a corner off
    assert not covers([(-2, 3), (-2, -2), (-0.1, -0.1)], box)
    assert not covers([(2 + x, y) for x, y in around], (-0.9, 0, -0.1, 1))
    assert not covers([], box)


def test_a_line_that_only_touches_a_corner_meets_the_box() -> None:
    assert meets((0, 2), (2, 0), (0, 0, 1, 1))
    assert not meets((0, 2.001), (2.001, 0), (0, 0, 1, 1))
