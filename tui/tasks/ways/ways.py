"""Every way to shoot it with the kit at hand: its limits, sorted, filtered, and put on the board."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.widgets import DataTable, Input

from forescale.engine import options
from forescale.engine.options import Ranked
from forescale.tui.tasks.frame.task_screen import TaskTable
from forescale.tui.tasks.ways.ways_found import FoundScreen
from forescale.tui.tasks.ways.ways_words import labels_of, named_among, set_in


class WaysScreen(FoundScreen):
    """What can be done with the ways found."""

    ENTER = "put on the board"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("l", "limits", "limits", tooltip="what a way may cost, what must stay as it is, and what counts first"),
        Binding("n", "failing", "what fails", tooltip="the ways that fail and why; once more, those that work"),
        Binding("slash", "filter", "find rows", tooltip="show only the rows with the words you type, such as: zoom 28"),
        Binding("v", "whole", "in full", tooltip="the selected way and the search in full, with nothing cut"),
        Binding("t", "sort", "sort", tooltip="sort by the selected column (Left and Right); once more turns it round"),
        Binding(
            "o",
            "open",
            "let vary",
            tooltip="also try other values than the shot sets for scale, model at, frame rate, focus mark, stop or "
            "ISO; the shot itself changes only when a way is put on the board",
        ),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._words_before = ""

    def keys(self) -> list[tuple[str, str]]:
        """Return the keys, those of the list of failing ways where it is shown."""
        own = super().keys()
        if not self.failing:
            return own
        return [(key, "what works" if key == "n" else short) for key, short in own if key not in {"enter", "t"}]

    def action_limits(self) -> None:
        """Say what a way may cost, and search again on coming back."""
        from forescale.tui.tasks.limits import LimitsScreen

        self.app.push_screen(LimitsScreen(), lambda _: self.start())

    def action_failing(self) -> None:
        """List the ways that fail with the reason, or those that work."""
        self.failing = not self.failing
        self._show_lines()
        self.start()

    def action_whole(self) -> None:
        """Tell the way in hand and the search in full."""
        from forescale.tui.tasks.frame.whole import WholeScreen

        self.app.push_screen(WholeScreen([*self.row_said(in_full=True), self.said]))

    def action_sort(self) -> None:
        """Sort by the column in hand; once more turns it round."""
        table = self.query_one(TaskTable)
        if self.failing:
            self.say("Only the ways that work can be sorted; x goes back to them")
        if self.failing or not table.row_count:
            return
        head = str(list(table.columns.values())[table.cursor_column].label)
        self.reversed = head == self.sorted_by and not self.reversed
        self.sorted_by = head
        self.show()
        self.say(f"sorted by {head}{', turned round' if self.reversed else ''}")

    # Rows with certain words

    def action_filter(self) -> None:
        """Keep the rows that have certain words, as they are typed."""
        self._words_before = self.words
        hint = "Type words that a row must have, such as: zoom 28. With nothing typed all rows stay"
        self.ask("Rows with", self.words, self._matches, self._keep, hint)

    def _matches(self, text: str) -> str:
        count = 0 if self.listing is None else len(self.listing.rows_with(text))
        return f"{text.strip()}: {count or 'no'} row{'' if count == 1 else 's'} with that"

    @on(Input.Changed)
    def _filter_live(self, event: Input.Changed) -> None:
        if self._filtering:
            self.words = event.value
            self.show()

    @property
    def _filtering(self) -> bool:
        return self._take == self._keep

    def _keep(self, text: str) -> None:
        self.words = text
        self.show()
        self.say(self._matches(text) if text.strip() else "all rows")

    def on_entry_left(self) -> None:
        """Give the entry up; a filter stays as it was."""
        if self._filtering:
            self.words = self._words_before
            self.show()
        self.call_after_refresh(self.tell)

    # What may vary

    def action_open(self) -> None:
        """Let vary, for this search alone, what the shot sets."""
        held = set_in(self.session.state.shot)
        if not held:
            self.say("The shot sets nothing that could vary: all of it is searched")
            return
        hint = f"The shot sets {labels_of(held)}. Type which may vary, such as: {labels_of(held[:1])}; or all"
        self.ask("Let vary", labels_of(self.opened), lambda text: _read_back(text, held), self._open_these, hint)

    def _open_these(self, text: str) -> None:
        self.opened = named_among(text, set_in(self.session.state.shot))
        self.start()

    @on(DataTable.CellSelected)
    def _put_on_board(self) -> None:
        way = self.row_in_hand()
        if not isinstance(way, Ranked):
            self.say("A way that fails cannot be put on the board; x goes back to those that work")
            return
        changes = dict.fromkeys(self.opened) | options.as_changes(way.option)
        if self.attempt(lambda: self.session.apply(changes)):
            self.dismiss()
            self.forescale.board.say("On the board now; undo brings the old one back")


def _read_back(text: str, held: list[str]) -> str:
    return labels_of(named_among(text, held)) or "none: all stays as the shot sets it"
