"""The stops of the lens side by side."""

from forescale.engine.compare.stop_words import against_set, stop_cells, stop_heads
from forescale.engine.findings.words import Words
from forescale.engine.shot import edit
from forescale.engine.solve.focus_zone import StopTable, stop_table
from forescale.engine.units import Stop
from forescale.tui.tasks.frame import UNDO, Column, RowsScreen, Said, key

GOES = (0, 2, 3, 0, 5, 6, 4, 0, 1)  # how soon each column of `stop_cells` goes for want of room
ALONE = {"to": "sharp to"} | {place: f"contrast {place}" for place in ("near", "focus", "far")}


class StopsScreen(RowsScreen[None]):
    TASK, ENTER = "Stops side by side", "set it"
    BINDINGS = [key("delete", "auto", "give the stop back to the program: the first that holds the zone"), *UNDO]

    def filled(self) -> None:
        used, rows, table = self._found.as_shot.f_number, self._found.rows, self.table
        nearest = min(range(len(rows)), key=lambda place: abs(rows[place].f_number - used))
        table.move_cursor(row=nearest)
        self.call_after_refresh(lambda: table.scroll_to(y=nearest - table.size.height // 2, animate=False))

    def columns(self) -> list[Column]:
        self._found: StopTable = stop_table(self.answer)
        cells = zip(*(stop_cells(self.answer, row) for row in self._found.rows), strict=True)
        shown = zip(stop_heads(self.answer), cells, GOES, strict=True)
        return [Column(head, head, texts, goes, ALONE.get(head, "")) for head, texts, goes in shown]

    def how(self, place: int) -> list[Said]:
        return [against_set(self.answer, self._found, self._found.rows[place])]

    def enter(self) -> None:
        answer, row = self.answer, self._found.rows[self.table.place]
        if row.as_set and "focus.stop" not in answer.auto:
            self.dismiss()
            return
        text = edit.text_of(Stop(row.stop_mark, answer.kit.lens.marks, marked=True), None, answer.system)
        if self.attempt(lambda: self.change({"focus.stop": text})):
            self.dismiss()
            before, now = Words(answer).stop(answer.focus.f_number), Words(answer).stop(row.f_number)
            back = "leaves it to the program again" if "focus.stop" in answer.auto else f"brings {before} back"
            self.forescale.board.say(f"{now} is set; undo {back}")

    def action_delete(self) -> None:
        if self.attempt(lambda: self.change({"focus.stop": None})):
            self.filled()
