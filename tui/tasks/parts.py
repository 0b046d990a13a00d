"""The build list: parts, stock at hand, what this place asks of it; what a part is made of, and whether it stands."""

from collections.abc import Iterable, Sequence
from functools import partial

from textual.containers import Vertical
from textual.widget import Widget

from forescale.engine.answer import Answer
from forescale.engine.findings.built import DEFER, hung
from forescale.engine.findings.words import Words
from forescale.engine.parts import build_list
from forescale.engine.parts.build_list import PartCell
from forescale.engine.sheet.sections.build import off_text, stand
from forescale.engine.shot import edit
from forescale.engine.shot.sections import Part, Stand, Stock
from forescale.engine.units import length_text
from forescale.tui.tasks.frame import UNDO, Column, FieldsScreen, Question, RowsScreen, TaskPage, TaskTable, key, listed

LABELS = {"name": "Name", "quantity": "How many", "size": "Size", "model": "On the model"}
OF_FOOT = {"area_height", "ballast", "foot_deep", "lee", "friction"}  # which a model that hangs has not
HUNG = "no foot to tip or slide on, and no ballast. Its rigging is for licensed riggers and local codes"
ROOM_FOR_ALL, ROOM_FOR_LISTS = 30, 20  # rows of a screen


class PartsScreen(RowsScreen[None]):
    TASK, ENTER, VIEWS = "Build list", "change", ("build", "stock", "gives")
    SECTION = view = "build"  # the list that the keys act upon, the parts where the place is in hand
    BINDINGS = [
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
    def table(self) -> TaskTable:
        return self.query_one(f"#{self.SECTION}", TaskTable)

    def lists(self) -> Sequence[Widget]:
        tables = Vertical(TaskTable(id="build", cells=True), TaskTable(id="stock", cells=True), id="lists")
        return tables, TaskPage(id="gives")

    def put_rows(self) -> None:
        self.EMPTY = f"No {'stock at hand' if self.SECTION == 'stock' else 'parts'} yet: a adds one"
        for name, columns in (("build", part_columns(self.answer)), ("stock", stock_columns(self.answer))):
            self.query_one(f"#{name}", TaskTable).put(columns, self.glyphs, self.size.width - 1)

    def gives(self) -> list[str]:
        return list(build_list.place_texts(self.answer))

    def how(self, place: int) -> list[str]:
        scaled = self.answer.scale
        if self.SECTION == "stock":
            return [build_list.stock_text(self.answer, scaled.stock[place])]
        return [build_list.part_text(self.answer, scaled.build[place])]

    def in_sight(self) -> tuple[str, ...]:
        """Return what is shown at once: all in much room, both lists in some, the view in hand alone in little."""
        if self.size.height >= ROOM_FOR_ALL:
            return self.VIEWS
        lists = self.VIEWS[:2]
        return lists if self.size.height >= ROOM_FOR_LISTS and self.view in lists else (self.view,)

    def shown_views(self) -> tuple[str, ...]:
        return self.in_sight()

    def share_room(self, room: int) -> None:
        shown, stock = self.in_sight(), self.query_one("#stock", TaskTable)
        self.query_one("#lists").display = shown != ("gives",)
        stock.styles.height = min(max(stock.lines, 2), room // 3) if "build" in shown else "1fr"
        self.page.styles.height = len(self.page.rows) if shown == self.VIEWS else "1fr"

    def action_next_view(self, step: int = 1) -> None:
        super().action_next_view(step)
        self.SECTION = "stock" if self.view == "stock" else "build"
        self.refill()

    def action_add(self) -> None:
        stock, place = self.SECTION == "stock", self.table.place + 1
        unit = build_list.unit_of(self.system, stock=stock)
        size = partial(build_list.read_size, system=self.system, stock=stock)

        def put(name: str, text: str) -> None:
            make = build_list.new_stock if stock else build_list.new_part
            self.change({self.SECTION: edit.inserted(self.records, place, make(name, size(text)))}, row=place)

        what, its_size = ("Stock", "Its size") if stock else ("Part", "Its full size")
        of_size = Question(f"{its_size} ({unit})", lambda text: Words(self.answer).fine(size(text)))
        self.ask_each([Question(what, build_list.read_name), of_size], put)

    def enter(self) -> None:
        others = {"compare": self.action_compare, "off": self.action_turn, "reads": self.action_wanted}
        column, at = self.table.column, self.table.place
        if other := others.get(column.removesuffix("_off")):
            self.of_row = False  # but of the whole list
            other()
            return
        cell = PartCell(self.answer, self.records[at], column)
        question = Question(f"{LABELS[column]} ({cell.unit})" if cell.unit else LABELS[column], cell.read, cell.text())
        self.ask(question, lambda text: self.change({self.SECTION: edit.replaced(self.records, at, cell.taken(text))}))

    def takes_text(self) -> bool:
        return super().takes_text() and self.table.column != "off"  # which Enter turns over

    def action_delete(self) -> None:
        if self.some():
            place = self.table.place
            gone = self.records[place]
            name = gone.item if isinstance(gone, Stock) else gone.part
            self.take_away(name, {self.SECTION: edit.without(self.records, place)}, place)

    def action_move(self, step: int) -> None:
        place = self.table.place
        if self.records and 0 <= place + step < len(self.records):
            self.change({self.SECTION: edit.moved(self.records, place, step)}, row=place + step)

    def action_details(self) -> None:
        if self.SECTION == "build" and self.records:
            self.app.push_screen(PartScreen(self.table.place), lambda _: self.refill())
        else:
            self.say("Go to a part first")

    def action_stand(self) -> None:
        self.app.push_screen(StandScreen(), lambda _: self.refill())

    def action_compare(self) -> None:
        self.action_field("scale.compare", "Second scale (empty: none)")

    def action_turn(self) -> None:
        step = build_list.next_rounding(self.answer.scale.rounding)
        said = f"Cut to the nearest {step}; t goes on to the next of {', '.join(build_list.ROUNDINGS)}"
        self.attempt(lambda: self.change({"scale.rounding": step}, said))

    def action_wanted(self) -> None:
        def said(text: str) -> str:
            return build_list.wanted_text(self.answer, build_list.read_size(text, self.system))

        question = Question(f"Full size to make ({build_list.unit_of(self.system)})", said)
        self.ask(question, lambda text: self.say(said(text)))


def part_columns(answer: Answer) -> list[Column]:
    """Return the parts: how many, full size, model size and rounding's worth at each scale."""
    voice, scaled = Words(answer), answer.scale

    def off(errors: Iterable[float]) -> tuple[str, ...]:
        return tuple(off_text(voice, error) or "exact" for error in errors)

    columns = [
        Column("name", "part", tuple(item.part for item in scaled.build)),
        Column("quantity", "no.", tuple(str(item.quantity) for item in scaled.build), goes=2),
        Column("size", "full size", tuple(voice.fine(item.real_mm) for item in scaled.build), goes=1),
        Column("model", f"at {voice.ratio(scaled.ratio)}", tuple(item.shop for item in scaled.build)),
        Column("off", "off by", off(item.shop_error_real_mm for item in scaled.build), goes=4),
    ]
    if scaled.compare_ratio is None:
        return columns
    shop = tuple(item.compare_shop or "" for item in scaled.build)
    errors = off(item.compare_shop_error_real_mm or 0.0 for item in scaled.build)
    head = f"at {voice.ratio(scaled.compare_ratio)}"
    return [*columns, Column("compare", head, shop, goes=3), Column("compare_off", f"off {head}", errors, goes=5)]


def stock_columns(answer: Answer) -> list[Column]:
    """Return the stock: its own size, and what it reads as at each scale."""
    voice, scaled = Words(answer), answer.scale
    sizes = tuple(length_text(item.size_mm, answer.system, fraction=64) for item in scaled.stock)
    reads = tuple(voice.fine(item.reads_as_mm) for item in scaled.stock)
    columns = [
        Column("name", "stock at hand", tuple(item.item for item in scaled.stock)),
        Column("size", "size", sizes),
        Column("reads", f"at {voice.ratio(scaled.ratio)}", reads),
    ]
    if scaled.compare_ratio is None:
        return columns
    other = tuple(voice.fine(item.compare_reads_as_mm or 0.0) for item in scaled.stock)
    return [*columns, Column("compare", f"at {voice.ratio(scaled.compare_ratio)}", other, goes=1)]


class StandScreen(FieldsScreen):
    TASK = "Will it stand"

    def fill(self) -> None:
        left_out = OF_FOOT if self.shot.place.mount == "hangs" else set()
        self.PATHS = tuple(f"stand.{name}" for name in Stand.model_fields if name not in left_out)
        super().fill()

    def gives(self) -> list[str]:
        said = stand(Words(self.answer))
        told = [f"{row.label}: {row.shown}{f'; {row.remark}' if row.remark else ''}" for row in said]
        told += [f"First estimates: {DEFER}"] * bool(said)
        return [f"{hung(self.answer)}: {HUNG}"] * (self.shot.place.mount == "hangs") + told


class PartScreen(FieldsScreen):
    TASK = "One part"

    def __init__(self, place: int) -> None:
        super().__init__()
        self.place = place
        names = [name for name in Part.model_fields if name not in {"part", "real", "quantity"}]
        self.PATHS = tuple(f"build.{place + 1}.{name}" for name in names)

    def registered(self, path: str) -> str:
        return path.replace(f"build.{self.place + 1}.", "build.")

    def gives(self) -> list[str]:
        if self.place >= len(self.answer.scale.build):
            return []
        told = build_list.part_text(self.answer, self.answer.scale.build[self.place])
        return [f"{told}{build_list.weight_text(self.answer, self.place)}"]
