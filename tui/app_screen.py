"""A screen of this program, and what it asks of the app that opened it and of the board that lies undermost."""

from abc import abstractmethod
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol, TypeVar, cast

from textual.screen import Screen, ScreenResultCallbackType

from forescale.engine.solve.record import Pane
from forescale.tui.glyphs import Glyphs
from forescale.tui.session import Session

if TYPE_CHECKING:
    from forescale.engine.compare.differences import Difference, UndoWord

Result = TypeVar("Result")


class BoardBelow(Protocol):
    """The board, as the tasks over it know it."""

    pane: Pane

    def in_hand(self) -> str: ...
    def go_to(self, path: str, pane: Pane) -> None: ...
    def say(self, text: str) -> None: ...


class ShotApp(Protocol):
    """The app, as its screens know it; what each does stands in `ForescaleApp`."""

    session: Session
    glyphs: Glyphs

    @property
    def board(self) -> BoardBelow: ...
    def changed(self) -> None: ...
    def keep_now(self) -> str: ...
    def keys_in_force(self) -> dict[str, str]: ...
    def next_glyphs(self) -> None: ...
    def next_theme(self) -> None: ...
    def open_shot(self, path: Path) -> None: ...
    def open_task(self, name: str, *args: Any, then: ScreenResultCallbackType[Any] | None = None) -> None: ...
    def save(self, *, then_leave: bool = False) -> None: ...
    def was_saved(self, *, then_leave: bool = False) -> None: ...
    def discard(self, *, for_good: bool = False) -> None: ...
    def leave(self) -> None: ...


class AppScreen(Screen[Result]):
    """What the board and every task's screen stand on."""

    @property
    def forescale(self) -> ShotApp:
        """The app."""
        return cast("ShotApp", self.app)

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

    def _step(self, take: Callable[[], bool], step: "UndoWord", otherwise: str) -> None:
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
    def stepped(self, step: "UndoWord", changes: Sequence["Difference"]) -> None:
        """Show the shot after a step back or on, and say what it changed."""
