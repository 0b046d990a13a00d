"""The stops around the one set, beside each other: what closing down gains and what it costs."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.compare.stop_words import stop_cells, stop_heads
from forescale.engine.sheet.blocks import Row, Table
from forescale.engine.sheet.voice import Voice
from forescale.engine.solve.stop_table import around, stop_table

MOST = 7


def stop_blocks(voice: Voice) -> Iterator[Row | Table]:
    """Yield the table of the stops that matter, and how it is to be read."""
    heads = tuple(head.capitalize() if place != 2 else head for place, head in enumerate(stop_heads(voice.of)))
    light = "is what each stop needs" if voice.of.light.over_stops is None else "in stops over (+) or short (-)"
    rows = tuple(stop_cells(voice.of, row) for row in around(stop_table(voice.of), MOST))
    yield Row("Stop beside stop", f"contrast in % at near, focus and far; light {light}")
    yield Table(heads, rows, frozenset({4, 5, 6, 8}))
