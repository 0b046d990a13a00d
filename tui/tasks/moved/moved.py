"""The rig has moved: the tape distances alone, several changed at a time and taken together."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.answer.natural_step import stepped
from forescale.engine.files.faults import BadInput
from forescale.engine.moved.moved import DISTANCES, distances_now, usual_choice, work_out
from forescale.engine.shot import edit
from forescale.engine.states.marks import free_name, keep
from forescale.tui.entry import Entry
from forescale.tui.glyphs import plain
from forescale.tui.panes.arrange import AUTO
from forescale.tui.session import reasons
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable
from forescale.tui.tasks.moved.moved_rows import FOCUS, ROWS, STOP, WHO, entry_text, form_rows
from forescale.tui.tasks.moved.what_to_do import Asked, WhatToDoScreen

LABEL, VALUE, REMARK = 13, 17, 21
WITH_REMARK, WITH_WAS = 80, 56


class Distances(TaskTable):
    """The form; left and right step the value in hand."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "screen.step(-1)", show=False),
        Binding("right", "screen.step(1)", show=False),
    ]


class MovedScreen(TaskScreen[None]):
    """New tape distances, one under another; nothing is changed until they are worked out together."""

    TASK = "The rig has moved"
    ENTER = "type"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("w", "work_out", "solve", tooltip="work out what to do with these distances"),
        Binding("x", "as_it_was", "as it was", tooltip="put the selected distance back to what it was"),
        Binding("c", "toggle_who", "who moved", tooltip="say that it was the camera that moved, or the model"),
        Binding("f", "toggle_focus", "focus", tooltip="keep the focus mark, or recalculate it"),
        Binding("s", "toggle_stop", "stop", tooltip="keep the stop, or recalculate it"),
        Binding("h", "step(-1, True)", "much less", tooltip="a large step down; left is a small one"),
        Binding("l", "step(1, True)", "much more", tooltip="a large step up; right is a small one"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.typed: dict[str, float] = {}

    def body(self) -> ComposeResult:
        """One table."""
        yield Distances(id="distances")

    def on_mount(self) -> None:
        """Begin from the shot as it is."""
        self.before = self.session.state
        self.choice = replace(usual_choice(self.before.answer), camera_moved=True)

    def on_resize(self, _event: events.Resize) -> None:
        """Fit the columns to the new width."""
        self.fill()

    # What is shown

    def fill(self) -> None:
        """Show what was and what is now; was stands above now where the screen is narrow."""
        table, width, glyphs = self.query_one(TaskTable), self.size.width, self.forescale.glyphs
        in_hand = table.cursor_row
        table.clear(columns=True)
        for name, room in self._columns(width):
            table.add_column(name, width=room)
        for row in form_rows(self.before.answer, self.typed, self.choice):
            now = f"{row.now}{AUTO if row.followed else ''}" if row.now else ""
            cells = [row.label, row.was, now, row.remark][: len(table.columns)]
            if width < WITH_WAS:
                cells = [row.label, f"{row.was}\n{glyphs.right}{now}" if now else row.was]
            table.add_row(*(plain(cell, glyphs) for cell in cells), height=1 + ("\n" in cells[1]))
        table.move_cursor(row=in_hand)

    @staticmethod
    def _columns(width: int) -> list[tuple[str, int]]:
        if width < WITH_WAS:
            return [("", LABEL), ("was, and is now", max(width - LABEL - 5, VALUE))]
        wide = [("", LABEL), ("was", VALUE), ("now", VALUE + 3)]
        return [*wide, ("", REMARK)] if width >= WITH_REMARK else wide

    @property
    def in_hand(self) -> str:
        """The path of the row in hand."""
        return ROWS[self.query_one(TaskTable).cursor_row]

    @on(DataTable.RowHighlighted)
    def _say_row(self) -> None:
        """Say what is to be known of the row in hand, or why the distances cannot be so."""
        if self._take is None:
            row = form_rows(self.before.answer, self.typed, self.choice)[self.query_one(TaskTable).cursor_row]
            self.say(self._so_far() or row.remark or "Type what is re-measured; w works out what to do")

    # Changing a distance

    @on(DataTable.RowSelected)
    def _chosen(self) -> None:
        """Do what Enter means on the row in hand."""
        if self.in_hand in DISTANCES:
            self._type(self.in_hand, entry_text(self.before.answer, self.typed, self.choice, self.in_hand))
        elif self.in_hand in {FOCUS, STOP, WHO}:
            self.action_step(1)
        else:
            self.action_work_out()

    def on_key(self, event: events.Key) -> None:
        """Begin an entry with the digit that was typed."""
        digit = event.character
        if self._take is None and digit is not None and digit.isdigit() and self.in_hand in DISTANCES:
            self._type(self.in_hand, digit)
            entry = self.query(Entry).last()
            entry.select_on_focus = False
            entry.cursor_position = len(entry.value)

    def _type(self, path: str, text: str) -> None:
        state = self.before
        shown = self._now()[path]

        def read(entered: str) -> str:
            return edit.entry(path, entered, state.shot, state.shot.units, shown)[1]

        def take(entered: str) -> None:
            held = None
            if entered.strip():
                held = edit.entry(path, entered, state.shot, state.shot.units, shown)[0]
            self._take_distance(path, held)
            self.query_one(TaskTable).action_cursor_down()

        self.ask(form_rows(state.answer, self.typed, self.choice)[ROWS.index(path)].label, text, read, take)

    def _take_distance(self, path: str, held: str | float | None) -> None:
        """Take what a file would hold for a distance, or put it back as it was where there is nothing."""
        quantity = edit.quantity_of(type(self.before.shot), path)
        self.typed.pop(path, None)
        if held is not None and quantity is not None:
            self.typed[path] = quantity.read(held)
        self.fill()

    def _now(self) -> dict[str, float | None]:
        """Return what is in force by path with what was typed, and what went along with it."""
        return distances_now(self.before.answer, self.typed, self.choice.camera_moved)

    def _so_far(self) -> str:
        """Say whether the distances can be so, which may well change with the next."""
        now = self._now()
        units = self.before.shot.units
        texts = {
            path: None if mm is None else edit.text_of(mm, edit.quantity_of(type(self.before.shot), path), units)
            for path, mm in now.items()
        }
        try:
            edit.changed(self.before.shot, texts)
        except BadInput as fault:
            return f"So far: {reasons(fault)}"
        return ""

    def action_step(self, direction: int, large: bool = False) -> None:
        """Step the distance in hand by its natural step; turn over what is kept."""
        path = self.in_hand
        if path == FOCUS:
            self.action_toggle_focus()
        elif path == STOP:
            self.action_toggle_stop()
        elif path == WHO:
            self.action_toggle_who()
        elif path in DISTANCES:
            self._step_value(path, direction, large)

    def _step_value(self, path: str, direction: int, large: bool) -> None:
        before, setting = self.before.answer, self.before.answer.setting
        for name, value in self._now().items():
            section, _, field = name.partition(".")
            held_there = getattr(setting, section).model_copy(update={field: value})
            setting = setting.model_copy(update={section: held_there})
        held = stepped(replace(before, setting=setting), path, direction, large=large)
        if held is None:
            self.say("No step is natural here: type the distance")
        else:
            self._take_distance(path, held)

    def action_as_it_was(self) -> None:
        """Put the distance in hand back to what it was."""
        if self.in_hand in DISTANCES:
            self._take_distance(self.in_hand, None)

    def action_toggle_who(self) -> None:
        """Say that it was the camera that moved, or the model."""
        self.choice = replace(self.choice, camera_moved=not self.choice.camera_moved)
        self.fill()

    def action_toggle_focus(self) -> None:
        """Keep the focus mark, or solve it again."""
        self.choice = replace(self.choice, keep_focus=not self.choice.keep_focus)
        self.fill()

    def action_toggle_stop(self) -> None:
        """Keep the stop, or solve it again."""
        self.choice = replace(self.choice, keep_stop=not self.choice.keep_stop)
        self.fill()

    # Working it out

    def action_work_out(self) -> None:
        """Work out what to do, keep the state before as a mark, and show it."""
        if not self.typed:
            self.say("Nothing is re-measured yet: type the distances that have changed", refused=True)
            return
        try:
            moved = work_out(self.before.answer, self.typed, self.choice)
        except BadInput as fault:
            self.say(reasons(fault), refused=True)
            return
        time = datetime.now().replace(microsecond=0)
        marks = self.before.shot.mark
        name = free_name(marks, f"before {time:%H:%M}")
        asked = Asked(self.before, dict(self.typed), self.choice, name, keep(self.before.shot, name, time))
        self.app.push_screen(WhatToDoScreen(asked, moved), self._done)

    def _done(self, stays: bool | None) -> None:
        """Leave, unless what was worked out was undone to be typed again."""
        if stays:
            self.dismiss()
