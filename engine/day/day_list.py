"""The list of the day: its fields, lamps and cues, a row each, and what may be typed there."""

from collections.abc import Mapping
from datetime import datetime
from operator import attrgetter
from typing import Any, Literal, NamedTuple

from pydantic import BaseModel

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
    found = [DayLine(FIELD_HELP[path].label, _shown(answer.setting, path, answer.system), path) for path in PATHS]
    for rows, kind in _KINDS.items():
        for place, row in enumerate(getattr(answer.setting, rows)):
            set_here = [name for name in names_of(rows)[1:] if getattr(row, name) != kind.model_fields[name].default]
            texts = [f"{FIELD_HELP[f'{rows}.{name}'].label} {_shown(row, name, answer.system)}" for name in set_here]
            found.append(DayLine(f"{rows} {row.name}", ", ".join(texts), rows=rows, place=place))
    return tuple(found)


def _shown(of: BaseModel, path: str, system: UnitSystem) -> str:
    """Return a field as people read it in these units; a dash for nothing."""
    value, quantity = attrgetter(path)(of), edit.quantity_of(type(of), path)
    if isinstance(value, datetime):
        return value.isoformat(" ", "minutes")
    return "-" if value is None else quantity.shown(value, system) if quantity else edit.text_of(value, None, system)


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
    return edit.complete(edit.quantity_of(kind, name), text, system)


def made(rows: RowKind, table: Mapping[str, Any]) -> Lamp | Cue:
    """Return a lamp or a cue of what a file would hold; raises BadInput."""
    return read_model(_KINDS[rows], {name: value for name, value in table.items() if value is not None})


def by_the_clock(now: datetime) -> dict[str, Any]:
    """Return the changes that set day, time and offset to those of a clock with its zone."""
    offset, seconds = now.utcoffset(), now.hour * 3600.0 + now.minute * 60
    changes = {"sun.date": now.date().isoformat(), "sun.time": clock_text(seconds)}
    return changes if offset is None else changes | {"sun.utc_offset": offset_text(offset.total_seconds())}
