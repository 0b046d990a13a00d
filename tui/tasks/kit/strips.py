"""Test strips: one's own sharpness in the shot's mode, found from markers and kept in the camera's profile."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any, ClassVar

from textual import on
from textual.binding import BindingType
from textual.widgets import DataTable

from forescale.engine.bench import strip_report
from forescale.engine.bench.strip_report import LABELS, OPTIONAL, PATHS
from forescale.engine.kit.profiles import StripRow
from forescale.engine.shot import edit
from forescale.engine.units import number_text
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.frame.rows_screen import RowsScreen
from forescale.tui.tasks.frame.verbs import UNDO, key
from forescale.tui.tasks.frame.widgets import Said

HEADS = {
    "stop": "stop",
    "focus": "focus",
    "sharp_near": "sharp near",
    "soft_near": "soft near",
    "sharp_far": "sharp far",
    "soft_far": "soft far",
    "lens": "lens",
    "focal_length": "mm",
}


class StripsScreen(RowsScreen[None]):
    """The strips of the mode, and what they have in common."""

    TASK = "Test strips"
    ENTER = "change"
    EMPTY = "No test strip yet: a adds one, with what it was photographed with and its markers"
    LEAST = 3
    BINDINGS: ClassVar[list[BindingType]] = [
        key("add", "add", "add a strip: what it was photographed with, and its markers"),
        key("delete", "delete", "take away the selected strip"),
        key("save", "store", "store what was found as the mode's own sharpness"),
        key("put", "use it", "let the shot's sharpness be as measured"),
        *UNDO,
    ]

    @property
    def strips(self) -> tuple[StripRow, ...]:
        """The strips of the shot's mode."""
        return self.answer.kit.mode.strip

    def columns(self) -> list[Column]:
        """Return the strips, each with the blur that it allows."""
        found, count = strip_report.report(self.answer), len(self.strips)
        texts = [strip_report.row_texts(self.answer, place) for place in range(count)]
        bounds = (" to ".join("?" if end is None else number_text(end, 3) for end in ends) for ends in found.bounds)
        columns = [Column("strip", "strip", tuple(str(place + 1) for place in range(count)))]
        columns.append(Column("c", "c, mm", tuple(bounds)))
        for name, head in HEADS.items():
            cells = tuple(text[PATHS.index(name)] for text in texts)
            columns.append(Column(name, head, cells, 1 + (name in {"lens", "focal_length"})))
        return columns

    def how(self, place: int) -> Iterator[Said]:
        """Say what of a strip its row has no room for."""
        left = [f"{one.head} {one.cells[place]}" for one in self.columns() if one.id not in self.table.ids]
        if left:
            yield f"Strip {place + 1}, not in the list: {', '.join(left)}"

    def gives(self) -> Iterator[Said]:
        """Return what the strips have in common, and what is stored."""
        for line in strip_report.told(self.answer, strip_report.report(self.answer)):
            yield "note", line
        mode = self.answer.kit.mode
        if mode.sharpness is not None:
            yield "note", f"Stored in {mode.name}: {number_text(mode.sharpness, 3)} mm"

    # Strips

    def action_add(self) -> None:
        """Ask for a new strip, field by field."""
        self._ask(len(self.strips), dict(strip_report.fresh(self.answer)), 0)

    @on(DataTable.RowSelected)
    def _edit(self) -> None:
        """Ask for the strip in hand anew."""
        row = self.strips[self.table.place]
        quantities = {name: edit.quantity_of(StripRow, name) for name in PATHS}
        texts = {name: edit.text_of(getattr(row, name), one, self.system) for name, one in quantities.items()}
        self._ask(self.table.place, texts, 0)

    def _ask(self, place: int, texts: Mapping[str, str], at: int) -> None:
        name = PATHS[at]

        def read(text: str) -> str:
            value = strip_report.held(name, text, self.system)
            strip_report.check_order({**{one: texts.get(one, "") for one in PATHS[:at]}, name: text}, self.system)
            return str(value)

        def take(text: str) -> None:
            read(text)
            more = {**texts, name: text}
            if at + 1 < len(PATHS):
                self._ask(place, more, at + 1)
            else:
                self._put(place, more)

        hint = "Enter alone where there is none" if name in OPTIONAL else ""
        self.ask(f"{LABELS[name]}, strip {place + 1}", texts.get(name, ""), read, take, hint)

    def _put(self, place: int, texts: Mapping[str, str]) -> None:
        table = {name: strip_report.held(name, text, self.system) for name, text in texts.items()}
        row, there = strip_report.made(table, date.today()), self.strips
        self._keep({"strip": edit.replaced(there, place, row) if place < len(there) else (*there, row)})
        self.table.move_cursor(row=place)

    def action_delete(self) -> None:
        """Take the strip in hand away."""
        if self.some():
            place = self.table.place
            said = f"Strip {place + 1} was taken away"
            self.attempt(lambda: self._keep({"strip": edit.without(self.strips, place)}, said))

    # What was found

    def _keep(self, changes: dict[str, Any], said: str = "") -> None:
        """Write the mode with these changes, and solve the shot anew with it; raises BadInput."""
        kit = self.session.state.kit
        strip_report.keep(kit.camera, kit.mode, changes)
        self.session.reload_kit()
        self.changed(said)

    def action_save(self) -> None:
        """Store the value found, with its band and day, in the mode."""
        found = strip_report.report(self.answer)
        if found.fit is None:
            self.say(f"Nothing to store: {found.fault}", refused=True)
            return
        changes = strip_report.measured(found.fit, date.today())
        said = f"{number_text(found.fit.coc_mm, 3)} mm is stored in {self.answer.kit.mode.name}"
        self.attempt(lambda: self._keep(changes, f"{said}; p lets this shot go by it"))

    def action_put(self) -> None:
        """Let the shot's sharpness be as measured."""
        said = "The shot's sharpness is as measured; u undoes that"
        self.attempt(lambda: self.change({"focus.sharpness": "measured"}, said))
