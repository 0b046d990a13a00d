"""Frozen results as plain JSON: infinity is null with `KEY_infinite` true beside it, unknown is null."""

import dataclasses
import math
from typing import Any

from pydantic import BaseModel


def jsonable(value: Any) -> Any:
    """Return `value` as what the json module writes without ever writing NaN or Infinity."""
    if hasattr(value, "_asdict"):  # a named tuple, or a finding
        return _table(value._asdict())
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return _table({field.name: getattr(value, field.name) for field in dataclasses.fields(value)})
    if isinstance(value, BaseModel):
        return _table({name: getattr(value, name) for name in type(value).model_fields})
    if isinstance(value, dict):
        return _table(value)
    if isinstance(value, frozenset):
        return sorted(value)
    if isinstance(value, list | tuple):
        return [jsonable(item) for item in value]
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    return value if value is None or isinstance(value, bool | int | str) else str(value)


def _table(fields: dict[str, Any]) -> dict[str, Any]:
    table: dict[str, Any] = {}
    for key, value in fields.items():
        table[key] = jsonable(value)
        if isinstance(value, float) and math.isinf(value):
            table[f"{key}_infinite"] = True
    return table
