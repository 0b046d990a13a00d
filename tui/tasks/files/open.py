"""The list of shots, one's own and the shipped, and beginning a new one."""

from collections.abc import Sequence
from datetime import datetime
from typing import get_args

from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.engine.sheet.cells import width as columns_of
from forescale.engine.shelf import new_shot
from forescale.engine.shot.sections import ActionKind
from forescale.tui.tasks.files.saving import new_target
from forescale.tui.tasks.frame import Cell, Question, RowsScreen, key

NAME, PADDING = 24, 2  # columns that a name may take of a title's, and that a cell keeps free
TITLE, NARROWEST = 12, 8  # columns that a title needs for a column of its own, and that a screen is taken to have


class OpenScreen(RowsScreen[None]):
    TASK, ENTER = "Open", "open"
    BINDINGS = [
        key("new", "new shot", "begin a new shot: its title, and the few things that matter first"),
        key("get", "a file by its path", "open a file by its path"),
    ]

    def filled(self) -> None:
        if self.session.unsaved and not self.forescale.keep_now():
            self.say("The present shot is not saved; its changes are kept and come back when it is opened again")

    def put_rows(self) -> None:
        self._entries = list(library.shelf_files("shots").values())
        self.table.put_wrapped(*shot_rows([told(entry) for entry in self._entries], self.size.width - 1), self.glyphs)

    def enter(self) -> None:
        self.attempt(lambda: self._open_path(str(self._entries[self.table.place].path)))

    def action_get(self) -> None:
        self.ask(Question("File or name", lambda text: library.shot_path(text.strip())), self._open_path)

    def _open_path(self, text: str) -> None:
        self.forescale.open_shot(library.shot_path(text.strip()))
        self.dismiss()

    def action_new(self) -> None:
        here = self.system

        def read_background(text: str) -> str:
            return new_shot.read_background(text, new_shot.units_of(text, here))[1]

        def model(_: str, far: str) -> Question:
            def read(text: str) -> str:
                return new_shot.read_model_place(text, far, new_shot.units_of(far, here))[1] if text.strip() else ""

            return Question("Model on the tape", read, hint="Enter on nothing leaves its place to the program")

        def file_name(title: str, *_: str) -> Question:
            return Question("Name of its file", new_target, new_shot.free_path(title).stem, "a name or a path")

        such_as = "200 ft" if here == "imperial" else "60 m"
        hint = f"from the camera to the real thing that the model joins, such as {such_as}"
        background = Question("Background on the tape", read_background, hint=hint)
        kinds = get_args(ActionKind)
        moves = Question("What moves", new_shot.read_kind, "still", f"Up and Down: {', '.join(kinds)}", kinds)
        title = Question("Title of the new shot", new_shot.checked_title, hint="such as: The water tower smokes")
        self.ask_each([title, background, model, moves, file_name], self._begin)

    def _begin(self, title: str, background: str, model: str, kind: str, name: str) -> None:
        path, present = new_target(name), self.shot
        units, moves = new_shot.units_of(background, self.system), new_shot.read_kind(kind)
        title = new_shot.checked_title(title)
        shot = new_shot.new_shot(title, background, present.kit, units, present.sun, model=model, moves=moves)
        library.save_shot(path, shot)
        self._open_path(str(path))
        self.forescale.board.say("Begun. k chooses camera and lens, 1 to 4 go to the panes, Space lists all")


def told(entry: library.ShelfFile) -> tuple[str, ...]:
    """Return a file's name, title, when it was changed (only where a calendar has that time), and whose it is."""
    try:
        title = library.load_shot(entry.path).title
    except BadInput:
        title = "cannot be read"
    try:
        changed = datetime.fromtimestamp(entry.path.stat().st_mtime).strftime("%Y-%m-%d %H:%M")
    except (OSError, OverflowError, ValueError):
        changed = ""
    return entry.name, title, changed, "built-in, read-only" if entry.shipped else "yours"


def shot_rows(shots: list[tuple[str, ...]], width: int) -> tuple[list[tuple[str, int]], Sequence[Sequence[Cell]]]:
    """Return the columns with their widths, and the cells of a row a shot: one below the other on a narrow screen."""
    width, heads = max(width, NARROWEST), ("shot", "title", "changed", "whose")
    names, titles, changed, whose = (max(map(columns_of, cells)) for cells in zip(heads, *shots, strict=True))
    spare = width - changed - whose - 4 * PADDING
    name = min(names, max(NAME, spare - titles))
    if spare - name >= TITLE:
        return list(zip(heads, (name, spare - name, changed, whose), strict=True)), shots
    rows: list[list[Cell]] = [[[shot[1], ("  ", ", ".join(filter(None, (shot[0], *shot[2:]))))]] for shot in shots]
    return [("shot", width - PADDING)], rows
