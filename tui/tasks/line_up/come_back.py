"""Coming back: marks on things that stay, what is read of them now, and what to do with the camera."""

from functools import partial
from typing import Any

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
)
from forescale.engine.shot.rows import WitnessRow
from forescale.tui.tasks.frame import UNDO, Column, Question, RowsScreen, Said, key, listed

HEADS = ("mark", "distance", "aside", "height", "tape then", "tape now", "picture now")
GOES = (0, 4, 3, 2, 1, 0, 0)


class ComeBackScreen(RowsScreen[None]):
    TASK = "Coming back"
    ENTER = "type"
    SECTION = "witness"
    CELLS = True
    EMPTY = "No marks yet: a puts one up, on a kerb, a wall or a post 3 to 7 m off, some high and some low"
    BINDINGS = [
        key("add", "add", "add a mark: its name, distance, aside and height"),
        key("delete", "delete", "leave out the selected cell; on a name, take the mark away"),
        *UNDO,
        listed("new_day", "new day", "leave out all that was read now, to read it anew"),
    ]

    def columns(self) -> list[Column]:
        texts = [
            tuple(entry_text(row, cell, self.system, exact=False) or "-" for row in self.records) for cell in CELLS
        ]
        return [Column(*each) for each in zip(CELLS, HEADS, texts, GOES, strict=True)]

    def gives(self) -> list[Said]:
        found = self.answer.come_back
        return [("note", text) for text in (() if found is None else come_back_says(self.answer, found))]

    def enter(self) -> None:
        place, cell = self.table.place, self.table.column
        old, question = self.records[place], self._question_of(cell)

        def take(text: str) -> None:
            new = old.model_copy(update=read_cell(cell, text, self.system)) if text.strip() else cleared(old, cell)
            self.change({"witness": edit.replaced(self.records, place, new)})
            told = entry_text(new, cell, self.system, exact=False) or "left out"
            self.go_on(f"{new.name}: {HEADS[CELLS.index(cell)]} {told}")

        self.ask(question._replace(text=entry_text(old, cell, self.system)), take)

    def _question_of(self, cell: str, *_: str) -> Question:
        both = f"{BOTH_PLACES[0].upper()}{BOTH_PLACES[1:]}"

        def read(entered: str) -> str:
            made = WitnessRow.model_construct(**read_cell(cell, entered, self.system))
            return entry_text(made, cell, self.system, exact=False)

        return Question(
            HEADS[CELLS.index(cell)].capitalize(),
            read,
            hint=both if cell == PICTURE else FIELD_HELP[f"witness.{cell}"].measure,
        )

    def action_add(self) -> None:
        cells = ("name", *PLACED)

        def put(*texts: str) -> None:
            held: dict[str, Any] = {}
            for cell, text in zip(cells, texts, strict=True):
                held |= read_cell(cell, text, self.system)
            new = (*self.records, WitnessRow.model_construct(**held))
            self.change({"witness": new}, row=len(new) - 1)

        self.ask_each([partial(self._question_of, cell) for cell in cells], put)

    def action_delete(self) -> None:
        if not self.some():
            return
        place, cell = self.table.place, self.table.column
        row = self.records[place]
        if cell == "name":
            self.take_away(f'"{row.name}"', {"witness": edit.without(self.records, place)})
        else:
            self.attempt(lambda: self.change({"witness": edit.replaced(self.records, place, cleared(row, cell))}))

    def action_new_day(self) -> None:
        fresh = tuple(cleared(cleared(row, "taped_now"), PICTURE) for row in self.records)
        self.attempt(lambda: self.change({"witness": fresh}, "All that was read now is left out; u brings it back"))
