"""What every task's screen shares: a title, a body, a line that says something, one entry at a time, and its keys."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence
from typing import ClassVar

from rich.markup import escape
from rich.text import TextType
from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.widget import Widget
from textual.widgets import DataTable, Input, Label, Static
from textual.widgets.data_table import RowKey

from forescale.engine.compare.differences import Difference, Step, step_words
from forescale.engine.files.faults import BadInput
from forescale.tui.app_screen import AppScreen, Result
from forescale.tui.entry import Entry
from forescale.tui.glyphs import plain
from forescale.tui.keys import shown
from forescale.tui.runs import Rows
from forescale.tui.session import reasons
from forescale.tui.wrapped import fitted

Read = Callable[[str], str]
Take = Callable[[str], None]
NARROW = 60  # columns; with fewer the key that lists everything goes by its shorter name
SAYS_LINES, SAYS_MOST = 2, 4  # lines kept for what is said, and as many as it may take where the screen is narrow
TYPING = ["Enter takes it", "Esc leaves it"]
HELP_KEY = Binding(
    "f1,question_mark", "task_help", "help", show=False, tooltip="what this task is for, and how it is done"
)
FIND_KEY = Binding("slash", "find", "find", show=False, tooltip="find words in the list or the page; Enter goes on")


class TaskScreen(AppScreen[Result]):
    """A task over the board. Esc leaves it; `ask` opens an entry at its foot."""

    TASK = ""
    ENTER = ""  # what Enter does to the selected row, for the footer
    F1 = "help"  # what F1 does, for the footer
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "back"),
        HELP_KEY,
        Binding("space,f2", "all_keys", "all", show=False),
        FIND_KEY,
        Binding("f3", "theme", "theme", show=False),
        Binding("f4", "glyphs", "glyphs", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._read: Read | None = None
        self._take: Take | None = None
        self._entry: Entry | None = None
        self._hint = ""
        self._sought = ""

    def compose(self) -> ComposeResult:
        """A title, the body, a line that says something, and the keys."""
        yield Rows(id="top")
        yield from self.body()
        yield Horizontal(Label("", id="asked"), id="asking")
        yield Rows(id="says")
        yield Rows(id="footer")

    def body(self) -> ComposeResult:
        """Yield the widgets of the task; each task has its own."""
        yield from ()

    def on_mount(self) -> None:
        """Fill the screen."""
        self.query_one("#asking").display = False
        self.fill()
        self._show_lines()

    def fill(self) -> None:
        """Fill the body with what the session holds now; called again after every change."""

    def on_resize(self, _event: events.Resize) -> None:
        """Fit the lines to the new width."""
        self._show_lines()

    def _show_lines(self) -> None:
        glyphs, width = self.forescale.glyphs, self.size.width
        title = fitted(f"{self.TASK} · {self.session.state.shot.title}", max(width - 1, 1), glyphs)
        self.query_one("#top", Rows).show((((f" {title}", "title"),),))
        keys = TYPING if self._take is not None else [f"{shown(key)} {short}" for key, short in self.keys()]
        footer = footer_of(keys, width - 1, f"F1 {self.F1}")
        self.query_one("#footer", Rows).show((((f" {footer}", "label"),),))

    def keys(self) -> list[tuple[str, str]]:
        """Return the keys of this task with their words, Esc the last."""
        enter = [("enter", self.ENTER)] if self.ENTER else []
        return [*enter, *((binding.key, binding.description) for binding in self._own_keys()), ("escape", "back")]

    def _own_keys(self) -> list[Binding]:
        own = [binding for binding in type(self).BINDINGS if isinstance(binding, Binding) and binding.show]
        return [binding for binding in own if binding.key != "escape"]

    def all_keys(self) -> list[tuple[str, str]]:
        """Return every key of this task with all that is to be said of it, Esc the last."""
        own = self._own_keys()
        listed = [("space", "all that can be done here, narrowed by typing; Enter does it")] if own else []
        enter = [("enter", self.ENTER)] if self.ENTER else []
        return [*enter, *((key.key, key.tooltip or key.description) for key in own), *listed, ("escape", "back")]

    def action_task_help(self) -> None:
        """Show what this task is for, how it is done, and its keys."""
        self.forescale.open_task("task_help", self)

    def action_all_keys(self) -> None:
        """List every key of the task; the one chosen is done."""

        async def do(action: str | None) -> None:
            if action is not None:
                await self.run_action(action)

        if self._take is None and self._own_keys():
            self.forescale.open_task("task_keys", [*self._own_keys(), FIND_KEY, HELP_KEY], then=do)

    def action_theme(self) -> None:
        """Go to the next theme."""
        self.forescale.next_theme()

    def action_glyphs(self) -> None:
        """Go to the next glyph table, and draw the task with it."""
        self.forescale.next_glyphs()
        self.fill()
        self._show_lines()

    # Finding, and copying

    def _lists(self) -> list[TaskTable | TaskPage]:
        """Return the lists and pages of the task, the one that has the keys first."""
        found: list[TaskTable | TaskPage] = [*self.query(TaskTable).results(), *self.query(TaskPage).results()]
        return sorted(found, key=lambda one: not one.has_focus)

    def action_find(self) -> None:
        """Ask for words, and go to where they stand; the words asked for last stand there to go on with."""
        if self._lists():
            self.ask("Find", self._sought, self._first_found, self._find_next, "type words that stand there")

    def _first_found(self, text: str) -> str:
        self._sought = text
        place = self._lists()[0].find(text, after=False)
        if place is None:
            raise ValueError(f'"{text}" does not stand here')
        return f"{text}; Enter, then / and Enter once more, goes on to the next"

    def _find_next(self, text: str) -> None:
        if self._lists()[0].find(text, after=True) is None:
            raise ValueError(f'"{text}" does not stand here')

    def text_in_hand(self) -> str:
        """Return what a copy takes: the row in hand, or the whole page."""
        lists = self._lists()
        return lists[0].text_in_hand() if lists else ""

    def say(self, text: str, *, refused: bool = False) -> None:
        """Say something at the foot; empty says nothing."""
        width = max(self.size.width - 2, 10)
        style = "refused" if refused else "hint"
        lines = textwrap.wrap(plain(text, self.forescale.glyphs), width)
        if len(lines) > SAYS_MOST:
            rest = " ".join(lines[SAYS_MOST - 1 :])
            lines = [*lines[: SAYS_MOST - 1], fitted(rest, width, self.forescale.glyphs)]
        says, height = self.query_one("#says", Rows), max(len(lines), SAYS_LINES)
        says.styles.height = height
        self.query_one("#asking").styles.margin = (0, 0, height + 1, 0)
        says.show(tuple(((f" {line}", style),) for line in lines))

    def attempt(self, change: Callable[[], None]) -> bool:
        """Make a change of the session and show it, or say why it cannot be; tells whether it was made."""
        try:
            change()
        except (BadInput, ValueError) as fault:
            self.say(reasons(fault), refused=True)
            return False
        self.forescale.changed()
        self.fill()
        return True

    def stepped(self, step: Step, changes: Sequence[Difference]) -> None:
        """Show the shot after a step back or on, and say what it changed."""
        self.fill()
        self.say(step_words(step, changes)[0])

    # One entry at a time

    def ask(self, label: str, text: str, read: Read, take: Take, hint: str = "", choices: Sequence[str] = ()) -> None:
        """Ask for a value: `read` says what is understood of it, `take` takes it; each may raise ValueError.

        `hint` says what to type, as long as nothing stands there; Up and Down step through the `choices`.
        """
        self._read, self._take, self._hint = read, take, hint
        self.say(hint)
        self._end_entry()
        self.query_one("#asked", Label).update(plain(f" {label}: ", self.forescale.glyphs))
        asking = self.query_one("#asking")
        asking.display = True
        self._entry = Entry(text, choices)
        asking.mount(self._entry)
        self._entry.focus()
        self.add_class("typing")
        self._show_lines()

    @on(Input.Changed)
    def _read_back(self, event: Input.Changed) -> None:
        if event.input is not self._entry:  # of an entry that another has followed
            return
        if self._read is None or not event.value.strip():
            self.say(self._hint)
            return
        try:
            read = self._read(event.value)
            choices = ", ".join(event.input.choices) if isinstance(event.input, Entry) else ""
            self.say(f"Up, Down: {choices}" if choices else f"read as {read}")
        except (BadInput, ValueError) as fault:
            self.say(reasons(fault), refused=True)

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        take = self._take
        if take is None or event.input is not self._entry:
            return
        try:
            take(event.value)
        except (BadInput, ValueError) as fault:
            self.say(reasons(fault), refused=True)
            return
        if self.is_current and self._take is take:
            self._end_entry(closing=True)

    def on_entry_left(self) -> None:
        """Give the entry up."""
        self.say("")
        self._end_entry(closing=True)

    def _end_entry(self, *, closing: bool = False) -> None:
        self.query(Entry).remove()
        if closing:
            self._take = None
            self.query_one("#asking").display = False
            self.remove_class("typing")
            self._show_lines()
            self.focus_body()

    def focus_body(self) -> None:
        """Put the keys back to the body after an entry."""
        first = next(iter(self.query("TaskTable, TaskPage").results(Widget)), None)
        if first is not None:
            first.focus()

    def check_action(self, action: str, _parameters: tuple[object, ...]) -> bool | None:
        """Let no key of the task but that for help act while a value is being typed."""
        return self._take is None or action == "task_help"

    def action_leave(self) -> None:
        """Go back to what lies under this task."""
        self.dismiss()


def footer_of(parts: list[str], width: int, help_key: str) -> str:
    """Return the keys that fit a width, the last always among them; where some are left out, Space lists them.

    The key for help stands among them only where all have room.
    """
    footer = "  ".join([*parts[:-1], help_key, parts[-1]])
    if len(footer) <= width:
        return footer
    footer = "  ".join(parts)
    shown_keys = parts[:-1]
    while len(footer) > width and shown_keys:
        shown_keys.pop()
        footer = "  ".join([*shown_keys, "Space all" if width >= NARROW else "F2 all", parts[-1]])
    return footer


class TaskTable(DataTable[str]):
    """A table with a row or cell in hand; letters stay free for the task's own keys."""

    def __init__(self, *, cells: bool = False, id: str | None = None) -> None:
        super().__init__(cursor_type="cell" if cells else "row", zebra_stripes=False, id=id)

    def add_row(
        self, *cells: str, height: int | None = 1, key: str | None = None, label: TextType | None = None
    ) -> RowKey:
        """Add a row whose cells are shown as they are: square brackets in a name are no markup."""
        return super().add_row(*(escape(cell) for cell in cells), height=height, key=key, label=label)

    def refill(self, columns: list[str], rows: list[list[str]]) -> None:
        """Put new columns and rows in, the cursor staying where it was."""
        row, column = self.cursor_row, self.cursor_column
        self.clear(columns=True)
        self.add_columns(*columns)
        for cells in rows:
            self.add_row(*cells)
        if rows:
            self.move_cursor(row=min(row, len(rows) - 1), column=min(column, len(columns) - 1))

    def row_texts(self) -> list[str]:
        """Return the text of every row."""
        return ["  ".join(str(cell) for cell in self.get_row_at(row)) for row in range(self.row_count)]

    def find(self, words: str, *, after: bool) -> int | None:
        """Take the next row that has these words in hand, from the present one on or after it; None where none has."""
        place = next_with(self.row_texts(), words, self.cursor_row + after)
        if place is not None:
            self.move_cursor(row=place)
        return place

    def text_in_hand(self) -> str:
        """Return the row in hand as text."""
        return self.row_texts()[self.cursor_row] if self.row_count else ""


def next_with(texts: Sequence[str], words: str, start: int) -> int | None:
    """Return the place of the next text with all these words, going round at the end; None where none has them."""
    wanted = words.lower().split()
    places = [(start + step) % len(texts) for step in range(len(texts))] if wanted else []
    return next((place for place in places if all(word in texts[place].lower() for word in wanted)), None)


class TaskPage(VerticalScroll):
    """Text that is read by going up and down."""

    can_focus = True

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._text = Static("", markup=False)
        self.text = ""

    def compose(self) -> ComposeResult:
        """The text alone."""
        yield self._text

    def show(self, text: str) -> None:
        """Show text from its top."""
        self.text = text
        self._text.update(text)
        self.scroll_home(animate=False)

    def find(self, words: str, *, after: bool) -> int | None:
        """Bring the next line that has these words to the top, from the present one on or after it; None for none."""
        place = next_with(self.text.splitlines(), words, int(self.scroll_y) + after)
        if place is not None:
            self.scroll_to(y=place, animate=False)
        return place

    def text_in_hand(self) -> str:
        """Return the whole page."""
        return self.text
