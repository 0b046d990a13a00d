"""What a search for ways to shoot it has found so far, as a table with the row in hand told below it."""

from __future__ import annotations

from textual import on
from textual.app import ComposeResult
from textual.widgets import DataTable

from forescale.engine import options
from forescale.engine.files.faults import BadInput
from forescale.engine.options import Miss, Ranked, ToTry
from forescale.engine.shot import edit
from forescale.tui.runs import Rows
from forescale.tui.session import reasons
from forescale.tui.tasks.frame import columns
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable
from forescale.tui.tasks.ways.ways_listing import Listing
from forescale.tui.tasks.ways.ways_misses import miss_text, misses_listing, misses_said
from forescale.tui.tasks.ways.ways_preview import height_for, preview_rows, way_said
from forescale.tui.tasks.ways.ways_search import SoFar, searching
from forescale.tui.tasks.ways.ways_table import Shown, shown_columns, ways_listing
from forescale.tui.tasks.ways.ways_words import in_app, labels_of


class FoundScreen(TaskScreen[None]):
    """The ways that work, or those that fail, as they are found; what is listed is set by those who ask for it."""

    def __init__(self) -> None:
        super().__init__()
        self.opened: tuple[str, ...] = ()  # fields that the shot sets and that vary in this search
        self.failing = False
        self.words = ""  # that a row must have
        self.sorted_by: str | None = None
        self.reversed = False
        self.listing: Listing | None = None
        self._so_far: SoFar | None = None
        self._found: tuple[Ranked | Miss, ...] = ()
        self._order: list[int] = []

    def body(self) -> ComposeResult:
        """The table, and below it what the row in hand is."""
        yield TaskTable(cells=True, id="ways")
        yield Rows(id="preview")

    def on_mount(self) -> None:
        """Begin to search."""
        super().on_mount()
        self.start()

    def on_resize(self, event: object) -> None:
        """Fit table and preview to the new size."""
        super().on_resize(event)  # type: ignore[arg-type]
        self._list()

    def _show_lines(self) -> None:
        """Say in the title which ways are listed."""
        parts = ["Ways that fail" if self.failing else "Ways to shoot it"]
        parts += [f'rows with "{self.words}"'] if self.words else []
        parts += [f"{labels_of(self.opened)} left to vary"] if self.opened else []
        self.TASK = ", ".join(parts)
        super()._show_lines()

    # Searching

    def start(self) -> None:
        """Search anew; leaving the screen, or starting again, ends the search."""
        self.run_worker(self._search(), exclusive=True, group="search")

    def _quest(self) -> ToTry:
        """Return what to search: the shot with what may vary left open; raises BadInput."""
        shot = self.session.state.shot
        setting = edit.changed(shot, dict.fromkeys(self.opened))
        return options.plan(setting, shot.units, options.at_hand(shot.kit))

    async def _search(self) -> None:
        try:
            to_try = self._quest()
        except BadInput as fault:
            self._show_found(None)
            self.say(reasons(fault), refused=True)
            return
        async for so_far in searching(to_try, with_misses=self.failing):
            self._show_found(so_far)
            self.say(f"{so_far.outcome.searched} of {to_try.ways} tried; Esc leaves")
        self.tell()

    def _show_found(self, so_far: SoFar | None) -> None:
        self._so_far = so_far
        self._list()

    @property
    def said(self) -> str:
        """What the search has come to; empty before anything is known."""
        if self._so_far is None:
            return ""
        outcome, listed = self._so_far.outcome, len(self._so_far.misses)
        return misses_said(outcome, listed) if self.failing else outcome.verdict.spelt(in_app)

    def tell(self) -> None:
        """Say what the search has come to."""
        if self.said:
            self.say(self.said)

    # Showing

    def columns(self) -> tuple[Shown, ...]:
        """Return the columns of the ways that work."""
        return shown_columns(self.session.state.shot.units)

    def _list(self) -> None:
        """List what has been found so far in the columns that there is room for."""
        if not self.is_mounted:
            return
        self.query_one("#preview").styles.height = self._preview_height
        width = self.size.width - 2
        if self.failing:
            misses = () if self._so_far is None else self._so_far.misses
            self._found, self.listing = misses, misses_listing(misses, width)
        else:
            rows = () if self._so_far is None else self._so_far.outcome.options
            self._found, self.listing = rows, ways_listing(rows, self.columns(), width)
        self.show()

    def show(self) -> None:
        """Show the rows that have the words, sorted."""
        if self.listing is None:
            return
        self._order = self.listing.rows_with(self.words)
        by = next((one for one in self.columns() if one.head == self.sorted_by), None)
        rows = [row for row in self._found if isinstance(row, Ranked)]
        if by is not None and rows:
            self._order.sort(key=lambda place: by.sort(rows[place]), reverse=self.reversed)
        columns.show(self.query_one(TaskTable), self.listing.only(self._order), self.forescale.glyphs)
        self._tell_row()

    def row_in_hand(self) -> Ranked | Miss | None:
        """Return the way in hand, whether it works or fails."""
        place = self._place_in_hand()
        return None if place is None else self._found[place]

    def _place_in_hand(self) -> int | None:
        row = self.query_one(TaskTable).cursor_row
        return self._order[row] if 0 <= row < len(self._order) else None

    @property
    def _preview_height(self) -> int:
        return height_for(self.size.height, words_alone=self.failing)

    @on(DataTable.CellHighlighted)
    def _tell_row(self) -> None:
        """Tell below the table what the row in hand is."""
        row = self.row_in_hand()
        found = options.option_answer(row.option) if isinstance(row, Ranked) else None
        said, width, glyphs = self.row_said(), self.size.width, self.forescale.glyphs
        self.query_one("#preview", Rows).show(preview_rows(said, found, width, self._preview_height, glyphs))

    def row_said(self, *, in_full: bool = False) -> list[str]:
        """Return sentences on the row in hand, `in_full` with what the table shows as well."""
        place = self._place_in_hand()
        if place is None or self.listing is None or self._so_far is None:
            return []
        row, top = self._found[place], self._so_far.outcome.top
        if isinstance(row, Miss):
            return [miss_text(row)]
        assert top is not None  # there is a best one where there is any
        cells = self.listing.cells(place) if in_full else self.listing.untold(place)
        return way_said(row, top, cells, self.columns())
