"""Coming back: marks on things that stay, what is read of them now, and what to do with the camera."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar

from textual import on
from textual.binding import BindingType
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
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.frame.rows_screen import RowsScreen
from forescale.tui.tasks.frame.verbs import UNDO, key, listed
from forescale.tui.tasks.frame.widgets import Said

HEADS = ("mark", "distance", "aside", "height", "tape then", "tape now", "picture now")
GOES = (0, 4, 3, 2, 1, 0, 0)


class ComeBackScreen(RowsScreen[None]):
    """A row a mark, a cell each thing that is known or read of it; and the way back."""

    TASK = "Coming back"
    ENTER = "type"
    CELLS = True
    EMPTY = "No marks yet: a puts one up, on a kerb, a wall or a post 3 to 7 m off, some high and some low"
    BINDINGS: ClassVar[list[BindingType]] = [
        key("add", "add", "add a mark: its name, distance, aside and height"),
        key("delete", "delete", "leave out the selected cell; on a name, take the mark away"),
        *UNDO,
        listed("new_day", "new day", "leave out all that was read now, to read it anew"),
    ]

    @property
    def marks(self) -> tuple[WitnessRow, ...]:
        """The marks of the shot."""
        return self.shot.witness

    def columns(self) -> list[Column]:
        """Return the marks."""
        texts = [tuple(shown_text(row, cell, self.system) or "-" for row in self.marks) for cell in CELLS]
        return [Column(*each) for each in zip(CELLS, HEADS, texts, GOES, strict=True)]

    def gives(self) -> list[Said]:
        """Return the way back."""
        found = self.answer.come_back
        return [("note", text) for text in (() if found is None else come_back_says(self.answer, found))]

    # Changing

    @on(DataTable.CellSelected)
    def _type(self) -> None:
        """Type what belongs into the cell in hand."""
        place, cell = self.table.place, self.table.column
        old = self.marks[place]

        def take(text: str) -> None:
            new = old.model_copy(update=read_cell(cell, text, self.system)) if text.strip() else cleared(old, cell)
            self.change({"witness": edit.replaced(self.marks, place, new)})
            self.table.action_cursor_down()

        self._ask(cell, entry_text(old, cell, self.system), take)

    def _ask(self, cell: str, text: str, take: Callable[[str], None]) -> None:
        about = (
            f"{BOTH_PLACES[0].upper()}{BOTH_PLACES[1:]}" if cell == PICTURE else FIELD_HELP[f"witness.{cell}"].measure
        )

        def read(entered: str) -> str:
            return shown_text(WitnessRow.model_construct(**read_cell(cell, entered, self.system)), cell, self.system)

        self.ask(HEADS[CELLS.index(cell)].capitalize(), text, read, take, about)

    def action_add(self) -> None:
        """Ask for the name of a mark, and then for where it is."""
        held: dict[str, Any] = {}

        def next_of(cell: str, *rest: str) -> None:
            def take(text: str) -> None:
                held.update(read_cell(cell, text, self.system))
                if rest:
                    next_of(*rest)
                else:
                    new = (*self.marks, WitnessRow.model_construct(**held))
                    self.change({"witness": new}, row=len(new) - 1)

            self._ask(cell, "", take)

        next_of("name", *PLACED)

    def action_delete(self) -> None:
        """Leave what stands in the cell in hand out; on a name, take the mark away."""
        if not self.some():
            return
        place, cell = self.table.place, self.table.column
        row = self.marks[place]
        if cell == "name":
            said = f'"{row.name}" is taken away; u brings it back'
            self.attempt(lambda: self.change({"witness": edit.without(self.marks, place)}, said))
        else:
            self.attempt(lambda: self.change({"witness": edit.replaced(self.marks, place, cleared(row, cell))}))

    def action_new_day(self) -> None:
        """Leave out all that was read now."""
        fresh = tuple(cleared(cleared(row, "taped_now"), PICTURE) for row in self.marks)
        self.attempt(lambda: self.change({"witness": fresh}, "All that was read now is left out; u brings it back"))
