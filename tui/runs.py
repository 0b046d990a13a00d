"""Text with named parts of style: what a row of the board is before a widget draws it."""

from collections.abc import Iterable, Sequence
from itertools import takewhile, zip_longest
from typing import Any

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual.app import App
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

Run = tuple[str, str]
Row = tuple[Run, ...]

# A run's name: which of the theme's colours it takes, and on which; bold where it must carry far.
STYLES: dict[str, tuple[str, str, bool]] = {
    "": ("foreground", "background", False),
    "title": ("primary", "background", True),
    "rule": ("secondary", "background", False),
    "hand": ("background", "accent", True),
    "label": ("secondary", "background", False),
    "value": ("foreground", "background", True),
    "hint": ("primary", "background", False),
    "answer": ("foreground", "background", False),
    "drawing": ("secondary", "background", False),
    "curve": ("accent", "background", False),
    "ok": ("success", "background", False),
    "note": ("success", "background", False),
    "warn": ("warning", "background", True),
    "stop": ("background", "error", True),  # a lit block: what fails outshines what wants a look
    "refused": ("error", "background", True),
    "stale": ("warning", "background", False),
}


def row_text(row: Row) -> str:
    """Return a row's text without its styles."""
    return "".join(text for text, _ in row)


def indented(rows: Iterable[Row]) -> tuple[Row, ...]:
    """Return rows a column further right."""
    return tuple(((" ", ""), *row) for row in rows)


def split(row: Row, at: int) -> tuple[Row, Row]:
    """Return a row's first columns, filled up with blanks, and what lies behind them."""
    first, behind, room = list[Run](), list[Run](), at
    for text, style in row:
        before, after = Segment(text).split_cells(room)
        first.append((before.text, style))
        behind.append((after.text, style))
        room -= cell_len(before.text)
    return (*first, (" " * room, "")), tuple(behind)


class Uncut(Strip):
    """A strip that, cut nowhere, is not kept in its own cache: only the collector would find it there."""

    __slots__ = ()

    def divide(self, cuts: Iterable[int]) -> Sequence[Strip]:
        """Return its parts between the cuts."""
        cuts = [*cuts]
        return [self] if cuts == [self.cell_length] else super().divide(cuts)


class Rows(Widget):
    """A widget of rows, which redraws only what differs of them."""

    DEFAULT_CSS = "Rows { height: 1; width: 1fr; }"

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__(id=id, classes=classes)
        self.rows: tuple[Row, ...] = ()
        self.place = (0, 0, 0, 0)  # left, top, width and height, where `put` has said them
        self._styles: dict[str, Style] = {}
        self._made: dict[int, Strip] = {}

    def put(self, *place: int) -> None:
        """Give the widget its place on the screen and its size."""
        if place != self.place:
            self.place = left, top, width, height = place[0], place[1], place[2], place[3]
            self._made = {}  # rows that a smaller size has no more would lie there for good
            self.styles.offset, self.styles.width, self.styles.height = (left, top), width, height

    def show(self, rows: Sequence[Row]) -> None:
        """Show these rows, redrawing each that changed as far as its last change."""
        old, self.rows = self.rows, tuple(rows)
        pairs = enumerate(zip_longest(old, self.rows, fillvalue=()))
        if changed := [(y, before, after) for y, (before, after) in pairs if before != after]:
            width = max(self.size.width, 1)
            for y, _, _ in changed:
                self._made.pop(y, None)
            self.refresh(*(Region(0, y, _changed(before, after, width), 1) for y, before, after in changed))

    def notify_style_update(self) -> None:
        """Forget the colours of the theme before."""
        super().notify_style_update()
        self._styles, self._made = {}, {}

    def render_lines(self, crop: Region) -> list[Strip]:
        """Return the rows of a part, each made once: they have no borders and no shades to be worked out."""
        width, lines = self.size.width, []
        for y in crop.line_range:
            made = self._made.get(y)
            if made is None or made.cell_length != width:
                made = self._made[y] = self.render_line(y)
            lines.append(made)
        return lines if crop.column_span == (0, width) else [line.crop(*crop.column_span) for line in lines]

    def render_line(self, y: int) -> Strip:
        """Return one row, padded to the width. Each change of style is sent, so blanks go with what is beside them."""
        row, width = self.rows[y] if y < len(self.rows) else (), self.size.width
        blank = width - cell_len(row_text(row))
        styled: list[tuple[str, Style]] = []
        for text, style in ((text, self._style(name)) for text, name in (*row, (" " * blank, "")) if text):
            before, was = styled[-1] if styled else ("", style)
            one_ground = (was.bgcolor, was.reverse) == (style.bgcolor, style.reverse)
            if styled and one_ground and (was == style or text.isspace() or before.isspace()):
                styled[-1] = (before + text, was if text.isspace() else style)
            else:
                styled.append((text, style))
        strip = Uncut([Segment(*each) for each in styled], width + max(-blank, 0))
        return strip if blank >= 0 else strip.crop(0, width)

    def _style(self, name: str) -> Style:
        """Return the style of a run, as far as the terminal goes along."""
        if name not in self._styles:
            shown = [Segment(" ", style_in(self.app, name))]
            for each in self.get_line_filters():
                shown = each.apply(shown, self.background_colors[1])
            self._styles[name] = shown[0].style or Style.null()
        return self._styles[name]


def style_in(app: App[Any], name: str) -> Style:
    """Return the style of a run in the theme; without colours a ground of its own is turned over."""
    front, back, bold = STYLES[name]
    colours, turned = app.theme_variables, back != "background" and app.no_color
    return Style(color=colours[front], bgcolor=colours[back], bold=bold, reverse=turned)


def _changed(old: Row, new: Row, width: int) -> int:
    """Return how much of a row must be sent: up to its last change, all where a letter is wider than a cell."""
    before, after = row_text(old), row_text(new)
    if cell_len(before) != len(before) or cell_len(after) != len(after):
        return width
    last = max(len(before), len(after))
    if len(before) != len(after):
        return last
    while old and new and old[-1] == new[-1]:  # most of what follows a number stays
        last -= len(old[-1][0])
        old, new = old[:-1], new[:-1]
    if old and new and old[-1][1] == new[-1][1]:
        ends = zip(reversed(old[-1][0]), reversed(new[-1][0]), strict=False)
        last -= len([*takewhile(lambda pair: pair[0] == pair[1], ends)])
    return max(last, 1)
