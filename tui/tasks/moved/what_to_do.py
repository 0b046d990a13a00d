"""What to do now that the rig has moved: the list for the crew, and what may be chosen otherwise."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import datetime
from functools import partial

from forescale.engine.compare.differences import findings_changed
from forescale.engine.moved.carried import carried_says
from forescale.engine.moved.moved import Moved, MovedChoice, work_out
from forescale.engine.moved.to_do import gainsaid, other_ways, price_of_keeping, what_to_do
from forescale.engine.states.saved import free_name, keep
from forescale.tui.session import State, with_setting
from forescale.tui.tasks.frame import PageScreen, Said, key

LABEL, WITH_LABEL = 9, 50


class WhatToDoScreen(PageScreen[bool]):
    """The list, already on the board beneath; True is handed back unless it was undone."""

    TASK = "What to do"
    BINDINGS = [
        key("turn", "keep or change", "keep the model's place, the focus mark or the stop, or recalculate it"),
        key("undo", "undo", "undo it all and go back to the distances"),
    ]

    def __init__(self, before: State, typed: Mapping[str, float], choice: MovedChoice, moved: Moved) -> None:
        super().__init__()
        self.before, self.typed, self.choice, self.moved = before, typed, choice, moved
        time = datetime.now().replace(microsecond=0)
        self.mark = free_name(before.shot.mark, f"before {time:%H:%M}")
        self.marks = keep(before.shot, self.mark, time)

    def on_mount(self) -> None:
        self._put(self.moved)
        self.forescale.changed()

    def said(self) -> Iterator[Said]:
        yield from to_do(self.moved, wide=self.size.width >= WITH_LABEL)
        yield ""
        yield f'The state before is saved as "{self.mark}"'

    def _put(self, moved: Moved) -> None:
        """Make it the shot, as two changes: what was taped, and what is done about it."""
        session = self.session
        self._go_back()
        shot = session.state.shot.model_copy(update={"mark": self.marks})
        for answer in (moved.taped, moved.after):
            session.move_to(State(with_setting(shot, answer.setting), session.state.kit, answer))
        self.moved = moved

    def _choose(self, choice: MovedChoice) -> None:
        """Work it out again by another choice; where that cannot be, say why and change nothing."""
        if self.attempt(lambda: self._put(work_out(self.before.answer, self.typed, choice))):
            self.choice = choice
            self.changed()
            if choice.move_model and self.moved.hindrance:
                self.say(self.moved.hindrance, refused=True)

    def action_turn(self) -> None:
        now, moves = self.choice, self.moved.model_moves
        ways = {
            "leave the model" if moves else "move the model": replace(now, move_model=not moves),
            "recalculate focus" if now.keep_focus else "keep focus": replace(now, keep_focus=not now.keep_focus),
            "recalculate stop" if now.keep_stop else "keep stop": replace(now, keep_stop=not now.keep_stop),
        }
        self.pick("Other", {way: partial(self._choose, choice) for way, choice in ways.items()})

    def action_undo(self) -> None:
        self._go_back()
        self.forescale.changed()
        self.dismiss(False)

    def _go_back(self) -> None:
        while self.session.state.shot != self.before.shot and self.session.undo():
            pass

    def action_leave(self) -> None:
        self.forescale.changed()
        self.dismiss(True)


def to_do(moved: Moved, *, wide: bool) -> Iterator[Said]:
    """Yield the list; where it is `wide` each step has its subject before it."""
    if told := gainsaid(moved):
        yield from (told, "")
    steps = what_to_do(moved)
    doing = [step for step in steps if step.changed or step.also]
    for number, step in enumerate(doing, 1):
        lead = f"{number} {step.subject}".ljust(LABEL) if wide else f"{number} "
        yield lead, f"{step.text}; {step.also}" if step.also else step.text
    if not doing:
        yield "Nothing to do: all may stay as it is"
    leaving = ", ".join(f"{step.subject} {step.after_text}" for step in steps if step not in doing)
    ways = "; ".join(other_ways(moved))
    rest = [leaving and f"Unchanged: {leaving}", *carried_says(moved.before.setting, moved.after.setting)]
    rest += [ways and f"Or in place of moving the model: {ways}", price_of_keeping(moved)]
    for text in filter(None, rest):
        yield from ("", text)
    change = findings_changed(moved.before, moved.after)
    if change.brought:
        yield from ("", "Brought by the move:")
        yield from ((finding.level, finding.text) for finding in change.brought)
        raised = next((at for at, step in enumerate(doing, 1) if step.subject == "height"), None)
        if raised is not None and any(finding.code == "points-miss" for finding in change.brought):
            yield "  ", f"The misses are those before step {raised}, which puts the tie-in point at its real height"
    if change.gone:
        yield from ("", "Gone with the move:")
        yield from (("  no longer: ", finding.text) for finding in change.gone)
