"""Takes: a line for each, with what was set, whether it was good, and a note; each in a state to go back to."""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.widgets import DataTable

from forescale.engine.shot.records import Shot, Take
from forescale.engine.states import takes
from forescale.engine.states.takes import restored, still_named
from forescale.tui.tasks.compare import StatesScreen
from forescale.tui.tasks.frame.verbs import UNDO, key
from forescale.tui.tasks.frame.widgets import Said

NUMBER, GOOD, WIDE = 4, 7, 60


class TakesScreen(StatesScreen):
    """The log of takes, the newest first; what was set for the one in hand stands below."""

    TASK = "Takes: a logs one"
    ENTER = "note"
    EMPTY = "No takes yet: a logs one, as the shot is set now"
    BY_ROW = True
    TALL = 0
    BINDINGS: ClassVar[list[BindingType]] = [
        key("add", "log", "log a take now, as the shot is set"),
        key("turn", "good or not", "say of the selected take: good, no good, not judged yet"),
        key("back", "back to it", "set all as it was for the selected take"),
        key("compare", "two", "compare the selected take with another: c on both, or twice on one: with now"),
        key("edit", "weather, model", "the note of the selected take, what the weather was, and how the model was"),
        key("delete", "delete", "delete the selected take; undo brings it back"),
        *UNDO,
    ]

    @property
    def records(self) -> tuple[Take, ...]:
        """The takes in the order in which they were logged."""
        return self.shot.take

    def shot_of(self, record: Take) -> Shot | None:
        """Return the shot set as it was for a take, or say that nothing of it was stored."""
        shot = restored(self.shot, record)
        if shot is None:
            self.say("No state was stored with this take: only what stands below is known of it", refused=True)
        return shot

    def called(self, record: Take) -> str:
        """Return a take by its number."""
        return f"take {list(takes.numbered(self.records))[self.records.index(record)][0]}"

    def put_rows(self) -> None:
        """List the takes."""
        width = self.size.width
        form = "%Y-%m-%d %H:%M" if width >= WIDE else "%H:%M"
        when = len(f"{datetime(2026, 1, 1):{form}}")
        heads = [("take", NUMBER), ("time", when), ("judged", GOOD), ("note", max(width - NUMBER - when - GOOD - 9, 8))]
        logged = reversed(list(takes.numbered(self.records)))
        rows = [(str(number), f"{one.time:{form}}", takes.judged(one), one.note) for number, one in logged]
        self.table.put_wrapped(heads, rows, self.glyphs)

    def gives(self) -> list[Said]:
        """Return what was set for the take in hand, or what a take would log now."""
        return [takes.take_text(self.records[self.place]) if self.records else takes.what_is_set(self.answer)]

    def _put(self, log: tuple[Take, ...], said: str = "") -> None:
        self.change({"state": still_named(self.shot.state, log), "take": log}, said)

    def action_add(self) -> None:
        """Log a take now, to be judged later."""
        changes = takes.logged(self.shot, self.answer, datetime.now().replace(microsecond=0))
        number = changes["take"][-1].number
        said = f"Take {number} is logged: t says whether it was good, Enter types a note, x deletes it"
        self.change(changes, said, 0)

    @on(DataTable.RowSelected)
    def _note(self) -> None:
        self._ask_lines("note")

    def action_edit(self) -> None:
        """Ask for the lines on the take in hand one after another: its note, the weather, how the model was."""
        if self.some():
            self._ask_lines("note", "weather", "model")

    def _ask_lines(self, what: str, *rest: str) -> None:
        place = self.place

        def clean(text: str) -> str:
            return " ".join(text.split())

        def take(text: str) -> None:
            self._put(takes.changed(self.records, place, **{what: clean(text)}))
            if rest:
                self._ask_lines(*rest)

        self.ask(what.capitalize(), getattr(self.records[place], what), clean, take)

    def action_turn(self) -> None:
        """Say that the take in hand was good, that it was not, or that nobody has said yet."""
        if self.some():
            good = takes.next_judgement(self.records[self.place].good)
            self._put(takes.changed(self.records, self.place, good=good))

    def action_delete(self) -> None:
        """Delete the take in hand."""
        if self.some():
            gone = self.called(self.records[self.place]).capitalize()
            self._put(takes.without(self.records, self.place), f"{gone} is deleted; u brings it back")
