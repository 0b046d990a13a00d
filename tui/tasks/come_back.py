"""Coming back to where the camera stood, by marks that stay."""

from collections.abc import Iterable
from typing import Any

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.findings.line_up import come_back_says, come_back_warns
from forescale.engine.shot import edit
from forescale.engine.shot import pictured_entry as marks
from forescale.engine.shot.rows import WitnessRow
from forescale.tui.tasks.frame import UNDO, Column, Question, RowsScreen, Said, key, listed

HEADS = ("mark", "distance", "aside", "height", "tape then", "tape now", "picture now")
GOES = (0, 4, 3, 2, 1, 0, 0)
FAR = {"imperial": "10 to 23 ft off", "metric": "3 to 7 m off"}  # where marks do best


class ComeBackScreen(RowsScreen[None]):
    TASK, ENTER, SECTION, CELLS = "Coming back", "type", "witness", True
    BINDINGS = [
        key("add", "add", "add a mark: its name, distance, aside and height"),
        key("delete", "delete", "leave out the selected cell; on a name, take the mark away"),
        *UNDO,
        listed("new_day", "new day", "leave out all that was read now, to read it anew"),
    ]

    def columns(self) -> list[Column]:
        self.EMPTY = f"No marks yet: a puts one up, on a kerb, a wall or a post {FAR[self.system]}, some high, some low"
        texts = [tuple(self._shown(row, cell) or "-" for row in self.records) for cell in marks.CELLS]
        return [Column(*each) for each in zip(marks.CELLS, HEADS, texts, GOES, strict=True)]

    def _shown(self, row: WitnessRow, cell: str) -> str:
        return marks.entry_text(row, cell, self.system, exact=False)

    def gives(self) -> list[Said]:
        found = self.answer.come_back
        if found is None:
            return []
        warns, says = come_back_warns(found), enumerate(come_back_says(self.answer, found))
        return [("warn" if number < warns else "note", text) for number, text in says]

    def more_help(self) -> Iterable[Said]:
        return f"Marks do best {FAR[self.system]}.", ""

    def enter(self) -> None:
        place, cell = self.table.place, self.table.column
        old, question = self.records[place], self._question_of(cell)

        def take(text: str) -> None:
            read = self._read(cell, text) if text.strip() else None
            new = marks.cleared(old, cell) if read is None else old.model_copy(update=read)
            self.change({"witness": edit.replaced(self.records, place, new)})
            self.say(f"{new.name}: {HEADS[marks.CELLS.index(cell)]} {self._shown(new, cell) or 'left out'}")

        self.ask(question._replace(text=marks.entry_text(old, cell, self.system)), take)

    def _read(self, cell: str, text: str) -> dict[str, Any]:
        mode = self.answer.kit.mode
        return marks.read_cell(cell, text, self.system, (mode.width_px, mode.height_px))

    def _question_of(self, cell: str) -> Question:
        both = f"{marks.BOTH_PLACES[0].upper()}{marks.BOTH_PLACES[1:]}"

        def read(entered: str) -> str:
            return self._shown(WitnessRow.model_construct(**self._read(cell, entered)), cell)

        hint = both if cell == marks.PICTURE else FIELD_HELP[f"witness.{cell}"].measure
        hint += f" They do best {FAR[self.system]}." if cell == "name" else ""
        return Question(HEADS[marks.CELLS.index(cell)].capitalize(), read, hint=hint)

    def action_add(self) -> None:
        cells = ("name", *marks.PLACED)

        def put(*texts: str) -> None:
            held: dict[str, Any] = {}
            for cell, text in zip(cells, texts, strict=True):
                held |= self._read(cell, text)
            rows = (*self.records, WitnessRow.model_construct(**held))
            self.change({"witness": rows}, "Now the tape to it: a digit begins", row=len(self.records))
            if "taped" in self.table.ids:
                self.table.move_cursor(column=self.table.ids.index("taped"))

        self.ask_each([self._question_of(cell) for cell in cells], put)

    def action_delete(self) -> None:
        if not self.some():
            return
        place, cell = self.table.place, self.table.column
        row = self.records[place]
        if cell == "name":
            self.take_away(f'"{row.name}"', {"witness": edit.without(self.records, place)})
        else:
            self.attempt(lambda: self.change({"witness": edit.replaced(self.records, place, marks.cleared(row, cell))}))

    def action_new_day(self) -> None:
        fresh = tuple(marks.cleared(marks.cleared(row, "taped_now"), marks.PICTURE) for row in self.records)
        self.attempt(lambda: self.change({"witness": fresh}, "All that was read now is left out; u brings it back"))
