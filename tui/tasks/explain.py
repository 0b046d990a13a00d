"""How the numbers of a pane come about: one number in hand, its working beside or below it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from textual import on
from textual.app import ComposeResult
from textual.containers import Container
from textual.widgets import DataTable

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.workings import Explanation, explain, keys_here
from forescale.tui.glyphs import plain
from forescale.tui.panes import TITLES
from forescale.tui.runs import clipped
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen, TaskTable

BESIDE_WIDTH = 100
NAMES_WIDTH = 44


class ExplainScreen(TaskScreen[None]):
    """Every number of the pane in hand, and how each comes about with this shot's numbers put in."""

    TASK = "How it comes about"

    def body(self) -> ComposeResult:
        """The numbers, and the working of the one in hand."""
        with Container(id="explaining"):
            yield TaskTable(id="numbers")
            yield TaskPage(id="working")

    def on_mount(self) -> None:
        """Begin at the number that the field in hand goes into."""
        super().on_mount()
        leads_to = FIELD_HELP[self.forescale.board.in_hand()].leads_to
        first = next((key for key in leads_to if key in self._keys), self._keys[0])
        self.query_one(TaskTable).move_cursor(row=self._keys.index(first))

    def fill(self) -> None:
        """List the pane's numbers with their values."""
        beside = self.size.width >= BESIDE_WIDTH
        self.query_one("#explaining").set_class(beside, "beside")
        board, answer, glyphs = self.forescale.board, self.session.state.answer, self.forescale.glyphs
        self._keys = keys_here(board.pane, answer)
        self._explained = [explain(key, answer) for key in self._keys]
        width = NAMES_WIDTH if beside else self.size.width
        table = self.query_one(TaskTable)
        row = table.cursor_row
        table.clear(columns=True)
        value_width = min(20, max(width - 24, 8))
        table.add_column(TITLES[board.pane], width=max(width - value_width - 6, 10))
        table.add_column("value", width=value_width)
        for one in self._explained:
            table.add_row(plain(one.name, glyphs), plain(clipped(one.value_text, value_width), glyphs))
        table.move_cursor(row=row)

    def on_resize(self, event: object) -> None:
        """Set the working beside the numbers, or below them."""
        super().on_resize(event)  # type: ignore[arg-type]
        self.fill()

    @on(DataTable.RowHighlighted)
    def _show(self, event: DataTable.RowHighlighted) -> None:
        """Show the working of the number in hand."""
        page = self.query_one(TaskPage)
        room = self.size.width - (NAMES_WIDTH if self.size.width >= BESIDE_WIDTH else 0)
        lines = working_lines(self._explained[event.cursor_row], max(room - 4, 20))
        page.show(plain("\n".join(lines), self.forescale.glyphs))


def working_lines(one: Explanation, width: int) -> Iterator[str]:
    """Yield a working in lines that fit a width."""
    parts = [
        ("", one.meaning),
        ("formula", one.formula),
        ("here", one.put_in),
        ("holds", one.conventions),
        ("leads to", ", ".join(one.leads_to)),
        ("source", one.source),
    ]
    for label, text in parts:
        if text:
            head = f"{label:9}" if label else ""
            yield from textwrap.wrap(text, width, initial_indent=head, subsequent_indent=" " * len(head))
