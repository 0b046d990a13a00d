"""Test strips: one's own sharpness in the shot's mode, found from markers and kept in the camera's profile."""

from collections.abc import Iterator, Mapping
from datetime import date
from functools import partial
from typing import Any

from forescale.engine.bench import strip_report
from forescale.engine.bench.strip_report import LABELS, OPTIONAL, PATHS
from forescale.engine.kit.profiles import StripRow
from forescale.engine.shot import edit
from forescale.engine.units import number_text
from forescale.tui.tasks.frame import UNDO, Column, Question, RowsScreen, Said, key

HEADS = dict.fromkeys(("stop", "focus", "sharp_near", "soft_near", "sharp_far", "soft_far", "lens"), 1)
HEADS |= {"lens": 2, "focal_length": 2}  # what is told of a strip, and how soon it goes for want of room


class StripsScreen(RowsScreen[None]):
    TASK, ENTER = "Test strips", "change"
    EMPTY = "No test strip yet: a adds one, with what it was photographed with and its markers"
    LEAST = 5
    BINDINGS = [
        key("add", "add", "add a strip: what it was photographed with, and its markers"),
        key("delete", "delete", "take away the selected strip"),
        key("save", "store", "store what was found as the mode's own sharpness"),
        key("put", "use it", "let the shot's sharpness be as measured"),
        *UNDO,
    ]

    @property
    def records(self) -> tuple[StripRow, ...]:
        return self.answer.kit.mode.strip

    def columns(self) -> list[Column]:
        found, count = strip_report.report(self.answer), len(self.records)
        bounds = (" to ".join("?" if end is None else number_text(end, 3) for end in ends) for ends in found.bounds)
        columns = [Column("strip", "strip", tuple(str(place + 1) for place in range(count)))]
        columns.append(Column("c", "c, mm", tuple(bounds)))
        for name, goes in HEADS.items():
            cells = tuple(strip_report.shown(row, name, self.system) for row in self.records)
            label = name.replace("_", " ")
            columns.append(Column(name, "mm" if name == "focal_length" else label, cells, goes, alone=label))
        return columns

    def gives(self) -> Iterator[Said]:
        yield from (("note", line) for line in strip_report.told(self.answer, strip_report.report(self.answer)))
        mode = self.answer.kit.mode
        if mode.sharpness is not None:
            yield "note", f"Stored in {mode.name}: {number_text(mode.sharpness, 3)} mm"

    def action_add(self) -> None:
        self._ask_strip(len(self.records), strip_report.fresh(self.answer))

    def enter(self) -> None:
        row, quantities = self.records[self.table.place], {name: edit.quantity_of(StripRow, name) for name in PATHS}
        texts = {name: edit.text_of(getattr(row, name), one, self.system) for name, one in quantities.items()}
        self._ask_strip(self.table.place, texts)

    def _ask_strip(self, place: int, texts: Mapping[str, str]) -> None:
        def question(name: str, *typed: str) -> Question:
            def read(text: str) -> str:
                value = strip_report.held(name, text, self.system)
                strip_report.check(dict(zip(PATHS, (*typed, text), strict=False)), self.system)
                return str(value)

            hint = "Enter alone where there is none" if name in OPTIONAL else ""
            return Question(f"{LABELS[name]}, strip {place + 1}", read, texts.get(name, ""), hint)

        def put(*typed: str) -> None:
            held = {name: strip_report.held(name, text, self.system) for name, text in zip(PATHS, typed, strict=True)}
            self._keep({"strip": edit.replaced(self.records, place, strip_report.made(held, date.today()))})
            self.table.move_cursor(row=place)

        self.ask_each([partial(question, name) for name in PATHS], put)

    def action_delete(self) -> None:
        if self.some():
            place = self.table.place
            said = f"Strip {place + 1} was taken away"
            self.attempt(lambda: self._keep({"strip": edit.without(self.records, place)}, said))

    def _keep(self, changes: dict[str, Any], said: str = "") -> None:
        """Write the mode with these changes, and solve the shot anew with it; raises BadInput."""
        kit = self.session.state.kit
        strip_report.keep(kit.camera, kit.mode, changes)
        self.session.reload_kit()
        self.changed(said)

    def action_save(self) -> None:
        found = strip_report.report(self.answer)
        if found.fit is None:
            self.say(f"Nothing to store: {found.fault}", refused=True)
            return
        changes = strip_report.measured(found.fit, date.today())
        said = f"{number_text(found.fit.coc_mm, 3)} mm is stored in {self.answer.kit.mode.name}"
        self.attempt(lambda: self._keep(changes, f"{said}; p lets this shot go by it"))

    def action_put(self) -> None:
        said = "The shot's sharpness is as measured; u undoes that"
        self.attempt(lambda: self.change({"focus.sharpness": "measured"}, said))
