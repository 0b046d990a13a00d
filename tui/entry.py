"""The line in which a value is typed: plain text, read by the project's own grammar on every key."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widgets import Input


class Entry(Input):
    """A value being typed; posts `Left` when Esc gives it up."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "give_up", "leave", show=False)]

    class Left(Message):
        """The entry was given up."""

    def __init__(self, text: str = "", *, id: str | None = None) -> None:
        super().__init__(text, compact=True, select_on_focus=True, id=id)
        self.cursor_blink = False

    def action_give_up(self) -> None:
        """Leave the value as it was."""
        self.post_message(self.Left())
