"""What every task's screen shares: title and keys, finding, copying, changing; and screens that are a page to read."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from os.path import exists
from pathlib import Path
from typing import Any

from textual import events, on
from textual._styles_cache import StylesCache
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.widgets import DataTable, Label

from forescale.engine.answer import Answer
from forescale.engine.answer.readings import READINGS
from forescale.engine.compare.differences import Difference, UndoWord, step_words
from forescale.engine.field_help import prompt
from forescale.engine.files.faults import BadInput
from forescale.engine.shot import edit
from forescale.engine.shot.records import Shot
from forescale.engine.units import UnitSystem, quoted
from forescale.tui.app_screen import Result
from forescale.tui.glyphs import Glyphs, fitted
from forescale.tui.keys import NO_KEY, shown
from forescale.tui.runs import Rows
from forescale.tui.tasks.frame.asking import Asking, Question
from forescale.tui.tasks.frame.widgets import ROOMY, Said, TaskPage, TaskTable, lines_of

NARROW = 60  # columns; with fewer the key that lists everything goes by its shorter name
NUMBER_BEGINS = frozenset("0123456789+-.")
HELP_KEY = Binding("f1,question_mark", "task_help", "help", show=False, tooltip="what this task is for, how it is done")
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
        return self.session.state.answer

    @property
    def shot(self) -> Shot:
        return self.session.state.shot

    @property
    def system(self) -> UnitSystem:
        return self.shot.units

    @property
    def glyphs(self) -> Glyphs:
        return self.forescale.glyphs

    def compose(self) -> ComposeResult:
        yield Rows(id="top")
        yield from self.body()
        yield Horizontal(Label("", id="asked"), id="asking")
        yield Rows(id="says")
        yield Rows(id="footer")

    def body(self) -> ComposeResult:
        """Yield the widgets of the task."""
        yield from ()

    def on_mount(self) -> None:
        self.query_one("#asking").display = False
        self.refill()
        self.filled()

    def on_resize(self) -> None:
        if self.size != self._filled:
            self.refill()

    def on_unmount(self) -> None:
        """Let go of what was shown: Textual keeps the last thousand widgets that it painted, with all their lines."""
        StylesCache.get_inner_outer.cache_clear()

    def fill(self) -> None:
        """Fill the body with what the session holds now; called again after every change, and at another size."""

    def filled(self) -> None:
        """Do what is to be done once when the screen was first filled, such as to go to a row."""

    def refill(self) -> None:
        self._filled = self.size
        self.fill()
        self.show_lines()
        said, refused = self._said
        self.say(said, refused=refused)

    @on(DataTable.RowSelected)
    @on(DataTable.CellSelected)
    def _entered(self) -> None:
        self.of_row = True
        self.enter()
        self.of_row = self.of_row and self.typing
        self._first = ""

    def on_key(self, event: events.Key) -> None:
        """Begin the entry of the row in hand with the digit, the sign or the point of a number."""
        begins = event.character in NUMBER_BEGINS and event.key not in self.active_bindings
        if begins and isinstance(self.focused, TaskTable) and self.table.place >= 0 and self.takes_text():
            self._first = event.character or ""
            self._entered()

    def takes_text(self) -> bool:
        """Whether Enter begins an entry on the row, or the cell, in hand."""
        named = self.table.cursor_type == "cell" and self.table.column == "name"  # which no number is
        return self.ENTER in {"type", "change", "edit"} and not named

    def enter(self) -> None:
        """Do what Enter means on the row, or the cell, in hand."""

    def action_sideways(self, step: int) -> None:
        """Do what Left (-1) and Right (1) mean beyond the cells of a row: go to more columns, and back."""
        if self.query(TaskTable):
            self.table.turn(step)
            self.show_title()

    def show_lines(self) -> None:
        self.call_after_refresh(self.show_title)
        typing = ["Enter takes it", f"Esc {'leaves it' if self._again is None else 'goes back to the one before'}"]
        keys = typing if self.typing else [f"{shown(key)} {short}" for key, short in self.keys()]
        footer = footer_of(keys, self.size.width - 1, f"F1 {self.F1}")
        self.query_one("#footer", Rows).show((((f" {footer}", "label"),),))

    @on(DataTable.RowHighlighted)
    @on(DataTable.CellHighlighted)
    @on(TaskPage.Scrolled)
    def show_title(self) -> None:
        """Show the title, and where one is: in what has the keys, then in what stands beside or below it."""
        where = ", ".join(filter(None, (one.where() for one in self._lists()[: 1 + (self.size.width >= ROOMY)])))
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
        own = (binding for binding in type(self).BINDINGS if isinstance(binding, Binding))
        return [binding for binding in own if binding.show and binding.key != "escape"]

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
        self.forescale.open_task("task_help", self)

    def action_all_keys(self) -> None:
        if self.own_keys():
            self.forescale.open_task("task_keys", [*self.own_keys(), FIND_KEY, HELP_KEY])

    def action_glyphs(self) -> None:
        self.forescale.next_glyphs()
        self.refill()

    def _lists(self) -> list[TaskTable | TaskPage]:
        """Return the lists and pages in sight, the one that has the keys first."""
        found: list[TaskTable | TaskPage] = [*self.query(TaskTable).results(), *self.query(TaskPage).results()]
        in_sight = [one for one in found if all(node.display for node in one.ancestors_with_self)]
        return sorted(in_sight, key=lambda one: not one.has_focus)

    def action_find(self) -> None:
        """Ask for words, and go to where they stand; the words asked for last stand there to go on with."""

        def find(text: str, *, after: bool) -> None:
            if all(one.find(text, after=after) is None for one in self._lists()):
                raise ValueError(f"{quoted(text)} does not stand here")

        def first_found(text: str) -> str:
            find(text, after=False)
            self._sought = text
            return f"{text}; Enter, then / and Enter once more, goes on to the next"

        sought = self._sought
        if self._lists():
            question = Question("Find", first_found, sought, "type words that stand there")
            self.ask(question, lambda text: find(text, after=text == sought))  # what typing found is in hand

    def text_in_hand(self) -> str:
        return next((one.text_in_hand() for one in self._lists()), "")

    def change(
        self, changes: Mapping[str, Any], said: str = "", row: int | None = None, *, keeping: Collection[str] = READINGS
    ) -> None:
        """Change the shot and show it, with a row of the list in hand, and say what that did; raises BadInput."""
        self.session.apply(changes, keeping=keeping)
        self.changed(said, row)

    def changed(self, said: str = "", row: int | None = None) -> None:
        self.forescale.changed()
        self.refill()
        if row is not None:
            self.table.move_cursor(row=row)
        self.say(said)

    def take_away(self, name: str, changes: Mapping[str, Any], row: int | None = None) -> None:
        """Change the shot so that something is gone, and say so."""
        self.attempt(lambda: self.change(changes, f"{name} was taken away; u brings it back", row))

    def action_field(self, path: str, label: str = "", hint: str = "") -> None:
        """Ask for a field of the shot as a file would hold it; nothing typed leaves it open."""
        label = label or prompt(path, self.system)
        question = Question(label, lambda text: self.read(path, text)[1], self.entry(path), hint)
        self.ask(question, lambda text: self.take(path, text))

    def entry(self, path: str) -> str:
        """Return what stands at a field as an entry that reads back."""
        value = edit.value_at(self.shot, path)
        return edit.text_of(value, edit.quantity_of(type(self.shot), path), self.system)

    def read(self, path: str, text: str) -> tuple[Any, str]:
        """Return what a file would hold for an entry, and what is understood of it; raises ValueError."""
        return edit.entry(path, text, self.shot, self.system, None)

    def take(self, path: str, text: str) -> None:
        """Put an entry into the shot; raises ValueError."""
        self.change({path: self.read(path, text)[0] if text.strip() else None})

    def action_theme(self) -> None:
        super().action_theme()
        self.app.call_next(self.refill)  # once the colours are there, what has one of its own takes it anew

    def stepped(self, step: UndoWord, changes: Sequence[Difference]) -> None:
        self.refill()
        self.say(step_words(step, changes)[0])

    def action_leave(self) -> None:
        self.dismiss()


class PageScreen(TaskScreen[Result]):
    warned_of: Path | None = None

    def body(self) -> ComposeResult:
        yield TaskPage(id="page")

    def said(self) -> Iterable[Said]:
        """Return what stands on the page; an empty sentence is an empty line."""
        return ()

    def fill(self) -> None:
        self.query_one(TaskPage).show_rows(lines_of(self.said(), self.size.width - 3, self.glyphs))

    def warn_over(self, path: Path) -> None:
        """Refuse once to write over a file; the second Enter does it; raises BadInput."""
        if exists(path) and self.warned_of != path:
            self.warned_of = path
            raise BadInput(f"Enter once more writes over it: {path} is there already")


class WholeScreen(PageScreen[None]):
    """Sentences in full, with a line between, for where a list has no room for all of them."""

    def __init__(self, said: Iterable[Said], title: str = "In full") -> None:
        super().__init__()
        self.TASK, self._sentences = title, tuple(said)

    def said(self) -> Iterator[Said]:
        for one in self._sentences:
            yield from (one, "")


def footer_of(parts: list[str], width: int, help_key: str) -> str:
    """Return the keys that fit a width, the last always among them; where some are left out, Space lists them.

    The key for help stands among them only where all have room.
    """
    *own, last = parts
    footers = ["  ".join([*own, help_key, last]), "  ".join(parts)]
    rest = ["Space all" if width >= NARROW else "F2 all", last]
    footers += ["  ".join([*own[:count], *rest]) for count in reversed(range(len(own)))]
    return next((footer for footer in footers if len(footer) <= width), footers[-1])
