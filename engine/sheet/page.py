"""The sheet as a page to print: one self-contained HTML file with the drawing in it, no scripts, nothing fetched."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.sheet.blocks import Block, Point, Row, Section, Table
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.drawing.ink import escaped
from forescale.engine.sheet.drawing.page import PAPER_MM, inline_svg
from forescale.engine.sheet.sections import sections
from forescale.engine.sheet.sections.glance import CHOSEN, kit_rows, verdict
from forescale.engine.shot.records import Shot

STYLE = """
body{font:10pt/1.3 sans-serif;color:#000;background:#fff;max-width:190mm;margin:6mm auto;padding:0 4mm}
h1{font-size:18pt;margin:0 0 2mm;border-bottom:2pt solid #000}
h2{font-size:11pt;margin:4mm 0 1mm;border-bottom:1pt solid #000;text-transform:uppercase;break-after:avoid}
p{margin:1mm 0}
p.note{font-size:9pt;font-style:italic}
section{break-inside:avoid}
table{border-collapse:collapse;width:100%;margin:1mm 0}
th,td{text-align:left;vertical-align:top;padding:.4mm 2mm .4mm 0;border-bottom:.4pt solid #999;overflow-wrap:anywhere}
table.rows th{width:30%;font-weight:normal}
table.rows td.value{width:36%;font-weight:bold}
.number{text-align:right}
figure{margin:4mm 0;break-inside:avoid}
figure svg{width:100%;height:auto}
@page{margin:12mm}
@media print{body{margin:0;padding:0;max-width:none}figure{page:drawing;break-before:page;margin:0}}
""".strip()


def sheet_html(shot: Shot, answer: Answer) -> str:
    """Return the page."""
    title = escaped(clean(shot.title))
    notes = "".join(f"<p>{escaped(clean(line))}</p>" for line in shot.notes.splitlines() if line.strip())
    drawing = f"<figure>\n{inline_svg(shot, answer)}</figure>"
    chosen = f"<p class='note'>{CHOSEN}</p>" if answer.auto else ""
    head = f"<h1>{title}</h1>{notes}{_rows((*kit_rows(answer), *verdict(answer)))}{chosen}"
    body = "\n".join((head, *map(_section, sections(shot, answer)), drawing))
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8"/>\n<title>{title}</title>\n'
        f"<style>\n{STYLE}\n{_drawing_style(answer)}\n</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )


def _drawing_style(answer: Answer) -> str:
    """Return the rules that print the drawing on a page of its own size, so that its scales hold."""
    wide, high = PAPER_MM[answer.system]
    return f"@page drawing{{size:{wide}mm {high}mm;margin:0}}\n@media print{{figure svg{{width:{wide}mm}}}}"


def _section(section: Section) -> str:
    note = f"<p class='note'>{escaped(section.note)}</p>" if section.note else ""
    return f"<section>\n<h2>{escaped(section.title)}</h2>{note}\n{''.join(_blocks(section.blocks))}\n</section>"


def _blocks(blocks: tuple[Block, ...]) -> Iterator[str]:
    """Lay out the blocks, rows that follow each other in one table."""
    run: list[Row] = []
    for block in blocks:
        if isinstance(block, Row):
            run.append(block)
            continue
        yield _rows(tuple(run))
        run = []
        yield _table(block) if isinstance(block, Table) else _point(block)
    yield _rows(tuple(run))


def _rows(rows: tuple[Row, ...]) -> str:
    if not rows:
        return ""
    return f"<table class='rows'>{''.join(map(_row, rows))}</table>"


def _row(row: Row) -> str:
    head = f"<th scope='row'>{escaped(row.label)}</th>"
    if not row.remark:
        return f"<tr>{head}<td class='value' colspan='2'>{escaped(row.shown)}</td></tr>"
    return f"<tr>{head}<td class='value'>{escaped(row.shown)}</td><td>{escaped(row.remark)}</td></tr>"


def _table(table: Table) -> str:
    heads = _cells("th", table.heads, table.numbers)
    rows = "".join(f"<tr>{_cells('td', row, table.numbers)}</tr>" for row in table.rows)
    return f"<table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"


def _cells(tag: str, cells: tuple[str, ...], numbers: frozenset[int]) -> str:
    kinds = (" class='number'" if place in numbers else "" for place in range(len(cells)))
    return "".join(f"<{tag}{kind}>{escaped(cell)}</{tag}>" for kind, cell in zip(kinds, cells, strict=True))


def _point(point: Point) -> str:
    return f"<p><b>{escaped(point.mark)}</b> {escaped(point.text)}</p>"
