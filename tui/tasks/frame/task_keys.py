"""All keys of a task, for where its footer has no room for them; Enter on one does it."""

from __future__ import annotations

from textual.binding import Binding

from forescale.tui.keys import shown
from forescale.tui.tasks.frame.choose import Choice, ChooseScreen


class TaskKeysScreen(ChooseScreen[str]):
    """The keys of the task beneath; what is chosen is handed back to it as an action."""

    TASK = "All that can be done here"

    def __init__(self, bindings: list[Binding]) -> None:
        super().__init__([Choice(one.tooltip or one.description, shown(one.key)) for one in bindings])
        self._bindings_of_task = bindings

    def chosen(self, place: int) -> None:
        """Go back to the task, and do it."""
        self.dismiss(self._bindings_of_task[place].action)
