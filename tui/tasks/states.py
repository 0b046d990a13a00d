"""States of the shot, to compare or to go back to: those saved under names, and the log of takes."""

from abc import abstractmethod
from datetime import datetime
from typing import Any

from forescale.engine.compare.differences import fields_that_differ, in_few_words
from forescale.engine.field_help import in_words
from forescale.engine.files.faults import BadInput
from forescale.engine.kit.kit import load_kit
from forescale.engine.shot import edit
from forescale.engine.shot.records import SavedState, Shot, Take
from forescale.engine.states import saved, takes
from forescale.tui.session import reasons, with_setting
from forescale.tui.tasks.compare import WIDE, Compared, CompareScreen
from forescale.tui.tasks.frame import UNDO, Cell, Question, RowsScreen, Said, key

NAME, KEPT, NUMBER, GOOD = 20, 16, 4, 7  # columns


class StatesScreen(RowsScreen[None]):
    """A list of states of the shot, the newest first, any of which can be held beside another, or beside now."""

    _one_of_two: Any = None

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

    def hold(self, *records: Any) -> None:
        """Hold the shot as a record has it beside that of another, or beside now."""
        state, shots = self.session.state, [(record, self.shot_of(record)) for record in records]
        held = [self._compared(record, shot) for record, shot in shots if shot is not None]
        if held:
            first, second, *_ = (*held, Compared("now", state.shot, state.answer))
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
        record, first = self.records[self.place], self._one_of_two
        self._one_of_two = None
        self.say("")
        if first == record:
            self.hold(record)
        elif first in self.records:
            self.hold(first, record)
        elif self.shot_of(record) is not None:
            self._one_of_two = record
            self.say(f"{self.called(record)} is the first of two: c on another, or once more to hold it beside now")

    def action_back(self) -> None:
        if not self.some() or (shot := self.shot_of(record := self.records[self.place])) is None:
            return
        before = self.session.state
        if self.attempt(lambda: self.session.move_to(self.session.solved(shot))):
            if self.session.state is before:
                self.say(f"Nothing differs from {self.called(record)}, so nothing is changed")
                return
            self.forescale.changed()
            self.dismiss()
            back = "witness marks and all else" if before.shot.witness and not shot.witness else "the other state"
            self.forescale.board.say(f"Set as for {self.called(record)}; undo brings {back} back")


class MarksScreen(StatesScreen):
    TASK, SECTION, ENTER = "Saved states", "mark", "vs now"
    EMPTY = "No saved states yet: a keeps the present state under a name"
    BINDINGS = [
        key("add", "keep", "keep the present state under a name"),
        key("back", "go back", "go back to the selected state; undo brings the present back"),
        key("compare", "two", "compare the selected state with another: c on both"),
        key("edit", "name", "give the selected state another name"),
        key("delete", "delete", "delete the selected state; undo brings it back"),
        *UNDO,
    ]

    def shot_of(self, record: SavedState) -> Shot:
        return with_setting(self.shot, record.setting)

    def called(self, record: SavedState) -> str:
        return f'"{record.name}"'

    def put_rows(self) -> None:
        width, rows = self.size.width, list[list[Cell]]()
        heads = [("state", NAME), ("kept", KEPT), ("differs from now in", width - NAME - KEPT - 7)]
        for mark in reversed(self.records):
            kept, differs = f"{mark.kept:%Y-%m-%d %H:%M}", self._differs(mark)
            one_below_the_other: Cell = [mark.name, ("  ", kept), ("  ", f"differs in {differs}")]
            rows.append([mark.name, kept, differs] if width >= WIDE else [one_below_the_other])
        self.table.put_wrapped(heads if width >= WIDE else [("state", max(width - 3, NAME))], rows, self.glyphs)

    def _differs(self, mark: SavedState) -> str:
        words = in_few_words(fields_that_differ(mark.setting, self.shot, self.system))
        try:
            if mark.setting.kit != self.shot.kit:
                load_kit(mark.setting.kit)
        except BadInput as fault:
            return f"its kit is gone ({in_words(fault.faults[0])}); {words}"
        return words

    def enter(self) -> None:
        self.hold(self.records[self.place])

    def action_add(self) -> None:
        now = datetime.now().replace(microsecond=0)
        free = saved.free_name(self.records, f"at {now:%H:%M}")

        def keep(name: str) -> None:
            self.change({"mark": saved.keep(self.shot, name, now)}, f'Kept as "{saved.plain_name(name)}"', 0)

        self.ask(Question("Name", lambda text: saved.checked_name(self.records, text), free), keep)

    def action_edit(self) -> None:
        if not self.some():
            return
        place, old = self.place, self.records[self.place].name

        def rename(text: str) -> None:
            self.change({"mark": saved.renamed(self.records, place, text)}, f'Now called "{saved.plain_name(text)}"')

        self.ask(Question("Name", lambda text: saved.checked_name(self.records, text, old), old), rename)

    def action_delete(self) -> None:
        if self.some():
            said = f"{self.called(self.records[self.place])} is deleted; u brings it back"
            self.change({"mark": edit.without(self.records, self.place)}, said)


