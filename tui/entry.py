"""The line in which a value is typed: plain text, read by the project's own grammar on every key."""

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widgets import Input


class Entry(Input):
    """A value being typed; Esc gives it up, which is for the screen. Up and Down step through few choices."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "screen.entry_left", "leave", show=False),
        Binding("up", "choose(-1)", "before", show=False),
        Binding("down", "choose(1)", "next", show=False),
        Binding("tab,shift+tab", "choose(0)", show=False),  # Textual would give the keys to what lies behind
    ]

    def __init__(self, text: str = "", choices: Sequence[str] = (), *, id: str | None = None) -> None:
        super().__init__(text, compact=True, select_on_focus=True, id=id)
        self.choices = choices
        self.cursor_blink = False

    def action_choose(self, step: int) -> None:
        """Put the next choice, or the one before, in the place of the text; for no step, leave it as it is."""
        if self.choices and step:
            here = self.choices.index(self.value) if self.value in self.choices else -1 if step > 0 else 0
            self.value = self.choices[(here + step) % len(self.choices)]
            self.select_all()
