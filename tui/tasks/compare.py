"""Two states of a shot held against each other: the values that differ, and nothing else."""

from abc import abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from forescale.engine.answer import Answer
from forescale.engine.compare.differences import answers_that_differ, fields_that_differ, findings_changed
from forescale.engine.files.faults import BadInput
from forescale.engine.shot.records import Setting, Shot
from forescale.engine.solve.record import LEVELS
from forescale.engine.units import UnitSystem
from forescale.tui.session import reasons
from forescale.tui.tasks.frame import RowsScreen

WHAT, WIDE = 15, 60


@dataclass(frozen=True, slots=True)
class Compared:
    """One of the two: its name, what is set, and its answer or why there is none."""

    name: str
    setting: Setting
    answer: Answer | None
    fault: str = ""


class BesideScreen(RowsScreen[None]):
    """A table of what differs: fields first, then answers, then what is to be said of one alone."""

    EMPTY = "They do not differ"

    def __init__(self, first: Compared, second: Compared) -> None:
        super().__init__()
        self.first, self.second = first, second

    def put_rows(self) -> None:
        """Hold the two side by side, or one under the other where the screen is narrow."""
        wide = self.size.width >= WIDE
        room = (self.size.width - WHAT - 7) // 2 if wide else max(self.size.width - WHAT - 5, 16)
        names = [self.first.name, self.second.name] if wide else [f"1 {self.first.name}, 2 {self.second.name}"]
        heads = [("differs", WHAT), *((name, room) for name in names)]
        found = list(compared_rows(self.first, self.second, self.system))
        stacked = [(what, [("1 ", first), ("2 ", second)]) for what, first, second in found]
        self.table.put_wrapped(heads, found if wide else stacked, self.glyphs)
        faults = [f"{one.name}: no answer: {one.fault}" for one in (self.first, self.second) if one.fault]
        self.say("; ".join(faults), refused=bool(faults))


class CompareScreen(BesideScreen):
    """Two states to be read."""

    TASK = "Compared"


class StatesScreen(RowsScreen[None]):
    """A list of states of the shot, the newest first, any of which can be held beside another, or beside now."""

    _first: Any = None

    @abstractmethod
    def shot_of(self, record: Any) -> Shot | None:
        """Return the shot as a record has it; None, and said so, where it has kept nothing."""

    @abstractmethod
    def called(self, record: Any) -> str:
        """Return what a record is called."""

    @property
    def place(self) -> int:
        """The place, in the order of keeping, of what is in hand."""
        return len(self.records) - 1 - self.table.place

    def hold(self, record: Any, other: Any = None) -> None:
        """Hold a record beside another, or beside the present state."""
        if (shot := self.shot_of(record)) is None:
            return
        state = self.session.state
        first, second = self._compared(record, shot), Compared("now", state.shot, state.answer)
        if other is not None and (shot := self.shot_of(other)) is not None:
            second = self._compared(other, shot)
        self.app.push_screen(CompareScreen(first, second))

    def _compared(self, record: Any, shot: Shot) -> Compared:
        name = self.called(record).strip('"')
        try:
            return Compared(name, shot, self.session.solved(shot).answer)
        except BadInput as fault:
            return Compared(name, shot, None, reasons(fault))

    def action_compare(self) -> None:
        """Take what is in hand as the first of two; once more holds it beside now, and another beside the first."""
        if not self.some():
            return
        record, first = self.records[self.place], self._first
        self._first = None
        self.say("")
        if first == record:
            self.hold(record)
        elif first in self.records:
            self.hold(first, record)
        elif self.shot_of(record) is not None:
            self._first = record
            self.say(f"{self.called(record)} is the first of two: c on another, or once more to hold it beside now")

    def action_back(self) -> None:
        if not self.some() or (shot := self.shot_of(record := self.records[self.place])) is None:
            return
        if self.attempt(lambda: self.session.move_to(self.session.solved(shot))):
            self.forescale.changed()
            self.dismiss()
            self.forescale.board.say(f"All is set as for {self.called(record)}; undo brings the other state back")


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
