"""Help on the field in hand and on a task; and lists narrowed by typing, of all keys or of those of a task."""

import tomllib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.widgets import Input

from forescale.engine.answer.readings import TAKEN_WITH
from forescale.engine.field_help import FIELD_HELP, range_of
from forescale.engine.units import quoted
from forescale.engine.workings import WORKINGS
from forescale.tui.config import config_path
from forescale.tui.entry import Entry
from forescale.tui.keys import BOARD_KEYS, GROUPS, TASK, shown
from forescale.tui.panes import TITLES
from forescale.tui.panes.arrange import field_text, paths_of
from forescale.tui.panes.each_pane import CONTENTS
from forescale.tui.tasks.frame.task_screen import PageScreen, TaskScreen
from forescale.tui.tasks.frame.widgets import Said, TaskTable

HOW = (
    "A digit goes to its pane, up and down to a field, left and right step it (h and l in large steps); Enter types "
    "a value, a gives it back to the program. A value that the program chose says auto behind it."
)
LABEL, KEY = 10, 5  # columns of what stands before a sentence
BACK = Binding("f1,question_mark", "leave", "back", show=False)


class HelpScreen(PageScreen[None]):
    TASK, F1, ENTER = "Help", "back", "how it comes about"
    BINDINGS = [BACK, Binding("enter", "task('explain')", show=False), Binding("space,f2", "task('keys')", "all keys")]

    def said(self) -> Iterator[Said]:
        path, state = self.forescale.board.in_hand(), self.session.state
        found, value = FIELD_HELP[path], field_text(state, path)
        yield f"{found.label.upper()}  ", f"now {value}"
        yield found.what
        leads_to = ", ".join(WORKINGS[key].name for key in found.leads_to)
        for label, text in (
            ("Range", range_of(path, state.shot.units)),
            ("In a file", path),
            ("Enters", found.enters),
            ("On set", found.measure),
            ("Leads to", leads_to),
        ):
            yield f"{label:{LABEL}}", text
        yield ""
        yield HOW

    def action_task(self, name: str) -> None:
        self.dismiss()
        self.forescale.open_task(name)


class TaskHelpScreen(PageScreen[None]):
    F1, BINDINGS = "back", [BACK]

    def __init__(self, task: TaskScreen[Any]) -> None:
        super().__init__()
        self.TASK, self._beneath = f"Help: {task.TASK}", task

    def said(self) -> Iterator[Said]:
        what, *steps = task_help()[type(self._beneath).__name__]
        yield from (*self._beneath.asked(), what, "")
        yield from ((f"{number}  ", step) for number, step in enumerate(steps, start=1))
        yield ""
        yield from self._beneath.more_help()
        yield from ((f"{shown(key):{KEY}}  ", words) for key, words in self._beneath.all_keys())


def task_help() -> dict[str, list[str]]:
    """Return the help on every task by the name of its screen: what it is for, and then how it is done, a step each."""
    told = tomllib.loads((Path(__file__).parent / "task_help.toml").read_text(encoding="utf-8"))
    return {screen: text.splitlines() for screen, text in told.items()}


# The task in which the fields of a section are typed that no pane has.
OF_TASKS = {"kit": "kit", "sun": "day", "light": "day", "action": "day", "lamp": "day", "cue": "day", "stand": "stand"}
OF_TASKS |= {"limits": "ways", "survey": "survey", "build": "parts", "stock": "parts"}
NOTED = {f"survey.{name}" for name in (*TAKEN_WITH, "lens_height")}  # with what it was read: nobody types it
BESIDE = (("key", "key", 9, 0), ("kind", "group", 14, 70), ("its name", "name", 14, 100))
LEAST, EDGES = 16, 4  # columns that the words keep, and those of a table's and the screen's edges

UP_AND_DOWN = {"up": "cursor_up", "down": "cursor_down", "pageup": "page_up", "pagedown": "page_down"}
UP_AND_DOWN |= {"home": "scroll_top", "end": "scroll_bottom"}


