"""Faults in what a user wrote, as data: where each stands, what is wrong, what would be right.

A file's reader and a command word one by `str`, with a file's names; a screen by `field_help.in_words`, with labels.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from textwrap import shorten
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

if TYPE_CHECKING:
    from pydantic import BaseModel

Model = TypeVar("Model", bound="BaseModel")
FieldPath = tuple[str | int, ...]  # of a field: its table, the row counted from 1 where there are rows, its name

_LONGEST_SHOWN = 60
MOST_TOLD, MOST_LOOKED_AT = 20, 100  # several faults of a value may be one line
# What is wrong and what would be right, by pydantic's word for it.
_SAYS = {"missing": ("is missing and is needed", ""), "string_too_short": ("is empty", "write something")}
_SAYS |= {"literal_error": ("{given} is not known", "write {expected}")}
_SAYS |= {"too_long": ("holds more than {max_length}", "leave some out")}
_TABLE = ("{given} should be a table of fields", "")
_SAYS |= dict.fromkeys(("model_type", "model_attributes_type", "dict_type"), _TABLE)
_SAYS |= dict.fromkeys(("list_type", "tuple_type"), ("{given} should be a list, or tables under double brackets", ""))
_WHOLE = ("{given} is not a whole number", "write it like 20")
_SAYS |= dict.fromkeys(("int_parsing", "int_type", "int_from_float", "int_parsing_size"), _WHOLE)
_SAYS |= dict.fromkeys(("bool_parsing", "bool_type"), ("{given} is not known", "write true or false"))


class At(str):
    """The path of a field in a sentence, `place.model`, which each surface writes its own way."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Sentence:
    """Words, with the fields that they name among them as `At`."""

    parts: tuple[str, ...]

    def spelt(self, called: Callable[[str], str]) -> str:
        """Return the sentence with every field as it is called."""
        return "".join(called(part) if isinstance(part, At) else part for part in self.parts)

    def __str__(self) -> str:
        """Return the sentence with the paths of fields."""
        return self.spelt(str)

    def __add__(self, more: Sentence | str) -> Sentence:
        """Return the sentence with more words after it."""
        return Sentence(self.parts + ((more,) if isinstance(more, str) else more.parts))


def sentence(*parts: str) -> Sentence:
    """Return the sentence made of these words and fields."""
    return Sentence(parts)


class Unfit(ValueError):
    """Values that do not go together, said by a record's validator: `wrong` may name fields by their path."""

    def __init__(self, *wrong: str, right: str = "") -> None:
        self.wrong, self.right = Sentence(wrong), right
        super().__init__(f"{self.wrong}; {right}" if right else str(self.wrong))


def refuse_twice(rows: str, names: Sequence[str]) -> None:
    """Raise Unfit where two of some rows, "rows of point", have one name."""
    if twice := next((name for name in names if names.count(name) > 1), None):
        raise Unfit(f'two {rows} are called "{twice}"', right="give each a name of its own")


class Fault(NamedTuple):
    """One fault: what is `wrong`, what would be `right`, and where."""

    wrong: str | Sentence
    right: str = ""
    path: FieldPath = ()  # () for none
    file: str = ""  # "" for the shot in hand
    of: str = ""  # what of things in hand

    @classmethod
    def at(cls, path: str | FieldPath, wrong: str | Sentence, right: str = "", *, file: str = "") -> Fault:
        """Return a fault at a field, its path `place.model` or, with a row, ("bench", 2, "slide")."""
        return cls(wrong, right, tuple(path.split(".")) if isinstance(path, str) else path, file)

    def under(self, path: str | FieldPath, file: str) -> Fault:
        """Return the fault of what a field names, as one of that field: with its own file, or in its words."""
        if self.file or self.path:
            return Fault.at(path, str(self), file=file)
        return Fault.at(path, self.wrong, self.right, file=file)

    def spelt(self, place: str, called: Callable[[str], str]) -> str:
        """Return the fault in one line, at a place in words and with every field as it is called."""
        wrong = self.wrong.spelt(called) if isinstance(self.wrong, Sentence) else self.wrong
        said = ": ".join(part for part in (self.file, self.of, place, wrong) if part)
        return f"{said}; {self.right}" if self.right else said

    def __str__(self) -> str:
        """Return the fault in one line, with the names that a file has."""
        section = f"{self.path[0]}." if self.path else ""
        return self.spelt(field_path(self.path), lambda path: path.removeprefix(section))


class BadInput(Exception):
    """One or more faults in what a user wrote; text is a fault of nothing in particular."""

    def __init__(self, *faults: Fault | str) -> None:
        self.faults = tuple(Fault(fault) if isinstance(fault, str) else fault for fault in faults)
        super().__init__("\n".join(self.lines))

    @classmethod
    def of(cls, path: object, wrong: str, right: str = "") -> BadInput:
        """Return a fault of a file as a whole, for raising."""
        return cls(Fault(wrong, right, file=str(path)))

    @property
    def lines(self) -> tuple[str, ...]:
        """A line a fault, as a file's reader and a command say it."""
        return tuple(map(str, self.faults))


