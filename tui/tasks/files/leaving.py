"""The one question on leaving with work that is not saved."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from forescale.engine.files.faults import BadInput
from forescale.tui.session import reasons
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen


class LeavingScreen(TaskScreen[None]):
    """Save, leave without saving, or stay."""

    TASK = "Not saved"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("s", "save", "save and leave"),
        Binding("d", "discard", "leave without saving"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._warned = False

    def body(self) -> ComposeResult:
        """The question."""
        yield TaskPage(id="question")

    def fill(self) -> None:
        """Ask."""
        self.query_one(TaskPage).show(
            f"The shot has changes that {self.session.path} does not hold.\n\n"
            "  s    save and leave\n  d    leave without saving; its takes are saved all the same\n  Esc  stay\n"
        )

    def action_save(self) -> None:
        """Save and leave; a shipped shot is given a name first."""
        self.dismiss()
        self.forescale.save(then_leave=True)

    def action_discard(self) -> None:
        """Leave, and let the changes go; where they cannot be kept for a second thought, that is said first."""
        try:
            self.forescale.discard(for_good=self._warned)
        except BadInput as fault:
            self._warned = True
            self.say(f"What is left cannot be kept ({reasons(fault)}): d once more lets it go for good", refused=True)
