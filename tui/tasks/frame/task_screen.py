"""What every task's screen shares: its title and keys, what is said at its foot, finding, copying, changing."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.widget import Widget
from textual.widgets import DataTable, Label

from forescale.engine.answer import Answer
from forescale.engine.compare.differences import Difference, Step, step_words
from forescale.engine.field_help import prompt
from forescale.engine.files.faults import BadInput
from forescale.engine.moved.kept import READINGS
from forescale.engine.shot import edit
from forescale.engine.shot.records import Shot
from forescale.engine.units import UnitSystem
from forescale.tui.app_screen import Result
from forescale.tui.glyphs import Glyphs, fitted, plain, wrapped
from forescale.tui.keys import NO_KEY, shown
from forescale.tui.runs import Rows
from forescale.tui.session import reasons
from forescale.tui.tasks.frame.asking import Asking, Question
from forescale.tui.tasks.frame.widgets import Said, TaskPage, TaskTable

NARROW = 60  # columns; with fewer the key that lists everything goes by its shorter name
SAYS_LINES, SAYS_MOST = 2, 4  # lines kept for what is said, and as many as it may take where the screen is narrow
TYPING = ["Enter takes it", "Esc leaves it"]
HELP_KEY = Binding(
    "f1,question_mark", "task_help", "help", show=False, tooltip="what this task is for, and how it is done"
)
FIND_KEY = Binding("slash", "find", "find", show=False, tooltip="find words in the list or the page; Enter goes on")


class TaskScreen(Asking[Result]):
    """A task over the board. Esc leaves it; `ask` opens an entry at its foot."""

    CSS_PATH = Path(__file__).with_name("tasks.tcss")  # read when the first task is opened
    TASK = ""
    ENTER = ""  # what Enter does to the selected row, for the footer
    F1 = "help"  # what F1 does, for the footer
    BINDINGS = [
        Binding("escape", "leave", "back"),
        HELP_KEY,
        Binding("space,f2", "all_keys", "all", show=False),
        FIND_KEY,
        Binding("f3", "theme", "theme", show=False),
        Binding("f4", "glyphs", "glyphs", show=False),
        Binding("left", "sideways(-1)", show=False),
        Binding("right", "sideways(1)", show=False),
    ]
    _sought = ""
    _filled: object = None

    @property
    def answer(self) -> Answer:
        """The present answer."""
        return self.session.state.answer

    @property
    def shot(self) -> Shot:
        """The shot as it is set now."""
        return self.session.state.shot

    @property
    def system(self) -> UnitSystem:
        """The units that are shown."""
        return self.shot.units

    @property
    def glyphs(self) -> Glyphs:
        """What the terminal can show."""
        return self.forescale.glyphs

    @property
    def table(self) -> TaskTable:
        """The list in hand."""
        return self.query_one(TaskTable)

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
        self.refill()
        self.filled()

    def on_resize(self) -> None:
        """Fit all to the new size."""
        if self.size != self._filled:
            self.refill()

    def fill(self) -> None:
        """Fill the body with what the session holds now; called again after every change, and at another size."""

    def filled(self) -> None:
        """Do what is to be done once when the screen was first filled, such as to go to a row."""

    def refill(self) -> None:
        """Fill the whole screen."""
        self._filled = self.size
        self.fill()
        self.show_lines()
        said, refused = self._said
        self.say(said, refused=refused)

    @on(DataTable.RowSelected)
    @on(DataTable.CellSelected)
    def _entered(self) -> None:
        self.enter()

    def enter(self) -> None:
        """Do what Enter means on the row, or the cell, in hand."""

    def action_sideways(self, step: int) -> None:
        """Do what Left (-1) and Right (1) mean beyond the cells of a row: go to more columns, and back."""
        if self.query(TaskTable) and self.table.turn(step):
            self.show_title()

    # Title and keys

    def show_lines(self) -> None:
        """Show the title and the keys that work now."""
        self.call_after_refresh(self.show_title)
        keys = TYPING if self.typing else [f"{shown(key)} {short}" for key, short in self.keys()]
        footer = footer_of(keys, self.size.width - 1, f"F1 {self.F1}")
        self.query_one("#footer", Rows).show((((f" {footer}", "label"),),))

    @on(DataTable.RowHighlighted)
    @on(DataTable.CellHighlighted)
    @on(TaskPage.Scrolled)
    def show_title(self) -> None:
        """Show the title, and where one is in what has the keys."""
        where = next((one.where() for one in self._lists()), "")
        room = self.size.width - 2 - len(where)
        title = fitted(f"{self.TASK} · {self.shot.title}", max(room - 1, 1), self.glyphs)
        for top in self.query("#top").results(Rows):  # asked for a refresh ago: none where the screen has been left
            top.show((((f" {title:{max(room, 0)}}", "title"), (where, "label")),))

    def keys(self) -> list[tuple[str, str]]:
        """Return the keys for the footer with their words, Esc the last."""
        enter = [("enter", self.ENTER)] if self.ENTER else []
        own = [(one.key, one.description) for one in self.own_keys() if one.key != NO_KEY]
        return [*enter, *own, ("escape", "back")]

    def own_keys(self) -> list[Binding]:
        """Return what is this task's own, with and without a key."""
        own = [binding for binding in type(self).BINDINGS if isinstance(binding, Binding) and binding.show]
        return [binding for binding in own if binding.key != "escape"]

    def more_help(self) -> Iterable[Said]:
        """Return what help on the task has to say beside its steps."""
        return ()

    def all_keys(self) -> list[tuple[str, str]]:
        """Return every key of this task with all that is to be said of it, Esc the last."""
        own = self.own_keys()
        listed = [("space", "all that can be done here, narrowed by typing; Enter does it")] if own else []
        enter = [("enter", self.ENTER)] if self.ENTER else []
        told = [("space" if one.key == NO_KEY else one.key, one.tooltip or one.description) for one in own]
        return [*enter, *told, *listed, ("escape", "back")]

    def action_task_help(self) -> None:
        """Show what this task is for, how it is done, and its keys."""
        self.forescale.open_task("task_help", self)

    def action_all_keys(self) -> None:
        """List every key of the task; the one chosen is done."""

        async def do(action: str | None) -> None:
            if action is not None:
                await self.run_action(action)

        if not self.typing and self.own_keys():
            self.forescale.open_task("task_keys", [*self.own_keys(), FIND_KEY, HELP_KEY], then=do)

    def action_glyphs(self) -> None:
        """Go to the next glyph table, and draw the task with it."""
        self.forescale.next_glyphs()
        self.refill()

    # Finding, and copying

    def _lists(self) -> list[TaskTable | TaskPage]:
        """Return the lists and pages of the task, the one that has the keys first."""
        found: list[TaskTable | TaskPage] = [*self.query(TaskTable).results(), *self.query(TaskPage).results()]
        return sorted(found, key=lambda one: not one.has_focus)

    def action_find(self) -> None:
        """Ask for words, and go to where they stand; the words asked for last stand there to go on with."""

        def find(text: str, *, after: bool) -> None:
            if self._lists()[0].find(text, after=after) is None:
                raise ValueError(f'"{text}" does not stand here')

        def first_found(text: str) -> str:
            self._sought = text
            find(text, after=False)
            return f"{text}; Enter, then / and Enter once more, goes on to the next"

        if self._lists():
            question = Question("Find", first_found, self._sought, "type words that stand there")
            self.ask(question, lambda text: find(text, after=True))

    def text_in_hand(self) -> str:
        """Return what a copy takes: the row in hand, or the whole page."""
        return next((one.text_in_hand() for one in self._lists()), "")

    def focus_body(self) -> None:
        """Put the keys back to the body after an entry."""
        first = next(iter(self.query("TaskTable, TaskPage").results(Widget)), None)
        if first is not None:
            first.focus()

    def say(self, text: str, *, refused: bool = False) -> None:
        """Say something at the foot, in as many lines as it needs; empty says nothing."""
        self._said = (text, refused)
        width = max(self.size.width - 2, 10)
        lines = wrapped(plain(text, self.glyphs), width)
        if len(lines) > SAYS_MOST:
            rest = " ".join(lines[SAYS_MOST - 1 :])
            lines = [*lines[: SAYS_MOST - 1], fitted(rest, width, self.glyphs)]
        says, height = self.query_one("#says", Rows), max(len(lines), SAYS_LINES)
        says.styles.height = height
        self.query_one("#asking").styles.margin = (0, 0, height + 1, 0)
        says.show(tuple(((f" {line}", "refused" if refused else "hint"),) for line in lines))

    # Changing the shot

    def change(
        self, changes: Mapping[str, Any], said: str = "", row: int | None = None, *, keeping: Collection[str] = READINGS
    ) -> None:
        """Change the shot and show it, with a row of the list in hand, and say what that did; raises BadInput."""
        self.session.apply(changes, keeping=keeping)
        self.changed(said, row)

    def changed(self, said: str = "", row: int | None = None) -> None:
        """Keep and show what was changed, and say what that did."""
        self.forescale.changed()
        self.refill()
        if row is not None:
            self.table.move_cursor(row=row)
        self.say(said)

    def take_away(self, name: str, changes: Mapping[str, Any], row: int | None = None) -> None:
        """Change the shot so that something is gone, and say so."""
        self.attempt(lambda: self.change(changes, f"{name} was taken away; u brings it back", row))

    def go_on(self, said: str) -> None:
        """Go on to the next row, and say that one did."""
        row = self.table.cursor_row
        self.table.action_cursor_down()
        self.say(f"{said}; on to {self.table.name_in_hand()}" if self.table.cursor_row != row else said)

    def action_field(self, path: str, label: str = "", hint: str = "") -> None:
        """Ask for a field of the shot as a file would hold it; nothing typed leaves it open."""
        shot, system, value = self.shot, self.system, edit.value_at(self.shot, path)

        def read(text: str) -> tuple[Any, str]:
            return edit.entry(path, text, shot, system, None)

        text = edit.text_of(value, edit.quantity_of(type(shot), path), system)
        question = Question(label or prompt(path, system), lambda text: read(text)[1], text, hint)
        self.ask(question, lambda text: self.change({path: read(text)[0] if text.strip() else None}))

    def attempt(self, change: Callable[[], object]) -> bool:
        """Make a change that shows itself, or say why it cannot be; tells whether it was made."""
        try:
            change()
        except (BadInput, ValueError) as fault:
            self.say(reasons(fault), refused=True)
            return False
        return True

    def stepped(self, step: Step, changes: Sequence[Difference]) -> None:
        """Show the shot after a step back or on, and say what it changed."""
        self.refill()
        self.say(step_words(step, changes)[0])

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
