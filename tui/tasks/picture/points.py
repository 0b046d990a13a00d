"""Points where model and place must meet, and outlines of both, entered and stepped with the view beside them."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.widgets import DataTable

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
from forescale.engine.solve.record import Answer
from forescale.tui.diagrams import lens_view
from forescale.tui.runs import Rows, indented
from forescale.tui.tasks.frame.columns import show
from forescale.tui.tasks.frame.task_screen import TaskScreen, TaskTable
from forescale.tui.tasks.picture.points_table import corner_columns, corners_of, point_columns

BESIDE_WIDTH, LEAST_COUNT = 100, 4  # columns from which the view stands beside corners; rows kept for a short list
WHERE = "aside and height at full size, or shares or pixels from the left edge and from the bottom: 0.31, 0.62"
FIXED = 5  # rows of title, foot and footer


class PointsScreen(TaskScreen[None]):
    """Points, and on Tab the corners of the outlines; the view follows every step."""

    TASK = "Points and outlines"
    ENTER = "change"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add", "add", tooltip="add a point, or an outline corner by corner; in an outline, a corner"),
        Binding("x", "delete", "delete", tooltip="take the selected point or corner away; of three, the outline"),
        Binding("tab", "next_view", "outlines", tooltip="go on from points to the corners of outlines, and back"),
        Binding("n", "new", "new outline", tooltip="begin an outline: its name, then its corners"),
        Binding("o", "turn", "of", tooltip="say of the selected outline that it is of the model, or of the place"),
        Binding("h", "step(-1)", "less", tooltip="one step left or down: an inch or 5 cm, half a per cent, a pixel"),
        Binding("l", "step(1)", "more", tooltip="one step right or up"),
        Binding("e", "move(-1)", "earlier", tooltip="move the selected row up the list"),
        Binding("d", "move(1)", "later", tooltip="move the selected row down the list"),
        Binding("u", "undo", "undo", tooltip="undo the last change"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.outlines = False
        self._columns: list[str] = []  # what each column holds

    @property
    def answer(self) -> Answer:
        """The present answer."""
        return self.session.state.answer

    @property
    def points(self) -> tuple[PointRow, ...]:
        """The points of the shot."""
        return self.answer.setting.point

    def body(self) -> ComposeResult:
        """The rows, and what the lens sees."""
        with Container(id="picturing"):
            yield TaskTable(id="rows", cells=True)
            yield Rows(id="lens")

    def on_resize(self, event: events.Resize) -> None:
        """Set the view beside the rows, or below them."""
        super().on_resize(event)
        self.fill()

    def fill(self) -> None:
        """Show the rows and the view."""
        wide = self.outlines and self.size.width >= BESIDE_WIDTH
        self.query_one("#picturing").set_class(wide, "beside")
        width = self.size.width * 55 // 100 if wide else self.size.width
        columns = corner_columns(self.answer, width) if self.outlines else point_columns(self.answer, width)
        show(self.query_one(TaskTable), columns, self.forescale.glyphs)
        self._columns = [column.id for column in columns]
        across, room = self.size.width - width if wide else self.size.width, max(self.size.height - FIXED, 1)
        height = room if wide else max(room - max(self._count(), LEAST_COUNT) - 1, room // 2)
        lens = self.query_one("#lens", Rows)
        lens.styles.height, lens.styles.width = height, across
        room_for_it = height >= lens_view.LEAST_ROWS  # with less, its legend alone would stand there
        lines = lens_view.draw(self.answer, max(across - 2, 1), height, self.forescale.glyphs) if room_for_it else []
        lens.show(indented(lines))
        if not self._count():
            self.say("No outline yet: n begins one" if self.outlines else "No point yet: a adds one")

    def _count(self) -> int:
        return len(corners_of(self.answer)) if self.outlines else len(self.points)

    def action_next_view(self) -> None:
        """Go on to the corners of the outlines, or back to the points."""
        self.outlines = not self.outlines
        self.say("")
        self.fill()

    # Changing

    def _apply(self, changes: dict[str, Any], row: int | None = None) -> None:
        self.session.apply(changes)
        self.forescale.changed()
        self.say("")
        self.fill()
        if row is not None:
            self.query_one(TaskTable).move_cursor(row=row)

    def _column(self) -> str:
        """Return what the column in hand holds."""
        return self._columns[self.query_one(TaskTable).cursor_column]

    def _in_hand(self) -> tuple[int, int]:
        """Return which outline, and which of its corners, has the cursor."""
        return corners_of(self.answer)[self.query_one(TaskTable).cursor_row]

    def _put_corners(self, outline: int, corners: tuple[Any, ...], row: int | None = None) -> None:
        all_rows = self.answer.setting.outline
        changed = OutlineRow.model_validate(all_rows[outline].model_copy(update={"corners": corners}).model_dump())
        self._apply({"outline": edit.replaced(all_rows, outline, changed)}, row)

    def action_add(self) -> None:
        """Ask for a point's name and place, or for a corner behind the one in hand."""
        if not self.outlines:
            self.ask("Point", "", self._new_name, lambda text: self._ask_point(self._new_name(text)))
        elif self._count():
            outline, corner = self._in_hand()
            self._ask_corner(outline, corner + 1, self.query_one(TaskTable).cursor_row + 1)
        else:
            self.action_new()

    def _new_name(self, text: str, own: str = "") -> str:
        name = text.strip()
        others = {*(row.name for row in self.points), *(row.name for row in self.answer.setting.outline)} - {own}
        if not name or name in others:
            raise ValueError("a name is needed that no other point or outline has")
        return name

    def _ask_point(self, name: str) -> None:
        def take(text: str) -> None:
            place = self.query_one(TaskTable).cursor_row + 1 if self.points else 0
            row = PointRow.model_validate({"name": name} | self._read_point(text))
            self._apply({"point": edit.inserted(self.points, place, row)}, place)

        self.ask("Where", "", self._told_point, take, WHERE)

    def _read_point(self, text: str) -> dict[str, Any]:
        """Return the fields of a point that is typed; raises ValueError, so where it lies beyond the mode's pixels."""
        mode = self.answer.kit.mode
        return read_point(text, self.answer.system, (mode.width_px, mode.height_px))

    def _told_point(self, text: str) -> str:
        return ", ".join(str(value) for value in self._read_point(text).values())

    def _told_corner(self, text: str) -> str:
        return corner_text(read_corner_text(text, self.answer.system), self.answer.system)

    def _ask_corner(self, outline: int, place: int, row: int) -> None:
        def take(text: str) -> None:
            corner = read_corner_text(text, self.answer.system)
            self._put_corners(outline, edit.inserted(self.answer.setting.outline[outline].corners, place, corner), row)

        self.ask("Corner", "", self._told_corner, take)

    def action_new(self) -> None:
        """Begin an outline: its name, then its corners one after another."""
        self.outlines = True
        self.fill()
        self.ask("Outline", "", self._new_name, lambda text: self._ask_first(self._new_name(text), ()))

    def _ask_first(self, name: str, corners: tuple[Any, ...]) -> None:
        """Ask for corners until nothing is typed; from the third on the outline stands in the view."""

        def take(text: str) -> None:
            if not text.strip():
                if len(corners) < 3:
                    raise ValueError("an outline has three corners at the least; Esc gives it up")
                self.say("")
                return
            more = (*corners, read_corner_text(text, self.answer.system))
            if len(more) >= 3:
                others = tuple(row for row in self.answer.setting.outline if row.name != name)
                self._apply({"outline": (*others, OutlineRow(name=name, corners=more))})
            self._ask_first(name, more)

        if len(corners) >= 3:
            self.query_one(TaskTable).move_cursor(row=self._count() - len(corners))
        done = "; Enter on nothing ends it" if len(corners) >= 3 else ""
        self.ask(f"Corner {len(corners) + 1}", "", self._told_corner, take, f"aside, height at full size{done}")

    @on(DataTable.CellSelected)
    def _change(self) -> None:
        """Change the row in hand."""
        row = self.query_one(TaskTable).cursor_row
        if not self._count():
            return
        system = self.answer.system
        if self.outlines:
            outline, corner = self._in_hand()
            corners = self.answer.setting.outline[outline].corners
            self.ask(
                "Corner",
                corner_text(corners[corner], system),
                self._told_corner,
                lambda text: self._put_corners(outline, edit.replaced(corners, corner, read_corner_text(text, system))),
            )
            return
        point = self.points[row]
        if self._column() == "name":
            self._ask_name(row)
            return

        def take(text: str) -> None:
            kept = {"name": point.name, "piece": point.piece, "distance": point.distance}
            changed = {key: value for key, value in kept.items() if value is not None} | self._read_point(text)
            if point.distance is not None:
                changed["distance"] = f"{point.distance!r} mm"
            self._apply({"point": edit.replaced(self.points, row, PointRow.model_validate(changed))})

        self.ask(point.name, ", ".join(point_text(point, system)), self._told_point, take, WHERE)

    def _ask_name(self, row: int) -> None:
        """Ask for another name of a point; a miss that was read there keeps with it."""
        old = self.points[row].name

        def take(text: str) -> None:
            name = self._new_name(text, old)
            renamed = self.points[row].model_copy(update={"name": name})
            misses = tuple(
                miss.model_copy(update={"point": name}) if miss.point == old else miss
                for miss in self.answer.setting.miss
            )
            self._apply({"point": edit.replaced(self.points, row, renamed), "miss": misses})

        self.ask("Name", old, lambda text: self._new_name(text, old), take)

    def action_delete(self) -> None:
        """Take the point or the corner in hand away; of three corners the whole outline goes."""
        if not self._count():
            self.say("There is nothing to take away")
            return
        if not self.outlines:
            row = self.query_one(TaskTable).cursor_row
            misses = tuple(miss for miss in self.answer.setting.miss if miss.point != self.points[row].name)
            self.attempt(lambda: self.session.apply({"point": edit.without(self.points, row), "miss": misses}))
            return
        outline, corner = self._in_hand()
        drawn = self.answer.setting.outline[outline]
        if len(drawn.corners) <= (3 if drawn.closed else 2):
            self.attempt(lambda: self.session.apply({"outline": edit.without(self.answer.setting.outline, outline)}))
        else:
            self.attempt(lambda: self._put_corners(outline, edit.without(drawn.corners, corner)))

    def action_turn(self) -> None:
        """Say that the outline in hand is of the model, or of the place."""
        if self.outlines and self._count():
            outline, _ = self._in_hand()
            of = "place" if self.answer.setting.outline[outline].of == "model" else "model"
            self.attempt(lambda: self.session.apply({f"outline.{outline + 1}.of": of}))

    def action_step(self, direction: int) -> None:
        """Step the aside or the height in hand."""
        if not self._count():
            return
        table = self.query_one(TaskTable)
        ways = (0, direction) if self._column() == "up" else (direction, 0)
        self.attempt(lambda: self._step_in_hand(table.cursor_row, *ways))

    def _step_in_hand(self, row: int, across: int, up: int) -> None:
        system = self.answer.system
        if self.outlines:
            outline, corner = self._in_hand()
            corners = self.answer.setting.outline[outline].corners
            stepped = stepped_corner(corners[corner], across, up, system, large=False)
            self._put_corners(outline, edit.replaced(corners, corner, stepped))
            return
        fields = stepped_point(self.points[row], across, up, system, large=False)
        self.session.apply({f"point.{row + 1}.{key}": value for key, value in fields.items()})

    def action_move(self, step: int) -> None:
        """Move the point in hand up or down the list, or the corner in hand along its outline."""
        row = self.query_one(TaskTable).cursor_row
        if not self._count():
            return
        outline, place = self._in_hand() if self.outlines else (0, row)
        corners = self.answer.setting.outline[outline].corners if self.outlines else ()
        if not 0 <= place + step < (len(corners) if self.outlines else len(self.points)):
            self.say(f"There is nothing {'before' if step < 0 else 'after'} it")
        elif not self.outlines:
            self._apply({"point": edit.moved(self.points, row, step)}, row + step)
        else:
            self.attempt(lambda: self._put_corners(outline, edit.moved(corners, place, step), row + step))
