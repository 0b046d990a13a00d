"""Help on a task, over the task: what it is for, how it is done, and its keys; F1 again goes back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from forescale.tui.glyphs import plain
from forescale.tui.keys import shown
from forescale.tui.tasks.frame.task_help import TASK_HELP, TaskHelp
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen
from forescale.tui.wrapped import wrapped

KEY = 5


class TaskHelpScreen(TaskScreen[None]):
    """One page on the task beneath."""

    F1 = "back"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("f1,question_mark", "leave", "back", show=False)]

    def __init__(self, task: TaskScreen[Any]) -> None:
        super().__init__()
        self.TASK = f"Help: {task.TASK}"
        self._help, self._keys_of_task = TASK_HELP[type(task).__name__], task.all_keys()

    def body(self) -> ComposeResult:
        """One page."""
        yield TaskPage(id="task-help")

    def on_resize(self, event: events.Resize) -> None:
        """Wrap the text anew."""
        super().on_resize(event)
        self.fill()

    def fill(self) -> None:
        """Show the help."""
        lines = help_lines(self._help, self._keys_of_task, max(self.size.width - 3, 20))
        self.query_one(TaskPage).show(plain("\n".join(lines), self.forescale.glyphs))
        self.call_after_refresh(self._say_how_to_read_on)

    def _say_how_to_read_on(self) -> None:
        self.say("Down reads on" if self.query_one(TaskPage).max_scroll_y else "")


def help_lines(found: TaskHelp, keys: Sequence[tuple[str, str]], width: int) -> Iterator[str]:
    """Yield the help on a task in lines that fit a width."""
    yield from wrapped(found.what, width)
    yield ""
    for number, step in enumerate(found.steps, start=1):
        yield from wrapped(step, width, f"{number}  ")
    yield ""
    for key, words in keys:
        yield from wrapped(words, width, f"{shown(key):{KEY}}  ")
