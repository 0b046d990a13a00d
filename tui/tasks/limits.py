"""What a way to shoot it may cost at most, what it must show, and what counts first."""

from __future__ import annotations

from typing import Any, get_args

from textual import on
from textual.app import ComposeResult
from textual.widgets import DataTable

from engine import edit
from engine.faults import BadInput
from engine.field_help import FIELD_HELP
from engine.shot import Goal, Held, Limits, Setting
from engine.units import UnitSystem, ratio_text
from tui.glyphs import plain
from tui.runs import clipped
from tui.tasks.task_screen import Table, TaskScreen

PATHS = tuple(f"limits.{name}" for name in Limits.model_fields)
_WORDS: dict[str, tuple[str, ...]] = {"limits.hold": get_args(Held), "limits.order": get_args(Goal)}


class LimitsScreen(TaskScreen[None]):
    """The limits of a search, kept with the shot."""

    TASK = "Limits"
    ENTER = "type"

    def body(self) -> ComposeResult:
        """One table."""
        yield Table(id="limits")

    def fill(self) -> None:
        """List the limits."""
        shot, glyphs = self.session.state.shot, self.forescale.glyphs
        room = max(self.size.width - 48, 12)
        rows = [
            [FIELD_HELP[path].label, limit_text(shot, path), plain(clipped(FIELD_HELP[path].what, room), glyphs)]
            for path in PATHS
        ]
        self.query_one(Table).refill(["limit", "now", "what it is"], rows)

    @on(DataTable.RowSelected)
    def _type(self) -> None:
        path = PATHS[self.query_one(Table).cursor_row]
        shot = self.session.state.shot
        value = edit.value_at(shot, path)
        quantity = edit.quantity_of(type(shot), path)
        text = limit_text(shot, path) if isinstance(value, tuple) else edit.text_of(value, quantity, shot.units)
        label = FIELD_HELP[path].label
        if path in _WORDS:
            label += f" ({', '.join(_WORDS[path])})"
        self.ask(
            label,
            "" if text == "none" else text,
            lambda entry: str(read_limit(shot, path, entry)[1]),
            lambda entry: self._set(path, entry),
        )

    def _set(self, path: str, text: str) -> None:
        held = read_limit(self.session.state.shot, path, text)[0] if text.strip() else None
        self.session.apply({path: held})
        self.forescale.changed()
        self.fill()


def read_limit(shot: Setting, path: str, text: str) -> tuple[Any, str]:
    """Return what a file would hold for a limit, and what was understood; raises ValueError."""
    system: UnitSystem = getattr(shot, "units", "metric")
    if path in _WORDS:
        words = text.replace(",", " ").split()
        for word in words:
            if word not in _WORDS[path]:
                raise BadInput(f'"{word}" is not known; write of {", ".join(_WORDS[path])}')
        return words, ", then ".join(words) if path == "limits.order" else ", ".join(words)
    if path == "limits.ratios":
        ratios = text.replace(",", " ").split()
        edit.changed(shot, {path: ratios})
        return ratios, ", ".join(ratios)
    return edit.entry(path, text, shot, system, None)


def limit_text(shot: Setting, path: str) -> str:
    """Return a limit as it stands, in an entry's own words."""
    value = edit.value_at(shot, path)
    if isinstance(value, tuple):
        return " ".join(ratio_text(one) if isinstance(one, float) else one for one in value) or "none"
    if value is None:
        return "none"
    quantity = edit.quantity_of(Setting, path)
    assert quantity is not None  # a limit that is no list is a number
    return edit.shown_text(quantity, value, getattr(shot, "units", "metric"))
