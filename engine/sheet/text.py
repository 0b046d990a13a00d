"""The sheet as plain text, no codes, for a terminal, a printer or a screen reader: 79 columns wide unless asked."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.sheet.blocks import Block, Remark, Row, Section, Spell, Table
from forescale.engine.sheet.cells import clean, pad, width, wrap
from forescale.engine.sheet.sections import sections
from forescale.engine.sheet.sections.heading import CHOSEN, kit_rows, verdict
from forescale.engine.sheet.text_table import table_lines
from forescale.engine.shot.records import Shot

WIDTH, LEAST = 79, 39
IN_COLUMNS = 56  # in fewer, a value follows its label at once
LABEL = 25
VALUE = 26
REMARK = 48
REMARK_ROOM = 20  # what a column for remarks needs; else they stand under the value
MARK = 6
INDENT = 4
GAP = 2


def sheet_text(shot: Shot, answer: Answer, columns: int = WIDTH, spell: Spell = str) -> str:
    """Return the whole sheet, each line of at most so many columns (39 or more), ending in a newline.

    `spell` is given every text before it is laid out, where a screen has not all signs.
    """
    lines = [*_head(shot, answer, columns, spell)]
    for section in sections(shot, answer):
        lines.extend(["", *section_lines(section.spelt(spell), columns)])
    return joined(lines)


def joined(lines: list[str]) -> str:
    """Return lines as one text, no blank line doubled, ending in a newline."""
    kept = (line.rstrip() for line, above in zip(lines, ["", *lines], strict=False) if line or above)
    return "\n".join(kept) + "\n"


def _head(shot: Shot, answer: Answer, columns: int, spell: Spell) -> Iterator[str]:
    yield "=" * columns
    yield from wrap(spell(clean(shot.title).upper()), columns)
    yield "=" * columns
    for paragraph in shot.notes.splitlines():
        yield from wrap(spell(clean(paragraph)), columns)
    yield ""
    for row in (*kit_rows(answer), *verdict(answer)):
        yield from _row(row.spelt(spell), columns)
    if answer.auto:
        yield ""
        yield from wrap(CHOSEN, columns)


def section_lines(section: Section, columns: int = WIDTH) -> Iterator[str]:
    """Lay out a section under its title."""
    yield f"{section.title.upper()} ".ljust(columns, "-")
    if section.note:
        yield from (f"  {line}" for line in wrap(f"({section.note})", columns - 2))
    for block in section.blocks:
        yield from _block(block, columns)


def _block(block: Block, columns: int) -> Iterator[str]:
    if isinstance(block, Row):
        yield from _row(block, columns)
    elif isinstance(block, Table):
        yield from table_lines(block, columns)
    else:
        yield from _point(block, columns)


def _row(row: Row, columns: int) -> Iterator[str]:
    """Lay out a label, dots to lead the eye, and the value; the remark in a column of its own or below."""
    if columns < IN_COLUMNS:
        said = "; ".join(part for part in (row.shown, row.remark) if part)
        yield from _paragraph(f"{row.label}: {said}", columns)
        return
    label = f"  {row.label} "
    label += "." * (LABEL - width(label))
    if not row.remark:
        yield from _hung(f"{label} ", row.shown, VALUE, columns)
        return
    yield from _with_remark(f"{label} ", row, columns)


def _with_remark(label: str, row: Row, columns: int) -> Iterator[str]:
    beside = REMARK if columns - REMARK >= REMARK_ROOM else VALUE
    *above, value = _hung(label, row.shown, VALUE, columns)
    start = max(beside, width(value) + GAP)
    yield from above
    if beside == VALUE or (width(row.remark) > columns - start and start > beside):
        yield value
        value, start = "", beside
    yield from _hung(pad(value, start), row.remark, start, columns)


def _hung(lead: str, text: str, start: int, columns: int) -> Iterator[str]:
    """Lay out a text after its lead, with the lines that follow under its own start."""
    first, *rest = wrap(text, columns - start) or [""]
    yield lead + first
    for line in rest:
        yield " " * start + line


def _paragraph(text: str, columns: int) -> Iterator[str]:
    """Lay out a text whose lines after the first stand farther in."""
    first, *rest = wrap(text, columns - INDENT)
    yield f"  {first}"
    yield from (" " * INDENT + line for line in rest)


def _point(point: Remark, columns: int) -> Iterator[str]:
    yield from _hung(f"  {pad(point.mark, MARK)}", point.text, MARK + 2, columns)
