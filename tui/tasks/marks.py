"""Marks: states of the shot kept under names, to compare with and to go back to."""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.compare.differences import fields_that_differ, in_few_words
from forescale.engine.field_help import in_words
from forescale.engine.files.faults import BadInput
from forescale.engine.kit.kit import load_kit
from forescale.engine.shot.records import Mark, Shot
from forescale.engine.states import marks
from forescale.tui.glyphs import plain
from forescale.tui.session import with_setting
from forescale.tui.tasks.compare import Compared, CompareScreen
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable
from forescale.tui.wrapped import wrapped

NAME, KEPT, WIDE = 20, 16, 60


class MarksScreen(TaskScreen[None]):
    """The marks of the shot, the newest first, each with what differs from now."""

    TASK = "Saved states"
    ENTER = "vs now"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("k", "keep", "keep", tooltip="keep the present state under a name"),
        Binding("g", "go_back", "go back", tooltip="go back to the selected state; undo brings the present back"),
        Binding("c", "compare_two", "two", tooltip="compare the selected state with another: c on both"),
        Binding("n", "rename", "name", tooltip="give the selected state another name"),
        Binding("x", "delete", "delete", tooltip="delete the selected state; undo brings it back"),
        Binding("u", "undo", "undo", tooltip="undo the last change of the shot"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._first: Mark | None = None

    def body(self) -> ComposeResult:
        """One table."""
        yield TaskTable(id="marks")

    def on_resize(self, _event: events.Resize) -> None:
        """Fit the table to the new width."""
        self.fill()

    # What is shown

    @property
    def kept(self) -> tuple[Mark, ...]:
        """The marks of the shot in the order in which they were kept."""
        return self.session.state.shot.mark

    @property
    def place(self) -> int:
        """The place, in the order of keeping, of the mark in hand."""
        return len(self.kept) - 1 - self.query_one(TaskTable).cursor_row

    def fill(self) -> None:
        """List the marks."""
        table, width = self.query_one(TaskTable), self.size.width
        row = table.cursor_row
        table.clear(columns=True)
        wide = width >= WIDE
        rooms = (NAME, KEPT, width - NAME - KEPT - 7) if wide else (max(width - 3, NAME),)
        for head, room in zip(["state", "kept", "differs from now in"], rooms, strict=False):
            table.add_column(head, width=room)
        for mark in reversed(self.kept):
            cells = [(mark.name, ""), (f"{mark.kept:%Y-%m-%d %H:%M}", "  "), (self._differs(mark), "  ")]
            if wide:
                texts = [self._lines(cell, room) for (cell, _), room in zip(cells, rooms, strict=True)]
            else:
                texts = [[line for cell, lead in cells for line in self._lines(cell, rooms[0], lead)]]
            table.add_row(*("\n".join(lines) for lines in texts), height=max(map(len, texts)))
        if self.kept:
            table.move_cursor(row=min(row, len(self.kept) - 1))
        else:
            self.say("No saved states yet: k keeps the present state under a name")

    def _lines(self, text: str, width: int, lead: str = "") -> list[str]:
        return wrapped(plain(text, self.forescale.glyphs), width, lead)

    def _differs(self, mark: Mark) -> str:
        shot = self.session.state.shot
        words = in_few_words(fields_that_differ(mark.setting, shot, shot.units))
        if mark.setting.kit == shot.kit:
            return words
        try:
            load_kit(mark.setting.kit)
        except BadInput as fault:
            return f"its kit is gone ({in_words(fault.faults[0])}); {words}"
        return words

    def shot_of(self, mark: Mark) -> Shot:
        """Return the shot as a mark has it."""
        return with_setting(self.session.state.shot, mark.setting)

    def some(self) -> bool:
        """Tell whether there is a mark in hand, and say so where there is none."""
        if not self.kept:
            self.say("No saved states yet: k keeps the present state under a name", refused=True)
        return bool(self.kept)

    # Comparing

    def _compared(self, mark: Mark) -> Compared:
        return Compared.of(mark.name, self.shot_of(mark), self.session)

    @on(DataTable.RowSelected)
    def _compare(self) -> None:
        """Hold the mark in hand beside the present."""
        mark = self.kept[self.place]
        self.app.push_screen(CompareScreen(self._compared(mark), Compared.now(self.session)))

    def action_compare_two(self) -> None:
        """Take the mark in hand as the first of two, or hold it beside the first."""
        if not self.some():
            return
        mark, first = self.kept[self.place], self._first
        if first is None or first not in self.kept or first == mark:
            self._first = None if first == mark else mark
            said = f'"{mark.name}" is the first of two: go to another and press c' if self._first else ""
            self.say(said)
            return
        self._first = None
        self.say("")
        self.app.push_screen(CompareScreen(self._compared(first), self._compared(mark)))

    # Changing

    def action_keep(self) -> None:
        """Ask for a name, and keep the present state under it."""
        now = datetime.now().replace(microsecond=0)
        name = marks.free_name(self.kept, f"at {now:%H:%M}")
        self.ask("Name", name, lambda text: marks.checked_name(self.kept, text), lambda text: self._keep(text, now))

    def _keep(self, name: str, time: datetime) -> None:
        self._put(marks.keep(self.session.state.shot, name, time), f'Kept as "{marks.plain_name(name)}"')
        self.query_one(TaskTable).move_cursor(row=0)

    def _put(self, kept: tuple[Mark, ...], said: str) -> None:
        self.session.apply({"mark": kept})
        self.forescale.changed()
        self.fill()
        self.say(said)

    def action_go_back(self) -> None:
        """Make the mark in hand the present state, and go to the board."""
        if not self.some():
            return
        mark = self.kept[self.place]
        if self.attempt(lambda: self.session.move_to(self.session.solved(self.shot_of(mark)))):
            self.dismiss()
            self.forescale.board.say(f'Back at "{mark.name}"; undo brings the other state back')

    def action_rename(self) -> None:
        """Ask for another name for the mark in hand."""
        if not self.some():
            return
        place, old = self.place, self.kept[self.place].name
        self.ask(
            "Name",
            old,
            lambda text: marks.checked_name(self.kept, text, old),
            lambda text: self._put(marks.renamed(self.kept, place, text), f'Now called "{marks.plain_name(text)}"'),
        )

    def action_delete(self) -> None:
        """Delete the mark in hand."""
        if self.some():
            name = self.kept[self.place].name
            self._put(marks.without(self.kept, self.place), f'"{name}" is deleted; u brings it back')
