"""Everything that is to be said of the shot, each with its remedies; Enter goes to its field, d does a remedy."""

from __future__ import annotations

from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.mends import as_changes, mends, told
from forescale.engine.solve.record import Finding, Mend
from forescale.tui.glyphs import plain
from forescale.tui.panes import TITLES
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable
from forescale.tui.wrapped import wrapped

MARK, WHERE, PADDING = 2, 10, 2
WITH_WHERE = 56  # columns of a screen on which the pane has a column of its own
AROUND = 7  # rows of a screen that the table does not have, one more so that the row before stays in sight


class FindingsScreen(TaskScreen[None]):
    """All findings, the gravest first."""

    TASK = "Findings"
    ENTER = "go to its field"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("d", "do", "do it", tooltip="do the selected remedy, or the first of the selected finding"),
        Binding("u", "undo", "undo", tooltip="undo the last change"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    def body(self) -> ComposeResult:
        """One table; a finding takes as many lines as it needs."""
        yield TaskTable(id="findings")

    def on_resize(self, _event: events.Resize) -> None:
        """Wrap the sentences anew."""
        self.fill()

    def fill(self) -> None:
        """List the findings; one that is longer than the screen goes on in rows of its own."""
        table, row = self.query_one(TaskTable), self.query_one(TaskTable).cursor_row
        apart = self.size.width >= WITH_WHERE
        width = max(self.size.width - 1 - MARK - 2 * PADDING - apart * (WHERE + PADDING), 16)
        table.clear(columns=True)
        for head, room in (("", MARK), *[("where", WHERE)] * apart, ("what", width)):
            table.add_column(head, width=room)
        self._of_row: list[tuple[Finding, Mend | None]] = []
        answer = self.session.state.answer
        for finding in answer.findings:
            where = TITLES[finding.pane]
            text = finding.text if apart else f"{where}: {finding.text}"
            self._add((finding, None), text, (getattr(self.forescale.glyphs, finding.level), *[where] * apart), width)
            for mend in mends(answer, finding):
                self._add((finding, mend), told(mend), ("", *["to do" if mend.set else "by hand"] * apart), width)
        table.move_cursor(row=row)

    def _add(self, row: tuple[Finding, Mend | None], text: str, lead: tuple[str, ...], width: int) -> None:
        """Add a finding or a remedy, in as many rows as the height of the screen asks for."""
        most = max(self.size.height - AROUND, 3)
        lines = wrapped(plain(text, self.forescale.glyphs), width)
        for start in range(0, len(lines), most):
            part = lines[start : start + most]
            self.query_one(TaskTable).add_row(
                *(("",) * len(lead) if start else lead), "\n".join(part), height=len(part)
            )
            self._of_row.append(row)

    @on(DataTable.RowSelected)
    def _go(self) -> None:
        """Leave for the field that the finding in hand is about."""
        finding, _ = self._in_hand()
        self.dismiss()
        self.forescale.board.go_to(finding.field, finding.pane)

    def _in_hand(self) -> tuple[Finding, Mend | None]:
        return self._of_row[self.query_one(TaskTable).cursor_row]

    def action_do(self) -> None:
        """Do the remedy in hand, or the first that can be done of the finding in hand."""
        finding, mend = self._in_hand()
        state = self.session.state
        can = [one for one in mends(state.answer, finding) if one.set]
        chosen = mend or next(iter(can), None)
        if chosen is None or not chosen.set:
            self.say("Nothing that is typed here can do that: it is for a hand on the set")
        elif self.attempt(lambda: self.session.apply(as_changes(state.shot, chosen.set))):
            self.say(f"Done: {told(chosen)}. Undo takes it back")
