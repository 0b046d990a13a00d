"""Lists narrowed by typing: any of its words keeps a row, up and down go through what is left, Enter takes it."""

from abc import abstractmethod
from collections.abc import Sequence
from typing import NamedTuple

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.widgets import Input

from forescale.tui.app_screen import Result
from forescale.tui.config import config_path
from forescale.tui.entry import Entry
from forescale.tui.keys import BOARD_KEYS, GROUPS, NO_KEY, shown
from forescale.tui.tasks.frame.task_screen import TaskScreen
from forescale.tui.tasks.frame.widgets import TaskTable

BESIDE = (("key", "key", 9, 0), ("kind", "group", 14, 70), ("its name", "name", 14, 100))
LEAST, EDGES = 16, 4  # columns that the words keep, and those of a table's and the screen's edges

UP_AND_DOWN = {"up": "cursor_up", "down": "cursor_down", "pageup": "page_up", "pagedown": "page_down"}
UP_AND_DOWN |= {"home": "scroll_top", "end": "scroll_bottom"}


class Choice(NamedTuple):
    """One row: what it is, its key, the group that it stands in, and its name in the configuration."""

    words: str
    key: str = ""
    group: str = ""
    name: str = ""


class Narrowing(Entry):
    """The words that narrow the list; all keys that go up and down act upon the list."""

    BINDINGS = [Binding(key, f"screen.list('{action}')", show=False) for key, action in UP_AND_DOWN.items()]


class ChooseScreen(TaskScreen[Result]):
    """A list of choices; what is typed narrows it, Enter does what `chosen` says."""

    ENTER = "do it"

    def __init__(self, choices: Sequence[Choice]) -> None:
        super().__init__()
        self._choices = choices
        self._left: list[int] = []

    @abstractmethod
    def chosen(self, place: int) -> None:
        """Take the choice that stands at this place of the whole list."""

    def body(self) -> ComposeResult:
        yield Narrowing(id="narrow")
        table = TaskTable(id="choices")
        table.can_focus = False
        yield table

    def filled(self) -> None:
        self.focus_body()

    def focus_body(self) -> None:
        self.query_one(Narrowing).focus()

    def fill(self) -> None:
        words = self.query_one(Narrowing).value.lower().split()
        self._left = [
            place
            for place, choice in enumerate(self._choices)
            if all(word in " ".join(choice).lower() for word in words)
        ]
        if words:
            self.table.move_cursor(row=0)
        wide = self.size.width
        beside = [
            (head, name, room)
            for head, name, room, least in BESIDE
            if wide >= least and any(getattr(choice, name) for choice in self._choices)
        ]
        room = max(wide - EDGES - sum(room + 2 for *_, room in beside), LEAST)
        heads = [("what it does", room), *((head, room) for head, _, room in beside)]
        left = [self._choices[place] for place in self._left]
        rows = [[one.words, *(getattr(one, name) for _, name, _ in beside)] for one in left]
        self.table.put_wrapped(heads, rows, self.glyphs)
        self.say("" if left else "Nothing here has these words: take some of them back", refused=not left)

    @on(Input.Changed, "#narrow")
    def _narrow(self) -> None:
        self.refill()

    @on(Input.Submitted, "#narrow")
    def _choose(self) -> None:
        if self._left:
            self.chosen(self._left[self.table.place])

    def on_entry_left(self) -> None:
        self.dismiss()

    def action_list(self, how: str) -> None:
        getattr(self.table, f"action_{how}")()


class KeysScreen(ChooseScreen[None]):
    """Everything that the board can do, whole tasks first, each with its key: the list of keys as well."""

    TASK = "Everything that can be done"

    def __init__(self) -> None:
        self._keys = sorted(BOARD_KEYS, key=lambda key: GROUPS.index(key.group))
        super().__init__([])

    def fill(self) -> None:
        in_force = self.forescale.keys_in_force()
        self._choices = [Choice(key.says, shown(in_force[key.id]), key.group, key.id) for key in self._keys]
        super().fill()
        if self._left and not self.query_one(Narrowing).value.split():
            self.say(f'Type a few letters of what you want. A key is changed in {config_path()}: [keys] name = "key"')

    def chosen(self, place: int) -> None:
        self.dismiss()
        self.app.call_later(self.forescale.board.run_action, self._keys[place].action)


class TaskKeysScreen(ChooseScreen[str]):
    """All that the task beneath can do; what is chosen is handed back to it as an action."""

    TASK = "All that can be done here"

    def __init__(self, bindings: list[Binding]) -> None:
        keys = ["" if one.key == NO_KEY else shown(one.key) for one in bindings]
        super().__init__([Choice(one.tooltip or one.description, key) for one, key in zip(bindings, keys, strict=True)])
        self._bindings_of_task = bindings

    def chosen(self, place: int) -> None:
        self.dismiss(self._bindings_of_task[place].action)
