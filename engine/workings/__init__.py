"""The workings: every number of the answer explains itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from forescale.engine.answer.in_force import number_at
from forescale.engine.solve.record import Pane
from forescale.engine.workings import (
    bench,
    contrast,
    day,
    focus,
    light,
    line_up,
    lineup,
    picture,
    scale,
    slip,
    speed,
    stand,
    survey,
)
from forescale.engine.workings.values import is_known, value_text
from forescale.engine.workings.working import Explanation, Working

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

__all__ = ["WORKINGS", "Explanation", "Working", "explain", "keys_here", "keys_of_pane", "table_markdown", "value_text"]

_PANES: dict[Pane, tuple[Working, ...]] = {
    "scale": (
        *scale.WORKINGS,
        *lineup.WORKINGS,
        *survey.WORKINGS,
        *stand.WORKINGS,
        *picture.WORKINGS,
        *line_up.WORKINGS,
    ),
    "speed": (*speed.WORKINGS, *light.WORKINGS, *day.LIGHT, *day.TIMING, *day.SUN),
    "focus": (*focus.WORKINGS, *contrast.WORKINGS),
    "slip": (*slip.WORKINGS, *bench.WORKINGS),
}
WORKINGS: dict[str, Working] = {working.key: working for workings in _PANES.values() for working in workings}


def keys_of_pane(pane: Pane) -> tuple[str, ...]:
    """Return the keys of a pane's numbers in the order in which a person reads them."""
    return tuple(working.key for working in _PANES[pane])


def keys_here(pane: Pane, answer: Answer) -> tuple[str, ...]:
    """Return the keys of a pane's numbers but for groups that this shot has not: pieces, the sun, a survey."""
    return tuple(key for key in keys_of_pane(pane) if _is_there(key.rpartition(".")[0], answer))


def _is_there(group: str, answer: Answer) -> bool:
    return bool(answer.setting.survey) if group == "survey" else number_at(group, answer) not in (None, ())


def explain(key: str, answer: Answer) -> Explanation:
    """Return how the number at a key comes about in this shot; raises KeyError where there is no such number."""
    working = WORKINGS[key]
    return Explanation(
        name=working.name,
        value_text=value_text(key, answer),
        meaning=working.meaning,
        formula=working.formula,
        put_in=working.put_in(answer) if is_known(key, answer) else f"{value_text(key, answer)}: {working.needs}",
        conventions=working.conventions(answer),
        leads_to=tuple(WORKINGS[other].name for other in working.leads_to),
        source=working.source,
    )


def table_markdown() -> str:
    """Return the formulas of all numbers as a table: name, formula, source; pane after pane."""
    rows = [f"| {row.name} | {_cell(row.formula)} | {_cell(row.source)} |" for row in WORKINGS.values()]
    return "\n".join(["| name | formula | source |", "| --- | --- | --- |", *rows]) + "\n"


def _cell(text: str) -> str:
    """Keep a bar from ending a cell."""
    return text.replace("|", "\\|")
