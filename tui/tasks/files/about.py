"""What the shot is called, what is noted of it, and in which units it is shown."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.files.faults import BadInput
from forescale.engine.shelf.new_shot import checked_title
from forescale.tui.glyphs import plain
from forescale.tui.runs import clipped
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable

ROWS = ("title", "notes", "units")


class AboutScreen(TaskScreen[None]):
    """Title, notes and units; undo and redo as on the board."""

    TASK = "About this shot"
    ENTER = "type"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("u", "undo", "undo"),
        Binding("r", "redo", "redo"),
    ]

    def body(self) -> ComposeResult:
        """One table."""
        yield TaskTable(id="about-table")

    def fill(self) -> None:
        """List what can be said of the shot."""
        shot, glyphs = self.session.state.shot, self.forescale.glyphs
        room = max(self.size.width - 14, 10)
        rows = [[name, plain(clipped(getattr(shot, name) or "-", room), glyphs)] for name in ROWS]
        self.query_one(TaskTable).refill(["", ""], rows)
        self.say(f"File: {self.session.path}")

    @on(DataTable.RowSelected)
    def _type(self) -> None:
        name = ROWS[self.query_one(TaskTable).cursor_row]
        label = f"{name} (imperial or metric)" if name == "units" else name
        text = getattr(self.session.state.shot, name)
        self.ask(label, text, lambda entry: read_about(name, entry), lambda entry: self._take_in(name, entry))

    def _take_in(self, name: str, text: str) -> None:
        changes: dict[str, Any] = {name: read_about(name, text)}
        self.session.apply(changes)
        self.forescale.changed()
        self.fill()


def read_about(name: str, text: str) -> str:
    """Return what an entry says of a shot; raises BadInput saying what would be right."""
    if name == "title":
        return checked_title(text)
    if name == "units":
        word = text.strip().lower()
        if word not in {"imperial", "metric"}:
            raise BadInput(f'"{text.strip()}" is not known; write imperial or metric')
        return word
    return " ".join(text.split())
