"""Every stop of the lens beside the next: what each gains and loses, and one of them put on the board."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.widgets import DataTable

from forescale.engine.compare.stop_words import against_set, stop_cells, stop_heads
from forescale.engine.findings.words import Words
from forescale.engine.shot import edit
from forescale.engine.solve.focus_zone import StopTable, stop_table
from forescale.engine.units import Stop
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.frame.rows_screen import RowsScreen
from forescale.tui.tasks.frame.verbs import UNDO, key
from forescale.tui.tasks.frame.widgets import Said

GOES = (0, 2, 3, 0, 5, 6, 4, 0, 1)  # how soon each column of `stop_cells` goes for want of room


class StopsScreen(RowsScreen[None]):
    """A row a stop, the cursor on the one set; Enter sets the one in hand."""

    TASK = "Stops side by side"
    ENTER = "set it"
    BINDINGS: ClassVar[list[BindingType]] = [
        key("delete", "auto", "give the stop back to the program, which chooses the first that holds the zone"),
        *UNDO,
    ]

    def put_rows(self) -> None:
        """Answer for every stop."""
        self._found: StopTable = stop_table(self.answer)
        super().put_rows()

    def filled(self) -> None:
        """Go to the stop that is set, or to the nearest that the lens has."""
        used, rows, table = self._found.as_shot.f_number, self._found.rows, self.table
        nearest = min(range(len(rows)), key=lambda place: abs(rows[place].f_number - used))
        table.move_cursor(row=nearest)
        self.call_after_refresh(lambda: table.scroll_to(y=nearest - table.size.height // 2, animate=False))

    def columns(self) -> list[Column]:
        """Return what each stop holds and needs."""
        cells = zip(*(stop_cells(self.answer, row) for row in self._found.rows), strict=True)
        shown = zip(stop_heads(self.answer), cells, GOES, strict=True)
        return [Column(head, head, texts, goes) for head, texts, goes in shown]

    def how(self, place: int) -> list[Said]:
        """Say in a sentence what a stop gains and loses."""
        return [against_set(self.answer, self._found, self._found.rows[place])]

    @on(DataTable.RowSelected)
    def _set(self) -> None:
        answer, row = self.answer, self._found.rows[self.table.place]
        if row.as_set and "focus.stop" not in answer.auto:
            self.dismiss()
            return
        text = edit.text_of(Stop(row.stop_mark, answer.kit.lens.marks, marked=True), None, answer.system)
        if self.attempt(lambda: self.change({"focus.stop": text})):
            self.dismiss()
            before, now = Words(answer).stop(answer.focus.f_number), Words(answer).stop(row.f_number)
            self.forescale.board.say(f"{now} is set; undo brings {before} back")

    def action_delete(self) -> None:
        """Give the stop back to the program."""
        if self.attempt(lambda: self.change({"focus.stop": None})):
            self.filled()
