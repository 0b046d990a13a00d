"""Test strips: one's own sharpness in the shot's mode, found from markers and kept in the camera's profile."""

from __future__ import annotations

from datetime import date
from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.answer import Answer
from forescale.engine.bench import strip_report
from forescale.engine.bench.strip_report import LABELS, OPTIONAL, PATHS
from forescale.engine.kit.profiles import StripRow
from forescale.engine.shot import edit
from forescale.engine.units import number_text
from forescale.tui.glyphs import plain
from forescale.tui.tasks.frame.columns import Column, fitted, show
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen, TaskTable
from forescale.tui.wrapped import wrapped


class StripScreen(TaskScreen[None]):
    """The strips of the mode above, what they have in common below."""

    TASK = "Test strips"
    ENTER = "change"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add", "add", tooltip="add a strip: what it was photographed with, and its markers"),
        Binding("x", "delete", "delete", tooltip="take away the selected strip"),
        Binding("s", "store", "store", tooltip="store what was found as the mode's own sharpness"),
        Binding("m", "use", "use it", tooltip="let the shot's sharpness be as measured"),
        Binding("u", "undo", "undo", tooltip="undo the last change of the shot"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    @property
    def answer(self) -> Answer:
        """The present answer."""
        return self.session.state.answer

    @property
    def strips(self) -> tuple[StripRow, ...]:
        """The strips of the shot's mode."""
        return self.answer.kit.mode.strip

    def body(self) -> ComposeResult:
        """The strips, and what they say."""
        yield TaskTable(id="strips")
        yield TaskPage(id="found")

    def on_resize(self, event: events.Resize) -> None:
        """Fit both to the new width."""
        super().on_resize(event)
        self.fill()

    def fill(self) -> None:
        """Show the strips and what they have in common."""
        found, count = strip_report.report(self.answer), len(self.strips)
        texts = [strip_report.row_texts(self.answer, place) for place in range(count)]
        order = ("stop", "focus", "sharp_near", "soft_near", "sharp_far", "soft_far", "lens", "focal_length")
        heads = {"stop": "stop", "focus": "focus", "sharp_near": "sharp", "soft_near": "soft"}
        heads |= {"sharp_far": "sharp far", "soft_far": "soft far", "lens": "lens", "focal_length": "f"}
        columns = [Column("strip", "strip", tuple(str(place + 1) for place in range(count)))]
        for name in order:
            cells = tuple(text[PATHS.index(name)] for text in texts)
            columns.append(Column(name, heads[name], cells, 1 + ("lens" in name or "length" in name)))
        bounds = tuple(
            " to ".join("?" if end is None else number_text(end, 3) for end in ends) for ends in found.bounds
        )
        columns.insert(1, Column("c", "c, mm", bounds))
        table = self.query_one(TaskTable)
        show(table, fitted(columns, self.size.width - 1, 3), self.forescale.glyphs)
        table.styles.height = min(count + 1, max(self.size.height // 2, 4))
        mode = self.answer.kit.mode
        lines = strip_report.told(self.answer, found)
        if mode.sharpness is not None:
            lines.append(f"Stored in {mode.name}: {number_text(mode.sharpness, 3)} mm")
        width, glyphs = max(self.size.width - 3, 20), self.forescale.glyphs
        wrapped_lines = [one for line in lines for one in wrapped(plain(line, glyphs), width, lead=f"{glyphs.note} ")]
        self.query_one("#found", TaskPage).show("\n".join(wrapped_lines))

    # Strips

    def action_add(self) -> None:
        """Ask for a new strip, field by field."""
        self._ask(len(self.strips), dict(strip_report.fresh(self.answer)), 0)

    @on(DataTable.RowSelected)
    def _edit(self) -> None:
        """Ask for the strip in hand anew."""
        place = self.query_one(TaskTable).cursor_row
        shown = strip_report.row_texts(self.answer, place)
        self._ask(place, {name: "" if text == "-" else text for name, text in zip(PATHS, shown, strict=True)}, 0)

    def _ask(self, place: int, texts: dict[str, str], at: int) -> None:
        name, system = PATHS[at], self.answer.system

        def take(text: str) -> None:
            strip_report.held(name, text, system)
            more = texts | {name: text}
            if at + 1 < len(PATHS):
                self._ask(place, more, at + 1)
            else:
                self._put(place, more)

        hint = "Enter alone where there is none" if name in OPTIONAL else ""
        self.ask(LABELS[name], texts.get(name, ""), lambda text: str(strip_report.held(name, text, system)), take, hint)

    def _put(self, place: int, texts: dict[str, str]) -> None:
        table = {name: strip_report.held(name, text, self.answer.system) for name, text in texts.items()}
        row = strip_report.made(table, date.today())
        there = self.strips
        self._keep({"strip": edit.replaced(there, place, row) if place < len(there) else (*there, row)})
        self.say("")

    def action_delete(self) -> None:
        """Take the strip in hand away."""
        if not self.strips:
            self.say("There is no strip to take away")
            return
        place = self.query_one(TaskTable).cursor_row
        if self.attempt(lambda: self._keep({"strip": edit.without(self.strips, place)})):
            self.say(f"Strip {place + 1} was taken away")

    # What was found

    def _keep(self, changes: dict[str, Any]) -> None:
        """Write the mode with these changes, and solve the shot anew with it; raises BadInput."""
        kit = self.session.state.kit
        strip_report.keep(kit.camera, kit.mode, changes)
        self.session.reload_kit()
        self.fill()

    def action_store(self) -> None:
        """Store the value found, with its band and day, in the mode."""
        found = strip_report.report(self.answer)
        if found.fit is None:
            self.say(f"Nothing to store: {found.fault}", refused=True)
            return
        fit = found.fit
        if self.attempt(lambda: self._keep(strip_report.measured(fit, date.today()))):
            told = f"{number_text(fit.coc_mm, 3)} mm is stored in {self.answer.kit.mode.name}"
            self.say(f"{told}; m lets this shot go by it")

    def action_use(self) -> None:
        """Let the shot's sharpness be as measured."""
        if self.attempt(lambda: self.session.apply({"focus.sharpness": "measured"})):
            self.say("The shot's sharpness is as measured; u undoes that")
