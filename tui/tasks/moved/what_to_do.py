"""What to do now that the rig has moved: the list for the crew, and what may be chosen otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from forescale.engine.compare.differences import findings_changed
from forescale.engine.moved.moved import Moved, MovedChoice, work_out
from forescale.engine.moved.other_ways import other_ways
from forescale.engine.moved.price_of_keeping import price_of_keeping
from forescale.engine.moved.to_do import ToDo, what_to_do
from forescale.engine.shot.records import Mark
from forescale.tui.glyphs import Glyphs, plain
from forescale.tui.session import State, with_setting
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen
from forescale.tui.wrapped import wrapped

LABEL, WITH_LABEL = 9, 50


@dataclass(frozen=True, slots=True)
class Asked:
    """What the form asked: the state before, the distances typed, the choice, and the mark that keeps the state."""

    before: State
    typed: Mapping[str, float]
    choice: MovedChoice
    mark: str
    marks: tuple[Mark, ...]


class WhatToDoScreen(TaskScreen[bool]):
    """The list, already on the board beneath; True is handed back unless it was undone."""

    TASK = "What to do"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("p", "toggle_place", "place", tooltip="move the model to its match, or leave it where it stands"),
        Binding("f", "toggle_focus", "focus", tooltip="keep the focus mark, or recalculate it"),
        Binding("s", "toggle_stop", "stop", tooltip="keep the stop, or recalculate it"),
        Binding("u", "undo", "undo", tooltip="undo it all and go back to the distances"),
    ]

    def __init__(self, asked: Asked, moved: Moved) -> None:
        super().__init__()
        self.asked, self.choice, self.moved = asked, asked.choice, moved

    def body(self) -> ComposeResult:
        """One page."""
        yield TaskPage(id="to-do")

    def keys(self) -> list[tuple[str, str]]:
        """Return the keys with what they would change now."""
        says = {
            "p": "leave the model" if self.moved.model_moves else "move the model",
            "f": "solve focus" if self.choice.keep_focus else "keep focus",
            "s": "solve stop" if self.choice.keep_stop else "keep stop",
        }
        pairs = super().keys()
        return [(key, says.get(key, words)) for key, words in pairs]

    def on_mount(self) -> None:
        """Put it on the board, and say what to do."""
        self._before = self.session.state.shot
        self._put(self.moved)
        self.forescale.changed()

    def on_resize(self, _event: events.Resize) -> None:
        """Wrap the sentences anew."""
        self.fill()

    def fill(self) -> None:
        """Show the list."""
        glyphs = self.forescale.glyphs
        lines = to_do_lines(self.moved, self.asked.mark, max(self.size.width - 3, 20), glyphs)
        self.query_one(TaskPage).show("\n".join(lines))

    def _put(self, moved: Moved) -> None:
        """Make it the shot, as two changes: what was taped, and what is done about it."""
        session = self.session
        self._go_back()
        shot = session.state.shot.model_copy(update={"mark": self.asked.marks})
        for answer in (moved.taped, moved.after):
            session.move_to(State(with_setting(shot, answer.setting), session.state.kit, answer))
        self.moved = moved

    def _choose(self, choice: MovedChoice) -> None:
        """Work it out again by another choice; where that cannot be, say why and change nothing."""
        if self.attempt(lambda: self._put(work_out(self.asked.before.answer, self.asked.typed, choice))):
            self.choice = choice
            self._show_lines()

    def action_toggle_place(self) -> None:
        """Move the model to its match, or leave it where it stands."""
        self._choose(replace(self.choice, move_model=not self.moved.model_moves))
        if self.moved.hindrance:
            self.say(self.moved.hindrance, refused=True)

    def action_toggle_focus(self) -> None:
        """Keep the focus mark, or solve it again."""
        self._choose(replace(self.choice, keep_focus=not self.choice.keep_focus))

    def action_toggle_stop(self) -> None:
        """Keep the stop, or solve it again."""
        self._choose(replace(self.choice, keep_stop=not self.choice.keep_stop))

    def action_undo(self) -> None:
        """Undo it all and go back to the distances."""
        self._go_back()
        self.forescale.changed()
        self.dismiss(False)

    def _go_back(self) -> None:
        while self.session.state.shot != self._before and self.session.undo():
            pass

    def action_leave(self) -> None:
        """Go back to the board, on which it all stands."""
        self.forescale.changed()
        self.dismiss(True)


def to_do_lines(moved: Moved, mark: str, width: int, glyphs: Glyphs) -> list[str]:
    """Return the list in lines of at most so many columns."""
    steps = what_to_do(moved)
    doing = [step for step in steps if step.changed or step.also]
    lines = []
    for number, step in enumerate(doing, 1):
        lead = f"{number} {step.subject}".ljust(LABEL) if width >= WITH_LABEL else f"{number} "
        lines += _hung(lead, _said(step), width, glyphs)
    if not doing:
        lines.append("Nothing to do: all may stay as it is")
    leaving = ", ".join(f"{step.subject} {step.after_text}" for step in steps if step not in doing)
    if leaving:
        lines += ["", *_hung("", f"Unchanged: {leaving}", width, glyphs)]
    if ways := other_ways(moved):
        lines += ["", *_hung("", f"Or in place of moving the model: {'; '.join(ways)}", width, glyphs)]
    if price := price_of_keeping(moved):
        lines += ["", *_hung("", price, width, glyphs)]
    lines += _findings(moved, width, glyphs)
    return [*lines, "", *_hung("", f'The state before is saved as "{mark}"', width, glyphs)]


def _said(step: ToDo) -> str:
    return f"{step.text}; {step.also}" if step.also else step.text


def _findings(moved: Moved, width: int, glyphs: Glyphs) -> Iterator[str]:
    change = findings_changed(moved.before, moved.after)
    for title, found in (("Brought by the move:", change.brought), ("Gone with the move:", change.gone)):
        if found:
            yield ""
            yield title
        for finding in found:
            lead = "no longer: " if found is change.gone else f"{getattr(glyphs, finding.level)} "
            yield from _hung(f" {lead}", finding.text, width, glyphs)


def _hung(lead: str, text: str, width: int, glyphs: Glyphs) -> list[str]:
    """Return a text after its lead, the lines that follow under its own start."""
    return wrapped(plain(text, glyphs), width, lead)
