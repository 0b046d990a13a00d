"""What a way to shoot it may cost at most, what it must show, and what counts first."""

from __future__ import annotations

from typing import Any, ClassVar, get_args

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.field_help import FIELD_HELP, range_of
from forescale.engine.files.faults import BadInput
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting
from forescale.engine.shot.sections import Goal, Held, Limits
from forescale.engine.units import UnitSystem, ratio_text
from forescale.tui.glyphs import plain
from forescale.tui.runs import Row, Rows
from forescale.tui.tasks.frame import columns
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable
from forescale.tui.wrapped import wrapped

PATHS = tuple(f"limits.{name}" for name in Limits.model_fields)
_WORDS: dict[str, tuple[str, ...]] = {"limits.hold": get_args(Held), "limits.order": get_args(Goal)}
_SUCH_AS = {
    "gravity": "2",
    "short_stops": "0.5",
    "build_max": "4 ft, or 1.2 m",
    "frame_min": "30 %",
    "frame_max": "90 %",
    "ratios": "1:7 1:43.5",
    "hold": "camera lens",
    "order": "model light",
    "reading_px": "0.5",
    "tape_error": "1 in, or 25 mm",
}
AROUND = 8  # lines that title, table, what is said and the footer need at least


class LimitsScreen(TaskScreen[None]):
    """The limits of a search, kept with the shot."""

    TASK = "Limits"
    ENTER = "type"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("v", "whole", "in full", tooltip="all that is to be said of the selected limit, with nothing cut")
    ]

    def body(self) -> ComposeResult:
        """The table, and below it what the limit in hand is."""
        yield TaskTable(id="limits")
        yield Rows(id="limit")

    def on_resize(self, event: object) -> None:
        """Fit the words to the new width."""
        super().on_resize(event)  # type: ignore[arg-type]
        self.fill()

    def fill(self) -> None:
        """List the limits."""
        shot, labels = self.session.state.shot, tuple(FIELD_HELP[path].label for path in PATHS)
        table = [
            Column("limit", "limit", labels),
            Column("now", "now", tuple(limit_text(shot, path) for path in PATHS), 1),
            Column("what", "what it is", tuple(FIELD_HELP[path].what for path in PATHS), 2),
        ]
        width = self.size.width - 2
        columns.show(self.query_one(TaskTable), _fitted(table, width), self.forescale.glyphs)
        room = max(self.size.height - AROUND, 3)
        lines = max(len(_lines(limit_said(shot, path), width)) for path in PATHS)
        self.query_one("#limit").styles.height = min(lines, room)
        self._tell()

    @property
    def _in_hand(self) -> str:
        return PATHS[self.query_one(TaskTable).cursor_row]

    @on(DataTable.RowHighlighted)
    def _tell(self) -> None:
        """Say below the table all that there is to say of the limit in hand."""
        lines = _lines(limit_said(self.session.state.shot, self._in_hand), self.size.width - 2)
        rows: list[Row] = [((f" {plain(line, self.forescale.glyphs)}", "hint"),) for line in lines]
        self.query_one("#limit", Rows).show(tuple(rows))

    def action_whole(self) -> None:
        """Say it on a page of its own."""
        from forescale.tui.tasks.frame.whole import WholeScreen

        self.app.push_screen(WholeScreen(limit_said(self.session.state.shot, self._in_hand)))

    @on(DataTable.RowSelected)
    def _type(self) -> None:
        path = self._in_hand
        shot = self.session.state.shot
        value = edit.value_at(shot, path)
        quantity = edit.quantity_of(type(shot), path)
        text = limit_text(shot, path) if isinstance(value, tuple) else edit.text_of(value, quantity, shot.units)
        self.ask(
            FIELD_HELP[path].label,
            "" if text == "none" else text,
            lambda entry: str(read_limit(shot, path, entry)[1]),
            lambda entry: self._set(path, entry),
            _typed(shot, path),
        )

    def _set(self, path: str, text: str) -> None:
        held = read_limit(self.session.state.shot, path, text)[0] if text.strip() else None
        self.session.apply({path: held})
        self.forescale.changed()
        self.fill()


def _fitted(table: list[Column], width: int) -> list[Column]:
    """Return the table that fits, what stands now shortened before it goes: it is whole below."""
    limit, now, _ = table
    most = max(width - limit.width - columns.PADDING, columns.NARROWEST)
    kept = columns.fitted(table, width, limit.width)
    if len(kept) > 1:
        return kept
    return [limit, Column(now.id, now.head, tuple(columns.shortened(cell, most) for cell in now.cells))]


def _lines(said: list[str], width: int) -> list[str]:
    return [line for one in said for line in wrapped(one, width)]


def limit_said(shot: Setting, path: str) -> list[str]:
    """Return what a limit is, what it is now and what may be typed, what it does and where it comes from."""
    help_on = FIELD_HELP[path]
    return [
        f"{help_on.label}: {help_on.what}",
        f"Now {limit_text(shot, path)}. {_typed(shot, path)}",
        f"{help_on.enters} {help_on.measure}",
    ]


def _typed(shot: Setting, path: str) -> str:
    """Return what may be typed at a limit."""
    system: UnitSystem = getattr(shot, "units", "metric")
    name = path.removeprefix("limits.")
    usual = _value_text(Limits.model_fields[name].default, path, system)
    wanted = "a length" if name == "build_max" else range_of(path, system)
    return f"Type {wanted}, such as: {_SUCH_AS[name]}. Nothing typed means {usual}."


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
    return _value_text(edit.value_at(shot, path), path, getattr(shot, "units", "metric"))


def _value_text(value: Any, path: str, system: UnitSystem) -> str:
    if isinstance(value, tuple):
        return " ".join(ratio_text(one) if isinstance(one, float) else one for one in value) or "none"
    if value is None:
        return "none"
    quantity = edit.quantity_of(Setting, path)
    assert quantity is not None  # a limit that is no list is a number
    return quantity.shown(value, system)
