"""The list of shots, one's own and the shipped, and beginning a new one."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import ClassVar, NamedTuple, get_args

from textual import on
from textual.binding import BindingType
from textual.widgets import DataTable

from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.engine.sheet.cells import width as columns_of
from forescale.engine.shelf import new_shot
from forescale.engine.shelf.new_shot import units_of
from forescale.engine.shot.sections import ActionKind
from forescale.tui.tasks.files.save_as import new_target
from forescale.tui.tasks.frame.rows_screen import RowsScreen
from forescale.tui.tasks.frame.verbs import key
from forescale.tui.tasks.frame.widgets import Cell

NAME, CHANGED, SHIPPED, PADDING = 24, 16, 19, 2  # columns
TITLE, NARROWEST = 12, 8  # columns that a title needs for a column of its own, and that a screen is taken to have


class OnList(NamedTuple):
    """What the list tells of a shot."""

    name: str
    title: str
    changed: str
    shipped: str


class NewShot(NamedTuple):
    """What was asked so far of a new shot."""

    title: str
    background: str = ""
    model: str = ""
    kind: str = ""


class OpenScreen(RowsScreen[None]):
    """Shots with their titles and dates; Enter opens one."""

    TASK = "Open"
    ENTER = "open"
    BINDINGS: ClassVar[list[BindingType]] = [
        key("new", "new shot", "begin a new shot: its title, and the few things that matter first"),
        key("get", "a file by its path", "open a file by its path"),
    ]

    def filled(self) -> None:
        """Say what becomes of the present shot."""
        if self.session.unsaved and not self.forescale.keep_now():
            self.say("The present shot is not saved; its changes are kept and come back when it is opened again")

    def put_rows(self) -> None:
        """List the shots on the shelf."""
        self._entries = list(library.shelf_files("shots").values())
        self.table.put_wrapped(*shot_rows([told(entry) for entry in self._entries], self.size.width - 1), self.glyphs)

    @on(DataTable.RowSelected)
    def _open(self) -> None:
        self.attempt(lambda: self._open_path(str(self._entries[self.table.place].path)))

    def action_get(self) -> None:
        """Ask for a file."""
        self.ask("File or name", "", lambda text: str(library.shot_path(text.strip())), self._open_path)

    def _open_path(self, text: str) -> None:
        self.forescale.open_shot(library.shot_path(text.strip()))
        self.dismiss()

    # A new one

    def action_new(self) -> None:
        """Begin a new shot: its title, then the few things that matter first."""

        def take(text: str) -> None:
            self._ask_background(NewShot(new_shot.checked_title(text)))

        self.ask("Title of the new shot", "", new_shot.checked_title, take, "such as: The water tower smokes")

    def _ask_background(self, new: NewShot) -> None:
        def read(entry: str) -> str:
            return new_shot.read_background(entry, units_of(entry, self.system))[1]

        def take(entry: str) -> None:
            read(entry)
            self._ask_model(new._replace(background=entry))

        self.ask("Background on the tape", "200 ft" if self.system == "imperial" else "60 m", read, take)

    def _ask_model(self, new: NewShot) -> None:
        units = units_of(new.background, self.system)

        def read(entry: str) -> str:
            return new_shot.read_model_place(entry, new.background, units)[1]

        def take(entry: str) -> None:
            if entry.strip():
                read(entry)
            self._ask_kind(new._replace(model=entry))

        self.ask("Model on the tape", "", read, take, "Enter on nothing leaves its place to the program")

    def _ask_kind(self, new: NewShot) -> None:
        kinds = get_args(ActionKind)

        def take(text: str) -> None:
            self._ask_name(new._replace(kind=new_shot.read_kind(text)))

        self.ask("What moves", "still", new_shot.read_kind, take, f"Up and Down: {', '.join(kinds)}", kinds)

    def _ask_name(self, new: NewShot) -> None:
        def begin(text: str) -> None:
            path, present = new_target(text), self.shot
            shot = new_shot.new_shot(
                new.title,
                new.background,
                present.kit,
                units_of(new.background, self.system),
                present.sun,
                model=new.model,
                moves=new.kind,
            )
            library.save_shot(path, shot)
            self._open_path(str(path))
            self.forescale.board.say("Begun. k chooses camera and lens, 1 to 4 go to the panes, Space lists everything")

        free = new_shot.free_path(new.title).stem
        self.ask("Name of its file", free, lambda text: str(new_target(text)), begin, "a name or a path")


def told(entry: library.ShelfFile) -> OnList:
    """Return what is told of a file on the shelf; when it was changed, only where a calendar has that time."""
    try:
        title = library.load_shot(entry.path).title
    except BadInput:
        title = "cannot be read"
    try:
        changed = datetime.fromtimestamp(entry.path.stat().st_mtime).strftime("%Y-%m-%d %H:%M")
    except (OSError, OverflowError, ValueError):
        changed = ""
    return OnList(entry.name, title, changed, "built-in, read-only" if entry.shipped else "yours")


def shot_rows(shots: list[OnList], width: int) -> tuple[list[tuple[str, int]], Sequence[Sequence[Cell]]]:
    """Return the columns with their widths, and the cells of a row a shot: one below the other on a narrow screen."""
    width = max(width, NARROWEST)
    name = min(max((columns_of(shot.name) for shot in shots), default=0), NAME)
    title = width - name - CHANGED - SHIPPED - 4 * PADDING
    if title < TITLE:
        rest = [", ".join(part for part in (shot.name, shot.changed, shot.shipped) if part) for shot in shots]
        cells: list[list[Cell]] = [[[shot.title, ("  ", more)]] for shot, more in zip(shots, rest, strict=True)]
        return [("shot", width - PADDING)], cells
    return [("shot", name), ("title", title), ("changed", CHANGED), ("whose", SHIPPED)], shots