class Choice(NamedTuple):
    """One row: the action that it stands for, what it is, its key, the group that it stands in, and its name."""

    action: str
    words: str
    key: str = ""
    group: str = ""
    name: str = ""  # in the configuration; of a field in a shot's file
    also: str = ""  # words by which it is found too


class Narrowing(Entry):
    """The words that narrow the list; all keys that go up and down act upon the list."""

    BINDINGS = [Binding(key, f"screen.list('{action}')", show=False) for key, action in UP_AND_DOWN.items()]


class ChooseScreen(TaskScreen[None]):
    """A list of what the screen beneath can do; what is typed narrows it, Enter does it there."""

    ENTER = "do it"
    _choices: Sequence[Choice] = ()
    _left: Sequence[Choice] = ()

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
        found = [one for one in self._choices if _have(one[1:], words)]
        # First those that say them, then those that show them.
        self._left = left = sorted(found, key=lambda one: (not _have(one[1:2], words), not _have(one[1:-1], words)))
        if words:
            self.table.move_cursor(row=0)
        wide = self.size.width
        used = {name for name in Choice._fields if any(getattr(choice, name) for choice in self._choices)}
        beside = [(head, name, room) for head, name, room, least in BESIDE if wide >= least and name in used]
        room = max(wide - EDGES - sum(room + 2 for *_, room in beside), LEAST)
        heads = [("what it does", room), *((head, room) for head, _, room in beside)]
        rows = [[one.words, *(getattr(one, name) for _, name, _ in beside)] for one in left]
        self.table.put_wrapped(heads, rows, self.glyphs)
        nothing = f"Nothing matches {quoted(' '.join(words))}: Backspace takes letters back, Esc leaves the list"
        self.say("" if left else nothing, refused=not left)

    @on(Input.Changed, "#narrow")
    def _narrow(self) -> None:
        self.refill()

    @on(Input.Submitted, "#narrow")
    def _choose(self) -> None:
        if self._left:
            beneath = self.app.screen_stack[-2]
            self.dismiss()
            self.app.call_later(beneath.run_action, self._left[self.table.place].action)

    def action_entry_left(self) -> None:
        self.dismiss()

    def action_list(self, how: str) -> None:
        getattr(self.table, f"action_{how}")()


def _have(texts: Sequence[str], words: Sequence[str]) -> bool:
    told = " ".join(texts).lower()
    return all(word in told for word in words)


class KeysScreen(ChooseScreen):
    TASK = "Everything that can be done"

    def fill(self) -> None:
        keys, listed = self.forescale.keys_in_force(), sorted(BOARD_KEYS, key=lambda key: GROUPS.index(key.group))
        self._choices = choices = [Choice(k.action, k.says, shown(keys[k.id]), k.group, k.id) for k in listed]
        panes = {path: pane for pane, make in CONTENTS.items() for path in paths_of(make(self.answer))}
        for path, found in FIELD_HELP.items():
            if pane := panes.get(path):
                go = f"go_to({path!r}, {pane!r})"
                key = shown(keys[f"pane-{pane}"])
                choices.append(Choice(go, f"go to {found.label}", key, TITLES[pane], path, found.what))
            elif (task := OF_TASKS.get(path.partition(".")[0])) and path not in NOTED:
                words = f"go to {task}, where {found.label} is typed"
                choices.append(Choice(f"task({task!r})", words, shown(keys[task]), TASK, path, found.what))
        super().fill()
        if self._left and not self.query_one(Narrowing).value.split():
            self.say(f'Type a few letters of what you want. A key is changed in {config_path()}: [keys] name = "key"')


class TaskKeysScreen(ChooseScreen):
    """All that the task beneath can do."""

    TASK = "All that can be done here"

    def __init__(self, bindings: list[Binding]) -> None:
        super().__init__()
        self._choices = [Choice(one.action, one.tooltip or one.description, shown(one.key)) for one in bindings]
