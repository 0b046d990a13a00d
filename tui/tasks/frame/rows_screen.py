"""The screen of most tasks: a list, what is to be said of the row in hand, and a page of what it comes to.

Where a screen is wide the page stands beside the list, else below it; where it is low one is shown at a time.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Container
from textual.widget import Widget
from textual.widgets import DataTable

from forescale.engine.field_help import FIELD_HELP, prompt
from forescale.engine.shot import edit
from forescale.tui.app_screen import Result
from forescale.tui.runs import Row
from forescale.tui.tasks.frame.columns import NARROWEST, Column, shortened
from forescale.tui.tasks.frame.task_screen import TaskScreen, WholeScreen
from forescale.tui.tasks.frame.verbs import UNDO, key
from forescale.tui.tasks.frame.widgets import Said, TaskPage, TaskTable, Told, lines_of

AROUND = 4  # rows for the title, what is said and the keys
WIDE, LEAST_BESIDE = 100, 44  # columns of a screen from which on the page may stand beside, and what it is then given
VALUE, EDGES = 17, 6  # columns of a value on a screen that has few, and those that stay free beside it
LEAST_LIST = 5  # rows that a list keeps above a page, and a page below a list that is to be seen whole

NEXT_VIEW = key("next view", "view", "go on from the list to what it comes to, and back")


class RowsScreen(TaskScreen[Result]):
    """A list with what is to be said of it; Tab goes from one to the other."""

    BINDINGS = [NEXT_VIEW, replace(key("view before"), show=False)]
    SECTION = ""  # the list of the shot that has a record for each row
    CELLS = False  # whether a cell is in hand, not a row
    EMPTY = ""  # what to do where the list has no row
    BY_ROW = False  # whether the page tells of the row in hand, not of the whole list
    LIST_FIRST = False  # whether the list is seen whole rather than the page
    TALL = 20  # rows; with fewer, list and page are shown in turn
    LEAST = NARROWEST  # columns that the first column keeps before others go
    VIEWS: tuple[str, ...] = ("rows", "gives")
    view = "rows"
    beside = False
    _told_of = (-1, -1)
    _told_done: tuple[object, Sequence[Said]] = (None, ())  # what the last change did, for as long as it is so

    def body(self) -> ComposeResult:
        yield Container(*self.lists(), id="body")
        yield Told(id="how")

    def lists(self) -> Sequence[Widget]:
        """Return what the body holds."""
        return TaskTable(cells=self.CELLS, id="rows"), TaskPage(id="gives")

    @property
    def records(self) -> tuple[Any, ...]:
        """Return the records that the rows are of."""
        return tuple(getattr(self.shot, self.SECTION))

    def columns(self) -> Sequence[Column]:
        return ()

    def gives(self) -> Iterable[Said]:
        """Return what the list, or the row in hand, comes to."""
        return ()

    def page_rows(self) -> list[Row]:
        state, done = self._told_done
        done = done if state is self.session.state else ()
        return lines_of([*done, *self.gives()], self.page_width, self.glyphs)

    def how(self, _place: int) -> Iterable[Said]:
        """Return what is to be said of a row while it is in hand."""
        return ()

    def tell_done(self, *sentences: str) -> None:
        """Say on the page, until something else changes, what a change did."""
        self._told_done = (self.session.state, [("ok", text) for text in sentences])
        self.tell()

    def action_details(self) -> None:
        self.app.push_screen(WholeScreen(self.gives(), "What it changes"))

    def some(self) -> bool:
        """Tell whether there is a row in hand, and say what to do where there is none."""
        if self.table.place < 0:
            self.say(self.EMPTY, refused=True)
        return self.table.place >= 0

    @property
    def page(self) -> TaskPage:
        return self.query_one("#gives", TaskPage)

    @property
    def together(self) -> bool:
        return self.size.height >= self.TALL

    def in_sight(self) -> tuple[str, ...]:
        """Return the views that there is room for."""
        return self.VIEWS if self.together else (self.view,)

    @property
    def scrolls(self) -> bool:
        """Whether the page has less room than it needs, where the list stands with it."""
        if self.beside or not self.page.text:
            return self.page.max_scroll_y > 0
        room = self.size.height - AROUND - len(self.query_one("#how", Told).rows)
        return len(self.page.rows) > room - self.list_height(room)

    def list_height(self, room: int) -> int:
        """Return the rows of the list where the page stands below it."""
        half = room - LEAST_LIST if self.LIST_FIRST else room // 2
        most = half if self.BY_ROW else max(room - len(self.page.rows), half)
        return max(min(self.table.lines, most), LEAST_LIST)

    def shown_views(self) -> tuple[str, ...]:
        """Return the views that are shown; a page that one goes to is shown alone where it would scroll in few rows."""
        return ("gives",) if self.view == "gives" and self.scrolls and not self.beside else self.in_sight()

    def fill(self) -> None:
        """Show the list and what it comes to: below it where all of it has room there, else beside it."""
        self.beside, self.natural, self.page_width = False, 0, self.size.width - 3
        self.put_rows()
        spare, lines = self.size.width - self.natural, self.table.lines + len(self.page_rows())
        if self.together and self.natural and self.size.width >= WIDE and spare >= LEAST_BESIDE:
            self.beside = lines > self.size.height - AROUND
        if self.beside:
            self.page_width = spare - 4  # its edge, a blank on both sides, and the bar
            self.put_rows()
        self.table.styles.width = self.natural if self.beside else "1fr"
        self.tell()

    def put_rows(self) -> None:
        columns = self.columns()
        self.natural = sum(column.width for column in columns) + 1
        self.table.put(columns, self.glyphs, self.natural if self.beside else self.size.width - 1, self.LEAST)

    def tell(self) -> None:
        """Show what is to be said of the row in hand, and of the whole list."""
        self._told_of = self.table.place, self.table.cursor_column
        self.page.show_rows(self.page_rows())
        how, width = self.query_one("#how", Told), self.size.width - 2
        if places := set(self.table.records):
            most = max(len(lines_of(self.how(place), width, self.glyphs)) for place in places)
            how.tell(self.how(self.table.place), width, self.glyphs, height=most)
        else:
            how.tell([self.EMPTY] * bool(self.EMPTY), width, self.glyphs)
        self.lay_out()

    @on(DataTable.RowHighlighted)
    @on(DataTable.CellHighlighted)
    def _another_row(self) -> None:
        if self._told_of != (self.table.place, self.table.cursor_column):
            self.tell()

    def lay_out(self) -> None:
        """Show the views that are in sight, and give each its room."""
        page, how = self.page, self.query_one("#how", Told)
        in_sight = self.shown_views()
        for name in self.VIEWS:
            self.query_one(f"#{name}", Widget).display = name in in_sight
        page.display = page.display and bool(page.text)
        how.display = how.display and in_sight != ("gives",)
        self.query_one("#body").set_class(self.beside, "beside")
        self.share_room(self.size.height - AROUND - how.display * len(how.rows))

    def share_room(self, room: int) -> None:
        """Give list and page so many rows."""
        if self.beside or not self.page.display or not self.table.display:
            self.table.styles.height = self.page.styles.height = "1fr"
            self.page.styles.margin = 0
            return
        self.table.styles.height = height = self.list_height(room)
        self.page.styles.margin = (int(room - height > len(self.page.rows)), 0, 0, 0)

    def own_keys(self) -> list[Binding]:
        """Return what is this task's own, and the key that goes on to the page where there is one."""
        own = super().own_keys()
        has_own = any(binding.key == NEXT_VIEW.key for binding in own) or not self.page.text
        return own if has_own else [*own[:1], NEXT_VIEW, *own[1:]]

    def keys(self) -> list[tuple[str, str]]:
        """Return the keys for the footer; where all is in sight, the one that goes on to the page can wait."""
        pairs, needed = super().keys(), self.in_sight() != self.VIEWS or self.scrolls
        return [pair for pair in pairs if needed or pair != ("tab", NEXT_VIEW.description)]

    def focus_body(self) -> None:
        wanted = self.query_one(f"#{self.view}", Widget)
        self.set_focus(wanted if wanted.can_focus else None)

    def action_next_view(self, step: int = 1) -> None:
        """Go on to the next view, or back; one that was not shown is, and a page that is seen whole needs no keys."""
        whole = {"gives"} if "gives" in self.in_sight() and not self.scrolls else set()
        ways = [name for name in self.VIEWS if name not in whole or name == self.view]
        self.view = ways[(ways.index(self.view) + step) % len(ways)]
        self.lay_out()
        self.focus_body()
        self.show_lines()


