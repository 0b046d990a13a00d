"""What the lens sees, on a whole screen."""

from textual.app import ComposeResult

from forescale.tui.diagrams import lens_view
from forescale.tui.runs import Row, Rows, indented, row_text
from forescale.tui.tasks.frame import TaskScreen

FIXED = 4  # rows of title, foot and footer


class ViewScreen(TaskScreen[None]):
    TASK = "What the lens sees"

    def body(self) -> ComposeResult:
        yield Rows(id="view")

    def _lines(self) -> list[Row]:
        return lens_view.draw(self.answer, max(self.size.width - 2, 1), max(self.size.height - FIXED, 1), self.glyphs)

    def fill(self) -> None:
        box, lines = self.query_one("#view", Rows), self._lines()
        box.styles.height = len(lines)
        box.show(indented(lines))

    def text_in_hand(self) -> str:
        return "\n".join(map(row_text, self._lines()))
