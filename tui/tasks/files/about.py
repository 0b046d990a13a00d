"""What the shot is called, what is noted of it, and in which units it is shown."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.widgets import DataTable

from forescale.engine.files.faults import BadInput
from forescale.engine.shelf.new_shot import checked_title
from forescale.tui.tasks.frame.columns import Column, shortened
from forescale.tui.tasks.frame.rows_screen import RowsScreen
from forescale.tui.tasks.frame.verbs import UNDO
from forescale.tui.tasks.frame.widgets import Said

ROWS = ("title", "notes", "units")


class AboutScreen(RowsScreen[None]):
    """Title, notes and units; undo and redo as on the board."""

    TASK = "About this shot"
    ENTER = "type"
    BINDINGS: ClassVar[list[BindingType]] = [*UNDO]

    def columns(self) -> list[Column]:
        """Return what can be said of the shot."""
        room = max(self.size.width - 14, 10)
        values = (shortened(getattr(self.shot, name) or "-", room) for name in ROWS)
        return [Column("row", "what", ROWS), Column("value", "as set", tuple(values))]

    def how(self, place: int) -> list[Said]:
        """Return what stands there whole, and where the file lies."""
        return [getattr(self.shot, ROWS[place]) or "-", f"File: {self.session.path}"]

    @on(DataTable.RowSelected)
    def _type(self) -> None:
        name = ROWS[self.table.place]
        label = f"{name} (imperial or metric)" if name == "units" else name
        choices = ("imperial", "metric") if name == "units" else ()
        self.ask(
            label,
            getattr(self.shot, name),
            lambda entry: read_about(name, entry),
            lambda entry: self.change({name: read_about(name, entry)}),
            choices=choices,
        )


def read_about(name: str, text: str) -> str:
    """Return what an entry says of a shot; raises BadInput saying what would be right."""
    if name == "title":
        return checked_title(text)
    if name == "units":
        word = text.strip().lower()
        if word not in {"imperial", "metric"}:
            raise BadInput(f'"{text.strip()}" is not known; write imperial or metric')
        return word
    return " ".join(text.split())