class ChangedElsewhere(BadInput):
    """The file is not as it was when the work on it began."""


def first_of(faults: Sequence[Fault], count: int | None = None) -> list[Fault]:
    """Return the first twenty of some faults and, in one more, how many more there are of `count` in all."""
    told, count = list(faults[:MOST_TOLD]), len(faults) if count is None else count
    return told if count <= len(told) else [*told, Fault(f"and {count - len(told)} more faults")]


def nearest(word: str, known: Mapping[str, Any] | list[str]) -> str:
    """Return '; did you mean "X"?' for the nearest known spelling, or the known words when none is near."""
    from difflib import get_close_matches  # slow to load, and of no use to whoever spells well

    if close := get_close_matches(word, list(known), n=1):
        return f'did you mean "{close[0]}"?'
    return f"known here: {', '.join(known)}" if known else "nothing is known by any name here"


def field_path(path: FieldPath) -> str:
    """Return the path of a field as a user would write it: `place.model`, `build 2.real`."""
    text = ""
    for step in path:
        text += f" {step}" if isinstance(step, int) and text else f".{step}" if text else str(step)
    return text


def _is_branch(step: str) -> bool:
    """Tell pydantic's own labels of a union's branches from the names of fields."""
    return "[" in step or step in {"Rates", "float", "int", "str"}


def read_model(kind: type[Model], data: Mapping[str, Any], file: str = "") -> Model:
    """Validate `data` as `kind`, which a `file` holds or, "", what is in hand; raises BadInput with every fault."""
    try:
        return kind.model_validate(data)
    except ValueError as error:
        raise BadInput(*faults_of(error, kind, file)) from None


def faults_of(error: Exception, kind: type[BaseModel] | None = None, file: str = "") -> Sequence[Fault]:
    """Return what an error says, in this project's words also where pydantic raised it, of a `kind` if that is known.

    Whoever makes a record by its class has pydantic's error, whose own text is no user's.
    """
    from pydantic import ValidationError

    if isinstance(error, BadInput):
        return error.faults
    if not isinstance(error, ValidationError):
        return [Fault(str(error))]
    raw = error.errors(include_url=False)
    above = {one["loc"][:end] for one in raw for end in range(len(one["loc"]))}  # a list too short since its rows are
    raw = [one for one in raw if one["type"] != "too_short" or one["loc"] not in above]  # at fault goes unsaid
    faults = tuple(dict.fromkeys(_fault(kind, one, file) for one in raw[:MOST_LOOKED_AT]))
    return first_of(faults, len(faults) + max(len(raw) - MOST_LOOKED_AT, 0))


def _fault(kind: type[BaseModel] | None, fault: Any, file: str) -> Fault:
    """Return one of pydantic's; an unknown key in its path is the user's own word, whatever it looks like."""
    loc = fault["loc"]
    own = loc[-1:] if fault["type"] == "extra_forbidden" else ()
    steps = (step for step in loc[: len(loc) - len(own)] if isinstance(step, int) or not _is_branch(step))
    path = (*(step + 1 if isinstance(step, int) else step for step in steps), *map(str, own))
    return Fault(*_said(kind, fault), path, file)


def _said(kind: type[BaseModel] | None, fault: Any) -> tuple[str | Sentence, str]:
    given = shorten(repr(fault["input"]), _LONGEST_SHOWN, placeholder=" ...")
    said = fault.get("ctx", {})
    match fault["type"]:
        case "extra_forbidden":
            known = [] if kind is None else _keys(kind, fault["loc"][:-1])
            return "unknown key", nearest(str(fault["loc"][-1]), known)
        case "value_error" | "assertion_error":
            error = said.get("error")
            return getattr(error, "wrong", str(error)), getattr(error, "right", "")
        case "too_short":
            return f"holds {said['actual_length'] or 'nothing'}", f"it needs {said['min_length']} at least"
        case code if code in _SAYS:
            wrong, right = _SAYS[code]
            return wrong.format(given=given, **said), right.format(**said)
    plain = fault["msg"].removeprefix("Input ").replace("should be a valid", "it should be a").rstrip(".")
    return f"{given} does not fit: {plain}", ""


def _keys(kind: type[BaseModel], loc: tuple[str | int, ...]) -> list[str]:
    """Return the keys that are right at `loc` inside a `kind`, as they are written in a file."""
    for step in loc:
        if not isinstance(step, int) and not _is_branch(step):
            fields = (field for name, field in kind.model_fields.items() if step in {name, field.alias})
            kind = next((found for field in fields if (found := model_in(field.annotation))), kind)
    return [field.alias or name for name, field in kind.model_fields.items()]


def parts_of(annotation: Any) -> Iterator[Any]:
    """Yield an annotation and all that it is made of."""
    yield annotation
    for part in getattr(annotation, "__args__", ()):
        yield from parts_of(part)


def model_in(annotation: Any) -> type[BaseModel] | None:
    """Return the first record in an annotation."""
    return next((part for part in parts_of(annotation) if hasattr(part, "model_fields")), None)
