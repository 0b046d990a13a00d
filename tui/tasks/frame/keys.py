"""Everything that the board can do, whole tasks first, each with its key; what is typed narrows the list."""

from __future__ import annotations

from forescale.tui.config import config_path
from forescale.tui.keys import BOARD_KEYS, GROUPS, shown
from forescale.tui.tasks.frame.choose import Choice, ChooseScreen


class KeysScreen(ChooseScreen[None]):
    """The list of all that can be done, which is also the list of keys."""

    TASK = "Everything that can be done"

    def __init__(self) -> None:
        self._keys = sorted(BOARD_KEYS, key=lambda key: GROUPS.index(key.group))
        super().__init__([])

    def fill(self) -> None:
        """List what can be done with the keys that are in force."""
        in_force = self.forescale.keys_in_force()
        self._choices = [Choice(key.says, shown(in_force[key.id]), key.group, key.id) for key in self._keys]
        super().fill()
        if self._left and not self.narrowing:
            self.say(f'Type a few letters of what you want. A key is changed in {config_path()}: [keys] name = "key"')

    def chosen(self, place: int) -> None:
        """Leave, and do it."""
        self.dismiss()
        self.app.call_later(self.forescale.board.run_action, self._keys[place].action)
