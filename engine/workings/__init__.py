"""The workings: every number of the answer explains itself."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from forescale.engine.answer.in_force import number_at
from forescale.engine.solve.record import Pane
from forescale.engine.workings.conventions import CONVENTIONS
from forescale.engine.workings.line_up import line_up_words
from forescale.engine.workings.put_in import put_in
from forescale.engine.workings.sums import SUMS
from forescale.engine.workings.sums_lens import LENS_SUMS
from forescale.engine.workings.values import is_known, value_text

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

__all__ = ["WORKINGS", "Explanation", "Working", "explain", "keys_here", "keys_of_pane", "table_markdown", "value_text"]

_PANES: dict[Pane, tuple[str, ...]] = {
    "scale": ("scale", "lineup", "survey", "stand", "picture", "correction", "come_back"),
    "speed": ("speed", "light", "timing", "sun"),
    "focus": ("focus",),
    "slip": ("slip",),
}


@dataclass(frozen=True, slots=True)
class Working:
    """How one number of the answer comes about, as words.toml has it.

    `formula` is in the symbols of the manual; `put_in` the same with braces for a shot's numbers, empty where `sums`
    has it; `holds` is what holds of tape, pupil and stops, in words or by name. `needs` says what to enter where the
    number is not known; empty where it always is. `leads_to` are the keys of the numbers that it goes into, `function`
    is the one in `engine/formulas` that holds the relation.
    """

    name: str
    meaning: str
    formula: str
    put_in: str
    holds: tuple[str, ...]
    source: str
    needs: str
    leads_to: tuple[str, ...]
    function: str = ""


@dataclass(frozen=True, slots=True)
class Explanation:
    """A working for one shot, all of it text; `leads_to` are names; `function` is empty where it is no formula's."""

    name: str
    value_text: str
    meaning: str
    formula: str
    put_in: str
    conventions: str
    leads_to: tuple[str, ...]
    source: str
    function: str


_WORDS = tomllib.loads(Path(__file__).with_name("words.toml").read_text(encoding="utf-8"))
_ROWS = _WORDS["numbers"] | line_up_words()
WORKINGS: dict[str, Working] = {
    key: Working(*row) for groups in _PANES.values() for key, row in _ROWS.items() if key.partition(".")[0] in groups
}
_SUMS = SUMS | LENS_SUMS


def keys_of_pane(pane: Pane) -> tuple[str, ...]:
    """Return the keys of a pane's numbers in the order in which a person reads them."""
    return tuple(key for key in WORKINGS if key.partition(".")[0] in _PANES[pane])


def keys_here(pane: Pane, answer: Answer) -> tuple[str, ...]:
    """Return the keys of a pane's numbers but for groups that this shot has not: pieces, the sun, a survey."""
    return tuple(key for key in keys_of_pane(pane) if _is_there(key.rpartition(".")[0], answer))


def _is_there(group: str, answer: Answer) -> bool:
    return bool(answer.setting.survey) if group == "survey" else number_at(group, answer) not in (None, ())


def explain(key: str, answer: Answer) -> Explanation:
    """Return how the number at a key comes about in this shot; raises KeyError where there is no such number."""
    working, value = WORKINGS[key], value_text(key, answer)
    return Explanation(
        name=working.name,
        value_text=value,
        meaning=working.meaning,
        formula=working.formula,
        put_in=_put_in(key, working, answer) if is_known(key, answer) else f"{value}: {working.needs}",
        conventions=" ".join(_held(text, answer) for text in working.holds),
        leads_to=tuple(WORKINGS[other].name for other in working.leads_to),
        source=working.source,
        function=working.function,
    )


def _put_in(key: str, working: Working, answer: Answer) -> str:
    return put_in(working.put_in or _SUMS[key](answer), key, answer)


def _held(text: str, answer: Answer) -> str:
    return CONVENTIONS[text](answer) if text in CONVENTIONS else _WORDS["notes"].get(text, text)


def table_markdown() -> str:
    """Return the formulas of all numbers as a table: name, formula, source; pane after pane."""
    rows = (
        " | ".join(cell.replace("|", "\\|") for cell in (one.name, one.formula, one.source))
        for one in WORKINGS.values()
    )
    return "".join(f"| {row} |\n" for row in ("name | formula | source", "--- | --- | ---", *rows))
