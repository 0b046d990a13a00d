"""The day: sun, light, lamps, what is timed and cued; what is entered in the list, and what comes of it."""

from __future__ import annotations

from datetime import datetime
from typing import Any, ClassVar

from textual import on
from textual.binding import BindingType
from textual.widgets import DataTable

from forescale.engine.day import day_list
from forescale.engine.day.day_list import DayLine
from forescale.engine.field_help import FIELD_HELP, prompt
from forescale.engine.sheet.blocks import spelt
from forescale.engine.sheet.sections import sections_of
from forescale.engine.sheet.text import section_lines
from forescale.engine.shot import edit
from forescale.tui.diagrams.day_strip import draw
from forescale.tui.glyphs import plain
from forescale.tui.runs import Row
from forescale.tui.tasks.frame.columns import Column, shortened
from forescale.tui.tasks.frame.rows_screen import RowsScreen
from forescale.tui.tasks.frame.verbs import UNDO, key
from forescale.tui.tasks.frame.widgets import Said

LEAST_COLUMNS, VALUE = 39, 34  # columns of what comes of it at the least, of a value at the most


class DayScreen(RowsScreen[None]):
    """The list of the day, and the strip of the sun with all that is told."""

    TASK = "The day"
    ENTER = "type"
    BINDINGS: ClassVar[list[BindingType]] = [
        key("get", "now", "set day, time and offset by this machine's clock"),
        key("add", "lamp, cue", "add a kind of lamp, or a cue"),
        key("delete", "clear", "leave the selected field out, or take the lamp or cue away"),
        *UNDO,
    ]

    # What is shown

    def columns(self) -> list[Column]:
        """Return the list; what is set for a lamp or cue stands whole below."""
        self.listed = day_list.lines(self.answer)
        room = min(max(self.size.width - 24, VALUE // 2), VALUE)
        return [
            Column("field", "field", tuple(line.label for line in self.listed)),
            Column("value", "as set", tuple(shortened(line.value, room) for line in self.listed)),
        ]

    def page_rows(self) -> list[Row]:
        """Return the strip of the day, and the sheet's own sections on sun, light and time."""
        glyphs, width = self.glyphs, max(self.page_width, LEAST_COLUMNS)
        found = [*draw(self.answer, width, glyphs)]
        for section in sections_of(self.answer, "The sun", "Light", "Time on set"):
            found += ["", *section_lines(spelt(section, lambda text: plain(text, glyphs)), width)]
        if self.answer.sun is None:
            found = ["Give latitude, longitude, day, time and UTC offset, and the sun is told here", *found]
        return [((line, ""),) for line in found]

    def how(self, place: int) -> list[Said]:
        """Say what a field is and how it is measured, or all that is set for a lamp or cue."""
        line = self.listed[place]
        return [f"{FIELD_HELP[line.path].what} {FIELD_HELP[line.path].measure}" if line.path else line.value]

    # Changes

    @on(DataTable.RowSelected)
    def _type(self) -> None:
        """Type a value for the field in hand, or the fields of the lamp or cue one after another."""
        line: DayLine = self.listed[self.table.place]
        if line.rows is not None:
            held = day_list.table_of(getattr(self.shot, line.rows)[line.place])
            self._ask_row(line.rows, line.place, held, 0)
            return
        path = line.path

        def take(text: str) -> None:
            self.change({path: edit.entry(path, text, self.shot, self.system, None)[0] if text.strip() else None})

        self.ask(
            prompt(path, self.system),
            day_list.field_text(self.answer, path),
            lambda text: edit.entry(path, text, self.shot, self.system, None)[1],
            take,
            FIELD_HELP[path].what,
        )

    def _ask_row(self, kind: day_list.Rows, place: int, held: dict[str, Any], at: int) -> None:
        """Ask for one field of a lamp or cue after another, and then put it into the shot."""
        names = day_list.names_of(kind)
        name = names[at]
        stands, help_on = held.get(name, ""), FIELD_HELP[f"{kind}.{name}"]

        def take(text: str) -> None:
            more = held | {name: day_list.held(kind, name, text, self.system)}
            if at + 1 < len(names):
                self._ask_row(kind, place, more, at + 1)
                return
            there, row = getattr(self.shot, kind), day_list.made(kind, more)
            self.change({kind: edit.replaced(there, place, row) if place < len(there) else (*there, row)})

        hint = f"{help_on.what} {'' if stands else 'Enter alone leaves it.'}"
        self.ask(help_on.label, str(stands), lambda text: str(day_list.held(kind, name, text, self.system)), take, hint)

    def action_add(self) -> None:
        """Add a lamp or a cue."""

        def add(kind: day_list.Rows) -> None:
            self._ask_row(kind, len(getattr(self.shot, kind)), {}, 0)

        self.pick("Add a", {"lamp": lambda: add("lamp"), "cue": lambda: add("cue")})

    def action_delete(self) -> None:
        """Leave the field in hand out, or take the lamp or cue away."""
        line = self.listed[self.table.place]
        if line.rows is None:
            self.attempt(lambda: self.change({line.path: None}))
            return
        left = edit.without(getattr(self.shot, line.rows), line.place)
        self.attempt(lambda: self.change({str(line.rows): left}, f"{line.label} was taken away; u brings it back"))

    def action_get(self) -> None:
        """Set day, time and offset by this machine's clock."""
        self.attempt(lambda: self.change(day_list.by_the_clock(datetime.now().astimezone())))
