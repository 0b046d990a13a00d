"""The texts in the diagrams: distances with their letters, each also in a shorter form."""

from __future__ import annotations

from typing import Protocol

from forescale.engine.answer import Answer
from forescale.engine.units import UnitSystem, tape_text
from forescale.tui.glyphs import Glyphs

WHOLE_INCHES_FROM_MM = 914.4  # 3 ft


class Tape(Protocol):
    """A way to write a length as a tape is read: to the nearest step, or to the safe side."""

    def __call__(self, mm: float, system: UnitSystem, *, fraction: int = ...) -> str:
        """Return the length to 1/`fraction` inch."""


def lengths(mm: float, system: UnitSystem, tape: Tape = tape_text) -> tuple[str, ...]:
    """Return a length as the rest of the program writes it and, where feet are long to write, to a whole inch."""
    exact = tape(mm, system)
    if system == "metric" or abs(mm) < WHOLE_INCHES_FROM_MM:
        return (exact,)
    return tuple(dict.fromkeys((exact, tape(mm, system, fraction=1))))


def lettered(letter: str, mm: float, system: UnitSystem, after: str = "") -> tuple[str, ...]:
    """Return "M 10 ft" in its longer and its shorter form, with words after it where there is room."""
    plain = tuple(f"{letter} {text}" for text in lengths(mm, system))
    return (*(f"{text} {after}" for text in plain), *plain) if after else plain


def distance_marks(answer: Answer, glyphs: Glyphs) -> dict[str, float]:
    """Return the tape distance of each letter, the most wanted first, and none for a place that another has."""
    line, focus = answer.lineup, answer.focus
    marks = {glyphs.model: line.model_mm, glyphs.background: line.background_mm, glyphs.focus: focus.focus_mm}
    if focus.near_needed_mm < line.model_mm:
        marks[glyphs.nearest] = focus.near_needed_mm
    if focus.far_needed_mm > line.background_mm:
        marks[glyphs.farthest] = focus.far_needed_mm
    return marks
