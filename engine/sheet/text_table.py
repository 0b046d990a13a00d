"""A table of the sheet as plain text: in columns where they fit, else row by row, so that no number is broken."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.sheet.blocks import Table
from forescale.engine.sheet.cells import pad, widest_word, width, wrap

GAP, INDENT = 2, 4
NAME = 10  # columns that the first cell of a row, its name, is given before the table is laid out row by row
LONGEST = 20  # columns that a word may ask for; a length takes no more, and a longer name is cut


def table_lines(table: Table, columns: int) -> Iterator[str]:
    """Lay out a table in so many columns, blank lines around it."""
    yield ""
    widths = _widths(table, columns - 2)
    yield from _listed(table, columns) if widths is None else _ruled(table, widths)
    yield ""


def _widths(table: Table, room: int) -> list[int] | None:
    """Return the width of each column, None where their words do not fit: heads are broken first, then wide cells."""
    heads, cells = table.heads, [*zip(*table.rows, strict=True)]
    least = [min(max(map(widest_word, (head, *column))), LONGEST) for head, column in zip(heads, cells, strict=True)]
    least[0] = max(least[0], min(max(map(width, cells[0]), default=0), NAME))
    full_widths = [max(widest_word(head), *map(width, column)) for head, column in zip(heads, cells, strict=True)]
    widths = [max(width(head), column) for head, column in zip(heads, full_widths, strict=True)]
    for _ in range(sum(widths) + GAP * (len(widths) - 1) - room):
        spare = _spare(widths, full_widths) or _spare(widths, least)
        if not spare:
            return None
        widths[max(spare, key=spare.__getitem__)] -= 1
    return widths


def _spare(widths: list[int], least: list[int]) -> dict[int, int]:
    """Return by how much each column is wider than it must be, those that are."""
    wider = (column - narrowest for column, narrowest in zip(widths, least, strict=True))
    return {place: spare for place, spare in enumerate(wider) if spare > 0}


def _ruled(table: Table, widths: list[int]) -> Iterator[str]:
    yield from _cells(table.heads, widths, table.numbers)
    yield "  " + (" " * GAP).join("-" * column for column in widths)
    for row in table.rows:
        yield from _cells(row, widths, table.numbers)


def _cells(cells: tuple[str, ...], widths: list[int], numbers: frozenset[int]) -> Iterator[str]:
    wrapped = [wrap(cell, column) for cell, column in zip(cells, widths, strict=True)]
    for line in range(max(map(len, wrapped))):
        parts = (
            pad(lines[line] if line < len(lines) else "", column, right=place in numbers)
            for place, (lines, column) in enumerate(zip(wrapped, widths, strict=True))
        )
        yield "  " + (" " * GAP).join(parts)


def _listed(table: Table, columns: int) -> Iterator[str]:
    """Lay out each row as its first cell, and the others behind their heads below it."""
    for name, *cells in table.rows:
        yield from (f"  {line}" for line in wrap(name, columns - 2))
        said = "; ".join(f"{head}: {cell}" for head, cell in zip(table.heads[1:], cells, strict=True) if cell)
        yield from (" " * INDENT + line for line in wrap(said, columns - INDENT))
