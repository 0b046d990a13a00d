"""What a part is made of, and what the model stands by: a field a row, and with it what it comes to."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import on
from textual.binding import BindingType
from textual.widgets import DataTable

from forescale.engine.field_help import FIELD_HELP, prompt
from forescale.engine.parts.build_list import part_text
from forescale.engine.sheet.sections.build import stand
from forescale.engine.sheet.voice import Voice
from forescale.engine.shot import edit
from forescale.engine.shot.sections import Part, Stand
from forescale.engine.solve.cutting import cutting
from forescale.engine.units import WEIGHT, measure_text
from forescale.tui.tasks.frame.columns import Column, shortened
from forescale.tui.tasks.frame.rows_screen import RowsScreen
from forescale.tui.tasks.frame.verbs import UNDO, key
from forescale.tui.tasks.frame.widgets import Said

VALUE = 24  # columns that a value is given on a screen that has few


class FieldsScreen(RowsScreen[None]):
    """Some fields of the shot, a row each; Enter types one, nothing typed leaves it out."""

    ENTER = "type"
    LEAST = 20  # labels are not cut
    PATHS: tuple[str, ...] = ()
    BINDINGS: ClassVar[list[BindingType]] = [key("delete", "clear", "leave the selected field out"), *UNDO]

    def columns(self) -> list[Column]:
        """Return the fields, and what each holds."""
        helps, room = [FIELD_HELP[path] for path in self.PATHS], max(self.size.width - 24, VALUE)
        return [
            Column("field", "field", tuple(one.label for one in helps)),
            Column("now", "now", tuple(shortened(self.now(path) or "-", room) for path in self.PATHS)),
        ]

    def how(self, place: int) -> list[Said]:
        """Return what a field is."""
        return [FIELD_HELP[self.PATHS[place]].what]

    def at(self, path: str) -> str:
        """Return where a field stands in the shot."""
        return path

    def value(self, path: str) -> Any:
        """Return what a field holds."""
        return edit.value_at(self.shot, self.at(path))

    def now(self, path: str) -> str:
        """Return a field's value as people read it."""
        value, quantity = self.value(path), edit.quantity_of(type(self.shot), path)
        return value or "" if value is None or quantity is None else quantity.shown(value, self.system)

    def entry(self, path: str) -> str:
        """Return what stands at a field as an entry that reads back."""
        return edit.text_of(self.value(path), edit.quantity_of(type(self.shot), path), self.system)

    def read(self, path: str, text: str) -> tuple[Any, str]:
        """Return what a file would hold for an entry, and what is understood of it; raises ValueError."""
        quantity = edit.quantity_of(type(self.shot), path)
        held = edit.complete(quantity, text, self.system)
        return held, str(held) if quantity is None else quantity.shown(quantity.read(held), self.system)

    def hint(self, path: str) -> str:
        """Return what is to be known to type a value."""
        return f"{FIELD_HELP[path].enters} {FIELD_HELP[path].measure}"

    @on(DataTable.RowSelected)
    def _type(self) -> None:
        path = self.PATHS[self.table.place]

        def take(text: str) -> None:
            self.change({self.at(path): self.read(path, text)[0] if text.strip() else None})

        self.ask(
            prompt(path, self.system), self.entry(path), lambda text: self.read(path, text)[1], take, self.hint(path)
        )

    def action_delete(self) -> None:
        """Leave the field in hand out."""
        self.attempt(lambda: self.change({self.at(self.PATHS[self.table.place]): None}))


class StandScreen(FieldsScreen):
    """Will it stand: wind, weight, foot, a pull test."""

    TASK = "Will it stand"
    PATHS = tuple(f"stand.{name}" for name in Stand.model_fields)

    def gives(self) -> list[Said]:
        """Return what the fields come to, a sentence each."""
        said = stand(Voice(self.answer))
        return [f"{row.label}: {row.shown}{f'; {row.remark}' if row.remark else ''}" for row in said]


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
        return super().value(path) if self.place < len(self.shot.build) else None

    def gives(self) -> list[Said]:
        """Return what the part is cut to, and what it weighs."""
        if self.place >= len(self.answer.scale.build):
            return []
        weight = cutting(self.answer).pieces[self.place].weight_kg
        said = "" if weight is None else f"; all of them weigh {measure_text(weight, WEIGHT, self.system)}"
        return [f"{part_text(self.answer, self.answer.scale.build[self.place])}{said}"]
