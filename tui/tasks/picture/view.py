"""What the lens sees, alone on the screen."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult

from forescale.tui.diagrams import lens_view
from forescale.tui.runs import Rows
from forescale.tui.tasks.frame.task_screen import TaskScreen


class ViewScreen(TaskScreen[None]):
    """The view as large as the screen lets it be."""

    TASK = "What the lens sees"

    def body(self) -> ComposeResult:
        """The picture."""
        yield Rows(id="view")

    def on_resize(self, event: events.Resize) -> None:
        """Draw it for the new size."""
        super().on_resize(event)
        self.fill()

    def fill(self) -> None:
        """Draw the view; how many rows it has is what title, foot and footer leave."""
        rows = max(self.size.height - FIXED, 1)
        box = self.query_one("#view", Rows)
        box.styles.height = rows
        lines = lens_view.draw(self.session.state.answer, max(self.size.width - 2, 1), rows, self.forescale.glyphs)
        box.show(tuple(((f" {line}", "drawing"),) for line in lines))

    def text_in_hand(self) -> str:
        """Return the picture as text."""
        answer, glyphs = self.session.state.answer, self.forescale.glyphs
        return "\n".join(lens_view.draw(answer, max(self.size.width - 2, 1), max(self.size.height - FIXED, 1), glyphs))


FIXED = 4  # rows of title, foot and footer