class FieldsScreen(RowsScreen[None]):
    """Some fields of the shot, a row each; Enter types one, nothing typed leaves it out."""

    ENTER = "type"
    LEAST = 20  # labels are not cut
    PATHS: tuple[str, ...] = ()
    HEAD, BINDINGS = "now", [key("delete", "clear", "leave the selected field out"), *UNDO]

    @property
    def path(self) -> str:
        return self.PATHS[self.table.place]

    def columns(self) -> list[Column]:
        labels = tuple(map(self.label, self.PATHS))
        room = max(self.size.width - max(map(len, labels)) - EDGES, VALUE)
        values = tuple(shortened(self.now(path) or "-", room) for path in self.PATHS)
        return [Column("field", "field", labels), Column("now", self.HEAD, values)]

    def how(self, place: int) -> Iterable[Said]:
        return [FIELD_HELP[self.registered(self.PATHS[place])].what]

    def registered(self, path: str) -> str:
        """Return the path by which the registry of fields knows a field."""
        return path

    def label(self, path: str) -> str:
        return FIELD_HELP[self.registered(path)].label

    def prompt(self, path: str) -> str:
        """Return what an entry asks for: what a field is called, and what a number alone means there."""
        return prompt(self.registered(path), self.system)

    def now(self, path: str) -> str:
        """Return a field's value as people read it."""
        value, quantity = edit.value_at(self.shot, path), edit.quantity_of(type(self.shot), path)
        return value or "" if value is None or quantity is None else quantity.shown(value, self.system)

    def hint(self, path: str) -> str:
        """Return what is to be known to type a value."""
        help_on = FIELD_HELP[self.registered(path)]
        return f"{help_on.enters} {help_on.measure}"

    def enter(self) -> None:
        self.action_field(self.path, self.prompt(self.path), self.hint(self.path))

    def action_delete(self) -> None:
        self.attempt(lambda: self.change({self.path: None}))
