"""A screen of this program, which knows the app and the shot under work by their own types."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, Protocol, TypeVar, cast

from textual.screen import Screen, ScreenResultCallbackType

from forescale.engine.compare.differences import Difference
from forescale.engine.compare.step_words import Step, changed_by_step
from forescale.engine.solve.record import Pane
from forescale.tui.glyphs import Glyphs
from forescale.tui.session import Session

Result = TypeVar("Result")


class BoardBeneath(Protocol):
    """The board, as a task over it knows it."""

    pane: Pane

    def say(self, text: str) -> None:
        """Say something in the board's last line."""

    def in_hand(self) -> str:
        """Return the path of the field in hand."""

    def go_to(self, path: str, pane: Pane) -> None:
        """Take a field in hand."""

    async def run_action(self, action: str) -> bool:
        """Do what a key of the board does."""


class Program(Protocol):
    """The app, as its screens know it: the shot under work, and what is opened, kept and left through it."""

    session: Session
    glyphs: Glyphs

    @property
    def board(self) -> BoardBeneath:
        """The board, which always lies undermost."""

    def keys_in_force(self) -> dict[str, str]:
        """Return the keys by their ids, as the user has set them."""

    def changed(self) -> None:
        """Keep unsaved work for after a crash."""

    def keep_now(self) -> str:
        """Keep it before the key returns, and return why it cannot be, "" where it is."""

    def save(self, *, then_leave: bool = False) -> None:
        """Save the shot."""

    def was_saved(self, *, then_leave: bool = False) -> None:
        """Forget what was kept for after a crash, and say where the shot lies."""

    def open_shot(self, path: Path) -> None:
        """Put another shot on the board."""

    def open_task(self, name: str, *args: Any, then: ScreenResultCallbackType[Any] | None = None) -> None:
        """Open a task over what is shown; `then` takes what it hands back."""

    def next_theme(self) -> None:
        """Go to the next theme."""

    def next_glyphs(self) -> None:
        """Go to the next glyph table."""

    def leave(self) -> None:
        """Leave, asking once where work is not saved."""

    def discard(self, *, for_good: bool = False) -> None:
        """Leave, and let the unsaved work go."""


class AppScreen(Screen[Result]):
    """What the board and every task's screen stand on."""

    @property
    def forescale(self) -> Program:
        """The app."""
        return cast(Program, self.app)

    @property
    def session(self) -> Session:
        """The shot under work."""
        return self.forescale.session

    def action_undo(self) -> None:
        """Undo the last change of the shot, and say what that was."""
        self._step(self.session.undo, "Undone", "Nothing to undo")

    def action_redo(self) -> None:
        """Take the undone change back, and say what that was."""
        self._step(self.session.redo, "Redone", "Nothing to redo")

    def _step(self, take: Callable[[], bool], step: Step, otherwise: str) -> None:
        before = self.session.state.shot
        if not take():
            self.say(otherwise)
            return
        self.forescale.changed()
        self.stepped(step, changed_by_step(before, self.session.state.shot))

    @abstractmethod
    def say(self, text: str) -> None:
        """Say something in a line."""

    @abstractmethod
    def text_in_hand(self) -> str:
        """Return what a copy takes: the value, the row or the page in hand."""

    @abstractmethod
    def stepped(self, step: Step, changes: Sequence[Difference]) -> None:
        """Show the shot after a step back or on, and say what it changed."""
