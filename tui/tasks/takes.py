"""Takes: a line for each, with what was set, whether it was good, and a note; each in a state to go back to."""

from __future__ import annotations

from datetime import datetime
from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.shot.records import Shot, Take
from forescale.engine.states import takes
from forescale.engine.states.takes import restored, still_named
from forescale.tui.glyphs import plain
from forescale.tui.runs import Rows
from forescale.tui.tasks.compare import Compared, CompareScreen
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable
from forescale.tui.wrapped import wrapped

NUMBER, GOOD, WIDE = 4, 7, 60
SET_LINES = 5


class TakesScreen(TaskScreen[None]):
    """The log of takes, the newest first; what was set for the one in hand stands below."""

    TASK = "Takes: t logs one"
    ENTER = "note"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("t", "log", "log", tooltip="log a take now, as the shot is set"),
        Binding("g", "judge", "good or not", tooltip="say of the selected take: good, no good, not judged yet"),
        Binding("n", "versus_now", "vs now", tooltip="hold the state of the selected take beside the present"),
        Binding("b", "go_back", "back to it", tooltip="set all as it was for the selected take"),
        Binding("w", "line('weather')", "weather", tooltip="what the weather was at the selected take, in a line"),
        Binding("m", "line('model')", "model", tooltip="how the model was at the selected take, in a line"),
        Binding("c", "compare_two", "two", tooltip="compare the selected take with another: c on both"),
        Binding("x", "delete", "delete", tooltip="delete the selected take; undo brings it back"),
        Binding("u", "undo", "undo", tooltip="undo the last change of the shot"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._first: Take | None = None

    def body(self) -> ComposeResult:
        """One table, and what was set for the take in hand."""
        yield TaskTable(id="takes")
        yield Rows(id="was-set")

    def on_resize(self, _event: events.Resize) -> None:
        """Fit the table to the new width."""
        self.fill()

    @property
    def taken(self) -> tuple[Take, ...]:
        """The takes in the order in which they were logged."""
        return self.session.state.shot.take

    @property
    def place(self) -> int:
        """The place, in the order of logging, of the take in hand."""
        return len(self.taken) - 1 - self.query_one(TaskTable).cursor_row

    # What is shown

    def fill(self) -> None:
        """List the takes."""
        table, width, glyphs = self.query_one(TaskTable), self.size.width, self.forescale.glyphs
        row = table.cursor_row
        form = "%Y-%m-%d %H:%M" if width >= WIDE else "%H:%M"
        when = len(f"{datetime(2026, 1, 1):{form}}")
        note = max(width - NUMBER - when - GOOD - 9, 8)
        table.clear(columns=True)
        for head, room in (("take", NUMBER), ("time", when), ("", GOOD), ("note", note)):
            table.add_column(head, width=room)
        for number, take in reversed(list(takes.numbered(self.taken))):
            lines = wrapped(plain(take.note, glyphs), note)
            cells = (str(number), f"{take.time:{form}}", takes.judged(take), "\n".join(lines))
            table.add_row(*cells, height=max(len(lines), 1))
        if self.taken:
            table.move_cursor(row=min(row, len(self.taken) - 1))
        else:
            self.say("No takes yet: t logs one, as the shot is set now")
        self._show_set()

    @on(DataTable.RowHighlighted)
    def _show_set(self) -> None:
        """Show what was set for the take in hand, or what a take would log now."""
        text = takes.take_text(self.taken[self.place]) if self.taken else takes.what_is_set(self.session.state.answer)
        lines = wrapped(plain(text, self.forescale.glyphs), max(self.size.width - 2, 20))[:SET_LINES]
        box = self.query_one("#was-set", Rows)
        box.styles.height = len(lines)
        box.show(tuple(((f" {line}", "answer"),) for line in lines))

    # Changing

    def _put(self, log: tuple[Take, ...], said: str) -> None:
        self._apply({"state": still_named(self.session.state.shot.state, log), "take": log}, said)

    def _apply(self, changes: dict[str, Any], said: str) -> None:
        self.session.apply(changes)
        self.forescale.changed()
        self.fill()
        self.say(said)

    def action_log(self) -> None:
        """Log a take now, to be judged later."""
        state = self.session.state
        changes = takes.logged(state.shot, state.answer, datetime.now().replace(microsecond=0))
        number = changes["take"][-1].number
        self._apply(changes, f"Take {number} is logged: g says whether it was good, Enter types a note, x deletes it")
        self.query_one(TaskTable).move_cursor(row=0)

    def some(self) -> bool:
        """Tell whether there is a take in hand, and say so where there is none."""
        if not self.taken:
            self.say("No takes yet: t logs one, as the shot is set now", refused=True)
        return bool(self.taken)

    @on(DataTable.RowSelected)
    def _note(self) -> None:
        self.action_line("note")

    def action_line(self, what: str) -> None:
        """Ask for a line on the take in hand: its note, the weather, or how the model was."""
        if not self.some():
            return
        place = self.place

        def clean(text: str) -> str:
            return " ".join(text.split())

        def take(text: str) -> None:
            self._put(takes.changed(self.taken, place, **{what: clean(text)}), "")

        self.say("")
        self.ask(what.capitalize(), getattr(self.taken[place], what), clean, take)

    def action_judge(self) -> None:
        """Say that the take in hand was good, that it was not, or that nobody has said yet."""
        if self.some():
            good = takes.next_judgement(self.taken[self.place].good)
            self._put(takes.changed(self.taken, self.place, good=good), "")

    def action_delete(self) -> None:
        """Delete the take in hand."""
        if self.some():
            number = self._number(self.place)
            self._put(takes.without(self.taken, self.place), f"Take {number} is deleted; u brings it back")

    # The state of a take

    def _number(self, place: int) -> int:
        return list(takes.numbered(self.taken))[place][0]

    def _shot_of(self, take: Take) -> Shot | None:
        """Return the shot set as it was for a take, or say that nothing of it was stored."""
        shot = restored(self.session.state.shot, take)
        if shot is None:
            self.say("No state was stored with this take: only what stands below is known of it", refused=True)
        return shot

    def _compared(self, take: Take, shot: Shot) -> Compared:
        return Compared.of(f"take {self._number(self.taken.index(take))}", shot, self.session)

    def action_versus_now(self) -> None:
        """Hold the state of the take in hand beside the present."""
        if not self.some():
            return
        take = self.taken[self.place]
        if shot := self._shot_of(take):
            self.app.push_screen(CompareScreen(self._compared(take, shot), Compared.now(self.session)))

    def action_compare_two(self) -> None:
        """Take the take in hand as the first of two, or hold it beside the first."""
        if not self.some():
            return
        take, first = self.taken[self.place], self._first
        shot = self._shot_of(take)
        if shot is None:
            return
        before = None if first is None or first is take else restored(self.session.state.shot, first)
        if first is None or first not in self.taken or before is None:
            self._first = take
            self.say(f"Take {self._number(self.place)} is the first of two: go to another and press c")
            return
        self._first = None
        self.say("")
        self.app.push_screen(CompareScreen(self._compared(first, before), self._compared(take, shot)))

    def action_go_back(self) -> None:
        """Set all as it was for the take in hand, and go to the board."""
        if not self.some():
            return
        shot, number = self._shot_of(self.taken[self.place]), self._number(self.place)
        if shot and self.attempt(lambda: self.session.move_to(self.session.solved(shot))):
            self.dismiss()
            self.forescale.board.say(f"All is set as for take {number}; undo brings the other state back")
