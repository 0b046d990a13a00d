"""Every stop of the lens beside the next: what each gains and loses, and one of them put on the board."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.compare.stop_words import against_set, stop_cells, stop_heads
from forescale.engine.findings.words import Words
from forescale.engine.shot import edit
from forescale.engine.solve.focus_zone import StopRow, StopTable, stop_table
from forescale.engine.units import Stop
from forescale.tui.tasks.frame import columns
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable

GOES = (0, 2, 3, 0, 5, 6, 4, 0, 1)  # how soon each column of `stop_cells` goes for want of room


class StopsScreen(TaskScreen[None]):
    """A row a stop, the cursor on the one set; Enter sets the one in hand."""

    TASK = "Stops side by side"
    ENTER = "set it"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "auto", "auto", tooltip="give the stop back to the program to choose")
    ]

    def body(self) -> ComposeResult:
        """One table."""
        yield TaskTable(id="stops")

    def fill(self) -> None:
        """Answer for every stop, and go to the one set, or to the nearest that the lens has."""
        self._found: StopTable = stop_table(self.session.state.answer)
        self.show()
        used, rows = self._found.as_shot.f_number, self._found.rows
        nearest = min(range(len(rows)), key=lambda place: abs(rows[place].f_number - used))
        table = self.query_one(TaskTable)
        table.move_cursor(row=nearest)
        self.call_after_refresh(lambda: table.scroll_to(y=nearest - table.size.height // 2, animate=False))
        self._tell()

    def on_resize(self, event: object) -> None:
        """Fit the table to the new width."""
        super().on_resize(event)  # type: ignore[arg-type]
        self.show()
        self._tell()

    def show(self) -> None:
        """List the stops."""
        answer = self.session.state.answer
        cells = zip(*(stop_cells(answer, row) for row in self._found.rows), strict=True)
        shown = zip(stop_heads(answer), cells, GOES, strict=True)
        table = [Column(head, head, texts, goes) for head, texts, goes in shown]
        columns.show(self.query_one(TaskTable), columns.fitted(table, self.size.width - 1), self.forescale.glyphs)

    def in_hand(self) -> StopRow:
        """Return the stop in hand."""
        return self._found.rows[self.query_one(TaskTable).cursor_row]

    @on(DataTable.RowHighlighted)
    def _tell(self) -> None:
        """Say in a sentence what the stop in hand gains and loses."""
        self.say(against_set(self.session.state.answer, self._found, self.in_hand()))

    @on(DataTable.RowSelected)
    def _set(self) -> None:
        answer, row = self.session.state.answer, self.in_hand()
        if row.as_set and "focus.stop" not in answer.auto:
            self.dismiss()
            return
        words = Words(answer)
        text = edit.text_of(Stop(row.stop_mark, answer.kit.lens.marks, marked=True), None, answer.system)
        if self.attempt(lambda: self.session.apply({"focus.stop": text})):
            self.dismiss()
            before = words.stop(answer.focus.f_number)
            self.forescale.board.say(f"{words.stop(row.f_number)} is set; undo brings {before} back")

    def action_auto(self) -> None:
        """Give the stop back to the program, which chooses the first that holds the zone."""
        self.attempt(lambda: self.session.apply({"focus.stop": None}))
