"""The line-up by the picture: what misses, and what to move."""

from collections.abc import Callable, Iterator
from datetime import datetime
from functools import partial
from string import ascii_uppercase
from typing import Any

from textual.app import ComposeResult
from textual.containers import Container

from forescale.engine.answer import Answer
from forescale.engine.compare.differences import fields_that_differ
from forescale.engine.findings.line_up import HEAD_TURNS, correction_says
from forescale.engine.moved.carried import carried_says, done_by_camera, done_by_model, ends
from forescale.engine.shot.rows import MissRow, read_miss
from forescale.engine.solve.picture_groups import CorrectionAnswer, PicturePoint, ReadPoint
from forescale.engine.solve.survey_group import STANDS_MM
from forescale.engine.states.saved import free_name, keep
from forescale.engine.units import number_text
from forescale.tui.diagrams.lens_view import Drawn, misses
from forescale.tui.runs import Row, Rows, indented
from forescale.tui.tasks.frame import UNDO, Column, Question, RowsScreen, Said, TaskPage, TaskTable, Told, key, listed

ROOM_FOR_ALL, DRAWN = 34, 14  # rows of a screen from how many all is shown at once; rows of the drawing then
DRAWINGS = ("misses as read", "remaining, camera moved", "remaining, model moved")
ASK = "Type how far the model is off in the picture, right and up: 4 -2, or 4 left 2 up"

Miss = tuple[float | None, float | None]
NOT_TOLD: Miss = (None, None)


