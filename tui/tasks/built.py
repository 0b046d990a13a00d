"""What a part is made of, and what the model stands by: a field a row, and below what it comes to."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.sheet.sections.build import stand
from forescale.engine.sheet.voice import Voice
from forescale.engine.shot import edit
from forescale.engine.shot.sections import Part, Stand
from forescale.tui.glyphs import plain
from forescale.tui.runs import Row, Rows
from forescale.tui.tasks.frame import columns
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable
from forescale.tui.wrapped import wrapped

AROUND = 6  # lines that title, what is asked and the footer need


class FieldsScreen(TaskScreen[None]):
    """Some fields of the shot, a row each; Enter types one, nothing typed leaves it out."""

    ENTER = "type"
    PATHS: tuple[str, ...] = ()
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("x", "clear", "clear", tooltip="leave the selected field out"),
        Binding("u", "undo", "undo", tooltip="undo the last change"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    def body(self) -> ComposeResult:
        """The table, and below it what the fields come to."""
        yield TaskTable(id="fields")
        yield Rows(id="comes-to")

    def on_resize(self, event: object) -> None:
        """Fit the words to the new width."""
        super().on_resize(event)  # type: ignore[arg-type]
        self.fill()

    def fill(self) -> None:
        """List the fields, and say what they come to."""
        width, helps = self.size.width - 2, [FIELD_HELP[path] for path in self.PATHS]
        table = [
            Column("field", "field", tuple(one.label for one in helps)),
            Column("now", "now", tuple(self.now(path) or "-" for path in self.PATHS)),
            Column("what", "what it is", tuple(one.what for one in helps), 2),
        ]
        columns.show(self.query_one(TaskTable), columns.fitted(table, width), self.forescale.glyphs)
        lines = [line for text in self.comes_to() for line in wrapped(text, width)]
        said = self.query_one("#comes-to", Rows)
        said.styles.height = max(min(len(lines), self.size.height - AROUND - len(self.PATHS)), 1)
        told: list[Row] = [((f" {plain(line, self.forescale.glyphs)}", "answer"),) for line in lines]
        said.show(tuple(told))

    @property
    def path(self) -> str:
        """The field in hand."""
        return self.PATHS[self.query_one(TaskTable).cursor_row]

    def at(self, path: str) -> str:
        """Return where a field stands in the shot."""
        return path

    def value(self, path: str) -> Any:
        """Return what a field holds."""
        return edit.value_at(self.session.state.shot, self.at(path))

    def comes_to(self) -> list[str]:
        """Return what the fields come to, a sentence each."""
        found = stand(Voice(self.session.state.answer))
        said = found.blocks if found else ()
        return [f"{row.label}: {row.shown}{f'; {row.remark}' if row.remark else ''}" for row in said]  # type: ignore[union-attr]

    def now(self, path: str) -> str:
        """Return a field's value as people read it."""
        value, quantity = self.value(path), edit.quantity_of(type(self.session.state.shot), path)
        if value is None or quantity is None:
            return value or ""
        return quantity.shown(value, self.session.state.answer.system)

    @on(DataTable.RowSelected)
    def _type(self) -> None:
        path, system = self.path, self.session.state.answer.system
        quantity = edit.quantity_of(type(self.session.state.shot), path)
        value = self.value(path)

        def held(text: str) -> Any:
            return edit.complete(quantity, text, system, value)

        def read(text: str) -> str:
            return str(held(text)) if quantity is None else quantity.shown(quantity.read(held(text)), system)

        def take(text: str) -> None:
            self._put(path, held(text) if text.strip() else None)

        help_on = FIELD_HELP[path]
        self.ask(
            help_on.label, edit.text_of(value, quantity, system), read, take, f"{help_on.enters} {help_on.measure}"
        )

    def _put(self, path: str, held: Any) -> None:
        self.session.apply({self.at(path): held})
        self.forescale.changed()
        self.fill()

    def action_clear(self) -> None:
        """Leave the field in hand out."""
        self.attempt(lambda: self._put(self.path, None))


class StandScreen(FieldsScreen):
    """Will it stand: wind, weight, foot, a pull test."""

    TASK = "Will it stand"
    PATHS = tuple(f"stand.{name}" for name in Stand.model_fields)


class PartScreen(FieldsScreen):
    """The sizes, the material and the pitch of one part."""

    TASK = "One part"
    PATHS = tuple(f"build.{name}" for name in Part.model_fields if name not in {"part", "real", "quantity"})

    def __init__(self, place: int) -> None:
        super().__init__()
        self.place = place

    def at(self, path: str) -> str:
        """Return where the part's field stands."""
        return path.replace("build.", f"build.{self.place + 1}.")

    def value(self, path: str) -> Any:
        """Return what the part holds there, nothing where an undo has taken it away."""
        return super().value(path) if self.place < len(self.session.state.shot.build) else None

    def comes_to(self) -> list[str]:
        """Return the part's weight, and what it is cut to."""
        from forescale.engine.parts.build_list import part_text
        from forescale.engine.solve.cutting import cutting
        from forescale.engine.units import WEIGHT, measure_text

        answer, place = self.session.state.answer, self.place
        if place >= len(answer.scale.build):
            return []
        weight = cutting(answer).pieces[place].weight_kg
        said = "" if weight is None else f"; all of them weigh {measure_text(weight, WEIGHT, answer.system)}"
        return [f"{part_text(answer, answer.scale.build[place])}{said}"]
