"""The page that the crew works from: all that is set, the cautions and what matters most, on one page of paper."""

from __future__ import annotations

from collections.abc import Sequence

from forescale.engine.answer import Answer
from forescale.engine.answer.to_set import ToSet, to_set
from forescale.engine.findings.cautions import DEFER
from forescale.engine.mends import joined
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.drawing.ink import escaped, fitted
from forescale.engine.sheet.flow import LINE_MM, lines_in, no_break
from forescale.engine.sheet.leaf import HIGH_MM, WIDE_MM
from forescale.engine.sheet.sections.heading import verdict
from forescale.engine.sheet.sections.remarks import is_caution

CELL_MM, MOST_MM = 11.6, 15.0  # a thing to set, its label over its value: the least, the most
ABOVE_MM = 6.0 + 9.0 + 2 * LINE_MM  # stamp, title, verdict
HEADING_MM = 7.5
ROOM_MM = 61.0  # what a value has beside the box for what was shot
VALUE, VALUE_MM = 1.8, 6.6  # how much larger a value is written, and the height of its line
FINDINGS, FINDINGS_MM = 3, 32.0
STYLE = """
h1{font-size:18pt;line-height:1;margin:1mm 0 1.5mm;height:6.5mm;overflow:hidden;white-space:nowrap}
h2{font-size:11pt;margin:2mm 0 .8mm;border-bottom:1pt solid #000;text-transform:uppercase}
h2 i,h2 span{font-weight:normal;font-size:10pt;text-transform:none}
.set{display:grid;grid-template-columns:repeat(2,minmax(0,1fr));column-gap:5mm}
.set div{position:relative;border-bottom:.4pt solid #999;overflow:hidden;overflow-wrap:anywhere;
box-sizing:border-box;padding:.4mm 30mm 0 0;line-height:4.45mm}
.set b{display:block;font-size:18pt;line-height:6.6mm}
.set u{position:absolute;right:0;top:1mm;width:29mm;height:9.2mm;border:.8pt solid #000;box-sizing:border-box}
p{margin:.5mm 0}
""".strip()


def crew_page(answer: Answer, title: str) -> tuple[str, tuple[ToSet, ...]]:
    """Return the page below its stamp, and what is to be set that it has no room for: heights of points beyond some."""
    said = _cautions(answer)
    found = [finding for finding in answer.findings if not is_caution(finding) and finding.level != "ok"][:FINDINGS]
    points: list[str] = []
    for number, finding in enumerate(found, start=1):
        told = f"{finding.level.upper()} {clean(joined(answer, finding))}"
        fits = _high([*points, told]) + (len(found) - number) * LINE_MM <= FINDINGS_MM
        points.append(told if fits else f"{finding.level.upper()} {clean(finding.short or finding.text)}")
    left = HIGH_MM - ABOVE_MM - HEADING_MM * 3 - _high(said) - _high(points)
    shown, rest = _fitting(to_set(answer), left)
    rows = _rows_mm(shown)
    spare = min((left - sum(rows)) / len(rows), MOST_MM - CELL_MM)
    high = " ".join(f"{row + spare:.2f}mm" for row in rows)
    more = f" <span>and {len(rest)} more on the next page</span>" if rest else ""
    parts = [f"<h1>{escaped(fitted(title, WIDE_MM / VALUE))}</h1>", f"<p>{escaped(_verdict(answer))}</p>"]
    parts += [f"<h2>Set{more} <span style='float:right'>as shot</span></h2>"]
    parts += [f"<div class='set' style='grid-template-rows:{high}'>", *map(_cell, shown), "</div>"]
    if said:
        parts += [f"<h2>Cautions <i>({escaped(DEFER)})</i></h2>", *(f"<p>! {escaped(one)}</p>" for one in said)]
    if points:
        parts += ["<h2>First of the findings</h2>", *(f"<p>{escaped(one)}</p>" for one in points)]
    return "".join(parts), rest


def _verdict(answer: Answer) -> str:
    return fitted("; ".join(part for part in (verdict(answer)[0].shown, verdict(answer)[0].remark) if part), WIDE_MM)


def _high(texts: Sequence[str]) -> float:
    return sum(lines_in(text, WIDE_MM - 4) * LINE_MM + 1 for text in texts)


def _cautions(answer: Answer) -> list[str]:
    """Return the cautions, each without the words that all of them end in."""
    return [clean(one.text.removesuffix(f"; {DEFER}")) for one in answer.findings if is_caution(one)]


def _fitting(items: tuple[ToSet, ...], room_mm: float) -> tuple[tuple[ToSet, ...], tuple[ToSet, ...]]:
    """Return what has room and what has not: the heights of points make way first, from the last."""
    kept, given_up = list(items), list[ToSet]()
    points = [item for item in items if item.path.startswith("point.")]
    while points and sum(_rows_mm(kept)) > room_mm:
        given_up.insert(0, points.pop())
        kept.remove(given_up[0])
    return tuple(kept), tuple(given_up)


def _rows_mm(items: Sequence[ToSet]) -> list[float]:
    """Return the least height of each row of two, so that no word in it is cut."""
    high = [_cell_mm(item) for item in items]
    return [max(high[place : place + 2]) for place in range(0, len(high), 2)]


def _cell_mm(item: ToSet) -> float:
    above = lines_in(f"{item.label} {_beside(item)}", ROOM_MM) - 1
    return CELL_MM + above * LINE_MM + (lines_in(item.text, ROOM_MM / VALUE) - 1) * VALUE_MM


def _beside(item: ToSet) -> str:
    return "(chosen)" if item.chosen else clean(item.remark)


def _cell(item: ToSet) -> str:
    """Lay out one thing to set, with an empty box for what was shot."""
    label, value = escaped(clean(item.label)), no_break(clean(item.text))
    return f"<div>{label} <i>{no_break(_beside(item))}</i><b>{value}</b><u></u></div>"
