"""Every way to shoot it with the kit at hand: sorted, filtered, previewed, and put on the board."""

from __future__ import annotations

import asyncio
import textwrap
import time
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable, Input

from engine import edit, options
from engine.answer import Answer
from engine.faults import BadInput
from engine.field_help import FIELD_HELP
from engine.options import Gathering, Miss, Outcome, Ranked
from engine.shot import Setting
from tui.diagrams import distance_bar, side_view
from tui.glyphs import Glyphs, plain
from tui.runs import Row, Rows
from tui.session import reasons
from tui.tasks import columns
from tui.tasks.task_screen import Table, TaskScreen
from tui.tasks.ways_table import as_columns, filtered, miss_columns, shown_columns

KEPT = 400  # more than anyone reads; the front is kept whole
SLICE_S = 0.02  # how long the search works before it lets keys through
SHOW_EVERY_S = 0.3
MAY_OPEN = ("scale.ratio", "place.model", "action.fps", "focus.distance", "focus.stop", "light.iso")
TALL = 30


class WaysScreen(TaskScreen[None]):
    """A search over the whole kit, its results as they come."""

    TASK = "Ways to shoot it"
    ENTER = "put on the board"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("s", "sort", "sort"),
        Binding("w", "filter", "rows with"),
        Binding("o", "open", "leave open"),
        Binding("l", "limits", "limits"),
        Binding("x", "failing", "what fails"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._opened: tuple[str, ...] = ()
        self._words = ""
        self._sorted_by: str | None = None
        self._reversed = False
        self._failing = False
        self._rows: list[Ranked] = []
        self._misses: list[Miss] = []
        self._outcome: Outcome | None = None

    def body(self) -> ComposeResult:
        """The table, and below it what the way in hand is."""
        yield Table(cells=True, id="ways")
        yield Rows(id="preview")

    def on_mount(self) -> None:
        """Begin to search."""
        super().on_mount()
        self.start()

    def on_resize(self, event: object) -> None:
        """Fit table and preview to the new size."""
        super().on_resize(event)  # type: ignore[arg-type]
        self.query_one("#preview").styles.height = 11 if self.size.height >= TALL else 4
        self.show()

    # Searching

    def setting(self) -> Setting:
        """Return the shot with what is left open for this search."""
        return edit.changed(self.session.state.shot, dict.fromkeys(self._opened))

    def start(self) -> None:
        """Search anew; leaving the screen, or starting again, ends the search."""
        self.run_worker(self._search(), exclusive=True, group="search")

    async def _search(self) -> None:
        shot = self.session.state.shot
        try:
            quest = options.plan(self.setting(), shot.units, options.at_hand(shot.kit))
        except BadInput as fault:
            self.say(reasons(fault), refused=True)
            return
        gathering = Gathering(quest, KEPT)
        self._misses = []
        shown = rested = time.monotonic()
        for batch in options.search(quest, with_misses=self._failing):
            gathering.add(batch)
            self._misses += batch.misses[: KEPT - len(self._misses)]
            now = time.monotonic()
            if now - rested > SLICE_S:
                await asyncio.sleep(0)
                rested = time.monotonic()
            if now - shown > SHOW_EVERY_S:
                self._found(gathering.outcome())
                self.say(f"{gathering.searched} of {quest.ways} tried; Esc leaves")
                shown = time.monotonic()
        self._found(gathering.outcome())
        self.say(gathering.outcome().verdict)

    def _found(self, outcome: Outcome) -> None:
        self._outcome = outcome
        self.show()

    # Showing

    def show(self) -> None:
        """Show the ways found so far, or those that fail."""
        if self._outcome is None or not self.is_mounted:
            return
        glyphs = self.forescale.glyphs
        shown = shown_columns(self.session.state.shot.units, glyphs.ok)
        if self._failing:
            table = miss_columns(self._misses, self._words)
        else:
            self._rows = filtered(self._outcome.options, shown, self._words)
            by = next((one for one in shown if one.head == self._sorted_by), None)
            if by is not None:
                self._rows.sort(key=by.sort, reverse=self._reversed)
            table = as_columns(self._rows, shown)
        columns.show(self.query_one(Table), columns.fitted(table, self.size.width - 2), glyphs)
        if self._words and not self.query_one(Table).row_count:
            self.say(f"No row has all of: {self._words}")
        self._preview()

    def in_hand(self) -> Ranked | None:
        """Return the way in hand."""
        row = self.query_one(Table).cursor_row
        return self._rows[row] if not self._failing and 0 <= row < len(self._rows) else None

    @on(DataTable.CellHighlighted)
    def _preview(self) -> None:
        way, outcome = self.in_hand(), self._outcome
        box = self.query_one("#preview", Rows)
        if way is None or outcome is None or outcome.top is None:
            box.show(())
            return
        height = 11 if self.size.height >= TALL else 4
        body = way.option.body
        said = f"{body.camera.name}, {body.mode.name}. {options.trade(way.option, outcome.top)}"
        box.show(preview_rows(options.option_answer(way.option), said, self.size.width, height, self.forescale.glyphs))

    # Keys

    def action_sort(self) -> None:
        """Sort by the column in hand; once more turns it round."""
        table = self.query_one(Table)
        if self._failing or not table.row_count:
            return
        head = str(list(table.columns.values())[table.cursor_column].label)
        self._reversed = head == self._sorted_by and not self._reversed
        self._sorted_by = head
        self.show()
        self.say(f"sorted by {head}{', turned round' if self._reversed else ''}")

    def action_filter(self) -> None:
        """Keep the rows that hold certain words, as they are typed."""
        self.ask("Rows with", self._words, lambda text: text, self._keep)

    @on(Input.Changed)
    def _filter_live(self, event: Input.Changed) -> None:
        if self._filtering:
            self._words = event.value
            self.show()

    @property
    def _filtering(self) -> bool:
        return self._take == self._keep

    def _keep(self, text: str) -> None:
        self._words = text
        self.show()

    def action_open(self) -> None:
        """Leave open, for this search alone, what the shot sets; once more keeps to the shot."""
        held = [path for path in MAY_OPEN if edit.value_at(self.session.state.shot, path) is not None]
        if not held:
            self.say("The shot sets nothing that could be left open: all of it is searched")
            return
        names = ", ".join(FIELD_HELP[path].label for path in held)
        text = " ".join(FIELD_HELP[path].label for path in self._opened)
        self.ask(f"Leave open (all, none, or of {names})", text, lambda entry: _labels(entry, held), self._open_these)

    def _open_these(self, text: str) -> None:
        held = [path for path in MAY_OPEN if edit.value_at(self.session.state.shot, path) is not None]
        self._opened = _paths(text, held)
        self.start()

    def action_limits(self) -> None:
        """Say what a way may cost, and search again on coming back."""
        from tui.tasks.limits import LimitsScreen

        self.app.push_screen(LimitsScreen(), lambda _: self.start())

    def action_failing(self) -> None:
        """Show the ways that fail with the reason, or those that work."""
        self._failing = not self._failing
        self.start()

    @on(DataTable.CellSelected)
    def _put_on_board(self) -> None:
        way = self.in_hand()
        if way is None:
            return
        changes = dict.fromkeys(self._opened) | options.as_changes(way.option)
        if self.attempt(lambda: self.session.apply(changes)):
            self.dismiss()
            self.forescale.board.say("On the board now; undo brings the old one back")


def _paths(text: str, held: list[str]) -> tuple[str, ...]:
    """Return the fields that an entry names; raises BadInput for one that is not among them."""
    entry = text.strip().lower()
    if entry in {"", "none"}:
        return ()
    if entry == "all":
        return tuple(held)
    named = tuple(path for path in held if FIELD_HELP[path].label.lower() in entry)
    rest = entry
    for path in named:
        rest = rest.replace(FIELD_HELP[path].label.lower(), "")
    if rest.replace(",", "").split():
        raise BadInput(f'"{rest.strip(" ,")}" is not set in the shot; write all, none, or names from the list')
    return named


def _labels(text: str, held: list[str]) -> str:
    return ", ".join(FIELD_HELP[path].label for path in _paths(text, held)) or "none: all stays as the shot sets it"


def preview_rows(answer: Answer, trade: str, width: int, height: int, glyphs: Glyphs) -> tuple[Row, ...]:
    """Return what a way trades, in words, and its diagrams in the room there is."""
    words = textwrap.wrap(plain(trade, glyphs), max(width - 2, 10))[:2]
    rows: list[Row] = [((f" {line}", "hint"),) for line in words]
    room = height - len(rows)
    lines = distance_bar.draw(answer, width - 2, min(room, 4), glyphs) if room >= 2 else []
    if room - len(lines) >= 3:
        lines += side_view.draw(answer, width - 2, room - len(lines), glyphs)
    return (*rows, *(((f" {line}", "drawing"),) for line in lines))
