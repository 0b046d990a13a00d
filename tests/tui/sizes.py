"""The sizes of terminal and the glyph tables that screens are tried at: a few by default, all when thorough."""

from __future__ import annotations

import pytest

SIZES = [(40, 15), (60, 20), (80, 24), (100, 30), (120, 40), (200, 60)]
USUAL = {(40, 15)}  # nearly every other test is at 80 × 24
GLYPHS = ["full", "box", "ascii"]
USUAL_PAIRS = {((40, 15), "box"), ((120, 40), "ascii")}


def every_size() -> pytest.MarkDecorator:
    """Return what runs a test at every size, as `width` and `height`."""
    sizes = [pytest.param(*size, marks=() if size in USUAL else pytest.mark.thorough) for size in SIZES]
    return pytest.mark.parametrize(("width", "height"), sizes)


def every_size_and_table() -> pytest.MarkDecorator:
    """Return what runs a test at every size with every glyph table, as `width`, `height` and `glyphs`."""
    pairs = [
        pytest.param(*size, table, marks=() if (size, table) in USUAL_PAIRS else pytest.mark.thorough)
        for size in SIZES
        for table in GLYPHS
    ]
    return pytest.mark.parametrize(("width", "height", "glyphs"), pairs)
