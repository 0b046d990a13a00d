"""The sheets of the templates: what is on them, then the rules, the small figures, the large ones sheet by sheet."""

from collections.abc import Callable, Iterator
from functools import partial

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.formulas.silhouette import XY
from forescale.engine.sheet.drawing.ink import Ink, fitted, text_width_mm
from forescale.engine.sheet.paper import Stamp, document, no_break, running_head, stamp
from forescale.engine.sheet.templates import figures
from forescale.engine.sheet.templates.figures import NAME_MM, WINDOW_HIGH_MM, WINDOW_WIDE_MM, Figure, Shared, Tile
from forescale.engine.shot.records import Shot
from forescale.engine.units import INCH_MM, UnitSystem, length_text

WIDE_MM, HIGH_MM = 190.0, 259.0  # of a sheet: what fits A4 and US letter alike
LEFT_MM, TOP_MM = 11.0, 17.0  # the window's upper left corner
FOOT_MM = TOP_MM + WINDOW_HIGH_MM
BARS_MM: dict[UnitSystem, tuple[float, float]] = {"metric": (180.0, 250.0), "imperial": (7 * INCH_MM, 9.5 * INCH_MM)}
CHECK = "long on paper? If not, print again at 100 %, with no fitting to the page."
CROSS_MM = 5.0
WORD_MM = 2.5
RULES_A_SHEET = 3
RULE_LONG_MM: dict[UnitSystem, float] = {"imperial": 8.5 * INCH_MM, "metric": 220.0}
RULE_MM = 46.0  # how wide the strip is
TICK_MM, WORDS_MM = 0.9, 9.0  # the least between two ticks of a rule, between two words
_INCHES = (1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 3, 6, 12, 60, 120, 600, 1200, 6000, 12000, 60000, 120000)
_STEPS: dict[UnitSystem, tuple[float, ...]] = {
    "imperial": tuple(step * INCH_MM for step in _INCHES),
    "metric": (1, 5, 10, 50, 100, 500, 1000, 5000, 10_000, 50_000, 100_000, 500_000, 1_000_000, 5_000_000),
}
STYLE = "@page{margin:10mm}\n.list{page:list}\n.leaf{width:190mm;height:259mm;break-before:page}"
HOW = (
    "Print at 100 % (actual size), on A4 or US letter, with no fitting to the page. Measure both bars of every sheet "
    "before a part is cut. Bold lines are cut, chain lines are centre lines. Lay the sheets of a figure cross on "
    "cross, those of the same name, and measure from cross to cross as given before anything is sawn."
)
Sheet = tuple[str, Callable[[Ink], None], Tile | None]  # what it says of itself, what draws it, its place in a figure


def sheet_templates(shot: Shot, answer: Answer) -> str:
    """Return everything that is cut, at true size, as one HTML file."""
    voice, mark = Words(answer), stamp(shot)
    sheets: list[Sheet] = []
    rows: list[tuple[str, str, str]] = []
    every, used = figures.figures(voice), figures.ratios(voice)
    for start in range(0, len(used), RULES_A_SHEET):
        group = used[start : start + RULES_A_SHEET]
        sheets.append(("Full size on the left edge, true size on the right", partial(_rules, voice, group), None))
        told = (f"Scale rule {voice.ratio(ratio)}" for ratio in group)
        rows += [(name, "full size beside true size", f"sheet {len(sheets)}") for name in told]
    for page in figures.shared([one for one in every if one.lines and figures.is_small(one)]):
        sheets.append(("Small figures: bold lines are cut, chain lines are centre lines", partial(_small, page), None))
        rows += [(figure.name, figure.about, f"sheet {len(sheets)}") for figure, _ in page]
    for figure in (one for one in every if one.lines and not figures.is_small(one)):
        pages = figures.tiles(figure)
        if not pages:
            rows.append((figure.name, figure.about, "too large to print: mark it out on the stock"))
            continue
        first, last, mm = figures.check_across(pages)
        across = f"cross {first} to cross {last} is {voice.fine(mm)}"
        where = f"sheets {len(sheets) + 1} to {len(sheets) + len(pages)}"
        rows.append((figure.name, f"{figure.about}; {across}", where))
        sheets += [(f"{figure.name}: {across}", partial(_tile, tile), tile) for tile in pages]
    rows += [(one.name, one.about, "too small to draw: measure it off") for one in every if not one.lines]
    cells = ("".join(f"<td>{no_break(fitted(cell, 240))}</td>" for cell in row) for row in rows)
    body = f"<div class='list'><h1>Templates at true size</h1><p>{HOW}</p><table><thead><tr><th>What</th><th>Size</th>"
    body += f"<th>Where</th></tr></thead>{''.join(f'<tr>{row}</tr>' for row in cells)}</table></div>"
    for number, sheet in enumerate(sheets, start=1):
        body += f"\n<div class='leaf'>{_leaf(voice, mark, f'sheet {number} of {len(sheets)}', sheet)}</div>"
    return document(f"{mark.title}: templates", f"{running_head(mark, 'list')}\n{STYLE}", body)


