"""What the lens sees, alone on the screen."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult

from forescale.tui.diagrams import lens_view
from forescale.tui.runs import Row, Rows, indented, row_text
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

    def _drawn(self) -> list[Row]:
        """The view; how many rows it has is what title, foot and footer leave."""
        width, height = max(self.size.width - 2, 1), max(self.size.height - FIXED, 1)
        return lens_view.draw(self.session.state.answer, width, height, self.forescale.glyphs)

    def fill(self) -> None:
        """Draw the view."""
        box, rows = self.query_one("#view", Rows), self._drawn()
        box.styles.height = len(rows)
        box.show(indented(rows))

    def text_in_hand(self) -> str:
        """Return the picture as text."""
        return "\n".join(map(row_text, self._drawn()))


FIXED = 4  # rows of title, foot and footer
