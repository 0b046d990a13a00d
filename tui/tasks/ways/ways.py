"""Every way to shoot it with the kit at hand: searched, put in order, narrowed by words, and put on the board."""

from collections.abc import Sequence
from dataclasses import replace

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Container
from textual.widgets import DataTable, Input

from forescale.engine.files.faults import BadInput
from forescale.engine.findings.words import Words
from forescale.engine.options.option import Ranked, taken
from forescale.engine.options.search import REASONS, FailedWay
from forescale.engine.options.to_try import at_hand, plan
from forescale.engine.shot import edit
from forescale.engine.units import ratio_text
from forescale.tui.runs import Rows
from forescale.tui.session import reasons
from forescale.tui.tasks.frame import NARROW, Column, Question, TaskScreen, TaskTable, WholeScreen, key
from forescale.tui.tasks.ways import ways_search as search
from forescale.tui.tasks.ways import ways_table

STAR = f"{ways_table.UNBEATEN}: none is as good in all that counts and better in one"
NONE_WORKS = "No way works: e changes limits, m frees fields, t tells why"


class WaysScreen(TaskScreen[None]):
    ENTER = "take it"
    BINDINGS = [
        key("edit", "limits", "what a way may cost, what must stay as it is, and what counts first"),
        key("turn", "what fails", "the ways that fail and why; once more, those that work"),
        Binding("slash", "filter", "find rows", tooltip="show only the rows with the words you type, such as: zoom 28"),
        key("details", "in full", "the selected way and the search in full, with nothing cut"),
        key("order", "sort", "sort by the selected column (Left and Right); once more turns it round"),
        key(
            "vary",
            "let vary",
            "also try other values than the shot sets for scale, model at, frame rate, focus mark, stop or ISO; the "
            "shot itself changes only when a way is put on the board",
        ),
    ]
    opened: tuple[str, ...] = ()  # fields that the shot sets and that vary in this search
    failing = False
    words = _words_before = ""  # that a row must have
    sorted_by, reversed = "", False
    _whole: Sequence[Column] = ()  # every column as it is
    _brief: Sequence[Column] = ()  # as the screen has room for it
    _so_far: search.SoFar | None = None
    _found: tuple[Ranked | FailedWay, ...] = ()
    _order: Sequence[int] = ()

    def body(self) -> ComposeResult:
        yield Container(TaskTable(cells=True, id="rows"), id="body")
        yield Rows(id="preview")

    def keys(self) -> list[tuple[str, str]]:
        own = super().keys()
        if not self.failing:
            return own
        return [(key, "what works" if key == "t" else short) for key, short in own if key not in {"enter", "o"}]

    def filled(self) -> None:
        """Search, or search anew; leaving the screen, or starting again, ends the search."""
        self.run_worker(self._search(), exclusive=True, group="search")

    async def _search(self) -> None:
        try:
            to_try = plan(edit.changed(self.shot, dict.fromkeys(self.opened)), self.system, at_hand(self.shot.kit))
        except BadInput as fault:
            self._so_far = None
            self.refill()
            self.say(reasons(fault), refused=True)
            return
        async for so_far in search.searching(to_try, with_misses=self.failing):
            self._so_far = so_far
            self.refill()
            self.say(f"{so_far.outcome.searched} of {to_try.ways} tried; Esc leaves")
        self.tell()

    @property
    def said(self) -> str:
        """What the search has come to; empty before anything is known."""
        if self._so_far is None:
            return ""
        outcome, listed = self._so_far.outcome, len(self._so_far.misses)
        if self.failing:
            return ways_table.misses_said(outcome, listed)
        more = NONE_WORKS if not outcome.options else STAR if self.size.width >= NARROW else ""
        return f"{outcome.verdict.spelt(search.in_app)} {more}".strip()

    def tell(self) -> None:
        if self.said:
            self.say(self.said)

    def fill(self) -> None:
        parts = ["Ways that fail" if self.failing else "Ways to shoot it"]
        parts += [f'rows with "{self.words}"'] if self.words else []
        parts += [f"{search.labels_of(self.opened)} left to vary"] if self.opened else []
        self.TASK = ", ".join(parts)
        self.query_one("#preview").styles.height = self._preview_height
        so_far, sign = self._so_far, "↑" if self.reversed else "↓"
        if self.failing:
            self._found = misses = () if so_far is None else so_far.misses
            self._whole = ways_table.misses_columns(misses, self.size.width)
        else:
            self._found = found = () if so_far is None else so_far.outcome.options
            self._whole = ways_table.ways_columns(found, ways_table.shown_columns(self.system), self.sorted_by, sign)
        self._brief = ways_table.in_brief(self._whole, self.size.width)
        self.show()

    def show(self) -> None:
        order = ways_table.rows_with(self._whole, self.words)
        by = next((one for one in ways_table.shown_columns(self.system) if one.head == self.sorted_by), None)
        rows = [row for row in self._found if isinstance(row, Ranked)]
        if by is not None and rows:
            order.sort(key=lambda place: by.sort(rows[place]), reverse=self.reversed)
        self._order = order
        columns = [replace(one, cells=tuple(one.cells[row] for row in order)) for one in self._brief]
        self.table.put(columns, self.glyphs, self.size.width - 2, ways_table.LENS)
        self._tell_row()

    def row_in_hand(self) -> Ranked | FailedWay | None:
        return None if self.table.place < 0 else self._found[self._order[self.table.place]]

    @property
    def _preview_height(self) -> int:
        """The lines below the table; those of a way that fails are words alone."""
        return 4 if self.size.height < 20 or self.failing else 7 if self.size.height < 30 else 13

    @on(DataTable.CellHighlighted)
    def _tell_row(self) -> None:
        row = self.row_in_hand()
        found = taken(row.option)[1] if isinstance(row, Ranked) else None
        rows = ways_table.preview_rows(self.row_said(), found, self.size.width, self._preview_height, self.glyphs)
        self.query_one("#preview", Rows).show(rows)

    def row_said(self, *, in_full: bool = False) -> list[str]:
        """Return sentences on the row in hand, `in_full` with what the table shows as well."""
        row = self.row_in_hand()
        if row is None or self._so_far is None:
            return []
        if isinstance(row, FailedWay):
            mode, lens = row.in_mode, row.lens_at
            kit = f"{mode.camera.name}, {mode.mode.name}, {lens.lens.name} at {Words.focal(lens.focal_mm)}"
            return [f"{kit}, {ratio_text(row.ratio)}: {REASONS[row.reason].spelt(search.in_app)}."]
        top, place = self._so_far.outcome.options[0].option, self._order[self.table.place]
        shown = {one.id: one.cells[place] for one in self._brief if one.id in self.table.ids and not in_full}
        cells = {one.id: one.cells[place] for one in self._whole if shown.get(one.id) != one.cells[place]}
        return ways_table.way_said(row, top, cells, ways_table.shown_columns(self.system))

    def action_details(self) -> None:
        self.app.push_screen(WholeScreen([*self.row_said(in_full=True), self.said]))

    def action_edit(self) -> None:
        self.app.push_screen(search.LimitsScreen(), lambda _: self.filled())

    def action_turn(self) -> None:
        self.failing = not self.failing
        self.refill()
        self.filled()

    def action_order(self) -> None:
        if self.failing:
            self.say("Only the ways that work can be sorted; t goes back to them")
        elif self.table.row_count:
            head = self.table.column
            self.reversed = head == self.sorted_by and not self.reversed
            self.sorted_by = head
            self.refill()
            self.say(f"Sorted by {head}{', turned round' if self.reversed else ''}")

    def action_filter(self) -> None:
        self._words_before = self.words
        hint = "Type words that a row must have, such as: zoom 28. With nothing typed all rows stay"
        self.ask(Question("Rows with", self._matches, self.words, hint), self._keep)

    def _matches(self, text: str) -> str:
        count = len(ways_table.rows_with(self._whole, text))
        return f"{text.strip()}: {count or 'no'} row{'' if count == 1 else 's'} with that"

    @on(Input.Changed)
    def _filter_live(self, event: Input.Changed) -> None:
        if self._take == self._keep:
            self.words = event.value
            self.show()

    def _keep(self, text: str) -> None:
        self.words = text
        self.refill()
        self.say(self._matches(text) if text.strip() else "all rows")

    def action_entry_left(self) -> None:
        if self._take == self._keep:
            self.words = self._words_before
            self.show()
        super().action_entry_left()
        self.call_after_refresh(self.tell)

    def action_vary(self) -> None:
        held = [path for path in search.MAY_VARY if edit.value_at(self.shot, path) is not None]
        if not held:
            self.say("The shot sets nothing that could vary: all of it is searched")
            return

        def read(text: str) -> str:
            return search.labels_of(search.named_among(text, held)) or "none: all stays as the shot sets it"

        def take(text: str) -> None:
            self.opened = search.named_among(text, held)
            self.refill()
            self.filled()

        one = search.labels_of(held[:1])
        hint = f"The shot sets {search.labels_of(held)}. Type which may vary, such as: {one}; or all"
        self.ask(Question("Let vary", read, search.labels_of(self.opened), hint), take)

    def enter(self) -> None:
        way = self.row_in_hand()
        if not isinstance(way, Ranked):
            self.say("A way that fails cannot be put on the board; t goes back to those that work")
            return
        changes = dict.fromkeys(self.opened) | taken(way.option)[0]
        anew = ". Set the slide, then tape all anew" if "move.slide" in changes else ""
        if self.attempt(lambda: self.session.apply(changes)):
            self.forescale.changed()
            self.dismiss()
            self.forescale.board.say(f"On the board; undo brings the old one back{anew}")
