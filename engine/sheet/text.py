"""The sheet as plain text, no codes, for a terminal, a printer or a screen reader: 79 columns wide unless asked."""

from collections.abc import Iterator
from itertools import zip_longest

from forescale.engine.answer import Answer
from forescale.engine.sheet.blocks import Row, Section, Spell, Table, spelt
from forescale.engine.sheet.cells import clean, hung, pad, widest_word, width, wrap
from forescale.engine.sheet.sections import sections
from forescale.engine.sheet.sections.whole_shot import CHOSEN, kit_rows, verdict
from forescale.engine.shot.records import Shot

WIDTH, LEAST = 79, 39
IN_COLUMNS = 56  # in fewer, a value follows its label at once
LABEL, VALUE, REMARK = 25, 26, 48  # where they end or begin
REMARK_ROOM = 20  # what a column for remarks needs; else they stand under the value
MARK, INDENT, GAP = 6, 4, 2
NAME = 10  # columns that the first cell of a row, its name, is given before a table is laid out row by row
LONGEST = 20  # columns that a word of a table may ask for; a length takes no more, and a longer name is cut


def sheet_text(shot: Shot, answer: Answer, columns: int = WIDTH, spell: Spell = str) -> str:
    """Return the sheet in lines of at most so many columns (39 or more), its texts in the signs that `spell` leaves."""
    lines = ["=" * columns, *wrap(spell(clean(shot.title).upper()), columns), "=" * columns]
    for paragraph in shot.notes.splitlines():
        lines += wrap(spell(clean(paragraph)), columns)
    lines.append("")
    for row in (*kit_rows(answer), *verdict(answer)):
        lines += _row(spelt(row, spell), columns)
    if answer.auto:
        lines += ["", *wrap(CHOSEN, columns)]
    for section in sections(shot, answer):
        lines += ["", *section_lines(spelt(section, spell), columns)]
    return joined(lines)


def joined(lines: list[str]) -> str:
    """Return lines as one text, no blank line doubled, ending in a newline."""
    return "\n".join(line.rstrip() for line, above in zip(lines, ["", *lines], strict=False) if line or above) + "\n"


def section_lines(section: Section, columns: int = WIDTH) -> Iterator[str]:
    """Lay out a section under its title."""
    yield f"{section.title.upper()} ".ljust(columns, "-")
    if section.note:
        yield from (f"  {line}" for line in wrap(f"({section.note})", columns - 2))
    for block in section.blocks:
        if isinstance(block, Row):
            yield from _row(block, columns)
        elif isinstance(block, Table):
            yield from ("", *_table(block, columns), "")
        else:
            yield from hung(f"  {pad(block.mark, MARK)}", block.text, MARK + 2, columns)


def _row(row: Row, columns: int) -> Iterator[str]:
    """Lay out a label, dots to lead the eye, and the value; the remark in a column of its own or below."""
    if columns < IN_COLUMNS:
        said = "; ".join(part for part in (row.shown, row.remark) if part)
        yield from hung("  ", f"{row.label}: {said}", INDENT, columns)
        return
    label = f"  {row.label} "
    label += f"{'.' * (LABEL - width(label))} "
    *above, value = hung(label, row.shown, VALUE, columns)
    yield from above
    if not row.remark:
        yield value
        return
    beside = REMARK if columns - REMARK >= REMARK_ROOM else VALUE
    start = max(beside, width(value) + GAP)
    if beside == VALUE or (width(row.remark) > columns - start and start > beside):
        yield value
        value, start = "", beside
    yield from hung(pad(value, start), row.remark, start, columns)


def _table(table: Table, columns: int) -> Iterator[str]:
    """Lay out a table in columns where its words fit, else row by row, so that no number is broken."""
    widths = _widths(table, columns - 2)
    if widths is not None:
        for cells in (table.heads, tuple("-" * column for column in widths), *table.rows):
            wrapped = [wrap(cell, column) for cell, column in zip(cells, widths, strict=True)]
            for parts in zip_longest(*wrapped, fillvalue=""):
                padded = [pad(part, widths[at], right=at in table.numbers) for at, part in enumerate(parts)]
                yield "  " + (" " * GAP).join(padded)
        return
    for name, *others in table.rows:  # each row as its first cell, and the others behind their heads below it
        yield from (f"  {line}" for line in wrap(name, columns - 2))
        said = "; ".join(f"{head}: {cell}" for head, cell in zip(table.heads[1:], others, strict=True) if cell)
        yield from (" " * INDENT + line for line in wrap(said, columns - INDENT))


def _widths(table: Table, room: int) -> list[int] | None:
    """Return the width of each column, None where their words do not fit: heads are broken first, then wide cells."""
    heads, cells = table.heads, [*zip(*table.rows, strict=True)]
    least = [min(max(map(widest_word, (head, *column))), LONGEST) for head, column in zip(heads, cells, strict=True)]
    least[0] = max(least[0], min(max(map(width, cells[0]), default=0), NAME))
    unbroken = [max(widest_word(head), *map(width, column)) for head, column in zip(heads, cells, strict=True)]
    widths = [max(width(head), column) for head, column in zip(heads, unbroken, strict=True)]
    for _ in range(sum(widths) + GAP * (len(widths) - 1) - room):
        spare = _spare(widths, unbroken) or _spare(widths, least)
        if not spare:
            return None
        widths[max(spare, key=spare.__getitem__)] -= 1
    return widths


def _spare(widths: list[int], least: list[int]) -> dict[int, int]:
    """Return by how much each column is wider than it must be, those that are."""
    wider = (column - narrowest for column, narrowest in zip(widths, least, strict=True))
    return {place: spare for place, spare in enumerate(wider) if spare > 0}
