"""Marks: states of the shot kept under names, to compare with and to go back to."""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.widgets import DataTable

from forescale.engine.compare.differences import fields_that_differ, in_few_words
from forescale.engine.field_help import in_words
from forescale.engine.files.faults import BadInput
from forescale.engine.kit.kit import load_kit
from forescale.engine.shot import edit
from forescale.engine.shot.records import Mark, Shot
from forescale.engine.states import marks
from forescale.tui.session import with_setting
from forescale.tui.tasks.compare import StatesScreen
from forescale.tui.tasks.frame.verbs import UNDO, key
from forescale.tui.tasks.frame.widgets import Cell

NAME, KEPT, WIDE = 20, 16, 60


class MarksScreen(StatesScreen):
    """The marks of the shot, the newest first, each with what differs from now."""

    TASK = "Saved states"
    ENTER = "vs now"
    EMPTY = "No saved states yet: a keeps the present state under a name"
    BINDINGS: ClassVar[list[BindingType]] = [
        key("add", "keep", "keep the present state under a name"),
        key("back", "go back", "go back to the selected state; undo brings the present back"),
        key("compare", "two", "compare the selected state with another: c on both"),
        key("edit", "name", "give the selected state another name"),
        key("delete", "delete", "delete the selected state; undo brings it back"),
        *UNDO,
    ]

    @property
    def records(self) -> tuple[Mark, ...]:
        """The marks of the shot in the order in which they were kept."""
        return self.shot.mark

    def shot_of(self, record: Mark) -> Shot:
        """Return the shot as a mark has it."""
        return with_setting(self.shot, record.setting)

    def called(self, record: Mark) -> str:
        """Return a mark's name."""
        return f'"{record.name}"'

    def put_rows(self) -> None:
        """List the marks."""
        width = self.size.width
        cells = [
            (mark.name, f"{mark.kept:%Y-%m-%d %H:%M}", f"differs in {self._differs(mark)}")
            for mark in reversed(self.records)
        ]
        heads, rows = [("state", max(width - 3, NAME))], list[list[Cell]]()
        if width >= WIDE:
            heads = [("state", NAME), ("kept", KEPT), ("differs from now in", width - NAME - KEPT - 7)]
            rows = [[name, kept, differs.removeprefix("differs in ")] for name, kept, differs in cells]
        else:
            rows = [[[name, ("  ", kept), ("  ", differs)]] for name, kept, differs in cells]
        self.table.put_wrapped(heads, rows, self.glyphs)

    def _differs(self, mark: Mark) -> str:
        words = in_few_words(fields_that_differ(mark.setting, self.shot, self.system))
        if mark.setting.kit == self.shot.kit:
            return words
        try:
            load_kit(mark.setting.kit)
        except BadInput as fault:
            return f"its kit is gone ({in_words(fault.faults[0])}); {words}"
        return words

    @on(DataTable.RowSelected)
    def _versus_now(self) -> None:
        self.hold(self.records[self.place])

    def action_add(self) -> None:
        """Ask for a name, and keep the present state under it."""
        now = datetime.now().replace(microsecond=0)
        free = marks.free_name(self.records, f"at {now:%H:%M}")

        def keep(name: str) -> None:
            self.change({"mark": marks.keep(self.shot, name, now)}, f'Kept as "{marks.plain_name(name)}"', 0)

        self.ask("Name", free, lambda text: marks.checked_name(self.records, text), keep)

    def action_edit(self) -> None:
        """Ask for another name for the selected state."""
        if not self.some():
            return
        place, old = self.place, self.records[self.place].name

        def rename(text: str) -> None:
            named = marks.renamed(self.records, place, text)
            self.change({"mark": named}, f'Now called "{marks.plain_name(text)}"')

        self.ask("Name", old, lambda text: marks.checked_name(self.records, text, old), rename)

    def action_delete(self) -> None:
        """Delete the selected state."""
        if self.some():
            name = self.records[self.place].name
            self.change({"mark": edit.without(self.records, self.place)}, f'"{name}" is deleted; u brings it back')
