"""The sheet as pages to print, in one HTML file: the crew's page, the reasons, what is built, the drawing.

The browser breaks the pages and numbers them: no height is reckoned here.
"""

from __future__ import annotations

from collections.abc import Sequence

from forescale.engine.answer import Answer
from forescale.engine.sheet import crew_page
from forescale.engine.sheet.blocks import Remark, Row, Section, Table
from forescale.engine.sheet.cells import clean, width
from forescale.engine.sheet.drawing.ink import escaped
from forescale.engine.sheet.drawing.page import inline_svg
from forescale.engine.sheet.drawing.sun_strip import sun_strip
from forescale.engine.sheet.paper import document, no_break, running_head, stamp
from forescale.engine.sheet.sections import sections
from forescale.engine.sheet.sections.said import CHOSEN, NO_TAKES, kit_rows
from forescale.engine.shot.records import Shot

ON_PAGE_ONE, BUILT, AFTER = {"Set", "Cautions"}, {"Build list", "Will it stand"}, {"Time on set", "Takes"}
ROW_SHARES = (27.0, 33.0, 40.0)  # of the page, in per cent: label, value, remark
LEAST_SHARE, WIDEST = 5.0, 30  # of a table's column: per cent, and letters that it may ask for
TO_WRITE_ON = (
    "<table class='lines'><tr><th>Take</th><th>When</th><th>What was changed</th><th>Judged</th><th>Note</th></tr>"
    + f"<tr>{'<td></td>' * 5}</tr>" * 14
    + "</table>"
)
STYLE = """
.part{break-before:page}
h2{font-size:11pt;margin:2.2mm 0 .6mm;border-bottom:1pt solid #000;text-transform:uppercase;break-after:avoid}
h2 i,h2 span{font-weight:normal;font-size:10pt;text-transform:none}
table{table-layout:fixed}
.ruled{margin-top:1mm}
td.value{font-weight:bold}
.number{text-align:right}
.lines td{height:8.5mm}
""".strip()


def sheet_html(shot: Shot, answer: Answer) -> str:
    """Return the pages."""
    mark, every = stamp(shot), sections(shot, answer)
    reasons = [_with(shot, answer), *(one for one in every if one.title not in ON_PAGE_ONE | BUILT | AFTER)]
    built, after = ([one for one in every if one.title in titles] for titles in (BUILT, AFTER))
    laid = ["".join(_section(one, answer) for one in group) for group in (reasons, built, after)]
    laid.insert(2, inline_svg(shot, answer))
    body = [f"<div class='first'>{crew_page.crew_page(answer, mark)}</div>"]
    body += [f"<div class='part'>{part}</div>" for part in laid]
    style = f"{running_head(mark)}\n{STYLE}\n{crew_page.STYLE}"
    return document(f"{mark.title}, {mark.state}", style, "\n".join(body))


def _with(shot: Shot, answer: Answer) -> Section:
    """Return the whole title, the kit and the notes."""
    notes = [Remark("", clean(line)) for line in shot.notes.splitlines() if line.strip()]
    chosen = [Remark("", CHOSEN)] if answer.auto else []
    return Section("With", (Row("Shot", clean(shot.title)), *kit_rows(answer), *notes, *chosen))


def _section(part: Section, answer: Answer) -> str:
    """Lay out a section: rows that follow each other in one table, tables and remarks each by itself."""
    note = f" <i>({escaped(part.note)})</i>" if part.note else ""
    pieces = [f"<h2>{escaped(part.title)}{note}</h2>"]
    if part.title == "The sun":
        drawn, says = sun_strip(answer)
        pieces.append(f"{drawn}<p>{escaped(says)}</p>")
    if part == NO_TAKES:
        return f"{pieces[0]}{TO_WRITE_ON}"
    opened = False
    for block in part.blocks:
        if isinstance(block, Row) != opened:
            opened = not opened
            pieces.append(f"<table>{_columns(ROW_SHARES)}" if opened else "</table>")
        if isinstance(block, Row):
            label, value, remark = map(no_break, (block.label, block.shown, block.remark))
            pieces.append(f"<tr><td>{label}</td><td class='value'>{value}</td><td>{remark}</td></tr>")
        elif isinstance(block, Table):
            pieces.append(_table(block))
        else:
            pieces.append(f"<p><b>{escaped(block.mark)}</b> {no_break(block.text)}</p>")
    return "".join([*pieces, "</table>" if opened else ""])


def _columns(shares: Sequence[float]) -> str:
    return "".join(f"<col style='width:{share:.1f}%'/>" for share in shares)


def _table(table: Table) -> str:
    """Lay out a table, each column as wide as its widest cell asks for, its heads again on every page."""
    asked = [min(max(map(width, column)), WIDEST) + 2 for column in zip(table.heads, *table.rows, strict=True)]
    shares = [max(100 * one / sum(asked), LEAST_SHARE) for one in asked]
    kinds = [" class='number'" if place in table.numbers else "" for place in range(len(shares))]
    heads, *rows = (
        "".join(f"<td{kind}>{no_break(cell)}</td>" for kind, cell in zip(kinds, cells, strict=True))
        for cells in (table.heads, *table.rows)
    )
    heads = heads.replace("<td", "<th").replace("</td>", "</th>")
    lines = "".join(f"<tr>{row}</tr>" for row in rows)
    return f"<table class='ruled'>{_columns(shares)}<thead><tr>{heads}</tr></thead>{lines}</table>"