class TakesScreen(StatesScreen):
    TASK, SECTION, ENTER = "Takes: a logs one", "take", "note"
    EMPTY, BY_ROW, TALL = "No takes yet: a logs one, as the shot is set now", True, 0
    BINDINGS = [
        key("add", "log", "log a take now, as the shot is set"),
        key("turn", "good or not", "say of the selected take: good, no good, not judged yet"),
        key("back", "back to it", "set all as it was for the selected take"),
        key("compare", "two", "compare the selected take with another: c on both, or twice on one: with now"),
        key("edit", "note, weather, model", "the note of the take, what the weather was, how the model was"),
        key("delete", "delete", "delete the selected take; undo brings it back"),
        *UNDO,
    ]

    def shot_of(self, record: Take) -> Shot | None:
        """Return the shot set as it was for a take, or say that nothing of it was stored."""
        shot = takes.restored(self.shot, record)
        if shot is None:
            self.say("No state was stored with this take: only what stands below is known of it", refused=True)
        return shot

    def called(self, record: Take) -> str:
        return f"take {list(takes.numbered(self.records))[self.records.index(record)][0]}"

    def put_rows(self) -> None:
        width = self.size.width
        form = "%Y-%m-%d %H:%M" if width >= WIDE else "%H:%M"
        when = len(f"{datetime(2026, 1, 1):{form}}")
        heads = [("take", NUMBER), ("time", when), ("judged", GOOD), ("note", max(width - NUMBER - when - GOOD - 9, 8))]
        logged = reversed(list(takes.numbered(self.records)))
        rows = [(str(number), f"{one.time:{form}}", takes.judged(one), one.note) for number, one in logged]
        self.table.put_wrapped(heads, rows, self.glyphs)

    def gives(self) -> list[Said]:
        return [takes.take_text(self.records[self.place]) if self.records else takes.what_is_set(self.answer)]

    def _put(self, log: tuple[Take, ...], said: str = "") -> None:
        self.change({"state": takes.still_named(self.shot.state, log), "take": log}, said)

    def action_add(self) -> None:
        changes = takes.logged(self.shot, self.answer, datetime.now().replace(microsecond=0))
        number = changes["take"][-1].number
        said = f"Take {number} is logged: t says whether it was good, Enter types a note, x deletes it"
        self.change(changes, said, 0)

    def enter(self) -> None:
        self.of_row = False  # more may be said of the same take
        self._ask_lines("note")

    def action_edit(self) -> None:
        if self.some():
            self._ask_lines("note", "weather", "model")

    def _ask_lines(self, *names: str) -> None:
        place = self.place

        def put(*texts: str) -> None:
            lines = dict(zip(names, map(saved.plain_name, texts), strict=True))
            self._put(takes.changed(self.records, place, **lines))

        take = self.records[place]
        self.ask_each([Question(name.capitalize(), saved.plain_name, getattr(take, name)) for name in names], put)

    def action_turn(self) -> None:
        if self.some():
            then: dict[bool | None, bool | None] = {None: True, True: False, False: None}  # not judged yet, and round
            self._put(takes.changed(self.records, self.place, good=then[self.records[self.place].good]))

    def action_delete(self) -> None:
        if self.some():
            gone = self.called(self.records[self.place]).capitalize()
            self._put(takes.without(self.records, self.place), f"{gone} is deleted; u brings it back")
