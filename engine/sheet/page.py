"""The sheet as pages to print, in one HTML file: the crew's page, the reasons, what is built, the drawing."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.answer.to_set import ToSet
from forescale.engine.sheet.blocks import Remark, Row, Section
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.crew_page import STYLE, crew_page
from forescale.engine.sheet.drawing.page import inline_svg
from forescale.engine.sheet.flow import HEAD_MM, LINE_MM, Chunk, chunks, pages
from forescale.engine.sheet.leaf import HIGH_MM, document, stamp, stamp_line
from forescale.engine.sheet.sections import sections
from forescale.engine.sheet.sections.heading import CHOSEN, kit_rows
from forescale.engine.shot.records import Shot

ROOM_MM = HIGH_MM - 10.0  # of a page below its stamp
RULED_LINES = 14
ON_PAGE_ONE = frozenset({"Set", "Cautions"})
BUILT, AFTER = frozenset({"Build list", "Will it stand"}), frozenset({"Time on set", "Takes"})
FLOW_STYLE = """
table{border-collapse:collapse;width:100%;table-layout:fixed}
th,td{text-align:left;vertical-align:top;padding:.3mm 3mm .3mm 0;border-bottom:.4pt solid #999;overflow-wrap:anywhere}
td.value{font-weight:bold}
.number{text-align:right}
.lines td{height:8.5mm}
""".strip()


def sheet_html(shot: Shot, answer: Answer) -> str:
    """Return the pages."""
    mark = stamp(shot)
    first, rest = crew_page(answer, mark.title)
    every = sections(shot, answer)
    built = [one for one in every if one.title in BUILT]
    after = [piece for one in every if one.title in AFTER for piece in _after(shot, one)]
    reasons = [one for one in every if one.title not in ON_PAGE_ONE | BUILT | AFTER]
    bodies = [first, *_flow([_kit(shot, answer, rest), *reasons])]
    bodies += [*_flow(built), inline_svg(shot, answer), *pages(after, ROOM_MM)]
    leaves = [f"{stamp_line(mark, number, len(bodies))}{body}" for number, body in enumerate(bodies, start=1)]
    return document(mark.title, f"{STYLE}\n{FLOW_STYLE}", leaves)


def _flow(parts: list[Section]) -> list[str]:
    return pages([piece for part in parts for piece in chunks(part)], ROOM_MM)


def _kit(shot: Shot, answer: Answer, rest: tuple[ToSet, ...]) -> Section:
    """Return the kit, the notes, and what page 1 had no room for."""
    return Section("With", tuple(_with(shot, answer, rest)))


def _with(shot: Shot, answer: Answer, rest: tuple[ToSet, ...]) -> Iterator[Row | Remark]:
    yield from kit_rows(answer)
    yield from (Remark("", clean(line)) for line in shot.notes.splitlines() if line.strip())
    yield from (Row(clean(item.label), clean(item.text), clean(item.remark), item.chosen) for item in rest)
    if answer.auto:
        yield Remark("", CHOSEN)


def _after(shot: Shot, part: Section) -> Iterator[Chunk]:
    """Yield a section; of the takes, empty lines to write on where there are none."""
    if part.title != "Takes" or shot.take:
        yield from chunks(part)
        return
    yield Chunk("<h2>Takes</h2>", HEAD_MM, title=True)
    heads = "".join(f"<th>{head}</th>" for head in ("Take", "When", "What was changed", "Judged", "Note"))
    line = f"<tr>{'<td></td>' * 5}</tr>"
    yield Chunk(f"<table class='lines'><tr>{heads}</tr>{line * RULED_LINES}</table>", LINE_MM * 2 + RULED_LINES * 8.9)
