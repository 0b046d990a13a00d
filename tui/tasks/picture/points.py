"""Points where model and place must meet, and outlines of both, with the view beside them."""

from collections.abc import Sequence
from functools import partial
from typing import Any

from textual.widget import Widget

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.fields.ways import corner_held
from forescale.engine.formulas import silhouette
from forescale.engine.formulas.silhouette import Corner
from forescale.engine.shot import edit
from forescale.engine.shot import pictured_entry as entries
from forescale.engine.shot.rows import OutlineRow, PointRow, refuse_one_place
from forescale.tui.diagrams import lens_view
from forescale.tui.runs import Rows, indented
from forescale.tui.tasks.frame import UNDO, WIDE, Question, RowsScreen, Said, TaskPage, TaskTable, key
from forescale.tui.tasks.picture.points_table import corner_columns, corners_of, point_columns

LEAST_COUNT = 4  # rows kept for a short list
WHERE = (
    "aside and height at full size, or shares or pixels from the left edge and from the bottom: 0.31, 0.62; a third "
    "place is its own distance"
)


class PointsScreen(RowsScreen[None]):
    TASK, ENTER, SECTION, LEAST = "Points and outlines", "change", "point", 20
    BINDINGS = [
        key("add", "add", "add a point, or an outline corner by corner; in an outline, a corner"),
        key("delete", "delete", "take the selected point or corner away; of three, the outline"),
        key("next view", "outlines", "go on from points to the corners of outlines, and back"),
        key("new", "new outline", "begin an outline: its name, then its corners"),
        key("turn", "of", "say of the selected outline that it is of the model, or of the place"),
        key("less", "less", "one step left or down: an inch or 5 cm, half a per cent, a pixel"),
        key("more", "more", "one step right or up"),
        key("earlier", "earlier"),
        key("later", "later"),
        *UNDO,
    ]
    outlines = False

    def lists(self) -> Sequence[Widget]:
        return TaskTable(id="rows", cells=True), Rows(id="lens"), TaskPage(id="gives")

    def fill(self) -> None:
        self.EMPTY = "No outline yet: n begins one" if self.outlines else "No point yet: a adds one"
        self.beside = self.outlines and self.size.width >= WIDE
        width = self.size.width * 55 // 100 if self.beside else self.size.width
        columns = corner_columns(self.answer) if self.outlines else point_columns(self.answer, wide=width >= WIDE)
        self.table.put(columns, self.glyphs, width, self.LEAST)
        self.table.styles.width, self.page_width = width if self.beside else "1fr", width
        self.tell()

    def how(self, place: int) -> list[Said]:
        if not self.outlines:
            return []
        outline = self.shot.outline[corners_of(self.answer)[place][0]]
        crossing = silhouette.crosses_itself(silhouette.line(outline.corners, closed=outline.closed), outline.closed)
        # of such a one no template can be cut
        return [("warn", f"{outline.name} crosses itself: put its corners in the order round it")] if crossing else []

    def share_room(self, room: int) -> None:
        lens, count = self.query_one("#lens", Rows), self.table.row_count
        height = room if self.beside else max(room - max(count, LEAST_COUNT) - 1, room // 2)
        across = self.size.width - (self.size.width * 55 // 100 if self.beside else 0)
        lens.styles.height, lens.styles.width = max(height, 1), across
        room_for_it = height >= lens_view.LEAST_ROWS  # with less, its legend alone would stand there
        lines = lens_view.draw(self.answer, max(across - 2, 1), height, self.glyphs) if room_for_it else []
        lens.show(indented(lines))

    def keys(self) -> list[tuple[str, str]]:
        other = {"tab": "points"} if self.outlines else {}
        return [(key, other.get(key, short)) for key, short in RowsScreen.keys(self)]

    def action_next_view(self, _step: int = 1) -> None:
        self.outlines = not self.outlines
        self.say("")
        self.refill()

    def _in_hand(self) -> tuple[tuple[Any, ...], int]:
        """Return the points, or the corners of the outline in hand, and which of them it is."""
        if not self.outlines:
            return self.records, self.table.place
        outline, corner = corners_of(self.answer)[self.table.place]
        return self.shot.outline[outline].corners, corner

    def _put(self, rows: tuple[Any, ...], row: int | None = None) -> None:
        """Put other points, or other corners of the outline in hand; raises BadInput."""
        changes = {"point": rows}
        if self.outlines:
            outline, _ = corners_of(self.answer)[self.table.place]
            drawn = OutlineRow.model_validate(self.shot.outline[outline].model_dump() | {"corners": rows})
            changes = {"outline": edit.replaced(self.shot.outline, outline, drawn)}
        self.change(changes, row=row)

    def action_add(self) -> None:
        row = self.table.place + 1

        def add(name: str, text: str) -> None:
            self._put(edit.inserted(self.records, row, self._point(text, name=name.strip())), row)

        if not self.outlines:
            self.ask_each([Question("Point", self._new_name), self._where], add)
        elif self.table.row_count:
            corners, corner = self._in_hand()
            question = Question("Corner", self._told_corner)
            self.ask(question, lambda text: self._put(edit.inserted(corners, corner + 1, self._corner(text)), row))
        else:
            self.action_new()

    def _where(self, name: str, text: str = "") -> Question:
        label = f"{name if text else 'Where'}: aside, height, distance"
        return Question(label, lambda text: ", ".join(map(str, self._read_point(text).values())), text, WHERE)

    def _new_name(self, text: str, own: str = "") -> str:
        name = text.strip()
        others = {*(row.name for row in self.records), *(row.name for row in self.shot.outline)} - {own}
        if not name or name in others:
            raise ValueError("a name is needed that no other point or outline has")
        return name

    def _read_point(self, text: str) -> dict[str, Any]:
        """Return the fields of a point that is typed; raises ValueError, so where it lies beyond the mode's pixels."""
        mode = self.answer.kit.mode
        return entries.read_point(text, self.system, (mode.width_px, mode.height_px))

    def _point(self, text: str, **kept: Any) -> PointRow:
        return PointRow.model_validate(kept | self._read_point(text))

    def _corner(self, text: str) -> Corner:
        return entries.read_corner_text(text, self.system)

    def _told_corner(self, text: str) -> str:
        return ", ".join(corner_held(self._corner(text), self.system))

    def action_new(self, name: str = "") -> None:
        self.outlines = True
        self.refill()
        self.ask(Question("Outline", self._new_name, name), lambda text: self._ask_corners(self._new_name(text), ()))

    def _ask_corners(self, name: str, corners: tuple[Corner, ...], typed: str = "") -> None:
        """Ask for corners until nothing is typed; from the third on the outline stands in the view."""

        def draw(drawn: tuple[Corner, ...]) -> None:
            rows = [row for row in self.shot.outline if row.name != name]
            rows += [OutlineRow(name=name, corners=drawn)] if len(drawn) >= 3 else []
            self.change({"outline": tuple(rows)})

        def take(text: str) -> None:
            if not text.strip():
                if len(corners) < 3:
                    raise ValueError("an outline has three corners at the least; Esc goes back")
                self.say("")
                return
            more = (*corners, self._corner(text))
            if corners:
                refuse_one_place(*more[-2:])
            if len(more) >= 3:
                draw(more)
            self._ask_corners(name, more)

        def again() -> None:
            if len(corners) >= 3:
                draw(corners[:-1])
            self._ask_corners(name, corners[:-1], ", ".join(corner_held(corners[-1], self.system)))

        if len(corners) >= 3:
            self.table.move_cursor(row=self.table.row_count - len(corners))
        done = "; Enter on nothing ends it" if len(corners) >= 3 else ""
        question = Question(f"Corner {len(corners) + 1}", self._told_corner, typed, f"aside, height at full size{done}")
        self.ask(question, take, again if corners else partial(self.action_new, name))

    def enter(self) -> None:
        """Change the point, its name or its distance, or the corner in hand."""
        rows, place = self._in_hand()
        held = rows[place]
        if self.outlines:
            question = Question("Corner", self._told_corner, ", ".join(corner_held(held, self.system)))
            self.ask(question, lambda text: self._put(edit.replaced(rows, place, self._corner(text))))
        elif self.table.column == "name":
            self._ask_name(place)
        elif self.table.column == "distance":
            hint = FIELD_HELP["point.distance"].what
            self.action_field(f"point.{place + 1}.distance", f"Distance of {held.name}", hint)
        else:
            own = edit.text_of(held.distance, edit.quantity_of(PointRow, "distance"), self.system)
            kept = held.model_dump(include={"name", "piece"}, exclude_none=True)
            stood = ", ".join((*entries.point_text(held, self.system), *[own] * bool(own)))

            def take(text: str) -> None:
                if text != stood:  # what was read stays read as the lens then stood
                    self._put(edit.replaced(rows, place, self._point(text, **kept)))

            self.ask(self._where(held.name, stood), take)

    def _ask_name(self, row: int) -> None:
        """Ask for another name of a point; a miss that was read there keeps with it."""
        old = self.records[row].name

        def take(text: str) -> None:
            name = self._new_name(text, old)
            renamed, called = self.records[row].model_copy(update={"name": name}), {old: name}
            misses = (miss.model_copy(update={"point": called.get(miss.point, miss.point)}) for miss in self.shot.miss)
            self.change({"point": edit.replaced(self.records, row, renamed), "miss": tuple(misses)})

        self.ask(Question("Name", lambda text: self._new_name(text, old), old), take)

    def action_delete(self) -> None:
        if not self.some():
            return
        rows, place = self._in_hand()
        left = edit.without(rows, place)
        if not self.outlines:
            name = rows[place].name
            self.take_away(name, {"point": left, "miss": tuple(miss for miss in self.shot.miss if miss.point != name)})
            return
        outline, _ = corners_of(self.answer)[self.table.place]
        drawn = self.shot.outline[outline]
        if len(left) >= (3 if drawn.closed else 2):
            self.attempt(lambda: self._put(left))
        else:
            self.take_away(drawn.name, {"outline": edit.without(self.shot.outline, outline)})

    def action_turn(self) -> None:
        if not self.outlines:
            self.say("An outline is of the model or of the place: Tab goes to the outlines")
        elif self.some():
            outline, _ = corners_of(self.answer)[self.table.place]
            of = "place" if self.shot.outline[outline].of == "model" else "model"
            self.attempt(lambda: self.change({f"outline.{outline + 1}.of": of}))

    def action_step_by(self, direction: int) -> None:
        if not self.some():
            return
        rows, place = self._in_hand()
        across, up = (0, direction) if self.table.column == "up" else (direction, 0)

        def step() -> None:
            if self.outlines:
                self._put(edit.replaced(rows, place, entries.stepped_corner(rows[place], across, up, self.system)))
            else:
                fields = entries.stepped_point(rows[place], across, up, self.system)
                self.change({f"point.{place + 1}.{key}": value for key, value in fields.items()})

        self.attempt(step)

    def action_move(self, step: int) -> None:
        if not self.some():
            return
        rows, place = self._in_hand()
        if 0 <= place + step < len(rows):
            self.attempt(lambda: self._put(edit.moved(rows, place, step), self.table.place + step))
        else:
            self.say(f"There is nothing {'before' if step < 0 else 'after'} it")
