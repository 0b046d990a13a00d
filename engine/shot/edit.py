"""Changing a shot as its file would be changed: by text at a field, validated as the file would be; lists row by row.

A field is named by its path, `place.model`. A bare number is read in the unit that the field shows.
"""

import math
import re
from collections.abc import Mapping
from functools import cache
from typing import Any, TypeVar

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from forescale.engine import units
from forescale.engine.fields.kind_table import KINDS
from forescale.engine.fields.kinds import Quantity, Sharpness
from forescale.engine.fields.ways import Carried
from forescale.engine.files.faults import BadInput, Fault, model_in, nearest, parts_of, read_model
from forescale.engine.shot.records import Setting
from forescale.engine.shot.sections import WAYS
from forescale.engine.units import EntryError, Stop, UnitSystem, off_the_marks

_FRACTION = re.compile(r"1\s*/\s*[\d.,]+")
_TURNS = ("move.sweep", "move.start")
SMALL_MM = 1.0  # a length that is shown in mm or in inches


def field_at(record: type[BaseModel], path: str) -> FieldInfo:
    """Return the field at `path` in a record, or in each row that it has there; raises KeyError where there is none."""
    head, _, rest = path.partition(".")
    if head.isdigit():
        return field_at(record, rest)
    for name, field in record.model_fields.items():
        if head in {name, field.alias}:
            inner = model_in(field.annotation)
            return field_at(inner, rest) if rest and inner else field
    raise KeyError(path)


@cache
def quantity_of(record: type[BaseModel], path: str) -> Quantity | None:
    """Return the kind and range of the field at `path` in a record, or None where it holds no number."""
    field = field_at(record, path)
    marks = [mark for one in parts_of(field.annotation) for mark in getattr(one, "__metadata__", ())]
    return next((mark for mark in (*field.metadata, *marks) if isinstance(mark, Quantity)), None)


def number_at(record: type[BaseModel], path: str) -> Quantity:
    """Return the kind and range of the field at `path`, which holds a number; raises KeyError where it does not."""
    if (quantity := quantity_of(record, path)) is None:
        raise KeyError(path)
    return quantity


def bare_unit(quantity: Quantity, system: UnitSystem, shown: float | None) -> str | None:
    """Return the unit in which a bare number is read: a length's is the one that it is shown in, the largest of two."""
    if quantity.in_mm:
        return "mm"
    shown = SMALL_MM if shown is None and quantity.high <= 1000 else shown  # what is never a metre is in mm or inches
    if quantity.kind == "length" and shown is not None and math.isfinite(shown):
        return next(word for word in units.length_text(shown, system).split() if word.isalpha())
    return KINDS[quantity.kind].bare.get(system)


def alone_means(quantity: Quantity | None, system: UnitSystem, shown: float | None = None) -> str:
    """Return what a number without a unit means at a field, for its prompt: "ft", "stops"; "" where it has no unit."""
    if quantity is None:
        return ""
    return "stops" if quantity.kind == "filter" else bare_unit(quantity, system, shown) or ""


def complete(quantity: Quantity | None, text: str, system: UnitSystem, shown: float | None = None) -> str | float:
    """Return what a file would hold for an entry: text with a unit, a number of a kind without; raises ValueError."""
    if quantity is None:
        return text.strip()
    if quantity.kind == "ratio":
        return quantity.show(quantity.read(text.strip()))
    if quantity.kind in {"number", "share", "filter"}:
        number = re.sub(rf"^{quantity.word}\s*|\s*{quantity.word}$", "", text.strip(), flags=re.IGNORECASE)
        return quantity.check(quantity.parse(number, None, system), text.strip(), system)
    plain, signed = quantity.without_way(text)
    value = signed(quantity.parse(plain, bare_unit(quantity, system, shown), system))
    return quantity.show(quantity.check(value, text.strip(), system), system)


def changed(setting: Setting, changes: Mapping[str, Any]) -> Setting:
    """Return the shot with these paths set to what a file would hold, None for left out; raises BadInput."""
    fields = type(setting).model_fields.items()
    held: dict[str, Any] = {field.alias or name: getattr(setting, name) for name, field in fields}
    for path, value in changes.items():
        section, _, key = path.partition(".")
        if section not in held:
            raise BadInput(Fault.at(path, "unknown field", nearest(section, held)))
        if isinstance(held[section], tuple) and key:
            _set_in_row(held, section, key, value)
            continue
        if key:
            held[section] = opened(held[section], path)
        put(held[section] if key else held, key or section, value)
    return read_model(type(setting), held)


def opened(section: Any, path: str) -> dict[str, Any]:
    """Return a section as a table whose fields can be set."""
    if isinstance(section, BaseModel):
        return section.model_dump(exclude_none=True, context={"units": "metric"})
    if isinstance(section, dict):
        return dict(section)
    raise BadInput(Fault.at(path, "has no fields of its own", f"set {path.partition('.')[0]} as a whole"))


