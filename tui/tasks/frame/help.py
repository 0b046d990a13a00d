"""Help: on the field in hand of the board, and on a task, over it: what it is for, how it is done, and its keys."""

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

from textual.binding import Binding

from forescale.engine.field_help import FIELD_HELP, range_of
from forescale.engine.workings import WORKINGS
from forescale.tui.keys import shown
from forescale.tui.panes.arrange import field_text
from forescale.tui.tasks.frame.pages import PageScreen
from forescale.tui.tasks.frame.task_screen import TaskScreen
from forescale.tui.tasks.frame.widgets import Said

HOW = (
    "A digit goes to its pane, up and down to a field, left and right step it (h and l in large steps); Enter types "
    "a value, a gives it back to the program. A value that the program chose says auto behind it."
)
LABEL, KEY = 10, 5  # columns of what stands before a sentence
BACK = Binding("f1,question_mark", "leave", "back", show=False)


class HelpScreen(PageScreen[None]):
    """Help on one field, and in a few words on the board."""

    TASK = "Help"
    F1 = "back"
    ENTER = "how it comes about"
    BINDINGS = [
        BACK,
        Binding("enter", "task('explain')", show=False),
        Binding("space,f2", "task('keys')", "all keys"),
    ]

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
    """One page on the task beneath; F1 again goes back."""

    F1 = "back"
    BINDINGS = [BACK]

    def __init__(self, task: TaskScreen[Any]) -> None:
        super().__init__()
        self.TASK, self._beneath = f"Help: {task.TASK}", task

    def said(self) -> Iterator[Said]:
        found = task_help(type(self._beneath).__name__)
        yield found.what
        yield ""
        yield from ((f"{number}  ", step) for number, step in enumerate(found.steps, start=1))
        yield ""
        yield from self._beneath.more_help()
        yield from ((f"{shown(key):{KEY}}  ", words) for key, words in self._beneath.all_keys())


class TaskHelp(NamedTuple):
    """What a task is for, and how it is done, a step each."""

    what: str
    steps: tuple[str, ...]


def task_help(screen: str) -> TaskHelp:
    """Return the help on a task by the name of its screen."""
    what, *steps = all_task_help()[screen].splitlines()
    return TaskHelp(what, tuple(steps))


def all_task_help() -> dict[str, str]:
    """Return the help on every task: what it is for, and below it the steps, a line each."""
    return tomllib.loads((Path(__file__).parent / "task_help.toml").read_text(encoding="utf-8"))
