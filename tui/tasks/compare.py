"""Two states of a shot held against each other: the values that differ, and nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rich.markup import escape
from textual import events
from textual.app import ComposeResult

from forescale.engine.answer import Answer
from forescale.engine.compare.differences import answers_that_differ, fields_that_differ, findings_changed
from forescale.engine.files.faults import BadInput
from forescale.engine.shot.records import Setting, Shot
from forescale.engine.solve.record import LEVELS
from forescale.engine.units import UnitSystem
from forescale.tui.glyphs import plain
from forescale.tui.session import Session, reasons
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable
from forescale.tui.wrapped import wrapped

WHAT, WIDE = 15, 60


@dataclass(frozen=True, slots=True)
class Compared:
    """One of the two: its name, what is set, and its answer or why there is none."""

    name: str
    setting: Setting
    answer: Answer | None
    fault: str = ""

    @classmethod
    def of(cls, name: str, shot: Shot, session: Session) -> Compared:
        """Return a state of the shot under work with its answer, or with why it has none."""
        try:
            return cls(name, shot, session.solved(shot).answer)
        except BadInput as fault:
            return cls(name, shot, None, reasons(fault))

    @classmethod
    def now(cls, session: Session) -> Compared:
        """Return the present state."""
        return cls("now", session.state.shot, session.state.answer)


class BesideScreen(TaskScreen[None]):
    """A table of what differs: fields first, then answers, then what is to be said of one alone."""

    def __init__(self, first: Compared, second: Compared) -> None:
        super().__init__()
        self.first, self.second = first, second

    def body(self) -> ComposeResult:
        """One table."""
        yield TaskTable(id="compared")

    def on_resize(self, _event: events.Resize) -> None:
        """Fit the table to the new width."""
        self.fill()

    def fill(self) -> None:
        """Hold the two side by side, or one under the other where the screen is narrow."""
        table, wide = self.query_one(TaskTable), self.size.width >= WIDE
        row = table.cursor_row
        table.clear(columns=True)
        room = (self.size.width - WHAT - 7) // 2 if wide else max(self.size.width - WHAT - 5, 16)
        heads = [self.first.name, self.second.name] if wide else [f"1 {self.first.name}, 2 {self.second.name}"]
        lines = [self._lines(head, room) for head in heads]
        table.header_height = max(map(len, lines))
        table.add_column("", width=WHAT)
        for head in lines:
            table.add_column(escape("\n".join(head)), width=room)
        for what, first, second in compared_rows(self.first, self.second, self.session.state.shot.units):
            if wide:
                cells = [self._lines(what, WHAT), self._lines(first, room), self._lines(second, room)]
            else:
                cells = [self._lines(what, WHAT), [*self._lines(first, room, "1 "), *self._lines(second, room, "2 ")]]
            table.add_row(*("\n".join(lines) for lines in cells), height=max(map(len, cells)))
        table.move_cursor(row=row)
        faults = [f"{one.name}: no answer: {one.fault}" for one in (self.first, self.second) if one.fault]
        self.say("; ".join(faults) or ("" if table.row_count else "They do not differ"), refused=bool(faults))

    def _lines(self, text: str, width: int, lead: str = "") -> list[str]:
        return wrapped(plain(text, self.forescale.glyphs), width, lead)


class CompareScreen(BesideScreen):
    """Two states to be read."""

    TASK = "Compared"


def compared_rows(first: Compared, second: Compared, system: UnitSystem) -> Iterator[tuple[str, str, str]]:
    """Yield what differs, and how each of the two has it; an answer that a field has said already is left out."""
    fields = fields_that_differ(first.setting, second.setting, system)
    for one in fields:
        yield one.what, one.first, one.second
    if first.answer is None or second.answer is None:
        return
    said = {(one.first, one.second) for one in fields}
    for one in answers_that_differ(first.answer, second.answer):
        if (one.first, one.second) not in said:
            yield one.what, one.first, one.second
    change = findings_changed(first.answer, second.answer)
    told = [(finding, "", finding.text) for finding in change.brought]
    told += [(finding, finding.text, "") for finding in change.gone]
    for finding, before, after in sorted(told, key=lambda one: LEVELS.index(one[0].level)):
        yield finding.level, before, after
