"""The list of shots, one's own and the shipped."""

from __future__ import annotations

from typing import ClassVar, get_args

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.engine.shelf.new_shot import (
    checked_title,
    free_path,
    new_shot,
    read_background,
    read_kind,
    read_model_place,
    units_of,
)
from forescale.engine.shot.sections import ActionKind
from forescale.tui.glyphs import plain
from forescale.tui.session import reasons
from forescale.tui.tasks.files.open_rows import shot_rows, told
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable


class OpenScreen(TaskScreen[None]):
    """Shots with their titles and dates; Enter opens one."""

    TASK = "Open"
    ENTER = "open"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "new", "new shot"),
        Binding("p", "path", "a file by its path"),
    ]

    def body(self) -> ComposeResult:
        """One table."""
        yield TaskTable(id="shots")

    def on_mount(self) -> None:
        """Say what becomes of the present shot."""
        if self.session.unsaved and not self.forescale.keep_now():
            self.say("The present shot is not saved; its changes are kept and come back when it is opened again")

    def on_resize(self, _event: events.Resize) -> None:
        """Fit the list to the new width."""
        self.fill()

    def fill(self) -> None:
        """List the shots on the shelf."""
        self._entries = list(library.shelf_files("shots").values())
        table, row, glyphs = self.query_one(TaskTable), self.query_one(TaskTable).cursor_row, self.forescale.glyphs
        table.clear(columns=True)
        heads, rows = shot_rows([told(entry) for entry in self._entries], self.size.width - 1)
        for head, room in heads:
            table.add_column(head, width=room)
        for cells in rows:
            table.add_row(*(plain(cell, glyphs) for cell in cells), height=1 + max(cell.count("\n") for cell in cells))
        table.move_cursor(row=row)

    @on(DataTable.RowSelected)
    def _open(self) -> None:
        path = self._entries[self.query_one(TaskTable).cursor_row].path
        try:
            self._open_path(str(path))
        except BadInput as fault:
            self.say(reasons(fault), refused=True)

    def action_new(self) -> None:
        """Begin a new shot: its title, then how far off the background is."""
        self.ask("Title of the new shot", "", checked_title, self._titled)

    def _titled(self, text: str) -> None:
        title, system = checked_title(text), self.session.state.shot.units
        shown = "200 ft" if system == "imperial" else "60 m"
        self.ask(
            "Background on the tape",
            shown,
            lambda entry: read_background(entry, units_of(entry, system))[1],
            lambda entry: self._ask_model(title, entry),
        )

    def _ask_model(self, title: str, background: str) -> None:
        units = units_of(background, self.session.state.shot.units)
        read_background(background, units)

        def read(entry: str) -> str:
            return read_model_place(entry, background, units)[1]

        def take(entry: str) -> None:
            if entry.strip():
                read(entry)
            self._ask_kind(title, background, entry)

        self.ask("Model on the tape", "", read, take, "Enter on nothing leaves its place to the program")

    def _ask_kind(self, title: str, background: str, model: str) -> None:
        kinds = get_args(ActionKind)
        hint = f"Up and Down: {', '.join(kinds)}"
        self.ask(
            "What moves", "still", read_kind, lambda kind: self._begin(title, background, model, kind), hint, kinds
        )

    def _begin(self, title: str, background: str, model: str, kind: str) -> None:
        present = self.session.state.shot
        path = free_path(title)
        units = units_of(background, present.units)
        shot = new_shot(title, background, present.kit, units, present.sun, model=model, moves=read_kind(kind))
        library.save_shot(path, shot)
        self._open_path(str(path))
        self.forescale.board.say("Begun. k chooses camera and lens, 1 to 4 go to the panes, Space lists everything")

    def action_path(self) -> None:
        """Ask for a file."""
        self.ask("File or name", "", lambda text: str(library.shot_path(text.strip())), self._open_path)

    def _open_path(self, text: str) -> None:
        path = library.shot_path(text.strip())
        self.forescale.open_shot(path)
        self.dismiss()
