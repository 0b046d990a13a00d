"""Points where model and place must meet, and outlines of both, entered and stepped with the view beside them."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container
from textual.widgets import DataTable

from forescale.engine.formulas import silhouette
from forescale.engine.shot import edit
from forescale.engine.shot.pictured import OutlineRow, PointRow
from forescale.engine.shot.pictured_entry import (
    corner_text,
    point_text,
    read_corner_text,
    read_point,
    stepped_corner,
    stepped_point,
)
from forescale.tui.diagrams import lens_view
from forescale.tui.runs import Rows, indented
from forescale.tui.tasks.frame.rows_screen import WIDE, RowsScreen
from forescale.tui.tasks.frame.verbs import UNDO, key
from forescale.tui.tasks.frame.widgets import Said, TaskPage, TaskTable, Told
from forescale.tui.tasks.picture.points_table import corner_columns, corners_of, point_columns

LEAST_COUNT = 4  # rows kept for a short list
WHERE = "aside and height at full size, or shares or pixels from the left edge and from the bottom: 0.31, 0.62"


class PointsScreen(RowsScreen[None]):
    """Points, and on Tab the corners of the outlines; the view follows every step."""

    TASK = "Points and outlines"
    ENTER = "change"
    BINDINGS: ClassVar[list[BindingType]] = [
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

    def __init__(self) -> None:
        super().__init__()
        self.outlines = False

    @property
    def points(self) -> tuple[PointRow, ...]:
        """The points of the shot."""
        return self.shot.point

    def body(self) -> ComposeResult:
        """The rows, and what the lens sees."""
        yield Container(TaskTable(id="rows", cells=True), Rows(id="lens"), TaskPage(id="gives"), id="body")
        yield Told(id="how")

    # What is shown

    def fill(self) -> None:
        """Show the rows; the view stands beside corners where the screen is wide."""
        self.EMPTY = "No outline yet: n begins one" if self.outlines else "No point yet: a adds one"
        self.beside = self.outlines and self.size.width >= WIDE
        width = self.size.width * 55 // 100 if self.beside else self.size.width
        columns = corner_columns(self.answer, width) if self.outlines else point_columns(self.answer, width)
        self.table.put(columns, self.glyphs)
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
        """Give the rows and the view so many lines, and draw what the lens sees."""
        lens, count = self.query_one("#lens", Rows), self.table.row_count
        height = room if self.beside else max(room - max(count, LEAST_COUNT) - 1, room // 2)
        across = self.size.width - (self.size.width * 55 // 100 if self.beside else 0)
        lens.styles.height, lens.styles.width = max(height, 1), across
        room_for_it = height >= lens_view.LEAST_ROWS  # with less, its legend alone would stand there
        lines = lens_view.draw(self.answer, max(across - 2, 1), height, self.glyphs) if room_for_it else []
        lens.show(indented(lines))

    def keys(self) -> list[tuple[str, str]]:
        """Return the keys for the footer, Tab with the list to which it leads."""
        other = "points" if self.outlines else "outlines"
        return [(key, other if key == "tab" else short) for key, short in RowsScreen.keys(self)]

    def action_next_view(self, _step: int = 1) -> None:
        """Go on to the corners of the outlines, or back to the points."""
        self.outlines = not self.outlines
        self.say("")
        self.refill()

    # Changing

    def _in_hand(self) -> tuple[int, int]:
        """Return which outline, and which of its corners, has the cursor."""
        return corners_of(self.answer)[self.table.place]

    def _put_corners(self, outline: int, corners: tuple[Any, ...], row: int | None = None) -> None:
        all_rows = self.shot.outline
        changed = OutlineRow.model_validate(all_rows[outline].model_copy(update={"corners": corners}).model_dump())
        self.change({"outline": edit.replaced(all_rows, outline, changed)}, row=row)

    def action_add(self) -> None:
        """Ask for a point's name and place, or for a corner behind the one in hand."""
        if not self.outlines:
            self.ask("Point", "", self._new_name, lambda text: self._ask_point(self._new_name(text)))
        elif self.table.row_count:
            outline, corner = self._in_hand()
            self._ask_corner(outline, corner + 1, self.table.place + 1)
        else:
            self.action_new()

    def _new_name(self, text: str, own: str = "") -> str:
        name = text.strip()
        others = {*(row.name for row in self.points), *(row.name for row in self.shot.outline)} - {own}
        if not name or name in others:
            raise ValueError("a name is needed that no other point or outline has")
        return name

    def _ask_point(self, name: str) -> None:
        def take(text: str) -> None:
            place = self.table.place + 1 if self.points else 0
            row = PointRow.model_validate({"name": name} | self._read_point(text))
            self.change({"point": edit.inserted(self.points, place, row)}, row=place)

        self.ask("Where", "", self._told_point, take, WHERE)

    def _read_point(self, text: str) -> dict[str, Any]:
        """Return the fields of a point that is typed; raises ValueError, so where it lies beyond the mode's pixels."""
        mode = self.answer.kit.mode
        return read_point(text, self.system, (mode.width_px, mode.height_px))

    def _told_point(self, text: str) -> str:
        return ", ".join(str(value) for value in self._read_point(text).values())

    def _told_corner(self, text: str) -> str:
        return corner_text(read_corner_text(text, self.system), self.system)

    def _ask_corner(self, outline: int, place: int, row: int) -> None:
        def take(text: str) -> None:
            corner = read_corner_text(text, self.system)
            self._put_corners(outline, edit.inserted(self.shot.outline[outline].corners, place, corner), row)

        self.ask("Corner", "", self._told_corner, take)

    def action_new(self) -> None:
        """Begin an outline: its name, then its corners one after another."""
        self.outlines = True
        self.refill()
        self.ask("Outline", "", self._new_name, lambda text: self._ask_first(self._new_name(text), ()))

    def _ask_first(self, name: str, corners: tuple[Any, ...]) -> None:
        """Ask for corners until nothing is typed; from the third on the outline stands in the view."""

        def take(text: str) -> None:
            if not text.strip():
                if len(corners) < 3:
                    raise ValueError("an outline has three corners at the least; Esc gives it up")
                self.say("")
                return
            more = (*corners, read_corner_text(text, self.system))
            if len(more) >= 3:
                others = tuple(row for row in self.shot.outline if row.name != name)
                self.change({"outline": (*others, OutlineRow(name=name, corners=more))})
            self._ask_first(name, more)

        if len(corners) >= 3:
            self.table.move_cursor(row=self.table.row_count - len(corners))
        done = "; Enter on nothing ends it" if len(corners) >= 3 else ""
        self.ask(f"Corner {len(corners) + 1}", "", self._told_corner, take, f"aside, height at full size{done}")

    @on(DataTable.CellSelected)
    def _type(self) -> None:
        """Change the point or the corner in hand."""
        place = self.table.place
        if self.outlines:
            outline, corner = self._in_hand()
            corners = self.shot.outline[outline].corners

            def put(text: str) -> None:
                self._put_corners(outline, edit.replaced(corners, corner, read_corner_text(text, self.system)))

            self.ask("Corner", corner_text(corners[corner], self.system), self._told_corner, put)
            return
        point = self.points[place]
        if self.table.column == "name":
            self._ask_name(place)
            return

        def take(text: str) -> None:
            kept = {"name": point.name, "piece": point.piece, "distance": point.distance}
            changed = {key: value for key, value in kept.items() if value is not None} | self._read_point(text)
            if point.distance is not None:
                changed["distance"] = f"{point.distance!r} mm"
            self.change({"point": edit.replaced(self.points, place, PointRow.model_validate(changed))})

        self.ask(point.name, ", ".join(point_text(point, self.system)), self._told_point, take, WHERE)

    def _ask_name(self, row: int) -> None:
        """Ask for another name of a point; a miss that was read there keeps with it."""
        old = self.points[row].name

        def take(text: str) -> None:
            name = self._new_name(text, old)
            renamed = self.points[row].model_copy(update={"name": name})
            misses = tuple(
                miss.model_copy(update={"point": name}) if miss.point == old else miss for miss in self.shot.miss
            )
            self.change({"point": edit.replaced(self.points, row, renamed), "miss": misses})

        self.ask("Name", old, lambda text: self._new_name(text, old), take)

    def action_delete(self) -> None:
        """Take the point or the corner in hand away; of three corners the whole outline goes."""
        if not self.some():
            return
        if not self.outlines:
            name, left = self.points[self.table.place].name, edit.without(self.points, self.table.place)
            misses = tuple(miss for miss in self.shot.miss if miss.point != name)
            said = f"{name} was taken away; u brings it back"
            self.attempt(lambda: self.change({"point": left, "miss": misses}, said))
            return
        outline, corner = self._in_hand()
        drawn = self.shot.outline[outline]
        if len(drawn.corners) > (3 if drawn.closed else 2):
            self.attempt(lambda: self._put_corners(outline, edit.without(drawn.corners, corner)))
            return
        said = f"{drawn.name} was taken away; u brings it back"
        self.attempt(lambda: self.change({"outline": edit.without(self.shot.outline, outline)}, said))

    def action_turn(self) -> None:
        """Say that the outline in hand is of the model, or of the place."""
        if not self.outlines:
            self.say("An outline is of the model or of the place: Tab goes to the outlines")
        elif self.some():
            outline, _ = self._in_hand()
            of = "place" if self.shot.outline[outline].of == "model" else "model"
            self.attempt(lambda: self.change({f"outline.{outline + 1}.of": of}))

    def action_step_by(self, direction: int) -> None:
        """Step the aside or the height in hand."""
        if self.some():
            ways = (0, direction) if self.table.column == "up" else (direction, 0)
            self.attempt(lambda: self._step_in_hand(*ways))

    def _step_in_hand(self, across: int, up: int) -> None:
        if self.outlines:
            outline, corner = self._in_hand()
            corners = self.shot.outline[outline].corners
            stepped = stepped_corner(corners[corner], across, up, self.system)
            self._put_corners(outline, edit.replaced(corners, corner, stepped))
            return
        place = self.table.place
        fields = stepped_point(self.points[place], across, up, self.system)
        self.change({f"point.{place + 1}.{key}": value for key, value in fields.items()})

    def action_move(self, step: int) -> None:
        """Move the point in hand up or down the list, or the corner in hand along its outline."""
        if not self.some():
            return
        row = self.table.place
        outline, place = self._in_hand() if self.outlines else (0, row)
        corners = self.shot.outline[outline].corners if self.outlines else ()
        if not 0 <= place + step < (len(corners) if self.outlines else len(self.points)):
            self.say(f"There is nothing {'before' if step < 0 else 'after'} it")
        elif not self.outlines:
            self.change({"point": edit.moved(self.points, row, step)}, row=row + step)
        else:
            self.attempt(lambda: self._put_corners(outline, edit.moved(corners, place, step), row + step))