def _set_in_row(held: dict[str, Any], section: str, key: str, value: Any) -> None:
    """Set a field of a row of a list, `bench.2.slide`, of the first without a number; one behind the last is made."""
    number, _, field = key.partition(".")
    place, rows = int(number) - 1 if number.isdigit() else 0, list(held[section])
    rows += [{}] if place == len(rows) else []
    if not 0 <= place < len(rows):
        raise BadInput(Fault.at(f"{section}.{key}", f"there is no row {number}", f"the list has {len(rows)}"))
    row = rows[place]
    rows[place] = dict(row) if isinstance(row, dict) else row.model_dump(exclude_defaults=True)
    put(rows[place], field if number.isdigit() else key, value)
    held[section] = tuple(row for row in rows if row)


def put(table: dict[str, Any], key: str, value: Any) -> None:
    table.pop(key, None)
    if value is not None:
        table[key] = value


def value_at(setting: Setting, path: str) -> Any:
    """Return what stands at a path of a shot, None where it is left open; without a number that of a list's first."""
    value: Any = setting
    for step in path.split("."):
        if isinstance(value, tuple):
            place = int(step) - 1 if step.isdigit() else 0
            value = value[place] if place < len(value) else None
            if step.isdigit():
                continue
        value = None if value is None else getattr(value, step)
    return value


def text_of(value: Any, quantity: Quantity | None, system: UnitSystem) -> str:
    """Return a field's value as an entry that reads back as the same value."""
    if value is None:
        return ""
    if isinstance(value, Stop):
        return units.stop_text(value.value, value.marks)
    if isinstance(value, Carried):
        return value.text(system)
    return quantity.show(value, system) if quantity is not None else str(value)


def with_example(path: str, setting: Setting, system: UnitSystem, shown: float | None) -> Quantity | None:
    """Return the quantity at `path`; a length has the one `shown` there for its example, which other fields allow."""
    quantity = quantity_of(type(setting), path)
    if quantity is None or quantity.kind != "length" or shown is None:
        return quantity
    return quantity._replace(example=quantity.shown(shown, system))


def entry(path: str, text: str, setting: Setting, system: UnitSystem, shown: float | None) -> tuple[Any, str]:
    """Return what a file would hold for an entry at `path`, and what was understood; raises ValueError or BadInput."""
    quantity = with_example(path, setting, system, shown)
    if quantity is None:
        if path == "focus.stop":
            held = text_of(units.parse_stop(text), None, system)
            return held, "; ".join(filter(None, (held, off_the_marks(text))))
        if path == "focus.sharpness":
            text = str(Sharpness.read(text))
        elif path == "move.travel":
            text = Carried.read(text, KINDS["length"].bare[system]).text(system)
        else:
            changed(setting, {path: text.strip()})
        return text.strip(), text.strip()
    if path in _TURNS and (way := WAYS[setting.move.axis][_TURNS.index(path)]):  # which goes without saying
        text = re.sub(rf"\s+(to the )?{way}\s*$", "", text, flags=re.IGNORECASE)
        quantity = quantity._replace(example=quantity.example.replace(' deg"', f' deg {way}"'))
    if path == "action.shutter":  # entered as a time, 1/250 s, it is an angle at the rate set
        fps = setting.action.fps
        late = "write an angle such as 180 deg; a time can be one only once the rate is set"
        try:
            seconds = units.parse_time(text)
        except EntryError:
            if _FRACTION.fullmatch(written := text.strip()):
                right = late if fps is None else f"write {written} s for a time"
                raise EntryError(f'"{written}" alone would be degrees', right) from None
            return understood(quantity, text, system, shown)
        if fps is None:
            raise EntryError(f"{text}: a shutter is an angle", late)
        text = f"{360 * seconds * fps!r} deg"
    return understood(quantity, text, system, shown)


def understood(quantity: Quantity, text: str, system: UnitSystem, shown: float | None = None) -> tuple[Any, str]:
    """Return what a file would hold for an entry, and what was understood; raises ValueError."""
    held = complete(quantity, text, system, shown)
    return held, quantity.shown(quantity.read(held), system)


AnyRow = TypeVar("AnyRow")


def inserted(rows: tuple[AnyRow, ...], place: int, row: AnyRow) -> tuple[AnyRow, ...]:
    """Return the rows with one more, which then stands at `place`."""
    return (*rows[:place], row, *rows[place:])


def replaced(rows: tuple[AnyRow, ...], place: int, row: AnyRow) -> tuple[AnyRow, ...]:
    """Return the rows with another at `place`."""
    return (*rows[:place], row, *rows[place + 1 :])


def without(rows: tuple[AnyRow, ...], place: int) -> tuple[AnyRow, ...]:
    """Return the rows without the one at `place`."""
    return (*rows[:place], *rows[place + 1 :])


def moved(rows: tuple[AnyRow, ...], place: int, step: int) -> tuple[AnyRow, ...]:
    """Return the rows with the one at `place` so many places on; beyond the first or last it stays."""
    return inserted(without(rows, place), place + step, rows[place]) if 0 <= place + step < len(rows) else rows
