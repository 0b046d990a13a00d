"""The pages of the templates: what is on them, then the rules, the small figures, the large ones page by page."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from forescale.engine.answer import Answer
from forescale.engine.formulas.tiles import Place
from forescale.engine.sheet.drawing.ink import Ink, escaped, fitted, text_width_mm
from forescale.engine.sheet.leaf import HIGH_MM, WIDE_MM, Stamp, document, stamp, stamp_line
from forescale.engine.sheet.templates import layout
from forescale.engine.sheet.templates.figure import Figure, Line
from forescale.engine.sheet.templates.gathered import figures, ratios
from forescale.engine.sheet.templates.layout import NAME_MM, Shared, Tile
from forescale.engine.sheet.templates.rule import RULE_MM, draw_rule
from forescale.engine.sheet.voice import Voice
from forescale.engine.shot.records import Shot
from forescale.engine.units import UnitSystem
from forescale.engine.units.lengths import INCH_MM

LEFT_MM, TOP_MM = 11.0, 17.0  # the window's upper left corner
FOOT_MM = TOP_MM + layout.HIGH_MM
BARS_MM: dict[UnitSystem, tuple[float, float]] = {"metric": (180.0, 250.0), "imperial": (7 * INCH_MM, 9.5 * INCH_MM)}
CHECK = "long on paper? If not, print again at 100 %, with no fitting to the page."
CROSS_MM = 5.0
WORD_MM = 2.5
RULES_A_PAGE = 3
ROWS_A_PAGE = 34
STYLE = """
h1{font-size:16pt;margin:3mm 0 1mm}
table{border-collapse:collapse;width:100%}
th,td{text-align:left;vertical-align:top;padding:.5mm 3mm .5mm 0;border-bottom:.4pt solid #999;overflow-wrap:anywhere}
""".strip()
HOW = (
    "Print at 100 % (actual size), on A4 or US letter, with no fitting to the page. Measure both bars of every page "
    "before a part is cut. Bold lines are cut, chain lines are centre lines. Lay the pages of a figure cross on cross, "
    "those of the same name, and measure from cross to cross as given before anything is sawn."
)
Draw = Callable[[Ink], None]
Row = tuple[str, str, str]
Item = TypeVar("Item")


@dataclass(frozen=True, slots=True)
class TemplatePage:
    """What one page says of itself, what draws it, and its place among those of a large figure."""

    head: str
    draw: Draw
    tile: Tile | None = None


def _groups(items: Sequence[Item], size: int) -> list[Sequence[Item]]:
    """Return items in groups of at most so many."""
    return [items[start : start + size] for start in range(0, len(items), size)]


def sheet_templates(shot: Shot, answer: Answer) -> str:
    """Return everything that is cut, at true size, as one HTML file."""
    voice, mark = Voice(answer), stamp(shot)
    every = figures(voice)
    small = layout.shared([figure for figure in every if layout.is_small(figure)])
    large = [(figure, layout.tiles(figure)) for figure in every if not layout.is_small(figure)]
    drawn = [
        TemplatePage("Full size on the left edge, true size on the right", _rules(voice, group))
        for group in _rule_groups(voice)
    ]
    drawn += [
        TemplatePage("Small figures: bold lines are cut, chain lines are centre lines", _on_one(page)) for page in small
    ]
    drawn += [
        TemplatePage(f"{page.figure.name}: {_across(voice, pages)}", _tile(page), page)
        for _, pages in large
        for page in pages
    ]
    rows = _contents(voice, small, large)
    first = max(1, -(-len(rows) // ROWS_A_PAGE))
    count = first + len(drawn)
    placed = [(name, about, where.format(*(first + sheet for sheet in sheets))) for name, about, where, sheets in rows]
    lists = _groups(placed, ROWS_A_PAGE) or [()]
    leaves = [_listed(mark, number, count, group) for number, group in enumerate(lists, start=1)]
    leaves += [_leaf(voice, mark, number, count, page) for number, page in enumerate(drawn, start=first + 1)]
    return document(f"{mark.title}: templates", STYLE, leaves)


def _rule_groups(voice: Voice) -> list[Sequence[float]]:
    return _groups(ratios(voice), RULES_A_PAGE)


def _contents(
    voice: Voice, small: Sequence[Shared], large: Sequence[tuple[Figure, Sequence[Tile]]]
) -> list[tuple[str, str, str, tuple[int, ...]]]:
    """Return what is on the pages: name, about, where, and the sheets, counted after the contents, to put in there."""
    rows: list[tuple[str, str, str, tuple[int, ...]]] = []
    for sheet, group in enumerate(_rule_groups(voice), start=1):
        rows += [
            (f"Scale rule {voice.ratio(ratio)}", "full size beside true size", "page {}", (sheet,)) for ratio in group
        ]
    sheet = len(_rule_groups(voice))
    for page in small:
        sheet += 1
        rows += [(figure.name, figure.about, "page {}", (sheet,)) for figure, _ in page.placed]
    for figure, pages in large:
        if not pages:
            rows.append((figure.name, figure.about, "too large to print: mark it out on the stock", ()))
            continue
        about = f"{figure.about}; {_across(voice, pages)}"
        rows.append((figure.name, about, "pages {} to {}", (sheet + 1, sheet + len(pages))))
        sheet += len(pages)
    return rows


def _across(voice: Voice, pages: Sequence[Tile]) -> str:
    first, last, mm = layout.check_across(pages)
    return f"cross {first} to cross {last} is {voice.fine(mm)}"


def _listed(mark: Stamp, number: int, count: int, rows: Sequence[Row]) -> str:
    """Return a page of contents."""
    cells = "".join(f"<tr>{''.join(f'<td>{escaped(fitted(cell, 240))}</td>' for cell in row)}</tr>" for row in rows)
    what = cells or "<tr><td>No part has two sizes or a pitch, and there is no outline.</td></tr>"
    heads = "<tr><th>What</th><th>Size</th><th>Where</th></tr>"
    return f"{stamp_line(mark, number, count)}<h1>Templates at true size</h1><p>{HOW}</p><table>{heads}{what}</table>"


def _leaf(voice: Voice, mark: Stamp, number: int, count: int, page: TemplatePage) -> str:
    """Return a page with its bars, as one drawing."""
    ink = Ink()
    right = f"page {number} of {count}"
    room = WIDE_MM - LEFT_MM - text_width_mm(right) - 4
    ink.text(LEFT_MM, 5, fitted(mark.title, room / 1.3), style="head")
    ink.text(WIDE_MM - 1, 5, right, anchor="end")
    ink.text(LEFT_MM, 10, fitted(f"{mark.state}, {mark.day}", room - 28))
    ink.text(LEFT_MM, 14.6, fitted(page.head, WIDE_MM - LEFT_MM - (0 if page.tile is None else _map_mm(page.tile)) - 4))
    _bars(ink, voice)
    if page.tile is not None:
        _map(ink, page.tile)
    ink.clip(f"window{number}", LEFT_MM, TOP_MM, layout.WIDE_MM, layout.HIGH_MM)
    page.draw(ink)
    ink.end()
    return ink.svg(WIDE_MM, HIGH_MM, f"{mark.title}, page {number}")


def _bars(ink: Ink, voice: Voice) -> None:
    """Draw a line along each of two edges, as long as the page allows, with its length beside it."""
    long, high = BARS_MM[voice.of.system]
    words = (f"{mm / INCH_MM:g} in" if voice.imperial else f"{mm:g} mm" for mm in (long, high))
    across, up = words
    left, foot = 8.0, HIGH_MM - 4
    ink.line(left, foot, left + long, foot)
    for x in (left, left + long):
        ink.line(x, foot - 2, x, foot + 2, "tick")
    ink.text(left + 3, foot - 2.2, f"Is this line {across} {CHECK}")
    ink.line(3, 3, 3, 3 + high)
    for y in (3, 3 + high):
        ink.line(1, y, 5, y, "tick")
    ink.text(8, 3 + high / 2, f"Is this line {up} long?", anchor="middle", up=True)


def _rules(voice: Voice, group: Sequence[float]) -> Draw:
    def draw(ink: Ink) -> None:
        for place, ratio in enumerate(group):
            left = LEFT_MM + 4 + place * (RULE_MM + 12)
            ink.text(left, TOP_MM + 4, f"{voice.ratio(ratio)}: full size", style="head")
            ink.text(left + RULE_MM, TOP_MM + 9, "true size", anchor="end")
            draw_rule(ink, left, TOP_MM + 11, ratio, voice.of.system)

    return draw


def _on_one(page: Shared) -> Draw:
    def draw(ink: Ink) -> None:
        for figure, at in page.placed:
            left, _, _, top = figure.box
            x, y = _on_paper(at, (left, top))
            ink.text(x, y - NAME_MM + 4, fitted(figure.name, layout.room_mm(figure)))
            ink.text(x, y - NAME_MM + 8.4, fitted(figure.about, layout.room_mm(figure)))
            _draw(ink, figure, at)

    return draw


def _tile(page: Tile) -> Draw:
    def draw(ink: Ink) -> None:
        _draw(ink, page.figure, page.at)
        for name, place in page.crosses():
            x, y = _on_paper(page.at, place)
            ink.line(x - CROSS_MM, y, x + CROSS_MM, y, "tick")
            ink.line(x, y - CROSS_MM, x, y + CROSS_MM, "tick")
            right, down = (1, "start") if x < WIDE_MM / 2 else (-1, "end"), y < HIGH_MM / 2
            ink.text(x + right[0], y + (4.5 if down else -1.2), name, anchor=right[1])

    return draw


def _cell_mm(page: Tile) -> float:
    return min(26 / page.pages.columns, 9.5 / page.pages.rows, 5.0)


def _map_mm(page: Tile) -> float:
    """Return how wide the map of the pages is."""
    return page.pages.columns * _cell_mm(page)


def _map(ink: Ink, page: Tile) -> None:
    """Draw where this page lies among the others, in the upper right corner."""
    size = _cell_mm(page)
    for place, (column, row) in enumerate(page.printed):
        x = WIDE_MM - 1 - (page.pages.columns - column) * size
        y = 16 - (row + 1) * size
        ink.box(x, y, size, size, "solid" if place == page.number else "tick")


def _draw(ink: Ink, figure: Figure, at: Place) -> None:
    for lines, style in ((figure.cut, "cut"), (figure.centre, "chain"), (figure.ticks, "tick")):
        for one in lines:
            ink.shape(_on_paper_all(at, one), style, closed=False)
    for place, words in figure.words:
        x, y = _on_paper(at, place)
        if TOP_MM + WORD_MM <= y <= FOOT_MM - WORD_MM:  # else it stands whole on the next page
            ink.text(x, y + 1.2, words)


def _on_paper(at: Place, place: Place) -> Place:
    return LEFT_MM + at[0] + place[0], FOOT_MM - at[1] - place[1]


def _on_paper_all(at: Place, line: Line) -> list[Place]:
    return [_on_paper(at, place) for place in line]
