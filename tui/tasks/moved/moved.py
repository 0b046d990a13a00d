"""The rig has moved: the tape distances alone, several changed at a time and taken together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from typing import ClassVar, NamedTuple

from textual import events, on
from textual.binding import BindingType
from textual.widgets import DataTable

from forescale.engine.answer.natural_step import stepped
from forescale.engine.field_help import FIELD_HELP, prompt
from forescale.engine.files.faults import BadInput
from forescale.engine.findings.words import Words
from forescale.engine.moved.moved import DISTANCES, Moved, distances, distances_now, usual_choice, work_out
from forescale.engine.shot import edit
from forescale.engine.states.marks import free_name, keep
from forescale.engine.units import tape_text
from forescale.tui.entry import Entry
from forescale.tui.panes.arrange import AUTO
from forescale.tui.session import reasons
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.frame.rows_screen import RowsScreen
from forescale.tui.tasks.frame.verbs import key
from forescale.tui.tasks.frame.widgets import Cell, Said, TaskTable
from forescale.tui.tasks.moved.what_to_do import Asked, WhatToDoScreen, to_do

FOCUS, STOP, WHO = "focus.distance", "focus.stop", "who moved"
ROWS = (*DISTANCES, WHO, FOCUS, STOP)
WHOLE = {"place.model_near": "model", "place.background_far": "background"}
LABEL, WITH_WAS = 12, 56  # columns of a label; columns of a screen from which was and now stand side by side


class FormRow(NamedTuple):
    """A row: what it is, what it was, what it is now (empty where it stays), and a note."""

    label: str
    was: str
    now: str = ""
    note: str = ""


class MovedScreen(RowsScreen[None]):
    """New tape distances, one under another; nothing is changed until they are taken over together."""

    TASK = "The rig has moved"
    ENTER = "type"
    LIST_FIRST = True
    BINDINGS: ClassVar[list[BindingType]] = [
        key("do", "do it", "put what is to be done on the board; the state before is saved"),
        key("turn", "who moved", "say that it was the camera that moved, or the model"),
        key("delete", "as it was", "put the selected distance back to what it was"),
        key("less", "much less", "a large step down; left is a small one"),
        key("more", "much more", "a large step up; right is a small one"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.typed: dict[str, float] = {}

    def on_mount(self) -> None:
        """Begin from the shot as it is."""
        self.before = self.session.state
        self.choice = replace(usual_choice(self.before.answer), camera_moved=True)

    # What is shown

    def put_rows(self) -> None:
        """Show what was and what is now; was stands above now where the screen is narrow."""
        self.form = [*map(self._distance, DISTANCES), self._who(), self._kept(FOCUS), self._kept(STOP)]
        if self.size.width >= WITH_WAS:
            super().put_rows()
            return
        heads = [("what", LABEL), ("was, and is now", max(self.size.width - LABEL - 5, LABEL))]
        lead = f"{self.glyphs.right} "
        rows: list[list[Cell]] = [[row.label, [row.was, *[(lead, row.now)] * bool(row.now)]] for row in self.form]
        self.table.put_wrapped(heads, rows, self.glyphs)

    def columns(self) -> list[Column]:
        """Return the form."""
        labels, was, now, notes = zip(*self.form, strict=True)
        columns = [Column("what", "what", labels), Column("was", "was", was), Column("now", "now", now)]
        return [*columns, Column("note", "note", notes, 1)]

    def how(self, place: int) -> list[Said]:
        """Return what is to be known of a row."""
        if ROWS[place] in DISTANCES:
            return ["Type what is re-measured: Enter or a digit begins, left and right step it"]
        if ROWS[place] == WHO:
            carried = "what was not taped goes along" if self.choice.camera_moved else "the rest stands as it did"
            return [f"With {self.form[place].now} {carried}; Enter changes it"]
        return ["It stays as it was, or is recalculated: Enter changes it"]

    def gives(self) -> Iterator[Said]:
        """Return what is to be done as far as it is known; what is typed so far may be refused until more is typed."""
        if not self.typed:
            yield "What is to be done on set stands here as soon as a distance has changed."
            return
        try:
            yield from to_do(self._moved(), wide=self.page_width >= WITH_WAS)
        except BadInput as fault:
            yield "warn", f"So far: {reasons(fault)}"

    def _moved(self) -> Moved:
        return work_out(self.before.answer, self.typed, self.choice)

    def _now(self) -> dict[str, float | None]:
        """Return what is in force by path with what was typed, and what went along with it."""
        return distances_now(self.before.answer, self.typed, self.choice.camera_moved)

    def _distance(self, path: str) -> FormRow:
        before = self.before.answer
        was, now, typed = distances(before)[path], self._now()[path], path in self.typed
        quantity = edit.quantity_of(type(before.setting), path)
        assert quantity is not None
        chosen, whole = edit.value_at(before.setting, path) is None, WHOLE.get(path, "")
        nothing = f"as {whole}" if whole else "-"
        old = Words(before).length(was) if was is not None and chosen else ""
        old = old or (nothing if was is None else quantity.shown(was, before.system))
        new = nothing if now is None else quantity.shown(now, before.system)
        anew = "re-measured" if path.startswith("place.") else "as it is now"
        if now != was and not typed:  # nobody taped it: it moved along with one that was
            return FormRow(FIELD_HELP[path].label, old, f"{new}{AUTO}", f"moved with {whole or 'the camera'}")
        return FormRow(FIELD_HELP[path].label, old, new if typed else "", anew if typed else "")

    def _who(self) -> FormRow:
        return FormRow("moved", "", "the camera" if self.choice.camera_moved else "the model")

    def _kept(self, path: str) -> FormRow:
        words, focus = Words(self.before.answer), self.before.answer.focus
        kept = self.choice.keep_focus if path == FOCUS else self.choice.keep_stop
        in_force = words.length(focus.focus_mm) if path == FOCUS else words.stop(focus.f_number)
        return FormRow(FIELD_HELP[path].label, in_force, "keep" if kept else "recalculate")

    # Changing it

    @property
    def in_hand(self) -> str:
        """The path of the row in hand."""
        return ROWS[self.table.place]

    @on(DataTable.RowSelected)
    def _chosen(self) -> None:
        """Do what Enter means on the row in hand."""
        if self.in_hand in DISTANCES:
            self._type(self.in_hand, self._entry_text(self.in_hand))
        else:
            self._turn_over(self.in_hand)

    def on_key(self, event: events.Key) -> None:
        """Begin an entry with the digit that was typed."""
        digit = event.character
        if not self.typing and self.view == "rows" and digit and digit.isdigit() and self.in_hand in DISTANCES:
            self._type(self.in_hand, digit)
            entry = self.query(Entry).last()
            entry.select_on_focus = False
            entry.cursor_position = len(entry.value)

    def _entry_text(self, path: str) -> str:
        """Return the text that an entry begins with: as taped, or as a tape shows it where none has been."""
        before, value = self.before.answer, self._now()[path]
        chosen = edit.value_at(before.setting, path) is None
        if value is not None and path not in self.typed and path == "place.model" and chosen:
            return tape_text(value, before.system)
        return edit.text_of(value, edit.quantity_of(type(before.setting), path), before.system)

    def _type(self, path: str, text: str) -> None:
        shot, shown = self.before.shot, self._now()[path]

        def take(entered: str) -> None:
            self._take_distance(
                path, edit.entry(path, entered, shot, shot.units, shown)[0] if entered.strip() else None
            )
            self.table.action_cursor_down()

        read = lambda entered: edit.entry(path, entered, shot, shot.units, shown)[1]  # noqa: E731
        self.ask(prompt(path, shot.units, shown), text, read, take)

    def _take_distance(self, path: str, held: str | float | None) -> None:
        """Take what a file would hold for a distance, or put it back as it was where there is nothing."""
        quantity = edit.quantity_of(type(self.before.shot), path)
        self.typed.pop(path, None)
        self.say("")
        if held is not None and quantity is not None:
            self.typed[path] = quantity.read(held)
        self.refill()

    @on(TaskTable.Sideways)
    def _small_step(self, event: TaskTable.Sideways) -> None:
        self._step_in_hand(event.step, large=False)

    def action_step_by(self, direction: int) -> None:
        """Step the distance in hand by a large step."""
        self._step_in_hand(direction, large=True)

    def _step_in_hand(self, direction: int, *, large: bool) -> None:
        """Step the distance in hand, or turn over what is kept."""
        path, setting = self.in_hand, self.before.answer.setting
        if path not in DISTANCES:
            self._turn_over(path)
            return
        for name, value in self._now().items():
            section, _, field = name.partition(".")
            held_there = getattr(setting, section).model_copy(update={field: value})
            setting = setting.model_copy(update={section: held_there})
        held = stepped(self.before.answer._replace(setting=setting), path, direction, large=large)
        if held is None:
            self.say("No step is natural here: type the distance")
        else:
            self._take_distance(path, held)

    def _turn_over(self, path: str) -> None:
        name = {FOCUS: "keep_focus", STOP: "keep_stop", WHO: "camera_moved"}[path]
        self.choice = replace(self.choice, **{name: not getattr(self.choice, name)})
        self.refill()

    def action_turn(self) -> None:
        """Say that it was the camera that moved, or the model."""
        self._turn_over(WHO)

    def action_delete(self) -> None:
        """Put the distance in hand back to what it was."""
        if self.in_hand in DISTANCES:
            self._take_distance(self.in_hand, None)

    # Taking it over

    def action_do(self) -> None:
        """Work out what to do, keep the state before as a mark, and show it."""
        if not self.typed:
            self.say("Nothing is re-measured yet: type the distances that have changed", refused=True)
            return
        try:
            moved = self._moved()
        except BadInput as fault:
            self.say(reasons(fault), refused=True)
            return
        time = datetime.now().replace(microsecond=0)
        name = free_name(self.before.shot.mark, f"before {time:%H:%M}")
        asked = Asked(self.before, dict(self.typed), self.choice, name, keep(self.before.shot, name, time))
        self.app.push_screen(WhatToDoScreen(asked, moved), self._done)

    def _done(self, stays: bool | None) -> None:
        """Leave, unless what was worked out was undone to be typed again."""
        if stays:
            self.dismiss()
