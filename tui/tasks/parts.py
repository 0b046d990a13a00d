"""The build list: parts at full size and model size, the stock at hand, and what this place asks of the build."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widget import Widget
from textual.widgets import DataTable

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.parts import build_list
from forescale.engine.parts.build_list import Cell
from forescale.engine.shot import edit
from forescale.engine.shot.sections import ScaleChoice, Stock
from forescale.tui.glyphs import plain
from forescale.tui.runs import Rows
from forescale.tui.tasks.frame.columns import Column, show
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen, TaskTable
from forescale.tui.tasks.parts_table import fitted_lengths, part_columns, stock_columns
from forescale.tui.wrapped import wrapped

VIEWS = ("build", "stock", "place")
LABELS = {"name": "Name", "quantity": "How many", "size": "Size", "model": "On the model"}
ROOM_FOR_ALL, ROOM_FOR_LISTS = 30, 20
HAND_LINES = 5


class PartsScreen(TaskScreen[None]):
    """Parts, stock and place; Tab goes from one to the next, and in little room one is shown at a time."""

    TASK = "Build list"
    ENTER = "change"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add", "add", tooltip="add a part, or a stock at hand, below the selected row"),
        Binding("x", "delete", "delete", tooltip="take away the selected row"),
        Binding("tab", "next_view", "next", tooltip="go on from parts to stock, place, and back"),
        Binding("c", "compare", "2nd scale", tooltip="hold a second scale beside the first, or none"),
        Binding("o", "rounding", "rounding", tooltip="the shop's next step: 1/16, 1/32, 1/64 in, 0.5, 0.1 mm"),
        Binding("m", "more", "more of it", tooltip="sizes, material, density and pitch of the selected part"),
        Binding("h", "stand", "holds?", tooltip="will it stand: wind, weight, ballast, sway"),
        Binding("w", "wanted", "stock for", tooltip="what stock a thing of some full size needs"),
        Binding("u", "undo", "undo", tooltip="undo the last change"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
        Binding("e", "move(-1)", "earlier", tooltip="move the selected row up the list"),
        Binding("l", "move(1)", "later", tooltip="move the selected row down the list"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.view = "build"
        self._columns: dict[str, list[Column]] = {}

    @property
    def answer(self) -> Answer:
        """The present answer."""
        return self.session.state.answer

    @property
    def section(self) -> str:
        """The list that the keys act upon; the place has none, so the parts."""
        return "stock" if self.view == "stock" else "build"

    @property
    def records(self) -> tuple[Any, ...]:
        """The rows of the list in hand."""
        return tuple(getattr(self.session.state.shot, self.section))

    @property
    def table(self) -> TaskTable:
        """The table of the list in hand."""
        return self.query_one(f"#{self.section}", TaskTable)

    def body(self) -> ComposeResult:
        """Two tables, a sentence on the row in hand, and the place."""
        yield TaskTable(id="build", cells=True)
        yield TaskTable(id="stock", cells=True)
        yield Rows(id="hand")
        yield TaskPage(id="place")

    # What is shown

    def on_resize(self, event: events.Resize) -> None:
        """Fit the tables to the new width."""
        super().on_resize(event)
        self.fill()

    def fill(self) -> None:
        """Show the lists as the session has them now."""
        for name, columns in (("build", part_columns(self.answer)), ("stock", stock_columns(self.answer))):
            kept = self._columns[name] = fitted_lengths(columns, self.size.width - 1)
            show(self.query_one(f"#{name}", TaskTable), kept, self.forescale.glyphs)
        self._lay_out()

    def _lay_out(self) -> None:
        together = self._views_together()
        for name in VIEWS:
            self.query_one(f"#{name}", Widget).display = name in together
        lines = [line for text in build_list.place_texts(self.answer) for line in self._wrapped(text)]
        place = self.query_one("#place", TaskPage)
        place.styles.height = len(lines) if len(together) > 1 else "1fr"
        place.show("\n".join(lines))
        stock_lines = min(max(len(self.answer.scale.stock), 1) + 1, self.size.height // 4)
        self.query_one("#stock").styles.height = stock_lines if len(together) > 1 else "1fr"
        self._show_hand()

    def _views_together(self) -> tuple[str, ...]:
        """Return what is shown at once: all in much room, both lists in some, the view in hand alone in little."""
        if self.size.height >= ROOM_FOR_ALL:
            return VIEWS
        lists = VIEWS[:2]
        return lists if self.size.height >= ROOM_FOR_LISTS and self.view in lists else (self.view,)

    def _wrapped(self, text: str) -> list[str]:
        return wrapped(plain(text, self.forescale.glyphs), max(self.size.width - 3, 20))

    def _show_hand(self) -> None:
        lines = self._wrapped(self._hand_text())
        hand = self.query_one("#hand", Rows)
        hand.display = bool(lines)
        hand.styles.height = min(max(len(lines), 1), HAND_LINES)
        hand.show(tuple(((f" {line}", "answer"),) for line in lines))

    def _hand_text(self) -> str:
        scaled, place = self.answer.scale, self.table.cursor_row
        if self.view == "place":
            return ""
        if not self.records:
            return f"No {'stock at hand' if self.view == 'stock' else 'parts'} yet: a adds one"
        if self.view == "build":
            return build_list.part_text(self.answer, scaled.build[min(place, len(scaled.build) - 1)])
        return build_list.stock_text(self.answer, scaled.stock[min(place, len(scaled.stock) - 1)])

    @on(DataTable.CellHighlighted)
    def _in_hand(self) -> None:
        self._show_hand()

    def action_next_view(self) -> None:
        """Go on to the next of parts, stock and place."""
        self.view = VIEWS[(VIEWS.index(self.view) + 1) % len(VIEWS)]
        self.say("")
        self._lay_out()
        self.focus_body()

    def focus_body(self) -> None:
        """Put the keys to the view in hand."""
        self.query_one(f"#{self.view}").focus()

    # Changing the lists

    def put(self, records: tuple[Any, ...], row: int, said: str = "") -> None:
        """Put other rows into the list in hand and go to one of them; raises BadInput."""
        self.session.apply({self.section: records})
        self.forescale.changed()
        self.fill()
        self.table.move_cursor(row=row)
        self.say(said)

    def action_add(self) -> None:
        """Ask for a name and then for a size."""
        label = "Stock" if self.section == "stock" else "Part"
        self.ask(label, "", build_list.read_name, lambda text: self._ask_size(build_list.read_name(text)))

    def _ask_size(self, name: str) -> None:
        stock = self.section == "stock"
        shown = 1.0 if stock else None  # a stock is small, so a bare number of it is in inches or mm
        system = self.answer.system

        def read(text: str) -> str:
            return Words(self.answer).fine(build_list.read_size(text, system, shown))

        def take(text: str) -> None:
            make = build_list.new_stock if stock else build_list.new_part
            place = self.table.cursor_row + 1 if self.records else 0
            record = make(name, build_list.read_size(text, system, shown))
            self.put(edit.inserted(self.records, place, record), place)

        self.ask("Its size" if stock else "Its full size", "", read, take)

    @on(DataTable.CellSelected)
    def _change(self) -> None:
        """Change the cell in hand, or what its column comes from."""
        column = self._columns[self.section][self.table.cursor_column].id
        if column in {"compare", "compare_off"}:
            self.action_compare()
        elif column == "off":
            self.action_rounding()
        elif column == "reads":
            self.action_wanted()
        else:
            place = self.table.cursor_row
            cell = Cell(self.answer, self.records[place], column)
            self.ask(LABELS[column], cell.text(), cell.read, lambda text: self._take_cell(cell, place, text))

    def _take_cell(self, cell: Cell, place: int, text: str) -> None:
        self.put(edit.replaced(self.records, place, cell.taken(text)), place)

    def action_delete(self) -> None:
        """Take the row in hand away."""
        if not self.records:
            self.say("There is nothing to take away")
            return
        place = self.table.cursor_row
        gone = self.records[place]
        name = gone.item if isinstance(gone, Stock) else gone.part
        self.put(edit.without(self.records, place), place, f"{name} was taken away; u brings it back")

    def action_move(self, step: int) -> None:
        """Move the row in hand up or down the list."""
        place = self.table.cursor_row
        if self.records and 0 <= place + step < len(self.records):
            self.put(edit.moved(self.records, place, step), place + step)

    def action_more(self) -> None:
        """Show the other fields of the part in hand."""
        from forescale.tui.tasks.built import PartScreen

        if self.section == "build" and self.records:
            self.app.push_screen(PartScreen(self.table.cursor_row), lambda _: self.fill())
        else:
            self.say("Go to a part first")

    def action_stand(self) -> None:
        """Show what makes the model stand."""
        from forescale.tui.tasks.built import StandScreen

        self.app.push_screen(StandScreen(), lambda _: self.fill())

    # Scales and rounding

    def action_compare(self) -> None:
        """Ask for a second scale; an empty entry takes it away."""
        quantity = edit.quantity_of(ScaleChoice, "compare")
        held = self.answer.scale.compare_ratio

        def read(text: str) -> str:
            return edit.entry("scale.compare", text, self.session.state.shot, self.answer.system, held)[1]

        def take(text: str) -> None:
            self.session.apply({"scale.compare": text.strip() or None})
            self.forescale.changed()
            self.fill()
            self.say("")

        self.ask("Second scale (empty: none)", edit.text_of(held, quantity, self.answer.system), read, take)

    def action_rounding(self) -> None:
        """Go to the shop's next step."""
        step = build_list.next_rounding(self.answer.scale.rounding)
        if self.attempt(lambda: self.session.apply({"scale.rounding": step})):
            self.say(f"Cut to the nearest {step}; o goes on to the next of {', '.join(build_list.ROUNDINGS)}")

    def action_wanted(self) -> None:
        """Ask for a full size and say what stock it needs."""

        def said(text: str) -> str:
            size = build_list.read_size(text, self.answer.system, None)
            return build_list.wanted_text(self.answer, size)

        self.ask("Full size to make", "", said, lambda text: self.say(said(text)))
