"""What tasks are made of: a table with a row or cell in hand, a page that is read, and sentences below a table."""

from collections.abc import Iterable, Sequence
from typing import Any, ClassVar

from rich.cells import cell_len
from rich.markup import escape
from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import DataTable, Static

from forescale.engine.solve.record import LEVELS
from forescale.tui.glyphs import FULL, Glyphs, plain, wrapped
from forescale.tui.runs import STYLES, Row, Rows, Run, row_text, style_in
from forescale.tui.tasks.frame.columns import NARROWEST, NUMBER, Column, paged

Said = str | tuple[str, str]  # a sentence, or one after the mark of a level, or after a lead of its own
Cell = str | Sequence[Said]  # what stands in a cell: each sentence begins a line
MOST_TOLD = 5  # lines below a list
ROOMY = 60  # columns of a screen on which there is room for words in its title


class TaskTable(DataTable[str | Text]):
    """A table with a row or cell in hand; letters stay free for the task's own keys.

    `ids` says what each column holds, `records` which record each row shows, `numbers` which of what is counted each
    record is of, where that is not itself; `texts` what else words are found in.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("home", "scroll_top", show=False),
        Binding("end", "scroll_bottom", show=False),
    ]

    def __init__(self, *, cells: bool = False, id: str | None = None) -> None:
        super().__init__(cursor_type="cell" if cells else "row", cursor_background_priority="css", id=id)
        self.ids: list[str] = []
        self.records: list[int] = []
        self.numbers: Sequence[int] = ()
        self.texts: Sequence[str] = ()
        self._pages: list[list[Column]] = []
        self._page = 0
        self._glyphs = FULL

    def on_resize(self) -> None:
        """Keep what is in hand in sight, whatever room the list is given."""
        self.move_cursor(row=self.cursor_row, column=self.cursor_column)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Leave Left and Right to the screen where a whole row is in hand, or the last cell on that side."""
        ends = {"cursor_left": 0, "cursor_right": len(self.ids) - 1}
        free = action not in ends or (self.cursor_type == "cell" and self.cursor_column != ends[action])
        return free and super().check_action(action, parameters)

    def put(self, columns: Sequence[Column], glyphs: Glyphs, width: int = 1000, least: int = NARROWEST) -> None:
        """Show columns, numbers to the right, the cursor staying where it was; those without room in `width` later."""
        self._pages, self._glyphs = paged(columns, width, least), glyphs
        self._page = min(self._page, len(self._pages) - 1)
        self._put_page()

    def turn(self, step: int) -> None:
        """Go on to the columns that had no room, or back, where there are some."""
        if 0 <= self._page + step < len(self._pages):
            self._page += step
            self._put_page()
            if self.cursor_type == "cell":
                self.move_cursor(column=1 if step > 0 else len(self.ids) - 1)

    def _put_page(self) -> None:
        row, place, columns, glyphs = self.cursor_row, self.cursor_column, self._pages[self._page], self._glyphs
        self.clear(columns=True)
        self.ids = [column.id for column in columns]
        texts = [[plain(cell, glyphs) for cell in (column.head, *column.cells)] for column in columns]
        form = len(columns) == 2 and len(self._pages) == 1  # a name, and in each row an amount of another kind
        for column_texts in texts:
            width = max(map(cell_len, column_texts))
            self.add_column(escape(column_texts[0]), width=width)
            if not form and all(NUMBER.fullmatch(text) for text in column_texts[1:]):
                column_texts[1:] = [text.rjust(width) for text in column_texts[1:]]
        for row_texts in zip(*(column_texts[1:] for column_texts in texts), strict=True):
            self.add_row(*map(escape, row_texts))
        self.records = list(range(self.row_count))
        self._go_back(row, place)

    def put_wrapped(
        self, heads: Sequence[tuple[str, int]], rows: Iterable[Sequence[Cell]], glyphs: Glyphs, most: int = 1000
    ) -> None:
        """Show cells wrapped into columns of these widths.

        A row of more than `most` lines goes on in rows of its own, so that each can be seen whole.
        """
        row, place = self.cursor_row, self.cursor_column
        self.clear(columns=True)
        self.ids, self.records = [head for head, _ in heads], []
        names = [lines_of(head, room, glyphs) for head, room in heads]
        self.header_height = max(map(len, names))
        for lines, (_, room) in zip(names, heads, strict=True):
            self.add_column(self._shown(lines), width=room)
        for record, cells in enumerate(rows):
            told = [lines_of(cell, room, glyphs) for cell, (_, room) in zip(cells, heads, strict=True)]
            height = max(map(len, told))
            for start in range(0, height, most):
                parts = [lines[start : start + most] for lines in told]
                self.add_row(*map(self._shown, parts), height=min(height - start, most))
                self.records.append(record)
        self._go_back(row, place)

    def _shown(self, lines: list[Row]) -> Text:
        """Return lines as a cell shows them, the mark of a level in its colour."""
        marked = ([(text, style_in(self.app, name) if name in LEVELS else "") for text, name in row] for row in lines)
        return Text("\n", end="").join(Text.assemble(*row) for row in marked)

    def _go_back(self, row: int, place: int) -> None:
        if self.row_count:
            self.move_cursor(row=min(row, self.row_count - 1), column=min(place, len(self.ids) - 1))

    @property
    def place(self) -> int:
        """Which record is in hand; -1 where there is none."""
        return self.records[self.cursor_row] if 0 <= self.cursor_row < len(self.records) else -1

    @property
    def column(self) -> str:
        return self.ids[self.cursor_column]

    @property
    def lines(self) -> int:
        """How many lines it needs to be seen whole."""
        return self.header_height * self.show_header + sum(row.height for row in self.rows.values())

    def row_texts(self) -> list[str]:
        return ["  ".join(str(cell) for cell in self.get_row_at(row)) for row in range(self.row_count)]

    def name_in_hand(self) -> str:
        """Return what the row in hand is called; where that is a number alone, with what is numbered."""
        name = " ".join(str(self.get_row_at(self.cursor_row)[0]).split())
        return f"{self.ordered_columns[0].label} {name}" if name.isdigit() else name

    def find(self, words: str, *, after: bool) -> int | None:
        """Take the next row that has these words in hand, from the present one on or after it; None where none has."""
        places = (next_with(texts, words, self.cursor_row + after) for texts in (self.row_texts(), self.texts))
        place = next((place for place in places if place is not None), None)
        if place is not None:
            self.move_cursor(row=place)
        return place

    def text_in_hand(self) -> str:
        return self.row_texts()[self.cursor_row] if self.row_count else ""

    def where(self) -> str:
        """Return which of its rows is in hand, "" where all are in sight; and whether there are more columns."""
        told = []
        if self.row_count and self.max_scroll_y:
            numbers = self.numbers or range(len(self.records))
            told = [f"{numbers[self.place] + 1} of {numbers[self.records[-1]] + 1}"]
        if len(self._pages) > 1:
            more = "more columns" if self.screen.size.width >= ROOMY else "more"
            page = f"page {self._page + 1}/{len(self._pages)}, " if self._page else ""
            told.append(f"{page}{self._glyphs.right if self._page + 1 < len(self._pages) else 'Left:'} {more}")
        return ", ".join(told)


