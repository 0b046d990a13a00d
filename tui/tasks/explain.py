"""How the numbers come about: one number in hand, its working beside or below it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import get_args

from textual import on
from textual.app import ComposeResult
from textual.containers import Container
from textual.widgets import DataTable

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.solve.record import Pane
from forescale.engine.workings import Explanation, explain, keys_here
from forescale.tui.glyphs import plain
from forescale.tui.panes import TITLES
from forescale.tui.panes.content import PaneContent
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen, TaskTable, next_with
from forescale.tui.wrapped import wrapped

BESIDE_WIDTH, NAMES_WIDTH = 100, 52
NAME = 26  # columns for the longest name


class NumbersTable(TaskTable):
    """The numbers; words are looked for in all that is told of each."""

    explained: tuple[Explanation, ...] = ()

    def find(self, words: str, *, after: bool) -> int | None:
        """Take the next number of that name in hand, or else of which these words are told; None for none."""
        names = [one.name for one in self.explained]
        place = next_with(names, words, self.cursor_row + after)
        if place is None:
            texts = ["\n".join(working_lines(one, 80)) for one in self.explained]
            place = next_with(texts, words, self.cursor_row + after)
        if place is not None:
            self.move_cursor(row=place)
        return place


class ExplainScreen(TaskScreen[None]):
    """Every number, those of the pane in hand first, and how each comes about with this shot's numbers put in."""

    TASK = "How it comes about"

    def __init__(self, finding: bool = False) -> None:
        super().__init__()
        self._finding = finding

    def body(self) -> ComposeResult:
        """The numbers, and the working of the one in hand."""
        with Container(id="explaining"):
            yield NumbersTable(id="numbers")
            yield TaskPage(id="working")

    def on_mount(self) -> None:
        """Begin at the number that the selected field goes into, or with what to find."""
        super().on_mount()
        leads_to = FIELD_HELP[self.forescale.board.in_hand()].leads_to
        first = next((key for key in leads_to if key in self._keys), self._keys[0])
        self.query_one(TaskTable).move_cursor(row=self._keys.index(first))
        if self._finding:
            self.action_find()

    def fill(self) -> None:
        """List the numbers: as the pane shows them, then its others, then those of the other panes."""
        beside = self.size.width >= BESIDE_WIDTH
        self.query_one("#explaining").set_class(beside, "beside")
        board, answer, glyphs = self.forescale.board, self.session.state.answer, self.forescale.glyphs
        shown = shown_keys(board.contents()[board.pane])
        own = sorted(keys_here(board.pane, answer), key=lambda key: shown.get(key, len(shown)))
        others = (key for pane in get_args(Pane) if pane != board.pane for key in keys_here(pane, answer))
        self._keys = (*own, *others)
        table = self.query_one(NumbersTable)
        table.explained = tuple(explain(key, answer) for key in self._keys)
        width, row = NAMES_WIDTH if beside else self.size.width, table.cursor_row
        rooms = (min(NAME, width // 2), max(width - min(NAME, width // 2) - 6, 8))
        table.clear(columns=True)
        for head, room in zip((TITLES[board.pane], "value"), rooms, strict=True):
            table.add_column(head, width=room)
        for one in table.explained:
            cells = [
                wrapped(plain(text, glyphs), room) for text, room in zip((one.name, one.value_text), rooms, strict=True)
            ]
            table.add_row(*map("\n".join, cells), height=max(map(len, cells)))
        table.move_cursor(row=row)

    def on_resize(self, event: object) -> None:
        """Set the working beside the numbers, or below them."""
        super().on_resize(event)  # type: ignore[arg-type]
        self.fill()

    @on(DataTable.RowHighlighted)
    def _show(self, event: DataTable.RowHighlighted) -> None:
        """Show the working of the number in hand."""
        room = self.size.width - (NAMES_WIDTH if self.size.width >= BESIDE_WIDTH else 0)
        lines = working_lines(self.query_one(NumbersTable).explained[event.cursor_row], max(room - 4, 20))
        self.query_one(TaskPage).show(plain("\n".join(lines), self.forescale.glyphs))


def shown_keys(content: PaneContent) -> dict[str, int]:
    """Return the numbers that a pane shows, by their keys, each with its place from the top."""
    fields = [FIELD_HELP[row.path].leads_to[:1] for row in (*content.fields, *content.more_fields)]
    keys = [*(key for leads in fields for key in leads), *(item.path for item in content.to_set)]
    return {key: place for place, key in enumerate(dict.fromkeys([*keys, *(row.key for row in content.answers)]))}


def working_lines(one: Explanation, width: int) -> Iterator[str]:
    """Yield a working in lines that fit a width."""
    parts = [
        ("", f"{one.name}: {one.meaning}"),
        ("formula", one.formula),
        ("here", one.put_in),
        ("holds", one.conventions),
        ("leads to", ", ".join(one.leads_to)),
        ("source", one.source),
    ]
    for label, text in parts:
        if text:
            head = f"{label:9}" if label else ""
            yield from textwrap.wrap(text, width, initial_indent=head, subsequent_indent=" " * len(head))
