"""All keys of a task, for where its footer has no room for them; Enter on one does it."""

from __future__ import annotations

import textwrap

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.widgets import DataTable

from forescale.tui.keys import shown
from forescale.tui.tasks.frame.task_screen import Table, TaskScreen


class TaskKeysScreen(TaskScreen[str]):
    """The keys of the task beneath; what is chosen is handed back to it as an action."""

    TASK = "Keys"
    ENTER = "do it"

    def __init__(self, bindings: list[Binding]) -> None:
        super().__init__()
        self._bindings_of_task = bindings

    def body(self) -> ComposeResult:
        """One table."""
        yield Table(id="task-keys")

    def fill(self) -> None:
        """List the keys, each with as many lines as it needs."""
        table, width = self.query_one(Table), max(self.size.width - 10, 16)
        row = table.cursor_row
        table.clear(columns=True)
        table.add_column("key", width=5)
        table.add_column("what it does", width=width)
        for one in self._bindings_of_task:
            lines = textwrap.wrap(one.tooltip or one.description, width)
            table.add_row(shown(one.key), "\n".join(lines), height=len(lines))
        table.move_cursor(row=row)

    def on_resize(self, event: events.Resize) -> None:
        """Wrap the words anew."""
        super().on_resize(event)
        self.fill()

    @on(DataTable.RowSelected)
    def _do(self) -> None:
        """Go back to the task, and do what the key in hand does."""
        self.dismiss(self._bindings_of_task[self.query_one(Table).cursor_row].action)
