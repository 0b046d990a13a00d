"""The page that the crew works from: all that is set, the cautions and what matters most, on one page of paper.

What is set and the cautions take the room that they need. What is left of the page goes to the heights of points and
to the first findings, each whole or not at all: all of them stand on the pages after it, as this page says. The browser
does so: a box that may shrink is one column of a fixed height, and what would begin a second column is not shown.
"""

from __future__ import annotations

from collections.abc import Sequence

from forescale.engine.answer import Answer
from forescale.engine.answer.to_set import ToSet, to_set
from forescale.engine.findings.built import DEFER
from forescale.engine.mends import joined
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.drawing.ink import escaped
from forescale.engine.sheet.paper import Stamp, no_break
from forescale.engine.sheet.sections.said import caution_texts, is_caution, verdict

FINDINGS = 3
STYLE = """
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


def crew_page(answer: Answer, mark: Stamp) -> str:
    """Return the page's content."""
    items = to_set(answer)
    points = [item for item in items if item.path.startswith("point.")]
    said, remark = verdict(answer)[0].shown, verdict(answer)[0].remark
    found = [finding for finding in answer.findings if not is_caution(finding) and finding.level != "ok"][:FINDINGS]
    parts = [
        f"<h1>{escaped(mark.title)}</h1><p>{escaped(f'{mark.state}, {mark.day}')}: <b>{escaped(said)}</b>"
        f"{escaped(f'; {remark}' if remark else '')}</p>",
        "<h2>Set <span>as shot</span></h2>",
        *_pairs([item for item in items if item not in points]),
    ]
    if points:
        where = f"those of {len(points)} that have room here; all under What the lens sees"
        parts += [f"<div class='rest points'><h2>Points <i>({where})</i></h2>", *_pairs(points), "</div>"]
    if cautions := caution_texts(answer):
        parts += [f"<h2>Cautions <i>({escaped(DEFER)})</i></h2>", *(f"<p>! {escaped(one)}</p>" for one in cautions)]
    if found:
        told = (f"<p>{one.level.upper()} {no_break(clean(joined(answer, one)))}</p>" for one in found)
        parts += [
            "<div class='rest'><div></div><h2>First of the findings <i>(all under Findings)</i></h2>",
            *told,
            "</div>",
        ]
    return "".join(parts)


def _pairs(items: Sequence[ToSet]) -> list[str]:
    """Lay out things to set, two beside each other, each with an empty box for what was shot."""
    cells = [
        f"<div class='cell'><span>{escaped(clean(item.label))} "
        f"<i>{no_break('(chosen)' if item.chosen else clean(item.remark))}</i></span>"
        f"<b>{no_break(clean(item.text))}</b><u></u></div>"
        for item in items
    ]
    return [f"<div class='pair'>{''.join(cells[at : at + 2])}</div>" for at in range(0, len(cells), 2)]
