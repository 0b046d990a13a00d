"""A screen of this program, which knows the app and the shot under work by their own types."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar, cast

from textual.screen import Screen

from tui.session import Session

if TYPE_CHECKING:
    from tui.app import ForescaleApp

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
