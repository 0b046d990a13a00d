"""Sections laid out on pages of paper: how high each row will be, and where a page must end.

The height of a line is reckoned with letters as wide as any common sans-serif has them, so that a page is never fuller
than reckoned; a table that goes over a page has its heads again on the next.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from forescale.engine.sheet.blocks import Remark, Row, Section, Table
from forescale.engine.sheet.cells import width
from forescale.engine.sheet.drawing.ink import escaped, text_width_mm
from forescale.engine.sheet.leaf import WIDE_MM
from forescale.engine.units.line_breaks import KEPT, words_of

LINE_MM, PAD_MM, SPACE_MM = 4.45, 1.1, 1.1
HEAD_MM = 9.5  # a section's title with the space over it
GAP_MM = 3.0  # between the columns of a table
ROW_SHARES = (0.27, 0.33, 0.4)
LEAST_SHARE = 0.05


@dataclass(frozen=True, slots=True)
class Chunk:
    """A piece of a page that is never parted: its height, and the table that it is a row of, if any."""

    html: str
    high_mm: float
    opening: str = ""
    opening_mm: float = 0.0
    title: bool = False


def lines_in(text: str, room_mm: float) -> int:
    """Return how many lines a text takes in so much room, broken at spaces or, within a long word, anywhere."""
    lines, used = 1, 0.0
    for word in words_of(text):
        long = text_width_mm(word)
        if used and used + SPACE_MM + long > room_mm:
            lines, used = lines + 1, 0.0
        used += long + (SPACE_MM if used else 0.0)
        lines, used = lines + int(used / room_mm), used % room_mm
    return lines


def no_break(text: str) -> str:
    """Return a text for HTML in which no line breaks a number from its unit."""
    return escaped(" ".join(words_of(text)).replace(KEPT, "\u00a0"))


def chunks(section: Section) -> Iterator[Chunk]:
    """Yield the pieces of a section."""
    note = f" <i>({escaped(section.note)})</i>" if section.note else ""
    more = lines_in(section.note, WIDE_MM - len(section.title) * 3.2) * LINE_MM - LINE_MM if section.note else 0.0
    yield Chunk(f"<h2>{escaped(section.title)}{note}</h2>", HEAD_MM + more, title=True)
    for block in section.blocks:
        if isinstance(block, Table):
            yield from _table(block)
        else:
            yield _row(block) if isinstance(block, Row) else _point(block)


def _row(row: Row) -> Chunk:
    cells = (row.label, row.shown, row.remark)
    kinds = ("", " class='value'", "")
    html = "".join(f"<td{kind}>{no_break(cell)}</td>" for cell, kind in zip(cells, kinds, strict=True))
    rooms = (share * WIDE_MM - GAP_MM for share in ROW_SHARES)
    high = max(lines_in(cell, room) for cell, room in zip(cells, rooms, strict=True)) * LINE_MM + PAD_MM
    return Chunk(f"<tr>{html}</tr>", high, f"<table>{_columns(ROW_SHARES)}")


def _point(point: Remark) -> Chunk:
    mark = f"<b>{escaped(point.mark)}</b> " if point.mark else ""
    return Chunk(
        f"<p>{mark}{no_break(point.text)}</p>", lines_in(f"{point.mark} {point.text}", WIDE_MM) * LINE_MM + PAD_MM
    )


def _columns(shares: Sequence[float]) -> str:
    return "".join(f"<col style='width:{100 * share:.1f}%'/>" for share in shares)


def _shares(table: Table) -> list[float]:
    """Return the share of the page that each column takes: by its widest cell, none too narrow."""
    cells = zip(table.heads, *table.rows, strict=True)
    asked = [min(max(map(width, column)), 30) + 2 for column in cells]
    shares = [max(one / sum(asked), LEAST_SHARE) for one in asked]
    return [share / sum(shares) for share in shares]


def _table(table: Table) -> Iterator[Chunk]:
    shares = _shares(table)
    opening = f"<table class='ruled'>{_columns(shares)}<thead>{_cells('th', table.heads, table)}</thead>"
    heads_mm = _high(table.heads, shares)
    for row in table.rows:
        yield Chunk(_cells("td", row, table), _high(row, shares), opening, heads_mm)


def _cells(tag: str, cells: Sequence[str], table: Table) -> str:
    kinds = (" class='number'" if place in table.numbers else "" for place in range(len(cells)))
    inner = "".join(f"<{tag}{kind}>{no_break(cell)}</{tag}>" for kind, cell in zip(kinds, cells, strict=True))
    return f"<tr>{inner}</tr>"


def _high(cells: Sequence[str], shares: Sequence[float]) -> float:
    rooms = (share * WIDE_MM - GAP_MM for share in shares)
    return max(lines_in(cell, room) for cell, room in zip(cells, rooms, strict=True)) * LINE_MM + PAD_MM


def pages(pieces: Sequence[Chunk], room_mm: float) -> list[str]:
    """Return the pieces on as many pages as they take, a title never last on one; no piece, no page."""
    full: list[list[Chunk]] = [[]]
    used = 0.0
    for place, piece in enumerate(pieces):
        follows = pieces[place + 1] if piece.title and place + 1 < len(pieces) else None
        wanted = piece.high_mm + (0.0 if follows is None else follows.opening_mm + follows.high_mm)
        opens = piece.opening_mm if not full[-1] or full[-1][-1].opening != piece.opening else 0.0
        if full[-1] and used + opens + wanted > room_mm:
            full.append([])
            used, opens = 0.0, piece.opening_mm
        full[-1].append(piece)
        used += opens + piece.high_mm
    return ["".join(_joined(page)) for page in full if page]


def _joined(page: Sequence[Chunk]) -> Iterator[str]:
    """Join the pieces, rows that follow each other in one table."""
    opening = ""
    for piece in page:
        if piece.opening != opening:
            yield ("</table>" if opening else "") + piece.opening
            opening = piece.opening
        yield piece.html
    yield "</table>" if opening else ""
