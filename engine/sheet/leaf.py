"""A page of paper that fits A4 and US letter alike: 190 × 259 mm, no paper named, its number and its date on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.drawing.ink import escaped, fitted
from forescale.engine.shot.records import Shot
from forescale.engine.states.marks import setting_of

WIDE_MM, HIGH_MM = 190.0, 259.0
TITLE_MM = 90.0
STYLE = """
@page{margin:10mm}
body{font:10pt/1.25 Arial,Helvetica,sans-serif;color:#000;background:#fff;margin:0}
.leaf{width:190mm;min-height:259mm;box-sizing:border-box;break-after:page;position:relative;overflow-x:clip}
.leaf:last-child{break-after:auto}
.stamp{display:flex;justify-content:space-between;border-bottom:1pt solid #000;padding-bottom:.6mm;height:5mm;
white-space:nowrap;gap:4mm;overflow:hidden}
svg{display:block}
@media screen{.leaf{margin:6mm auto;padding:0 0 6mm}}
""".strip()


@dataclass(frozen=True, slots=True)
class Stamp:
    """What stands on every page: the shot, the name of its state, the date."""

    title: str
    state: str
    day: str

    def line(self, number: int, count: int) -> str:
        """Return what stands beside the title."""
        return f"{self.state}, {self.day}, page {number} of {count}"


def stamp(shot: Shot) -> Stamp:
    """Return the stamp of a shot as it stands: the last mark that holds this very state, or that none does."""
    present = setting_of(shot)
    named = [mark.name for mark in shot.mark if mark.setting == present]
    return Stamp(clean(shot.title), clean(named[-1]) if named else "as it stands", date.today().isoformat())


def stamp_line(mark: Stamp, number: int, count: int) -> str:
    """Return the line at the top of a page."""
    beside = fitted(mark.line(number, count), WIDE_MM - TITLE_MM - 4)
    return f"<div class='stamp'><b>{escaped(fitted(mark.title, TITLE_MM))}</b><span>{escaped(beside)}</span></div>"


def document(title: str, style: str, leaves: Sequence[str]) -> str:
    """Return pages as one self-contained HTML file: no scripts, nothing fetched."""
    body = "\n".join(f"<div class='leaf'>{leaf}</div>" for leaf in leaves)
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8"/>\n<title>{escaped(title)}</title>\n'
        f"<style>\n{STYLE}\n{style}\n</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )
