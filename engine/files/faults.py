"""Bad input, said in one line a fault: where it stands, what is wrong, what would be right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from textwrap import shorten
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError

Model = TypeVar("Model", bound=BaseModel)

_LONGEST_SHOWN = 60
MOST_TOLD, MOST_LOOKED_AT = 20, 100  # several faults of a value may be one line


class BadInput(Exception):
    """One or more faults in what a user wrote; each is one line, ready to print."""

    def __init__(self, *faults: str) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


class ChangedElsewhere(BadInput):
    """The file is not as it was when the work on it began."""


def first_of(faults: Sequence[str], count: int | None = None) -> list[str]:
    """Return the first twenty of some faults and, in a line, how many more there are of `count` in all."""
    told, count = list(faults[:MOST_TOLD]), len(faults) if count is None else count
    return told if count <= len(told) else [*told, f"and {count - len(told)} more faults"]


def nearest(word: str, known: Mapping[str, Any] | list[str]) -> str:
    """Return '; did you mean "X"?' for the nearest known spelling, or the known words when none is near."""
    from difflib import get_close_matches  # slow to load, and of no use to whoever spells well

    close = get_close_matches(word, list(known), n=1)
    if close:
        return f'did you mean "{close[0]}"?'
    return f"known here: {', '.join(known)}" if known else "nothing is known by any name here"


def field_path(loc: tuple[str | int, ...]) -> str:
    """Return the place of a fault as a user would write it: `place.model`, `build 2, real`."""
    parts: list[str] = []
    for step in loc:
        if isinstance(step, int):
            parts[-1:] = [f"{parts[-1] if parts else 'entry'} {step + 1}"]
        elif not _is_branch(step):
            parts.append(step)
    return ".".join(parts)


def _is_branch(step: str) -> bool:
    """Tell pydantic's own labels of a union's branches from the names of fields."""
    return "[" in step or step in {"Rates", "float", "int", "str"}


def read_model(kind: type[Model], data: Mapping[str, Any], where: str) -> Model:
    """Validate `data` as `kind`.

    Raises BadInput with one line a fault, each beginning with `where` (a file, or what stands for one).
    """
    try:
        return kind.model_validate(data)
    except ValidationError as error:
        faults = error.errors(include_url=False)
        lines = dict.fromkeys(islice(_lines(kind, faults, where), MOST_LOOKED_AT))
        more = max(len(faults) - MOST_LOOKED_AT, 0)
        raise BadInput(*first_of(tuple(lines), len(lines) + more)) from None


def _lines(kind: type[BaseModel], faults: Sequence[Any], where: str) -> Iterator[str]:
    for fault in faults:
        place = _place(fault)
        yield f"{where}: {place}: {_text(kind, fault)}" if place else f"{where}: {_text(kind, fault)}"


def _place(fault: Any) -> str:
    """Return the place of a fault; an unknown key is the user's own word, whatever it looks like."""
    *above, last = fault["loc"] or [""]
    if fault["type"] != "extra_forbidden":
        return field_path(fault["loc"])
    return ".".join(part for part in (field_path(tuple(above)), str(last)) if part)


def _text(kind: type[BaseModel], fault: Any) -> str:
    given = shorten(repr(fault["input"]), _LONGEST_SHOWN, placeholder=" ...")
    match fault["type"]:
        case "extra_forbidden":
            return f"unknown key; {nearest(str(fault['loc'][-1]), _keys(kind, fault['loc'][:-1]))}"
        case "missing":
            return "is missing and is needed"
        case "value_error" | "assertion_error":
            return str(fault["ctx"]["error"])
        case "literal_error":
            return f"{given} is not known; write {fault['ctx']['expected']}"
        case "model_type" | "model_attributes_type" | "dict_type":
            return f"{given} should be a table of fields"
        case "list_type" | "tuple_type":
            return f"{given} should be a list, or tables under double brackets"
        case "string_too_short":
            return "is empty; write something"
        case _:
            return f"{given} does not fit: {_plain(fault['msg'])}"


def _plain(message: str) -> str:
    return message.removeprefix("Input ").replace("should be a valid", "it should be a").rstrip(".")


def _keys(kind: type[BaseModel], loc: tuple[str | int, ...]) -> list[str]:
    """Return the keys that are right at `loc` inside a `kind`, as they are written in a file."""
    here: type[BaseModel] = kind
    for step in loc:
        if isinstance(step, int) or _is_branch(step):
            continue
        for name, field in here.model_fields.items():
            if step in {name, field.alias}:
                here = _model_in(field.annotation) or here
    return [field.alias or name for name, field in here.model_fields.items()]


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for part in get_args(annotation) if (found := _model_in(part))), None)
