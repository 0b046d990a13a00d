"""A file that someone else has changed since it was opened here: what differs, and whose is to stand."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.binding import BindingType

from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.tui.session import Session, reasons, solve
from forescale.tui.tasks.compare import BesideScreen, Compared
from forescale.tui.tasks.frame.verbs import key


class ElsewhereScreen(BesideScreen):
    """Yours beside the file's; a key for each way out, and Esc to save nothing yet."""

    TASK = "Changed elsewhere"
    BINDINGS: ClassVar[list[BindingType]] = [
        key("save", "save yours", "save yours over the file, with the takes of both"),
        key("get", "get theirs", "take the file's, with the takes of both; u on the board brings yours back"),
        key("save as", "save as", "save yours under another name, the file staying as it is"),
    ]

    def __init__(self, session: Session, then_leave: bool = False) -> None:
        state = session.state
        super().__init__(Compared("yours", state.shot, state.answer), _theirs(session))
        self.then_leave = then_leave

    def fill(self) -> None:
        """Show what differs, and say what is to be decided."""
        super().fill()
        if not self.second.fault:
            self.say(f"{self.session.path} was changed elsewhere since it was opened here: whose is to stand?")

    def action_save(self) -> None:
        """Save over what someone else has changed."""
        self._settle(self.session.keep_mine)

    def action_get(self) -> None:
        """Take what someone else has written."""
        self._settle(self.session.take_theirs)

    def action_save_as(self) -> None:
        """Give this one another name."""
        self.dismiss()
        self.forescale.open_task("save_as", self.then_leave)

    def _settle(self, how: Callable[[], None]) -> None:
        try:
            how()
        except BadInput as fault:
            self.say(reasons(fault), refused=True)
            return
        self.dismiss()
        self.forescale.was_saved(then_leave=self.then_leave)


def _theirs(session: Session) -> Compared:
    shot = session.state.shot
    try:
        shot = library.load_shot(session.path)
        return Compared("the file", shot, solve(shot, None).answer)
    except BadInput as fault:
        return Compared("the file", shot, None, reasons(fault))
