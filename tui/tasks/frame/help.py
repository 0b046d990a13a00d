"""Help for the field in hand: what it is, its range, how it enters the answer, how to find it on set."""

from __future__ import annotations

import textwrap
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from forescale.engine.field_help import FIELD_HELP, range_of
from forescale.engine.units import UnitSystem
from forescale.engine.workings import WORKINGS
from forescale.tui.glyphs import plain
from forescale.tui.panes.arrange import field_text
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen

HOW = (
    "A digit goes to its pane, up and down to a field, left and right step it (h and l in large steps); Enter types "
    "a value, a gives it back to the program. A value that the program chose says auto behind it."
)


class HelpScreen(TaskScreen[None]):
    """Help on one field, and in a few words on the board."""

    TASK = "Help"
    F1 = "back"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f1,question_mark", "leave", "back", show=False),
        Binding("e", "task('explain')", "explain"),
        Binding("f2", "task('keys')", "all keys"),
    ]

    def body(self) -> ComposeResult:
        """One page."""
        yield TaskPage(id="help")

    def fill(self) -> None:
        """Show the help of the field in hand."""
        board, state, glyphs = self.forescale.board, self.session.state, self.forescale.glyphs
        path = board.in_hand()
        lines = help_lines(path, field_text(state, path), state.shot.units, max(self.size.width - 4, 20))
        how = textwrap.wrap(HOW, max(self.size.width - 4, 20))
        self.query_one(TaskPage).show(plain("\n".join([*lines, "", *how]), glyphs))

    def on_resize(self, event: object) -> None:
        """Wrap the text anew."""
        super().on_resize(event)  # type: ignore[arg-type]
        self.fill()

    def action_task(self, name: str) -> None:
        """Go on to another task in place of this one."""
        self.dismiss()
        self.forescale.open_task(name)


def help_lines(path: str, value: str, system: UnitSystem, width: int) -> list[str]:
    """Return the help on a field in lines that fit a width."""
    found = FIELD_HELP[path]
    leads_to = ", ".join(WORKINGS[key].name for key in found.leads_to)
    parts = [
        (found.label.upper(), f"now {value}"),
        ("", found.what),
        ("Range", range_of(path, system)),
        ("In a file", path),
        ("Enters", found.enters),
        ("On set", found.measure),
        ("Leads to", leads_to),
    ]
    lines: list[str] = []
    for label, text in parts:
        head = f"{label:<{max(10, len(label) + 1)}}" if label else ""
        lines += textwrap.wrap(text, width, initial_indent=head, subsequent_indent=" " * (10 if label else 0))
    return lines
