"""Random shots and kits for the tests that hold for all of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any, get_args, get_origin

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy, composite
from pydantic import BaseModel

from engine import edit
from engine.fields import Quantity, Sharpness
from engine.shot import ActionKind, Axis, Rounding, Setting, Shot
from engine.units import Stop, third_stops

SECTIONS = ("kit", "scale", "action", "place", "focus", "light", "move", "survey", "limits")
CHOICES: dict[str, tuple[str, ...]] = {
    "action.kind": get_args(ActionKind),
    "move.axis": get_args(Axis),
    "scale.rounding": get_args(Rounding),
}


def paths() -> Iterator[str]:
    """Every field of the sections of a shot that are tables, by its path."""
    for section in SECTIONS:
        kind = Setting.model_fields[section].annotation
        assert isinstance(kind, type)
        assert issubclass(kind, BaseModel)
        fields = kind.model_fields.items()
        yield from (f"{section}.{name}" for name, field in fields if get_origin(field.annotation) is not tuple)


def marked_stops() -> SearchStrategy[Stop]:
    """Stops as marked, and as measured."""
    marks = st.sampled_from([None, "f", "T"])
    marked = st.builds(Stop, st.sampled_from(third_stops(1, 64)), marks, st.just(True))
    return marked | st.builds(Stop, st.floats(0.5, 256), marks, st.just(False)).filter(_is_between_marks)


def _is_between_marks(stop: Stop) -> bool:
    return abs(6 * math.log2(stop.value) - round(6 * math.log2(stop.value))) > 1e-9


def sharpnesses() -> SearchStrategy[Sharpness]:
    return (
        st.builds(Sharpness, st.just("diagonal"), st.floats(100, 20000))
        | st.builds(Sharpness, st.just("length"), st.floats(0.0005, 1))
        | st.builds(Sharpness, st.just("pixels"), st.floats(0.25, 100))
    )


def values_of(path: str) -> SearchStrategy[Any] | None:
    """Values that the field at a path may hold, None for a free text."""
    if path == "focus.stop":
        return marked_stops()
    if path == "focus.sharpness":
        return sharpnesses()
    if path in CHOICES:
        return st.sampled_from(CHOICES[path])
    quantity = edit.quantity_of(Shot, path)
    return None if quantity is None else numbers(quantity)


def numbers(quantity: Quantity) -> SearchStrategy[float]:
    plain = st.floats(quantity.low, quantity.high)
    return plain | st.just(math.inf) if quantity.infinite else plain


@composite
def field_values(draw: DrawFn) -> tuple[str, Any]:
    """A field of a shot by its path, and a value that it may hold."""
    path = draw(st.sampled_from([path for path in paths() if values_of(path) is not None]))
    strategy = values_of(path)
    assert strategy is not None
    return path, draw(strategy)
