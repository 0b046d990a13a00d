"""The list of the day: its fields, lamps and cues, a row each, and what may be typed there."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any, Literal, NamedTuple

from forescale.engine.answer import Answer
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.files.faults import read_model
from forescale.engine.shot import edit
from forescale.engine.shot.records import MOST_LAMPS, Cue, Lamp, Sun
from forescale.engine.shot.sections import Action, LightSet
from forescale.engine.units import EntryError, UnitSystem, quoted
from forescale.engine.units.compass import clock_text, offset_text

RowKind = Literal["lamp", "cue"]
_KINDS: dict[RowKind, type[Lamp] | type[Cue]] = {"lamp": Lamp, "cue": Cue}
PATHS = (
    *(f"sun.{name}" for name in Sun.model_fields),
    *(f"light.{name}" for name in LightSet.model_fields if name in {"available", "at_background"} or "kelvin" in name),
    *(f"action.{name}" for name in Action.model_fields if name in {"fall", "swing", "topple", "fire_width"}),
)
NEEDED = {"lamp": ("name", "gives", "at"), "cue": ("name", "screen")}


class DayLine(NamedTuple):
    """A row of the list: a field by its path, or a lamp or cue by its place."""

    label: str
    value: str
    path: str = ""
    rows: RowKind | None = None
    place: int = 0


def lines(answer: Answer) -> tuple[DayLine, ...]:
    """Return every row of the list, fields first."""
    found = [DayLine(FIELD_HELP[path].label, field_text(answer, path) or "-", path) for path in PATHS]
    for rows in _KINDS:
        for place, row in enumerate(getattr(answer.setting, rows)):
            fields = {name: field for name, field in type(row).model_fields.items() if name != "name"}
            set_here = [name for name, field in fields.items() if getattr(row, name) != field.default]
            texts = [(FIELD_HELP[f"{rows}.{name}"].label, row_text(row, name, answer.system)) for name in set_here]
            shown = ", ".join(f"{label} {text}" for label, text in texts if text)
            found.append(DayLine(f"{rows} {row.name}", shown, rows=rows, place=place))
    return tuple(found)


def field_text(answer: Answer, path: str) -> str:
    """Return what stands at a field, as an entry that reads back as the same; empty for nothing."""
    value = edit.value_at(answer.setting, path)
    if isinstance(value, datetime):
        return value.isoformat(" ", "minutes")
    return edit.text_of(value, edit.quantity_of(type(answer.setting), path), answer.system)


def row_text(row: Lamp | Cue, name: str, system: UnitSystem) -> str:
    """Return one field of a lamp or cue as an entry; empty for nothing."""
    return edit.text_of(getattr(row, name), edit.quantity_of(type(row), name), system)


def names_of(rows: RowKind) -> tuple[str, ...]:
    """Return the fields of a lamp or a cue in the order in which they are asked for."""
    return tuple(_KINDS[rows].model_fields)


def held(rows: RowKind, name: str, text: str, system: UnitSystem) -> Any:
    """Return what a file would hold for an entry in a lamp or cue, None for an empty one; raises ValueError."""
    kind = _KINDS[rows]
    if not text.strip():
        if name in NEEDED[rows]:
            raise ValueError(f"{FIELD_HELP[f'{rows}.{name}'].label} is needed")
        return None
    if name == "number":
        if not text.strip().isdecimal() or not 1 <= int(text) <= MOST_LAMPS:
            raise EntryError(f"{quoted(text)} is no number of lamps", f"write a whole number from 1 to {MOST_LAMPS}")
        return int(text)
    quantity = edit.quantity_of(kind, name)
    return text.strip() if quantity is None else edit.complete(quantity, text, system)


def made(rows: RowKind, table: Mapping[str, Any]) -> Lamp | Cue:
    """Return a lamp or a cue of what a file would hold; raises BadInput."""
    return read_model(_KINDS[rows], {name: value for name, value in table.items() if value is not None})


def table_of(row: Lamp | Cue) -> dict[str, Any]:
    """Return what a file holds of a lamp or a cue."""
    return row.model_dump(exclude_none=True, exclude_defaults=True, context={"units": "metric"})


def by_the_clock(now: datetime) -> dict[str, Any]:
    """Return the changes that set day, time and offset to those of a clock with its zone."""
    offset = now.utcoffset()
    seconds = now.hour * 3600.0 + now.minute * 60
    changes = {"sun.date": now.date().isoformat(), "sun.time": clock_text(seconds)}
    return changes if offset is None else changes | {"sun.utc_offset": offset_text(offset.total_seconds())}
