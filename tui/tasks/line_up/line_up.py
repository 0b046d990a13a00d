"""The line-up by the picture: what misses at each point, what to move, and that it was done."""

from __future__ import annotations

from datetime import datetime
from typing import Any, ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.answer import Answer
from forescale.engine.findings.line_up import HEAD_TURNS
from forescale.engine.moved.line_up import done_by_camera, done_by_model, ends
from forescale.engine.shot import edit
from forescale.engine.shot.pictured import PointRow
from forescale.engine.shot.readings import MissRow, read_miss
from forescale.engine.states.marks import free_name, keep
from forescale.engine.units import number_text
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskTable
from forescale.tui.tasks.line_up.line_up_view import ASK, NO_POINTS, VIEWS, LineUpView, pixels


class LineUpScreen(LineUpView):
    """A row a point with its miss, what to move below, and the misses drawn in the frame."""

    TASK = "Line-up by the picture"
    ENTER = "type"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("c", "done('camera')", "by camera", tooltip="the camera was moved as told: the shot follows it"),
        Binding("m", "done('model')", "by model", tooltip="the model was moved as told: read the misses anew"),
        Binding("tab", "next_view", "drawn", tooltip="go on to the misses drawn: as read, and what is left of them"),
        Binding("x", "leave_out", "leave out", tooltip="leave the selected miss out"),
        Binding("b", "come_back", "coming back", tooltip="marks that stay, and the way back to where the camera stood"),
        Binding("f", "finely", "how finely", tooltip="how finely a place in the picture is read, one standard error"),
        Binding("t", "turn_head", "turn head", tooltip="what turning the head would mend"),
        Binding("u", "undo", "undo", tooltip="undo the last change"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    def action_next_view(self) -> None:
        """Go on to what is told where it is longer than its room, to the next drawing, and round."""
        page = self.query_one(TaskPage)
        if self.view == 0 and page.max_scroll_y and not page.has_focus:
            page.focus()
            return
        self.view = (self.view + 1) % len(VIEWS)
        self.fill()
        self.focus_body()

    # Reading misses

    def some(self) -> PointRow | None:
        """Return the point in hand, and say so where there is none."""
        if not self.points:
            self.say(NO_POINTS, refused=True)
            return None
        return self.points[self.query_one(TaskTable).cursor_row]

    @on(DataTable.RowSelected)
    def _type(self) -> None:
        """Type the miss at the point in hand."""
        if (row := self.some()) is None:
            return
        old = self.read.get(row.name)
        text = "" if old is None else f"{number_text(old.across_px, 6)} {number_text(old.up_px, 6)}"
        self.ask(f"Misses at {row.name}", text, lambda entry: pixels(*read_miss(entry)), self._taker(row.name), ASK)

    def _taker(self, name: str) -> Any:
        def take(text: str) -> None:
            across, up = read_miss(text)
            self.change({"miss": (*self._others(name), MissRow(point=name, across_px=across, up_px=up))})
            self.query_one(TaskTable).action_cursor_down()

        return take

    def _others(self, name: str) -> tuple[MissRow, ...]:
        return tuple(row for row in self.session.state.shot.miss if row.point != name)

    def change(self, changes: dict[str, Any], said: str = "") -> None:
        """Change the shot and show it; raises BadInput."""
        self.session.apply(changes)
        self.forescale.changed()
        self.fill()
        self.say(said)

    def action_leave_out(self) -> None:
        """Leave the miss at the point in hand out."""
        row = self.some()
        if row is not None:
            self.attempt(lambda: self.change({"miss": self._others(row.name)}))

    def action_finely(self) -> None:
        """Ask how finely the picture is read."""
        shot, path = self.session.state.shot, "limits.reading_px"
        now = shot.limits.reading_px

        def held(text: str) -> tuple[Any, str]:
            return edit.entry(path, text, shot, shot.units, now)

        self.ask(
            "Read to (px)",
            number_text(now, 6),
            lambda text: held(text)[1],
            lambda text: self.change({path: held(text)[0]}),
        )

    def action_turn_head(self) -> None:
        """Say what turning the head would mend."""
        self.say(HEAD_TURNS)

    def action_come_back(self) -> None:
        """Go on to the marks that stay."""
        self.forescale.open_task("come_back")

    # A correction that was done

    def action_done(self, what: str) -> None:
        """Take it that the camera or the model was moved as told; the readings stay under a mark."""
        answer, shot = self.answer, self.session.state.shot
        time = datetime.now().replace(microsecond=0)
        name = free_name(shot.mark, f"line-up {time:%H:%M}")

        def do() -> None:
            changes = done_by_camera(answer) if what == "camera" else done_by_model(answer)
            self.session.apply(changes | {"mark": keep(shot, name, time)})

        if self.attempt(do):
            says = self._follows(answer, what)
            self.say(f'{says}. The readings are kept as the saved state "{name}": read the misses again, u undoes it')

    @staticmethod
    def _follows(answer: Answer, what: str) -> str:
        """Return what of the shot follows the camera or the model."""
        found, place = answer.correction, answer.setting.place
        moves = None if found is None else (found.camera if what == "camera" else found.model)
        if moves is None or not any(ends(moves)) or (what == "model" and place.model is None):
            stands = "; the model's place is written down" if what == "camera" and place.model is None else ""
            return f"It stands where the tapes have it: they stay{stands}"
        if what == "model":
            return "The model's tape follows it to its match: tape it once more to check"
        return "Lens height, every tape and every aside follow the camera, outlines too: tape once more to check"