def _leaf(voice: Words, mark: Stamp, right: str, sheet: Sheet) -> str:
    """Return a sheet with its bars, as one drawing."""
    ink, (head, draw, tile) = Ink(), sheet
    room = WIDE_MM - LEFT_MM - text_width_mm(right) - 4
    ink.text(LEFT_MM, 5, fitted(mark.title, room / 1.3), style="head")
    ink.text(WIDE_MM - 1, 5, right, anchor="end")
    ink.text(LEFT_MM, 10, fitted(f"{mark.state}, {mark.day}", room - 28))
    beside = 0.0
    if tile is not None:  # where this sheet lies among the others, in the upper right corner
        size = min(26 / tile.pages.columns, 9.5 / tile.pages.rows, 5.0)
        beside = tile.pages.columns * size
        for place, (column, row) in enumerate(tile.printed):
            x, y = WIDE_MM - 1 - (tile.pages.columns - column) * size, 16 - (row + 1) * size
            ink.box(x, y, size, size, "solid" if place == tile.number else "tick")
    ink.text(LEFT_MM, 14.6, fitted(head, WIDE_MM - LEFT_MM - beside - 4))
    _bars(ink, voice)
    ink.clip(f"window{right.split()[1]}", LEFT_MM, TOP_MM, WINDOW_WIDE_MM, WINDOW_HIGH_MM)
    draw(ink)
    ink.end()
    return ink.svg(WIDE_MM, HIGH_MM, f"{mark.title}, {right}")


def _bars(ink: Ink, voice: Words) -> None:
    """Draw a line along each of two edges, as long as the page allows, with its length beside it."""
    long, high = BARS_MM[voice.of.system]
    across, up = (f"{mm / INCH_MM:g} in" if voice.imperial else f"{mm:g} mm" for mm in (long, high))
    left, foot = 8.0, HIGH_MM - 4
    ink.line(left, foot, left + long, foot)
    for x in (left, left + long):
        ink.line(x, foot - 2, x, foot + 2, "tick")
    ink.text(left + 3, foot - 2.2, f"Is this line {across} {CHECK}")
    ink.line(3, 3, 3, 3 + high)
    for y in (3, 3 + high):
        ink.line(1, y, 5, y, "tick")
    ink.text(8, 3 + high / 2, f"Is this line {up} long?", anchor="middle", up=True)


def _rules(voice: Words, group: tuple[float, ...], ink: Ink) -> None:
    """Draw rules beside each other, zero at the foot: full size at the ratio on the left edge, true on the right."""
    system = voice.of.system
    long = RULE_LONG_MM[system]
    for place, ratio in enumerate(group):
        left, top = LEFT_MM + 4 + place * (RULE_MM + 12), TOP_MM + 11
        ink.text(left, TOP_MM + 4, f"{voice.ratio(ratio)}: full size", style="head")
        ink.text(left + RULE_MM, TOP_MM + 9, "true size", anchor="end")
        ink.box(left, top, RULE_MM, long, "line")
        for x, inward, edge in ((left, 1, ratio), (left + RULE_MM, -1, 1.0)):
            for at, words in _ticks(long, edge, system):
                y = top + long - at
                ink.line(x, y, x + inward * (3.5 if words else 1.8), y, "tick")
                if words:
                    ink.text(x + inward * 4.2, y + 1.2, words, anchor="start" if inward > 0 else "end")


def _ticks(long_mm: float, ratio: float, system: UnitSystem) -> Iterator[tuple[float, str]]:
    """Yield the places of the ticks in true mm, and what stands at those that have words."""
    steps = _STEPS[system]
    fine = next((step for step in steps if step >= TICK_MM * ratio), steps[-1])
    every = round(next((step for step in steps if step >= max(fine, WORDS_MM * ratio)), steps[-1]) / fine)
    for number in range(int(long_mm * ratio / fine + 1e-6) + 1):
        real = number * fine
        worded = number % every == 0 and number > 0 and real / ratio <= long_mm - 3
        yield real / ratio, length_text(real, system) if worded else ""


def _small(page: Shared, ink: Ink) -> None:
    for figure, at in page:
        left, _, _, top = figure.box
        x, y = _on_paper(at, (left, top))
        ink.text(x, y - NAME_MM + 4, fitted(figure.name, figures.room_mm(figure)))
        ink.text(x, y - NAME_MM + 8.4, fitted(figure.about, figures.room_mm(figure)))
        _draw(ink, figure, at)


def _tile(page: Tile, ink: Ink) -> None:
    _draw(ink, page.figure, page.at)
    for name, place in page.crosses():
        x, y = _on_paper(page.at, place)
        ink.line(x - CROSS_MM, y, x + CROSS_MM, y, "tick")
        ink.line(x, y - CROSS_MM, x, y + CROSS_MM, "tick")
        inward, anchor = (1, "start") if x < WIDE_MM / 2 else (-1, "end")
        ink.text(x + inward, y + (4.5 if y < HIGH_MM / 2 else -1.2), name, anchor=anchor)


def _draw(ink: Ink, figure: Figure, at: XY) -> None:
    for lines, style in ((figure.cut, "cut"), (figure.centre, "chain"), (figure.ticks, "tick")):
        for one in lines:
            ink.shape([_on_paper(at, place) for place in one], style, closed=False)
    for place, words in figure.words:
        x, y = _on_paper(at, place)
        if TOP_MM + WORD_MM <= y <= FOOT_MM - WORD_MM:  # else it stands whole on the next page
            ink.text(x, y + 1.2, words)


def _on_paper(at: XY, place: XY) -> XY:
    return LEFT_MM + at[0] + place[0], FOOT_MM - at[1] - place[1]