class LineUpScreen(RowsScreen[None]):
    TASK, ENTER, SECTION = "Line-up by the picture", "type", "point"
    EMPTY = "The shot has no tie-in points: name some first, by 5 on the board"
    VIEWS, TALL, LEAST = ("rows", "gives", "drawn"), 0, 20
    BINDINGS = [
        key("do", "done", "the camera, or the model, was moved as told: the shot follows it"),
        key("next view", "drawn", "go on to what is told, to the misses drawn, and back"),
        key("turn", "other drawing", "draw the misses as read, then what each of the two would leave of them"),
        key("delete", "leave out", "leave the selected miss out"),
        key("back", "coming back", "marks that stay, and the way back to where the camera stood"),
        *UNDO,
        listed(
            "field('limits.reading_px', 'Read to (px)')",
            "how finely",
            "how finely a place in the picture is read, one standard error",
        ),
        listed("turn_head", "turn head", "what turning the head would mend"),
    ]
    drawing = 0

    def body(self) -> ComposeResult:
        yield Container(TaskTable(id="rows"), TaskPage(id="gives"), id="body")
        yield Rows(id="drawn")
        yield Told(id="how")

    @property
    def misses_read(self) -> dict[str, MissRow]:
        """Return the misses that were read, by point."""
        return {row.point: row for row in self.shot.miss}

    def corrections(self) -> dict[str, CorrectionAnswer]:
        """Return what is told, by what is to be moved: the model, and each piece."""
        found = {"the model": self.answer.correction}
        if self.answer.picture is not None:
            found |= {piece.name: piece.correction for piece in self.answer.picture.pieces}
        return {thing: one for thing, one in found.items() if one is not None}

    def planned(self) -> dict[str, PicturePoint]:
        return {} if self.answer.picture is None else {point.name: point for point in self.answer.picture.points}

    def missed(self, drawing: str) -> dict[str, Miss]:
        """Return the misses as a drawing has them, by point: as read, or what is left of them."""
        if drawing == DRAWINGS[0]:
            return {name: (row.across_px, row.up_px) for name, row in self.misses_read.items()}
        left: list[ReadPoint] = [point for one in self.corrections().values() for point in one.points]
        if drawing == DRAWINGS[1]:
            return {one.point: (one.camera_across_px, one.camera_up_px) for one in left}
        return {one.point: (one.model_across_px, one.model_up_px) for one in left}

    def columns(self) -> list[Column]:
        names, planned = [row.name for row in self.records], self.planned()
        by_drawing = [self.missed(drawing) for drawing in DRAWINGS]
        by_drawing.append({name: (planned[name].miss_across_px, planned[name].miss_up_px) for name in names})
        heads = (("misses by, px", 0), ("after camera", 2), ("after model", 1), ("as planned", 3))
        columns = [Column("name", "point", tuple(f"{letter(place)} {name}" for place, name in enumerate(names)))]
        for (head, goes), found in zip(heads, by_drawing, strict=True):
            columns.append(Column(head, head, tuple(pixels(*found.get(name, NOT_TOLD)) for name in names), goes))
        return columns

    def gives(self) -> Iterator[Said]:
        for thing, found in self.corrections().items():
            yield from (("note", text) for text in correction_says(self.answer, found, thing))
        if self.records and not self.corrections():
            yield ASK

    def in_sight(self) -> tuple[str, ...]:
        """Return all where there is room, else the list with what is told, or with the drawing."""
        if self.size.height >= ROOM_FOR_ALL:
            return self.VIEWS
        return ("rows", "drawn" if self.view == "drawn" else "gives")

    def share_room(self, room: int) -> None:
        in_sight, drawn = self.shown_views(), self.query_one("#drawn", Rows)
        if "drawn" in in_sight:
            height = DRAWN if in_sight == self.VIEWS else room - min(self.table.lines, room // 2)
            drawn.styles.height = height
            drawn.show(indented(self._drawing(max(height, 1))))
            room -= height
        super().share_room(room)

    def _drawing(self, height: int) -> list[Row]:
        drawing, mode, planned = DRAWINGS[self.drawing], self.answer.kit.mode, self.planned()
        missed = self.missed(drawing)
        marks = [
            Drawn(letter(place), planned[name].frame_across, planned[name].frame_up, missed.get(name, NOT_TOLD))
            for place, name in enumerate(row.name for row in self.records)
        ]
        frame = (float(mode.width_px), float(mode.height_px))
        return misses(marks, frame, drawing, self.size.width - 2, height, self.glyphs)

    def action_turn(self) -> None:
        if "drawn" in self.in_sight():
            self.drawing = (self.drawing + 1) % len(DRAWINGS)
        else:
            self.view = "drawn"
        self.lay_out()
        self.say(DRAWINGS[self.drawing].capitalize())

    def enter(self) -> None:
        name = self.records[self.table.place].name
        old, mode = self.misses_read.get(name), self.answer.kit.mode
        frame_px = mode.width_px, mode.height_px

        def take(text: str) -> None:
            across, up = read_miss(text, frame_px)
            self.change({"miss": (*self._others(name), MissRow(point=name, across_px=across, up_px=up))})
            self.say(f"{name} misses by {pixels(across, up)}")

        text = "" if old is None else f"{number_text(old.across_px, 6)} {number_text(old.up_px, 6)}"
        self.ask(Question(f"Misses at {name}", lambda entry: pixels(*read_miss(entry, frame_px)), text, ASK), take)

    def _others(self, name: str) -> tuple[MissRow, ...]:
        return tuple(row for row in self.shot.miss if row.point != name)

    def action_delete(self) -> None:
        if self.some():
            self.attempt(lambda: self.change({"miss": self._others(self.records[self.table.place].name)}))

    def action_do(self) -> None:
        """Take it that the camera or the model was moved as told; the readings stay under a mark."""
        done = {"camera": done_by_camera, "model": done_by_model}
        self.pick("Moved as told was the", {what: partial(self._done, what, how) for what, how in done.items()})

    def _done(self, what: str, how: Callable[[Answer], dict[str, Any]]) -> None:
        answer, shot, time = self.answer, self.shot, datetime.now().replace(microsecond=0)
        name, changes = free_name(shot.mark, f"line-up {time:%H:%M}"), how(answer)
        said = f'{_follows(answer, what)}. The readings are saved as "{name}": read the misses again, u undoes it'
        self.change(changes | {"mark": keep(shot, name, time)}, said)
        found = fields_that_differ(shot, self.shot, self.system)
        fields = [f"{one.what}: {one.second}, was {one.first}" for one in found if one.path]
        lists = [f"{one.what} too" for one in found if not one.path and one.what != "misses read"]
        self.tell_done(*fields, *lists, *carried_says(answer.setting, self.answer.setting))

    def action_turn_head(self) -> None:
        self.say(HEAD_TURNS)

    def action_back(self) -> None:
        self.forescale.open_task("come_back")


def _follows(answer: Answer, what: str) -> str:
    """Return what of the shot follows the camera or the model."""
    found, place = answer.correction, answer.setting.place
    moves = None if found is None else (found.camera if what == "camera" else found.model)
    if moves is None or not any(ends(moves)) or (what == "model" and place.model is None):
        stands = "; the model's place is written down" if what == "camera" and place.model is None else ""
        return f"It stands where the tapes have it: they stay{stands}"
    if what == "model":
        return "The model's tape follows it to its match: tape it once more to check"
    told = zip(ends(moves), (moves.right_mm, moves.up_mm, moves.forward_mm), strict=True)
    off = any(move is not None and abs(end - move) > STANDS_MM for end, move in told)
    why = ". By the misses it stood off its tapes, so these shift by more or less than was told" if off else ""
    return f"Lens height, every tape and every aside follow the camera, outlines too{why}. Tape once more to check"


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
