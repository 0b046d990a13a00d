"""What a part is made of, and what the model stands by: a field a row, and with it what it comes to."""

from typing import Any

from forescale.engine.findings.words import Words
from forescale.engine.parts.build_list import part_text
from forescale.engine.sheet.sections.build import stand
from forescale.engine.shot.sections import Part, Stand
from forescale.engine.solve.built import cutting
from forescale.engine.units import WEIGHT, measure_text
from forescale.tui.tasks.frame import FieldsScreen, Said


class StandScreen(FieldsScreen):
    """Will it stand: wind, weight, foot, a pull test."""

    TASK = "Will it stand"
    PATHS = tuple(f"stand.{name}" for name in Stand.model_fields)

    def gives(self) -> list[Said]:
        said = stand(Words(self.answer))
        return [f"{row.label}: {row.shown}{f'; {row.remark}' if row.remark else ''}" for row in said]


class PartScreen(FieldsScreen):
    """The sizes, the material and the pitch of one part."""

    TASK = "One part"
    PATHS = tuple(f"build.{name}" for name in Part.model_fields if name not in {"part", "real", "quantity"})

    def __init__(self, place: int) -> None:
        super().__init__()
        self.place = place

    def at(self, path: str) -> str:
        return path.replace("build.", f"build.{self.place + 1}.")

    def value(self, path: str) -> Any:
        return super().value(path) if self.place < len(self.shot.build) else None  # an undo may have taken it away

    def gives(self) -> list[Said]:
        if self.place >= len(self.answer.scale.build):
            return []
        weight = cutting(self.answer).pieces[self.place].weight_kg
        said = "" if weight is None else f"; all of them weigh {measure_text(weight, WEIGHT, self.system)}"
        return [f"{part_text(self.answer, self.answer.scale.build[self.place])}{said}"]
