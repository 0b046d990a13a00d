"""How far off each value may be before a finding turns, what matters most first."""

from __future__ import annotations

from textual import on
from textual.app import ComposeResult
from textual.widgets import DataTable

from forescale.engine.margins.sensitivity import Sensitivity, sensitivity
from forescale.engine.sheet.sections.said import margin_cells
from forescale.tui.tasks.frame import columns
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable


class MarginsScreen(TaskScreen[None]):
    """What matters most now; Enter goes to the field."""

    TASK = "Tolerances"
    ENTER = "go to the field"

    def body(self) -> ComposeResult:
        """One table."""
        yield TaskTable(id="margins")

    def fill(self) -> None:
        """Solve for the margins, and list them."""
        state = self.session.state
        self._found: tuple[Sensitivity, ...] = sensitivity(state.shot, state.kit, state.shot.units)
        self.show()

    def on_resize(self, event: object) -> None:
        """Fit the table to the new width."""
        super().on_resize(event)  # type: ignore[arg-type]
        self.show()

    def show(self) -> None:
        """List what was found."""
        state = self.session.state
        cells = [margin_cells(row, state.shot.units, state.kit) for row in self._found]
        labels, values, less, more, then = zip(*cells, strict=True)
        table = [
            Column("value", "value", labels),
            Column("now", "stands at", values, 2),
            Column("less", "less by", less),
            Column("more", "more by", more),
            Column("then", "then", then, 1),
        ]
        columns.show(self.query_one(TaskTable), columns.fitted(table, self.size.width - 2), self.forescale.glyphs)

    @on(DataTable.RowHighlighted)
    def _tell(self, event: DataTable.RowHighlighted) -> None:
        """Say in a sentence what turns."""
        row = self._found[event.cursor_row]
        edges = [edge for edge in (row.less, row.more) if edge is not None]
        first = min(edges, key=lambda edge: edge.off, default=None)
        if first is None:
            self.say("Nothing turns, however far this is off")
        else:
            self.say(first.finding.text if first.comes else f"Then this is no longer so: {first.finding.text}")

    @on(DataTable.RowSelected)
    def _go(self) -> None:
        path = self._found[self.query_one(TaskTable).cursor_row].path
        self.dismiss()
        self.forescale.board.go_to(path, self.forescale.board.pane)
