"""Everything that is to be said of the shot; Enter goes to the field that a finding is about."""

from __future__ import annotations

from textual import events, on
from textual.app import ComposeResult
from textual.widgets import DataTable

from forescale.engine.solve.record import Finding
from forescale.tui.glyphs import plain
from forescale.tui.panes import TITLES
from forescale.tui.tasks.frame.task_screen import Table, TaskScreen
from forescale.tui.wrapped import wrapped

MARK, WHERE, PADDING = 2, 10, 2
WITH_WHERE = 56  # columns of a screen on which the pane has a column of its own
AROUND = 7  # rows of a screen that the table does not have, one more so that the row before stays in sight


class FindingsScreen(TaskScreen[None]):
    """All findings, the gravest first."""

    TASK = "Findings"
    ENTER = "go to its field"

    def body(self) -> ComposeResult:
        """One table; a finding takes as many lines as it needs."""
        yield Table(id="findings")

    def on_resize(self, _event: events.Resize) -> None:
        """Wrap the sentences anew."""
        self.fill()

    def fill(self) -> None:
        """List the findings; one that is longer than the screen goes on in rows of its own."""
        table, row = self.query_one(Table), self.query_one(Table).cursor_row
        apart = self.size.width >= WITH_WHERE
        width = max(self.size.width - 1 - MARK - 2 * PADDING - apart * (WHERE + PADDING), 16)
        table.clear(columns=True)
        for head, room in (("", MARK), *[("where", WHERE)] * apart, ("what", width)):
            table.add_column(head, width=room)
        self._of_row: list[Finding] = []
        for finding in self.session.state.answer.findings:
            self._add(finding, apart, width)
        table.move_cursor(row=row)

    def _add(self, finding: Finding, apart: bool, width: int) -> None:
        """Add a finding, in as many rows as the height of the screen asks for."""
        glyphs, most = self.forescale.glyphs, max(self.size.height - AROUND, 3)
        where = TITLES[finding.pane]
        lines = wrapped(plain(finding.text if apart else f"{where}: {finding.text}", glyphs), width)
        for start in range(0, len(lines), most):
            part = lines[start : start + most]
            lead = (getattr(glyphs, finding.level), *[where] * apart) if not start else ("", *[""] * apart)
            self.query_one(Table).add_row(*lead, "\n".join(part), height=len(part))
            self._of_row.append(finding)

    @on(DataTable.RowSelected)
    def _go(self) -> None:
        """Leave for the field that the finding in hand is about."""
        finding = self._of_row[self.query_one(Table).cursor_row]
        self.dismiss()
        self.forescale.board.go_to(finding.field, finding.pane)
