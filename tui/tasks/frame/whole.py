"""Sentences in full on a page, for screens that have no room for all of them below a table."""

from __future__ import annotations

from textual.app import ComposeResult

from forescale.tui.glyphs import plain
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen


class WholeScreen(TaskScreen[None]):
    """Sentences to read by going up and down."""

    TASK = "In full"

    def __init__(self, said: list[str]) -> None:
        super().__init__()
        self._said = said

    def body(self) -> ComposeResult:
        """The page alone."""
        yield TaskPage(id="whole")

    def fill(self) -> None:
        """Show the sentences, a line between them."""
        self.query_one(TaskPage).show(plain("\n\n".join(self._said), self.forescale.glyphs))