def next_with(texts: Sequence[str], words: str, start: int) -> int | None:
    """Return the place of the next text with all these words, going round at the end; None where none has them."""
    wanted = words.lower().split()
    places = [(start + step) % len(texts) for step in range(len(texts))] if wanted else []
    return next((place for place in places if all(word in texts[place].lower() for word in wanted)), None)


def lines_of(said: str | Iterable[Said], width: int, glyphs: Glyphs) -> list[Row]:
    """Return one sentence or several as rows of at most so many columns; the mark of a level has its colour."""
    rows: list[Row] = []
    for one in [said] if isinstance(said, str) else said:
        lead, text = ("", one) if isinstance(one, str) else one
        level = lead if lead in LEVELS else ""
        lead = plain(f"{getattr(glyphs, level)} " if level else lead, glyphs)
        first, *others = wrapped(plain(text, glyphs), width, lead) or [lead]
        rows.append(((lead, level or "hint"), (first[len(lead) :], "")) if lead else ((first, ""),))
        rows += [((line, ""),) for line in others]
    return rows


class TaskPage(VerticalScroll):
    """Text that is read by going up and down."""

    can_focus = True

    class Scrolled(Message):
        """Another part of the page is in sight."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._static = Static("", markup=False)
        self.text, self.rows = "", list[Row]()

    def compose(self) -> ComposeResult:
        yield self._static

    def show_rows(self, rows: list[Row]) -> None:
        """Show rows from the top, unless they stand there already."""
        if rows == self.rows:
            return
        self.rows, self.text = rows, "\n".join(map(row_text, rows))
        self._static.update(Content("\n").join(Content.assemble(*map(_styled, row)) for row in rows))
        self.scroll_home(animate=False)

    def find(self, words: str, *, after: bool) -> int | None:
        """Bring the next line that has these words to the top, from the present one on or after it; None for none."""
        place = next_with(self.text.splitlines(), words, int(self.scroll_y) + after)
        if place is not None:
            self.scroll_to(y=place, animate=False)
        return place

    def text_in_hand(self) -> str:
        return self.text

    def where(self) -> str:
        """Return which of its lines are in sight; "" where all are."""
        if not self.max_scroll_y:
            return ""
        first, count = int(self.scroll_y) + 1, len(self.text.split("\n"))
        return f"{first} to {min(first + self.size.height - 1, count)} of {count}"

    def scroll_to(self, x: float | None = None, y: float | None = None, **how: Any) -> None:
        """Scroll at once: a refresh later is late on a slow machine, and the next key would find the old place."""
        super().scroll_to(x, y, **(how | {"animate": False, "immediate": True}))

    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        super().watch_scroll_y(old_value, new_value)
        self.post_message(self.Scrolled())

    def watch_virtual_size(self) -> None:
        """Tell the screen: how many lines there are is known only once they are laid out."""
        self.post_message(self.Scrolled())

    def on_resize(self) -> None:
        """Tell the screen: other lines are in sight."""
        self.post_message(self.Scrolled())


def _styled(run: Run) -> tuple[str, str]:
    text, name = run
    front, back, bold = STYLES[name]
    return (text, f"{'bold ' * bold}${front} on ${back}" if name else "")


class Told(Rows):
    """Sentences below a list, in as many lines as they need."""

    def tell(self, said: Iterable[Said], width: int, glyphs: Glyphs, height: int = 1) -> None:
        """Say them, in so many lines at the least, and in so many that no list is pressed out of the screen."""
        rows = lines_of(said, width, glyphs)[:MOST_TOLD]
        rows += [()] * (min(height, MOST_TOLD) - len(rows))
        self.display = any(rows)
        self.styles.height = max(len(rows), 1)
        self.show(tuple(((" ", "hint"), *((text, name or "hint") for text, name in row)) for row in rows))
