"""All keys of the board; Enter on one does what it does."""

from __future__ import annotations

from textual import on
from textual.app import ComposeResult
from textual.widgets import DataTable

from forescale.tui.config import config_path
from forescale.tui.keys import BOARD_KEYS, shown
from forescale.tui.tasks.frame.task_screen import Table, TaskScreen


class KeysScreen(TaskScreen[None]):
    """The list of keys, which is also the menu of everything the board can do."""

    TASK = "Keys"
    ENTER = "do it"

    def body(self) -> ComposeResult:
        """One table."""
        yield Table(id="keys")

    def fill(self) -> None:
        """List the keys as they are in force."""
        in_force = self.forescale.keys_in_force()
        rows = [[shown(in_force[key.id]), key.says, key.id] for key in BOARD_KEYS]
        self.query_one(Table).refill(["key", "what it does", "its name"], rows)
        self.say(f'A key is changed in {config_path()}, under [keys]: name = "key"')

    @on(DataTable.RowSelected)
    async def _do(self) -> None:
        """Leave, and do what the key in hand does."""
        key = BOARD_KEYS[self.query_one(Table).cursor_row]
        self.dismiss()
        await self.forescale.board.run_action(key.action)
