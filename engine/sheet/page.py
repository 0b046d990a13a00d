"""The sheet as pages to print, in one HTML file: the crew's page, the reasons, what is built, the drawing.

The browser breaks the pages and numbers them: no height is reckoned here. Page 1 has all that is set, the cautions and
what matters most. What is set and the cautions take the room that they need; what is left of the page goes to points
and to the first findings, each whole or not at all: all of them stand on the pages after it, as this page says. A box
that may shrink is one column of a fixed height, and what would begin a second column is not shown.
"""

from collections.abc import Sequence

from forescale.engine.answer import Answer
from forescale.engine.answer.to_set import ToSet, to_set
from forescale.engine.findings.built import DEFER
from forescale.engine.mends import joined
from forescale.engine.sheet.blocks import Remark, Row, Section, Table
from forescale.engine.sheet.cells import clean, width
from forescale.engine.sheet.drawing.ink import escaped
from forescale.engine.sheet.drawing.page import inline_svg, sun_strip
from forescale.engine.sheet.paper import Stamp, document, no_break, running_head, stamp
from forescale.engine.sheet.sections import sections
from forescale.engine.sheet.sections.whole_shot import CHOSEN, NO_TAKES, caution_texts, is_caution, kit_rows, verdict
from forescale.engine.shot.records import Shot

ON_PAGE_ONE = {"Set", "Cautions"}
BUILT = {"Build list", "Will it stand"}
AFTER = {"Time on set", "Takes"}
A_LINE_EACH = 6  # cautions; more of them run on, as page 1 must hold all that is set
ROW_SHARES = (27.0, 33.0, 40.0)  # of the page, in per cent: label, value, remark
LEAST_SHARE = 5.0  # of a table's column, in per cent
WIDEST = 30  # letters that a column may ask for
_TAKES = "<tr><th>Take</th><th>When</th><th>What was changed</th><th>Judged</th><th>Note</th></tr>"
_BLANK = f"<tr>{'<td></td>' * 5}</tr>"
TO_WRITE_ON = f"<table class='lines'>{_TAKES}{_BLANK * 14}</table>"
STYLE = """
.part{break-before:page}
h2{font-size:11pt;margin:2.2mm 0 .6mm;border-bottom:1pt solid #000;text-transform:uppercase;break-after:avoid}
h2 i,h2 span{font-weight:normal;font-size:10pt;text-transform:none}
table{table-layout:fixed}
.ruled{margin-top:1mm}
td.value{font-weight:bold}
.number{text-align:right}
.lines td{height:8.5mm}
.first{min-height:250mm;display:flex;flex-direction:column}
.first>*{flex:none}
.first .rest{flex:1 1 0;min-height:0;max-height:max-content;columns:1;column-fill:auto;overflow:hidden}
.first .points{flex-grow:1000;min-height:7mm}
.first p{margin:.2mm 0}
h1,.cell span,.cell b{display:-webkit-box;-webkit-box-orient:vertical;-webkit-line-clamp:2;overflow:hidden;
overflow-wrap:anywhere}
h2 span{float:right}
.pair{display:grid;grid-template-columns:repeat(2,minmax(0,1fr));column-gap:5mm;break-inside:avoid}
.cell{position:relative;border-bottom:.4pt solid #999;padding:.4mm 30mm 0 0}
.cell b{font-size:18pt;line-height:6.6mm;-webkit-line-clamp:3}
.cell u{position:absolute;right:0;bottom:.8mm;width:29mm;height:9.4mm;border:.8pt solid #000;box-sizing:border-box}
""".strip()


def sheet_html(shot: Shot, answer: Answer) -> str:
    """Return the pages."""
    mark = stamp(shot)
    every = sections(shot, answer)
    notes = [Remark("", clean(line)) for line in shot.notes.splitlines() if line.strip()]
    chosen = [Remark("", CHOSEN)] if answer.auto else []
    kit = Section("With", (Row("Shot", clean(shot.title)), *kit_rows(answer), *notes, *chosen))
    reasons = [kit, *(one for one in every if one.title not in ON_PAGE_ONE | BUILT | AFTER)]
    built, after = ([one for one in every if one.title in titles] for titles in (BUILT, AFTER))
    laid = ["".join(_section(one, answer) for one in group) for group in (reasons, built, after)]
    laid.insert(2, inline_svg(shot, answer))
    body = [f"<div class='first'>{crew_page(answer, mark)}</div>"]
    body += [f"<div class='part'>{part}</div>" for part in laid]
    return document(f"{mark.title}, {mark.state}", f"{running_head(mark)}\n{STYLE}", "\n".join(body))


def crew_page(answer: Answer, mark: Stamp) -> str:
    """Return the page's content."""
    items = to_set(answer)
    points = [item for item in items if item.path.startswith("point.")]
    judged = verdict(answer)[0]
    found = [one for one in answer.findings if not is_caution(one) and one.level != "ok"]
    parts = [
        f"<h1>{escaped(mark.title)}</h1><p>{escaped(f'{mark.state}, {mark.day}')}: <b>{escaped(judged.shown)}</b>"
        f"{escaped(f'; {judged.remark}' if judged.remark else '')}</p>",
        "<h2>Set <span>as shot</span></h2>",
        *_pairs([item for item in items if item not in points]),
    ]
    if points:
        where = f"{len(points)} in all, under What the lens sees"
        parts += [f"<div class='rest points'><h2>Points <i>({where})</i></h2>", *_pairs(points), "</div>"]
    if cautions := caution_texts(answer):
        told = [f"<b>!</b> {escaped(one)}" for one in cautions]
        told = told if len(told) <= A_LINE_EACH else ["; ".join(told)]
        parts += [f"<h2>Cautions <i>({escaped(DEFER)})</i></h2>", *(f"<p>{one}</p>" for one in told)]
    if found:
        told = [f"<p>{one.level.upper()} {no_break(clean(joined(answer, one)))}</p>" for one in found]
        parts.append(f"<div class='rest'><div></div><h2>Findings <i>({len(found)} in all, under Findings)</i></h2>")
        parts += [*told, "</div>"]
    return "".join(parts)


def _pairs(items: Sequence[ToSet]) -> list[str]:
    """Lay out things to set, two beside each other, each with an empty box for what was shot."""
    cells = [
        f"<div class='cell'><span>{escaped(clean(item.label))} "
        f"<i>{no_break('(auto)' if item.chosen else clean(item.remark))}</i></span>"
        f"<b>{no_break(clean(item.text))}</b><u></u></div>"
        for item in items
    ]
    return [f"<div class='pair'>{''.join(cells[at : at + 2])}</div>" for at in range(0, len(cells), 2)]


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
