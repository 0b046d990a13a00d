"""Everything that is to be said of the shot; Enter goes to the field that a finding is about."""

from __future__ import annotations

import textwrap

from textual import on
from textual.app import ComposeResult
from textual.widgets import DataTable

from tui.glyphs import plain
from tui.panes import TITLES
from tui.tasks.task_screen import Table, TaskScreen


class FindingsScreen(TaskScreen[None]):
    """All findings, the gravest first."""

    TASK = "Findings"
    ENTER = "go to its field"

    def body(self) -> ComposeResult:
        """One table; a finding takes as many lines as it needs."""
        yield Table(id="findings")

    def on_resize(self, event: object) -> None:
        """Wrap the sentences anew."""
        super().on_resize(event)  # type: ignore[arg-type]
        self.fill()

    def fill(self) -> None:
        """List the findings."""
        table, glyphs = self.query_one(Table), self.forescale.glyphs
        row, width = table.cursor_row, max(self.size.width - 22, 16)
        table.clear(columns=True)
        table.add_column("", width=2)
        table.add_column("where", width=10)
        table.add_column("what", width=width)
        for finding in self.session.state.answer.findings:
            lines = textwrap.wrap(plain(finding.text, glyphs), width)
            mark = getattr(glyphs, finding.level)
            table.add_row(mark, TITLES[finding.pane], "\n".join(lines), height=len(lines))
        table.move_cursor(row=row)

    @on(DataTable.RowSelected)
    def _go(self) -> None:
        """Leave for the field that the finding in hand is about."""
        finding = self.session.state.answer.findings[self.query_one(Table).cursor_row]
        self.dismiss()
        self.forescale.board.go_to(finding.field, finding.pane)
