"""A screen of this program, which knows the app and the shot under work by their own types."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, TypeVar, cast

from textual.screen import Screen

from forescale.tui.session import Session

if TYPE_CHECKING:  # the app opens the screens; they know it by its type alone
    from forescale.engine.compare.differences import Difference, UndoWord
    from forescale.tui.app import ForescaleApp

Result = TypeVar("Result")


class AppScreen(Screen[Result]):
    """What the board and every task's screen stand on."""

    @property
    def forescale(self) -> ForescaleApp:
        """The app."""
        return cast("ForescaleApp", self.app)

    @property
    def session(self) -> Session:
        """The shot under work."""
        return self.forescale.session

    def action_theme(self) -> None:
        self.forescale.next_theme()

    def action_undo(self) -> None:
        self._step(self.session.undo, "Undone", "Nothing to undo")

    def action_redo(self) -> None:
        self._step(self.session.redo, "Redone", "Nothing to redo")

    def _step(self, take: Callable[[], bool], step: UndoWord, otherwise: str) -> None:
        before = self.session.state.shot
        if not take():
            self.say(otherwise)
            return
        from forescale.engine.compare.differences import changed_by_step

        self.forescale.changed()
        self.stepped(step, changed_by_step(before, self.session.state.shot))

    @abstractmethod
    def say(self, text: str) -> None:
        """Say something in a line."""

    @abstractmethod
    def text_in_hand(self) -> str:
        """Return what a copy takes: the value, the row or the page in hand."""

    @abstractmethod
    def stepped(self, step: UndoWord, changes: Sequence[Difference]) -> None:
        """Show the shot after a step back or on, and say what it changed."""
