"""Coming back: marks on things that stay, what is read of them now, and what to do with the camera."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.findings.line_up import come_back_says
from forescale.engine.shot import edit
from forescale.engine.shot.pictured_entry import (
    BOTH_PLACES,
    CELLS,
    PICTURE,
    PLACED,
    cleared,
    entry_text,
    read_cell,
    shown_text,
)
from forescale.engine.shot.readings import WitnessRow
from forescale.engine.units import UnitSystem
from forescale.tui.glyphs import plain
from forescale.tui.tasks.frame.columns import Column, fitted, show
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen, TaskTable
from forescale.tui.wrapped import wrapped

AROUND = 4
HEADS = ("mark", "distance", "aside", "height", "tape then", "tape now", "picture now")
GOES = (0, 4, 3, 2, 1, 0, 0)
NO_MARKS = "No marks yet: a puts one up, on a kerb, a wall or a post 3 to 7 m off, some high and some low"


class ComeBackScreen(TaskScreen[None]):
    """A row a mark, a cell each thing that is known or read of it; the way back below."""

    TASK = "Coming back"
    ENTER = "type"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add", "add", tooltip="add a mark: its name, distance, aside and height"),
        Binding("x", "clear", "clear", tooltip="leave what stands in the selected cell out"),
        Binding("n", "new_day", "new day", tooltip="leave out all that was read now, to read it anew"),
        Binding("d", "delete", "delete", tooltip="take the selected mark away"),
        Binding("u", "undo", "undo", tooltip="undo the last change"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._shown: list[str] = list(CELLS)

    def body(self) -> ComposeResult:
        """The marks, and the way back."""
        yield TaskTable(cells=True, id="marks")
        yield TaskPage(id="way")

    def on_resize(self, event: events.Resize) -> None:
        """Fit the table to the new width."""
        super().on_resize(event)
        self.fill()

    @property
    def marks(self) -> tuple[WitnessRow, ...]:
        """The marks of the shot."""
        return self.session.state.shot.witness

    @property
    def system(self) -> UnitSystem:
        """The units that are shown."""
        return self.session.state.shot.units

    def fill(self) -> None:
        """Show the marks and the way back."""
        glyphs, width, answer = self.forescale.glyphs, self.size.width, self.session.state.answer
        texts = [tuple(shown_text(row, cell, self.system) or "-" for row in self.marks) for cell in CELLS]
        columns = [Column(*each) for each in zip(CELLS, HEADS, texts, GOES, strict=True)]
        kept = fitted(columns, width - 1)
        self._shown = [column.id for column in kept]
        table = self.query_one(TaskTable)
        show(table, kept, glyphs)
        table.styles.height = min(len(self.marks) + 1, max((self.size.height - AROUND) // 2, 3))
        says = (NO_MARKS,) if answer.come_back is None else come_back_says(answer, answer.come_back)
        lines = [line for text in says for line in wrapped(plain(text, glyphs), max(width - 3, 20), f"{glyphs.note} ")]
        self.query_one(TaskPage).show("\n".join(lines))

    # Changing

    def change(self, marks: tuple[WitnessRow, ...], said: str = "") -> None:
        """Change the marks and show them; raises BadInput."""
        self.session.apply({"witness": marks})
        self.forescale.changed()
        self.fill()
        self.say(said)

    @property
    def in_hand(self) -> tuple[int, str] | None:
        """The place of the mark and the cell in hand; None, and said so, where there is none."""
        if not self.marks:
            self.say(NO_MARKS, refused=True)
            return None
        table = self.query_one(TaskTable)
        return table.cursor_row, self._shown[table.cursor_column]

    @on(DataTable.CellSelected)
    def _type(self) -> None:
        """Type what belongs into the cell in hand."""
        if (found := self.in_hand) is None:
            return
        place, cell = found
        old = self.marks[place]

        def take(text: str) -> None:
            new = old.model_copy(update=read_cell(cell, text, self.system)) if text.strip() else cleared(old, cell)
            self.change(edit.replaced(self.marks, place, new))
            self.query_one(TaskTable).action_cursor_down()

        self._ask(cell, entry_text(old, cell, self.system), take)

    def _ask(self, cell: str, text: str, take: Callable[[str], None]) -> None:
        label = HEADS[CELLS.index(cell)]
        about = (
            f"{BOTH_PLACES[0].upper()}{BOTH_PLACES[1:]}" if cell == PICTURE else FIELD_HELP[f"witness.{cell}"].measure
        )

        def read(entered: str) -> str:
            return shown_text(WitnessRow.model_construct(**read_cell(cell, entered, self.system)), cell, self.system)

        self.ask(label.capitalize(), text, read, take, about)

    def action_add(self) -> None:
        """Ask for the name of a mark, and then for where it is."""
        held: dict[str, Any] = {}

        def next_of(cells: tuple[str, ...]) -> None:
            cell, *rest = cells

            def take(text: str) -> None:
                held.update(read_cell(cell, text, self.system))
                if rest:
                    next_of(tuple(rest))
                    return
                self.change((*self.marks, WitnessRow.model_construct(**held)))
                self.query_one(TaskTable).move_cursor(row=len(self.marks) - 1)

            self._ask(cell, "", take)

        next_of(("name", *PLACED))

    def action_clear(self) -> None:
        """Leave what stands in the cell in hand out."""
        if (found := self.in_hand) is not None:
            place, cell = found
            self.attempt(lambda: self.change(edit.replaced(self.marks, place, cleared(self.marks[place], cell))))

    def action_new_day(self) -> None:
        """Leave out all that was read now."""
        fresh = tuple(cleared(cleared(row, "taped_now"), PICTURE) for row in self.marks)
        self.attempt(lambda: self.change(fresh, "All that was read now is left out; u brings it back"))

    def action_delete(self) -> None:
        """Take the mark in hand away."""
        if (found := self.in_hand) is not None:
            name = self.marks[found[0]].name
            self.attempt(lambda: self.change(edit.without(self.marks, found[0]), f'"{name}" is taken away'))
