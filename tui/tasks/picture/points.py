"""Points where model and place must meet, and outlines of both, entered and stepped with the view beside them."""

from collections.abc import Callable
from functools import partial
from typing import Any

from textual.app import ComposeResult
from textual.containers import Container

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.fields.ways import corner_held
from forescale.engine.formulas import silhouette
from forescale.engine.formulas.silhouette import Corner
from forescale.engine.shot import edit
from forescale.engine.shot.pictured_entry import (
    point_text,
    read_corner_text,
    read_point,
    stepped_corner,
    stepped_point,
)
from forescale.engine.shot.rows import OutlineRow, PointRow
from forescale.tui.diagrams import lens_view
from forescale.tui.runs import Rows, indented
from forescale.tui.tasks.frame import UNDO, Question, RowsScreen, Said, TaskPage, TaskTable, Told, key
from forescale.tui.tasks.frame.rows_screen import WIDE
from forescale.tui.tasks.picture.points_table import corner_columns, corners_of, point_columns

LEAST_COUNT = 4  # rows kept for a short list
WHERE = (
    "aside and height at full size, or shares or pixels from the left edge and from the bottom: 0.31, 0.62; a third "
    "place is its own distance"
)


class PointsScreen(RowsScreen[None]):
    """Points, and on Tab the corners of the outlines; the view follows every step."""

    TASK = "Points and outlines"
    ENTER = "change"
    SECTION = "point"
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

    def body(self) -> ComposeResult:
        yield Container(TaskTable(id="rows", cells=True), Rows(id="lens"), TaskPage(id="gives"), id="body")
        yield Told(id="how")

    # What is shown

    def fill(self) -> None:
        self.EMPTY = "No outline yet: n begins one" if self.outlines else "No point yet: a adds one"
        self.beside = self.outlines and self.size.width >= WIDE
        width = self.size.width * 55 // 100 if self.beside else self.size.width
        columns = corner_columns(self.answer) if self.outlines else point_columns(self.answer, wide=width >= WIDE)
        self.table.put(columns, self.glyphs, width)
        self.table.styles.width, self.page_width = width if self.beside else "1fr", width
        self.tell()

    def how(self, place: int) -> list[Said]:
        """Warn of an outline that crosses itself: of such a one no template can be cut."""
        if not self.outlines:
            return []
        outline = self.shot.outline[corners_of(self.answer)[place][0]]
        crossing = silhouette.crosses_itself(silhouette.line(outline.corners, closed=outline.closed), outline.closed)
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
        other = "points" if self.outlines else "outlines"
        return [(key, other if key == "tab" else short) for key, short in RowsScreen.keys(self)]

    def action_next_view(self, _step: int = 1) -> None:
        self.outlines = not self.outlines
        self.say("")
        self.refill()

    # Changing

    def _put_corners(self, outline: int, corners: tuple[Any, ...], row: int | None = None) -> None:
        all_rows = self.shot.outline
        changed = OutlineRow.model_validate(all_rows[outline].model_copy(update={"corners": corners}).model_dump())
        self.change({"outline": edit.replaced(all_rows, outline, changed)}, row=row)

    def _in_hand(self) -> tuple[tuple[Any, ...], int, Callable[..., None]]:
        """Return the points, or the corners of the outline in hand, which of them it is, and what puts others there."""
        if not self.outlines:
            return self.records, self.table.place, lambda rows, row=None: self.change({"point": rows}, row=row)
        outline, corner = corners_of(self.answer)[self.table.place]
        return self.shot.outline[outline].corners, corner, partial(self._put_corners, outline)

    def action_add(self) -> None:
        row = self.table.place + 1
        if not self.outlines:
            self.ask_each([lambda: Question("Point", self._new_name), self._where], lambda *told: self._add(row, *told))
        elif self.table.row_count:
            corners, corner, put = self._in_hand()
            question = Question("Corner", self._told_corner)
            self.ask(question, lambda text: put(edit.inserted(corners, corner + 1, self._corner(text)), row))
        else:
            self.action_new()

    def _add(self, row: int, name: str, text: str) -> None:
        point = PointRow.model_validate({"name": name.strip()} | self._read_point(text))
        self.change({"point": edit.inserted(self.records, row, point)}, row=row)

    def _where(self, name: str, text: str = "") -> Question:
        """Return the question where a point stands."""

        def told(text: str) -> str:
            return ", ".join(str(value) for value in self._read_point(text).values())

        return Question(name if text else "Where", told, text, WHERE)

    def _new_name(self, text: str, own: str = "") -> str:
        name = text.strip()
        others = {*(row.name for row in self.records), *(row.name for row in self.shot.outline)} - {own}
        if not name or name in others:
            raise ValueError("a name is needed that no other point or outline has")
        return name

    def _read_point(self, text: str) -> dict[str, Any]:
        """Return the fields of a point that is typed; raises ValueError, so where it lies beyond the mode's pixels."""
        mode = self.answer.kit.mode
        return read_point(text, self.system, (mode.width_px, mode.height_px))

    def _corner(self, text: str) -> Corner:
        return read_corner_text(text, self.system)

    def _told_corner(self, text: str) -> str:
        return ", ".join(corner_held(self._corner(text), self.system))

    def action_new(self) -> None:
        self.outlines = True
        self.refill()
        self.ask(Question("Outline", self._new_name), lambda text: self._ask_corners(self._new_name(text), ()))

    def _ask_corners(self, name: str, corners: tuple[Any, ...]) -> None:
        """Ask for corners until nothing is typed; from the third on the outline stands in the view."""

        def take(text: str) -> None:
            if not text.strip():
                if len(corners) < 3:
                    raise ValueError("an outline has three corners at the least; Esc gives it up")
                self.say("")
                return
            more = (*corners, self._corner(text))
            if len(more) >= 3:
                others = tuple(row for row in self.shot.outline if row.name != name)
                self.change({"outline": (*others, OutlineRow(name=name, corners=more))})
            self._ask_corners(name, more)

        if len(corners) >= 3:
            self.table.move_cursor(row=self.table.row_count - len(corners))
        done = "; Enter on nothing ends it" if len(corners) >= 3 else ""
        hint = f"aside, height at full size{done}"
        self.ask(Question(f"Corner {len(corners) + 1}", self._told_corner, hint=hint), take)

    def enter(self) -> None:
        """Change the point, its name or its distance, or the corner in hand."""
        rows, place, put = self._in_hand()
        held = rows[place]
        if self.outlines:
            question = Question("Corner", self._told_corner, ", ".join(corner_held(held, self.system)))
            self.ask(question, lambda text: put(edit.replaced(rows, place, self._corner(text))))
        elif self.table.column == "name":
            self._ask_name(place)
        elif self.table.column == "distance":
            self.action_field(
                f"point.{place + 1}.distance", f"Distance of {held.name}", FIELD_HELP["point.distance"].what
            )
        else:
            own = edit.text_of(held.distance, edit.quantity_of(PointRow, "distance"), self.system)
            kept = {key: getattr(held, key) for key in ("name", "piece") if getattr(held, key) is not None}

            def take(text: str) -> None:
                put(edit.replaced(rows, place, PointRow.model_validate(kept | self._read_point(text))))

            self.ask(self._where(held.name, ", ".join((*point_text(held, self.system), *[own] * bool(own)))), take)

    def _ask_name(self, row: int) -> None:
        """Ask for another name of a point; a miss that was read there keeps with it."""
        old = self.records[row].name

        def take(text: str) -> None:
            name = self._new_name(text, old)
            renamed = self.records[row].model_copy(update={"name": name})
            misses = tuple(
                miss.model_copy(update={"point": name}) if miss.point == old else miss for miss in self.shot.miss
            )
            self.change({"point": edit.replaced(self.records, row, renamed), "miss": misses})

        self.ask(Question("Name", lambda text: self._new_name(text, old), old), take)

    def action_delete(self) -> None:
        if not self.some():
            return
        rows, place, put = self._in_hand()
        left = edit.without(rows, place)
        if not self.outlines:
            name = rows[place].name
            misses = tuple(miss for miss in self.shot.miss if miss.point != name)
            self.take_away(name, {"point": left, "miss": misses})
            return
        outline, _ = corners_of(self.answer)[self.table.place]
        drawn = self.shot.outline[outline]
        if len(left) >= (3 if drawn.closed else 2):
            self.attempt(lambda: put(left))
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
        if self.some():
            ways = (0, direction) if self.table.column == "up" else (direction, 0)
            self.attempt(lambda: self._step_in_hand(*ways))

    def _step_in_hand(self, across: int, up: int) -> None:
        rows, place, put = self._in_hand()
        if self.outlines:
            put(edit.replaced(rows, place, stepped_corner(rows[place], across, up, self.system)))
            return
        fields = stepped_point(rows[place], across, up, self.system)
        self.change({f"point.{place + 1}.{key}": value for key, value in fields.items()})

    def action_move(self, step: int) -> None:
        if not self.some():
            return
        rows, place, put = self._in_hand()
        if 0 <= place + step < len(rows):
            self.attempt(lambda: put(edit.moved(rows, place, step), self.table.place + step))
        else:
            self.say(f"There is nothing {'before' if step < 0 else 'after'} it")
