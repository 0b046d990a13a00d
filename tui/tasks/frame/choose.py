"""A list narrowed by typing: any of its words keeps a row, up and down go through what is left, Enter takes it."""

from __future__ import annotations

import textwrap
from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input

from forescale.tui.app_screen import Result
from forescale.tui.entry import Entry
from forescale.tui.glyphs import plain
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable

KEY_WIDTH, GROUP_WIDTH, NAME_WIDTH, LEAST = 9, 14, 14, 16  # columns of what stands beside the words
WITH_GROUPS, WITH_NAMES = 70, 100  # columns of a screen from which on groups, and then names, have their own
EDGES = 4  # a table keeps a space on either side of a cell, and the screen an edge


@dataclass(frozen=True, slots=True)
class Choice:
    """One row: what it is, its key, the group that it stands in, and its name in the configuration."""

    words: str
    key: str = ""
    group: str = ""
    name: str = ""

    def has(self, words: Sequence[str]) -> bool:
        """Whether every one of these words, in small letters, stands in the row."""
        text = f"{self.group} {self.words} {self.key} {self.name}".lower()
        return all(word in text for word in words)


class ChooseScreen(TaskScreen[Result]):
    """A list of choices; what is typed narrows it, Enter does what `chosen` says."""

    ENTER = "do it"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "row(-1)", "up", show=False),
        Binding("down", "row(1)", "down", show=False),
        Binding("pageup", "rows(-1)", "page up", show=False),
        Binding("pagedown", "rows(1)", "page down", show=False),
    ]

    def __init__(self, choices: Sequence[Choice], first: int = 0) -> None:
        super().__init__()
        self._choices, self._first = choices, first
        self._left: list[int] = []

    @abstractmethod
    def chosen(self, place: int) -> None:
        """Take the choice that stands at this place of the whole list."""

    def body(self) -> ComposeResult:
        """The words typed, and the rows that have them."""
        yield Entry(id="narrow")
        table = TaskTable(id="choices")
        table.can_focus = False
        yield table

    def on_mount(self) -> None:
        """Begin with the whole list, the keys on the words."""
        super().on_mount()
        self.query_one("#choices", TaskTable).move_cursor(row=self._first)
        self.focus_body()

    def focus_body(self) -> None:
        """What is typed narrows the list."""
        self.query_one("#narrow", Entry).focus()

    @property
    def narrowing(self) -> bool:
        """Whether words are typed that narrow the list."""
        return bool(self.query_one("#narrow", Entry).value.split())

    def fill(self) -> None:
        """Show the rows that have the words typed."""
        words = self.query_one("#narrow", Entry).value.lower().split()
        self._left = [place for place, choice in enumerate(self._choices) if choice.has(words)]
        table = self.query_one("#choices", TaskTable)
        row = 0 if words else table.cursor_row
        table.clear(columns=True)
        beside = self._beside()
        room = self.size.width - EDGES - sum(width + 2 for _, width in beside.values())
        table.add_column("what it does", width=max(room, LEAST))
        for head, width in beside.values():
            table.add_column(head, width=width)
        self._add_rows(table, list(beside), max(room, LEAST))
        table.move_cursor(row=min(row, max(len(self._left) - 1, 0)))
        self.say("" if self._left else "Nothing here has these words: take some of them back", refused=not self._left)

    def _beside(self) -> dict[str, tuple[str, int]]:
        """Return the columns beside the words for which there is need and room: head and width."""
        wide = self.size.width
        columns = {"key": ("key", KEY_WIDTH)} if any(choice.key for choice in self._choices) else {}
        if wide >= WITH_GROUPS and any(choice.group for choice in self._choices):
            columns["group"] = ("kind", GROUP_WIDTH)
        if wide >= WITH_NAMES and any(choice.name for choice in self._choices):
            columns["name"] = ("its name", NAME_WIDTH)
        return columns

    def _add_rows(self, table: TaskTable, beside: list[str], room: int) -> None:
        for choice in (self._choices[place] for place in self._left):
            lines = textwrap.wrap(plain(choice.words, self.forescale.glyphs), room) or [""]
            others = [plain(getattr(choice, column), self.forescale.glyphs) for column in beside]
            table.add_row("\n".join(lines), *others, height=len(lines))

    def on_resize(self, event: events.Resize) -> None:
        """Wrap the words anew."""
        super().on_resize(event)
        self.fill()

    @on(Input.Changed, "#narrow")
    def _narrow(self) -> None:
        self.fill()

    @on(Input.Submitted, "#narrow")
    def _choose(self) -> None:
        if self._left:
            self.chosen(self._left[self.query_one("#choices", TaskTable).cursor_row])

    def on_entry_left(self) -> None:
        """Leave, and do nothing."""
        self.dismiss()

    def action_row(self, step: int) -> None:
        """Go to the row below, or above."""
        table = self.query_one("#choices", TaskTable)
        table.move_cursor(row=min(max(table.cursor_row + step, 0), max(table.row_count - 1, 0)))

    def action_rows(self, pages: int) -> None:
        """Go on by as many rows as are in sight, or back."""
        self.action_row(pages * max(self.query_one("#choices", TaskTable).size.height - 2, 1))
