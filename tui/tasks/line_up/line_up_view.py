"""How the line-up looks: the points with their misses, what to move, and the misses drawn in the frame."""

from __future__ import annotations

from string import ascii_uppercase

from textual import events
from textual.app import ComposeResult

from forescale.engine.answer import Answer
from forescale.engine.findings.line_up import correction_says
from forescale.engine.shot.pictured import PointRow
from forescale.engine.shot.readings import MissRow
from forescale.engine.solve.picture_groups import CorrectionAnswer, PicturePoint, ReadPoint
from forescale.engine.units import number_text
from forescale.tui.diagrams import misses
from forescale.tui.glyphs import plain
from forescale.tui.runs import Rows, indented
from forescale.tui.tasks.frame.columns import Column, fitted, show
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen, TaskTable
from forescale.tui.wrapped import wrapped

AROUND, TALL, DRAWN = 4, 34, 14  # rows around the body; from how many all is shown at once; rows of the drawing then
VIEWS = ("told", "misses as read", "left by the camera", "left by the model")
NO_POINTS = "The shot has no tie-in points: name some first"
ASK = "Type how far the model is off in the picture, right and up: 4 -2, or 4 left 2 up"

Miss = tuple[float | None, float | None]
NOT_TOLD: Miss = (None, None)


class LineUpView(TaskScreen[None]):
    """The line-up's widgets and what stands in them."""

    def __init__(self) -> None:
        super().__init__()
        self.view = 0

    def body(self) -> ComposeResult:
        """The points, what to move, and the misses drawn."""
        yield TaskTable(id="points")
        yield TaskPage(id="told")
        yield Rows(id="drawn")

    def on_resize(self, event: events.Resize) -> None:
        """Lay all anew."""
        super().on_resize(event)
        self.fill()

    @property
    def answer(self) -> Answer:
        """The present answer."""
        return self.session.state.answer

    @property
    def points(self) -> tuple[PointRow, ...]:
        """The points of the shot."""
        return self.session.state.shot.point

    @property
    def read(self) -> dict[str, MissRow]:
        """The misses that were read, by point."""
        return {row.point: row for row in self.session.state.shot.miss}

    def corrections(self) -> dict[str, CorrectionAnswer]:
        """Return what is told, by what is to be moved: the model, and each piece."""
        found = {"the model": self.answer.correction}
        if self.answer.picture is not None:
            found |= {piece.name: piece.correction for piece in self.answer.picture.pieces}
        return {thing: one for thing, one in found.items() if one is not None}

    def left(self) -> dict[str, ReadPoint]:
        """Return what is left of each miss, by point."""
        return {point.point: point for one in self.corrections().values() for point in one.points}

    @property
    def table_rows(self) -> int:
        """How many rows the table has room for: never more than half of the screen."""
        return min(len(self.points) + 1, max((self.size.height - AROUND) // 2, 3))

    def fill(self) -> None:
        """Show the points, what to move, and the drawing."""
        glyphs, width = self.forescale.glyphs, self.size.width
        show(self.query_one(TaskTable), fitted(self._columns(), width - 1), glyphs)
        self.query_one(TaskTable).styles.height = self.table_rows
        lines = []
        for thing, found in self.corrections().items():
            for text in correction_says(self.answer, found, thing):
                lines += wrapped(plain(text, glyphs), max(width - 3, 20), lead=f"{glyphs.note} ")
        self.query_one(TaskPage).show("\n".join(lines or wrapped(self._nothing(), max(width - 3, 20))))
        self._draw()

    def _nothing(self) -> str:
        return ASK if self.points else NO_POINTS

    def missed(self, name: str, view: str) -> Miss:
        """Return the miss of a point as a view has it: as read, or what is left of it; None where it is not told."""
        if view == VIEWS[1]:
            row = self.read.get(name)
            return NOT_TOLD if row is None else (row.across_px, row.up_px)
        one = self.left().get(name)
        if one is None:
            return NOT_TOLD
        by_camera = view == VIEWS[2]
        return (one.camera_across_px, one.camera_up_px) if by_camera else (one.model_across_px, one.model_up_px)

    def planned(self) -> dict[str, PicturePoint]:
        """Return the points as the shot has them, by name."""
        return {} if self.answer.picture is None else {point.name: point for point in self.answer.picture.points}

    def _columns(self) -> list[Column]:
        names = [row.name for row in self.points]
        planned = self.planned()
        as_planned = [(planned[name].miss_across_px, planned[name].miss_up_px) for name in names]
        by_view = [[self.missed(name, view) for name in names] for view in VIEWS[1:]]
        heads = (("misses by, px", 0), ("left by camera", 2), ("left by model", 1), ("as planned", 3))
        return [
            Column("name", "point", tuple(f"{letter(place)} {name}" for place, name in enumerate(names))),
            *(
                Column(head, head, tuple(pixels(*miss) for miss in found), goes)
                for (head, goes), found in zip(heads, [*by_view, as_planned], strict=True)
            ),
        ]

    def _draw(self) -> None:
        """Give what is told and the drawing their room, and draw."""
        together = self.size.height >= TALL
        self.query_one(TaskPage).display = together or self.view == 0
        drawn, mode, view = self.query_one("#drawn", Rows), self.answer.kit.mode, VIEWS[self.view or 1]
        drawn.display = together or self.view > 0
        room = DRAWN if together else max(self.size.height - AROUND - self.table_rows, 1)
        drawn.styles.height = room
        frame, glyphs = (float(mode.width_px), float(mode.height_px)), self.forescale.glyphs
        lines = misses.draw(self._drawn(view), frame, view, self.size.width - 2, room, glyphs)
        drawn.show(indented(lines))

    def _drawn(self, view: str) -> list[misses.Drawn]:
        planned = self.planned()
        return [
            misses.Drawn(
                letter(place), planned[row.name].frame_across, planned[row.name].frame_up, self.missed(row.name, view)
            )
            for place, row in enumerate(self.points)
        ]


def letter(place: int) -> str:
    """Return the letter that stands for a point in the drawing; after the last they begin anew."""
    return ascii_uppercase[place % len(ascii_uppercase)]


def pixels(across: float | None, up: float | None) -> str:
    """Return a miss in pixels with its ways, "4 right 2 down"."""
    if across is None or up is None:
        return "-"
    ways = ((across, "right", "left"), (up, "up", "down"))
    said = [(number_text(round(abs(value), 2), 4), plus if value > 0 else minus) for value, plus, minus in ways]
    return " ".join(f"{size} {way}" for size, way in said if size != "0") or "0"
