"""The build list: parts at full size and model size, the stock at hand, and what this place asks of the build."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.widgets import DataTable

from forescale.engine.findings.words import Words
from forescale.engine.parts import build_list
from forescale.engine.parts.build_list import Cell
from forescale.engine.shot import edit
from forescale.engine.shot.sections import ScaleChoice, Stock
from forescale.tui.tasks.built import PartScreen, StandScreen
from forescale.tui.tasks.frame.rows_screen import RowsScreen
from forescale.tui.tasks.frame.verbs import UNDO, key, listed
from forescale.tui.tasks.frame.widgets import Said, TaskPage, TaskTable, Told
from forescale.tui.tasks.parts_table import fitted_lengths, part_columns, stock_columns

LABELS = {"name": "Name", "quantity": "How many", "size": "Size", "model": "On the model"}
ROOM_FOR_ALL, ROOM_FOR_LISTS = 30, 20  # rows of a screen


class PartsScreen(RowsScreen[None]):
    """Parts, stock and place; Tab goes from one to the next, and in little room one is shown at a time."""

    TASK = "Build list"
    ENTER = "change"
    VIEWS = ("build", "stock", "gives")
    BINDINGS: ClassVar[list[BindingType]] = [
        key("add", "add", "add a part, or a stock at hand, below the selected row"),
        key("delete", "delete", "take away the selected row"),
        key("next view", "next", "go on from parts to stock, place, and back"),
        key("compare", "2nd scale", "hold a second scale beside the first, or none"),
        key("turn", "rounding", "the shop's next step: 1/16, 1/32, 1/64 in, 0.5, 0.1 mm"),
        key("details", "more of it", "sizes, material, density and pitch of the selected part"),
        key("stand", "stands?"),
        *UNDO,
        key("earlier", "earlier"),
        key("later", "later"),
        listed("wanted", "stock for", "what stock a thing of some full size needs"),
    ]

    @property
    def section(self) -> str:
        """The list that the keys act upon; the place has none, so the parts."""
        return "stock" if self.view == "stock" else "build"

    @property
    def records(self) -> tuple[Any, ...]:
        """The rows of the list in hand."""
        return tuple(getattr(self.shot, self.section))

    @property
    def table(self) -> TaskTable:
        """The table of the list in hand."""
        return self.query_one(f"#{self.section}", TaskTable)

    def body(self) -> ComposeResult:
        """Two tables, what this place asks of the build, and a sentence on the row in hand."""
        lists = Vertical(TaskTable(id="build", cells=True), TaskTable(id="stock", cells=True), id="lists")
        yield Container(lists, TaskPage(id="gives"), id="body")
        yield Told(id="how")

    # What is shown

    def put_rows(self) -> None:
        """Show the lists as the session has them now."""
        self.EMPTY = f"No {'stock at hand' if self.section == 'stock' else 'parts'} yet: a adds one"
        for name, columns in (("build", part_columns(self.answer)), ("stock", stock_columns(self.answer))):
            self.query_one(f"#{name}", TaskTable).put(fitted_lengths(columns, self.size.width - 1), self.glyphs)

    def gives(self) -> list[Said]:
        """Return what this place asks of the build."""
        return list(build_list.place_texts(self.answer))

    def how(self, place: int) -> list[Said]:
        """Return a part, or a stock, in a sentence."""
        scaled = self.answer.scale
        if self.section == "stock":
            return [build_list.stock_text(self.answer, scaled.stock[place])]
        return [build_list.part_text(self.answer, scaled.build[place])]

    def in_sight(self) -> tuple[str, ...]:
        """Return what is shown at once: all in much room, both lists in some, the view in hand alone in little."""
        if self.size.height >= ROOM_FOR_ALL:
            return self.VIEWS
        lists = self.VIEWS[:2]
        return lists if self.size.height >= ROOM_FOR_LISTS and self.view in lists else (self.view,)

    def share_room(self, room: int) -> None:
        """Give the lists and the page so many rows."""
        shown, stock = self.in_sight(), self.query_one("#stock", TaskTable)
        self.query_one("#lists").display = shown != ("gives",)
        stock.styles.height = min(max(stock.lines, 2), room // 3) if "build" in shown else "1fr"
        self.page.styles.height = len(self.page.rows) if shown == self.VIEWS else "1fr"

    def action_next_view(self, step: int = 1) -> None:
        """Go on to the next of parts, stock and place."""
        super().action_next_view(step)
        self.refill()

    # Changing the lists

    def put(self, records: tuple[Any, ...], row: int, said: str = "") -> None:
        """Put other rows into the list in hand and go to one of them; raises BadInput."""
        self.change({self.section: records}, said, row)

    def action_add(self) -> None:
        """Ask for a name and then for a size."""
        label = "Stock" if self.section == "stock" else "Part"
        self.ask(label, "", build_list.read_name, lambda text: self._ask_size(build_list.read_name(text)))

    def _ask_size(self, name: str) -> None:
        stock = self.section == "stock"

        def size(text: str) -> float:
            return build_list.read_size(text, self.system, stock=stock)

        def take(text: str) -> None:
            make = build_list.new_stock if stock else build_list.new_part
            place = self.table.place + 1
            self.put(edit.inserted(self.records, place, make(name, size(text))), place)

        label = f"{'Its size' if stock else 'Its full size'} ({build_list.unit_of(self.system, stock=stock)})"
        self.ask(label, "", lambda text: Words(self.answer).fine(size(text)), take)

    @on(DataTable.CellSelected)
    def _change(self) -> None:
        """Change the cell in hand, or what its column comes from."""
        others = {"compare": self.action_compare, "off": self.action_turn, "reads": self.action_wanted}
        column, place = self.table.column, self.table.place
        if other := others.get(column.removesuffix("_off")):
            other()
            return
        cell = Cell(self.answer, self.records[place], column)

        def take(text: str) -> None:
            self.put(edit.replaced(self.records, place, cell.taken(text)), place)

        self.ask(f"{LABELS[column]} ({cell.unit})" if cell.unit else LABELS[column], cell.text(), cell.read, take)

    def action_delete(self) -> None:
        """Take the row in hand away."""
        if self.some():
            place = self.table.place
            gone = self.records[place]
            name = gone.item if isinstance(gone, Stock) else gone.part
            self.put(edit.without(self.records, place), place, f"{name} was taken away; u brings it back")

    def action_move(self, step: int) -> None:
        """Move the row in hand up or down the list."""
        place = self.table.place
        if self.records and 0 <= place + step < len(self.records):
            self.put(edit.moved(self.records, place, step), place + step)

    def action_details(self) -> None:
        """Show the other fields of the part in hand."""
        if self.section == "build" and self.records:
            self.app.push_screen(PartScreen(self.table.place), lambda _: self.refill())
        else:
            self.say("Go to a part first")

    def action_stand(self) -> None:
        """Show what makes the model stand."""
        self.app.push_screen(StandScreen(), lambda _: self.refill())

    # Scales and rounding

    def action_compare(self) -> None:
        """Ask for a second scale; an empty entry takes it away."""
        held = self.answer.scale.compare_ratio

        def read(text: str) -> str:
            return edit.entry("scale.compare", text, self.shot, self.system, held)[1]

        def take(text: str) -> None:
            self.change({"scale.compare": text.strip() or None})

        text = edit.text_of(held, edit.quantity_of(ScaleChoice, "compare"), self.system)
        self.ask("Second scale (empty: none)", text, read, take)

    def action_turn(self) -> None:
        """Go to the shop's next step."""
        step = build_list.next_rounding(self.answer.scale.rounding)
        said = f"Cut to the nearest {step}; t goes on to the next of {', '.join(build_list.ROUNDINGS)}"
        self.attempt(lambda: self.change({"scale.rounding": step}, said))

    def action_wanted(self) -> None:
        """Ask for a full size and say what stock it needs."""

        def said(text: str) -> str:
            size = build_list.read_size(text, self.system)
            return build_list.wanted_text(self.answer, size)

        self.ask(f"Full size to make ({build_list.unit_of(self.system)})", "", said, lambda text: self.say(said(text)))
