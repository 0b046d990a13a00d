"""The one question on leaving with work that is not saved."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from forescale.engine.files.faults import BadInput
from forescale.tui.session import reasons
from forescale.tui.tasks.frame.pages import PageScreen
from forescale.tui.tasks.frame.verbs import key
from forescale.tui.tasks.frame.widgets import Said


class LeavingScreen(PageScreen[None]):
    """Save, leave without saving, or stay."""

    TASK = "Not saved"
    BINDINGS: ClassVar[list[BindingType]] = [
        key("save", "save and leave", "save and leave; a built-in example asks for a name first"),
        key("delete", "leave without saving", "leave without saving; its takes are saved all the same"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._warned = False

    def said(self) -> list[Said]:
        """Ask."""
        return [
            f"The shot has changes that {self.session.path} does not hold.",
            "",
            ("  s    ", "save and leave"),
            ("  x    ", "leave without saving; its takes are saved all the same"),
            ("  Esc  ", "stay"),
        ]

    def action_save(self) -> None:
        """Save and leave; a shipped shot is given a name first."""
        self.dismiss()
        self.forescale.save(then_leave=True)

    def action_delete(self) -> None:
        """Leave, and let the changes go; where they cannot be kept for a second thought, that is said first."""
        try:
            self.forescale.discard(for_good=self._warned)
        except BadInput as fault:
            self._warned = True
            self.say(f"What is left cannot be kept ({reasons(fault)}): x once more lets it go for good", refused=True)
