"""Paper: pages that print on A4 and on US letter alike, in one HTML file with nothing in it that is fetched."""

import re
from datetime import date
from typing import NamedTuple

from forescale.engine.sheet.cells import clean, powerless
from forescale.engine.sheet.drawing.ink import escaped, fitted
from forescale.engine.shot.records import Shot
from forescale.engine.states.saved import setting_of
from forescale.engine.units.text import KEPT, words_of

TITLE_MM, STATE_MM = 85.0, 45.0  # of the line at the top of a page
HEAD = "font:10pt/1.2 Arial,Helvetica,sans-serif;vertical-align:bottom;border-bottom:1pt solid #000;margin-bottom:2mm"
STYLE = """
body{font:10pt/1.25 Arial,Helvetica,sans-serif;color:#000;background:#fff;margin:0}
h1{font-size:18pt;line-height:1.1;margin:0 0 1mm}
p{margin:.6mm 0;overflow-wrap:anywhere}
tr,p{break-inside:avoid}
svg{display:block}
table{border-collapse:collapse;width:100%}
th,td{text-align:left;vertical-align:top;padding:.4mm 3mm .4mm 0;border-bottom:.4pt solid #999;overflow-wrap:anywhere}
@media screen{body{width:190mm;margin:6mm auto}}
""".strip()


class Stamp(NamedTuple):
    """What stands on every page: the shot, the name of its state, the date."""

    title: str
    state: str
    day: str


def stamp(shot: Shot) -> Stamp:
    """Return the stamp of a shot as it stands: the last mark that holds this very state, or that none does."""
    present = setting_of(shot)
    named = [mark.name for mark in shot.mark if mark.setting == present]
    return Stamp(clean(shot.title), clean(named[-1]) if named else "as it stands", date.today().isoformat())


def no_break(text: str) -> str:
    """Return a text for HTML in which no line breaks a number from its unit."""
    return escaped(" ".join(words_of(text)).replace(KEPT, "\u00a0"))


def quoted(text: str) -> str:
    """Return a text as a string of a style sheet, with no sign in it that HTML, XML or the sheet would act upon."""
    return '"' + re.sub(r"[^\w ]", lambda found: f"\\{ord(found[0]):x} ", powerless(text)) + '"'


def running_head(mark: Stamp, pages: str = "") -> str:
    """Return the style of pages with the stamp and the page's number over them, of those named `pages` or of all."""
    beside = quoted(f"{fitted(mark.state, STATE_MM)}, {mark.day}, page ")
    return f"""@page {pages}{{margin:17mm 10mm 10mm;
@top-left{{content:{quoted(fitted(mark.title, TITLE_MM))};text-align:left;{HEAD};font-weight:bold}}
@top-right{{content:{beside} counter(page) " of " counter(pages);text-align:right;{HEAD}}}}}"""


def document(title: str, style: str, body: str) -> str:
    """Return one self-contained HTML file: no scripts, nothing fetched."""
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8"/>\n<title>{escaped(title)}</title>\n'
        f"<style>\n{STYLE}\n{style}\n</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )
