"""The sheet as plain text: 79 columns, no codes, for a terminal, a printer or a screen reader."""

from __future__ import annotations

from collections.abc import Iterator

from engine.answer import Answer
from engine.sheet.blocks import Block, Point, Row, Section, Table
from engine.sheet.cells import clean, pad, width, wrap
from engine.sheet.sections import sections
from engine.sheet.sections.glance import CHOSEN, kit_rows, verdict
from engine.shot import Shot

WIDTH = 79
LABEL = 25
VALUE = 26
REMARK = 48
MARK = 6
GAP = 2


def sheet_text(shot: Shot, answer: Answer) -> str:
    """Return the whole sheet, each line of at most 79 columns, ending in a newline."""
    lines = [*_head(shot, answer)]
    for section in sections(shot, answer):
        lines.extend(["", *section_lines(section)])
    return joined(lines)


def joined(lines: list[str]) -> str:
    """Return lines as one text, no blank line doubled, ending in a newline."""
    kept = (line.rstrip() for line, above in zip(lines, ["", *lines], strict=False) if line or above)
    return "\n".join(kept) + "\n"


def _head(shot: Shot, answer: Answer) -> Iterator[str]:
    yield "=" * WIDTH
    yield from wrap(clean(shot.title).upper(), WIDTH)
    yield "=" * WIDTH
    for paragraph in shot.notes.splitlines():
        yield from wrap(clean(paragraph), WIDTH)
    yield ""
    for row in (*kit_rows(answer), *verdict(answer)):
        yield from _row(row)
    if answer.auto:
        yield ""
        yield CHOSEN


def section_lines(section: Section) -> Iterator[str]:
    """Lay out a section under its title."""
    yield f"{section.title.upper()} ".ljust(WIDTH, "-")
    if section.note:
        yield from (f"  {line}" for line in wrap(f"({section.note})", WIDTH - 2))
    for block in section.blocks:
        yield from _block(block)


def _block(block: Block) -> Iterator[str]:
    if isinstance(block, Row):
        yield from _row(block)
    elif isinstance(block, Table):
        yield from _table(block)
    else:
        yield from _point(block)


def _row(row: Row) -> Iterator[str]:
    """Lay out a label, dots to lead the eye, and the value; the remark in a column of its own or below."""
    label = f"  {row.label} "
    label += "." * (LABEL - width(label))
    if not row.remark:
        yield from _hung(f"{label} ", row.shown, VALUE)
        return
    *above, value = _hung(f"{label} ", row.shown, VALUE)
    start = max(REMARK, width(value) + GAP)
    yield from above
    if width(row.remark) > WIDTH - start and start > REMARK:
        yield value
        value, start = "", REMARK
    yield from _hung(pad(value, start), row.remark, start)


def _hung(lead: str, text: str, start: int) -> Iterator[str]:
    """Lay out a text after its lead, with the lines that follow under its own start."""
    first, *rest = wrap(text, WIDTH - start) or [""]
    yield lead + first
    for line in rest:
        yield " " * start + line


def _point(point: Point) -> Iterator[str]:
    yield from _hung(f"  {pad(point.mark, MARK)}", point.text, MARK + 2)


def _table(table: Table) -> Iterator[str]:
    columns = _columns(table)
    yield ""
    yield from _cells(table.heads, columns, table.numbers)
    yield "  " + (" " * GAP).join("-" * column for column in columns)
    for row in table.rows:
        yield from _cells(row, columns, table.numbers)
    yield ""


def _columns(table: Table) -> list[int]:
    """Return the width of each column: heads are broken at their words first, then the widest cells, until all fit."""
    words = [max(head.split(), key=width) for head in table.heads]
    least = [max(map(width, column)) for column in zip(words, *table.rows, strict=True)]
    columns = [max(map(width, pair)) for pair in zip(table.heads, ("x" * n for n in least), strict=True)]
    over = sum(columns) - (WIDTH - 2 - GAP * (len(columns) - 1))
    for _ in range(over):
        spare = [column - narrowest for column, narrowest in zip(columns, least, strict=True)]
        widest = spare.index(max(spare)) if any(s > 0 for s in spare) else columns.index(max(columns))
        columns[widest] -= 1
    return columns


def _cells(cells: tuple[str, ...], columns: list[int], numbers: frozenset[int]) -> Iterator[str]:
    wrapped = [wrap(cell, column) for cell, column in zip(cells, columns, strict=True)]
    for line in range(max(map(len, wrapped))):
        parts = (
            pad(lines[line] if line < len(lines) else "", column, right=place in numbers)
            for place, (lines, column) in enumerate(zip(wrapped, columns, strict=True))
        )
        yield "  " + (" " * GAP).join(parts)
