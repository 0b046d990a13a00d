"""What a pane holds, before anyone knows how large it will be: fields, answers, diagrams and a verdict."""

from collections.abc import Mapping
from typing import NamedTuple

from forescale.engine.answer import Answer, Finding
from forescale.engine.answer.to_set import ToSet, to_set
from forescale.engine.findings.focus import CODES as HAIRS
from forescale.engine.solve.record import Level, Pane
from forescale.engine.units import UnitSystem, tape_text
from forescale.tui.diagrams.canvas import Drawing

_WORDS: dict[Level, str] = {"ok": "holds", "note": "holds by a hair", "warn": "look", "stop": "fails"}


class FieldRow(NamedTuple):
    """A field that can be set here, and what stands beside it."""

    path: str
    hint: str = ""


class AnswerRow(NamedTuple):
    """A line of answers, its chief number's key, its short form of a line or two; a name in front gives way to it."""

    text: str
    key: str = ""
    brief: str = ""
    name: str = ""


class PaneContent(NamedTuple):
    """One pane: its fields, what else is set by hand, and answers and diagrams in order of worth."""

    fields: tuple[FieldRow, ...]
    more_fields: tuple[FieldRow, ...]
    answers: tuple[AnswerRow, ...]
    diagrams: tuple[Drawing, ...]
    to_set: tuple[ToSet, ...] = ()


def fields(paths: str, hints: Mapping[str, str]) -> tuple[FieldRow, ...]:
    """Return the fields at these paths, with blanks between them, and what stands beside each."""
    return tuple(FieldRow(path, hints.get(path, "")) for path in paths.split())


def set_here(answer: Answer, *paths: str) -> tuple[ToSet, ...]:
    """Return what is set by hand, no field of the shot, that stands at one of these paths."""
    return tuple(item for item in to_set(answer) if item.path in paths)


def reason(answer: Answer, pane: Pane) -> str:
    """Return in few words why a pane does not simply hold; nothing where it does."""
    gravest = _gravest(answer, pane)
    return "" if gravest is None else gravest.short or gravest.text


def verdict_of(answer: Answer, pane: Pane) -> tuple[Level, str]:
    """Return how a pane stands, as the level that gives the sign, and in a word; notes on other things do not count."""
    gravest = _gravest(answer, pane)
    level: Level = "ok" if gravest is None else gravest.level
    return level, _WORDS[level]


def _gravest(answer: Answer, pane: Pane) -> Finding | None:
    """Return what most keeps a pane from simply holding."""
    counting = (one for one in answer.findings if one.level in {"warn", "stop"} or one.code in HAIRS)
    return next((one for one in counting if one.pane == pane), None)


def length(mm: float | None, system: UnitSystem) -> str:
    """Return a length for a pane, as a tape is read there."""
    return "not known" if mm is None else tape_text(mm, system)
