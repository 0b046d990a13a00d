"""Two states of the shot side by side: what is set, what is answered and what is said of one alone."""

from collections.abc import Iterator
from typing import NamedTuple

from forescale.engine.answer import Answer
from forescale.engine.compare.differences import answers_that_differ, fields_that_differ, findings_changed
from forescale.engine.shot.records import Setting
from forescale.engine.solve.record import LEVELS
from forescale.engine.units import UnitSystem
from forescale.tui.tasks.frame import RowsScreen

WHAT = 15
WIDE = 60  # columns of a screen from which on cells stand side by side


class Compared(NamedTuple):
    """One of the two: its name, what is set, and its answer or why there is none."""

    name: str
    setting: Setting
    answer: Answer | None
    fault: str = ""


class CompareScreen(RowsScreen[None]):
    """A table of what differs: fields first, then answers, then what is to be said of one alone."""

    TASK, EMPTY = "Compared", "They do not differ"

    def __init__(self, first: Compared, second: Compared) -> None:
        super().__init__()
        self.first, self.second = first, second

    def put_rows(self) -> None:
        wide = self.size.width >= WIDE
        room = (self.size.width - WHAT - 7) // 2 if wide else max(self.size.width - WHAT - 5, 16)
        names = [self.first.name, self.second.name] if wide else [f"1 {self.first.name}, 2 {self.second.name}"]
        heads = [("differs", WHAT), *((name, room) for name in names)]
        found = list(compared_rows(self.first, self.second, self.system))
        stacked = [(what, [("1 ", first), ("2 ", second)]) for what, first, second in found]
        self.table.put_wrapped(heads, found if wide else stacked, self.glyphs)
        faults = [f"{one.name}: no answer: {one.fault}" for one in (self.first, self.second) if one.fault]
        self.say("; ".join(faults), refused=bool(faults))


def compared_rows(first: Compared, second: Compared, system: UnitSystem) -> Iterator[tuple[str, str, str]]:
    """Yield what differs, and how each of the two has it; an answer that a field has said already is left out."""
    fields = fields_that_differ(first.setting, second.setting, system)
    yield from ((one.what, one.first, one.second) for one in fields)
    if first.answer is None or second.answer is None:
        return
    said, named = {(one.first, one.second) for one in fields}, {one.what for one in fields}
    for one in answers_that_differ(first.answer, second.answer):
        if (one.first, one.second) not in said:
            yield one.what + (" in force" if one.what in named else ""), one.first, one.second
    change = findings_changed(first.answer, second.answer)
    told = [(finding, "", finding.text) for finding in change.brought]
    told += [(finding, finding.text, "") for finding in change.gone]
    for finding, before, after in sorted(told, key=lambda one: LEVELS.index(one[0].level)):
        yield {"stop": "fault", "warn": "look"}.get(finding.level, "note"), before, after
