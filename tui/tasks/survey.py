"""The survey: sizes and distances from the picture and an inclinometer; one key puts each result into the shot."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.answer import Answer
from forescale.engine.compare.differences import Difference
from forescale.engine.compare.step_words import Step
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.survey import survey_report
from forescale.engine.survey.survey_report import PATHS
from forescale.tui.glyphs import plain
from forescale.tui.runs import Rows
from forescale.tui.tasks.frame.columns import Column, fitted, show
from forescale.tui.tasks.frame.task_screen import Page, Table, TaskScreen
from forescale.tui.wrapped import wrapped

TALL = 20  # rows; with fewer, fields and results are shown in turn
AROUND = 4  # rows for the title, what is said and the keys


class SurveyScreen(TaskScreen[None]):
    """What is read from the picture above, what it gives below."""

    TASK = "Survey"
    ENTER = "type"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "next_view", "view", tooltip="go on from the fields to what they give, and back"),
        Binding("d", "distance", "distance", tooltip="make the distance found the background's"),
        Binding("h", "height", "height", tooltip="make the height found the one that the model must meet"),
        Binding("w", "width", "width", tooltip="put the width found on the build list, under a name"),
        Binding("x", "clear", "clear", tooltip="leave the field in hand out"),
        Binding("u", "undo", "undo", tooltip="undo the last change"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.told = ""
        self.results = False

    @property
    def answer(self) -> Answer:
        """The present answer."""
        return self.session.state.answer

    @property
    def in_hand(self) -> str:
        """The path of the field in hand."""
        return PATHS[self.query_one(Table).cursor_row]

    def body(self) -> ComposeResult:
        """The fields, how the one in hand is measured, and what they give."""
        yield Table(id="fields")
        yield Rows(id="how")
        yield Page(id="gives")

    # What is shown

    def on_resize(self, event: events.Resize) -> None:
        """Lay fields and results anew."""
        super().on_resize(event)
        self.fill()

    def fill(self) -> None:
        """Show the fields and what they give."""
        table, glyphs = self.query_one(Table), self.forescale.glyphs
        labels = Column("field", "field", tuple(FIELD_HELP[path].label for path in PATHS))
        values = Column("value", "as read", tuple(survey_report.shown_text(self.answer, path) for path in PATHS))
        show(table, fitted([labels, values], self.size.width - 1), glyphs)
        self.query_one("#gives", Page).show("\n".join(self._gives()))
        self._lay_out()

    def _gives(self) -> list[str]:
        width, glyphs = max(self.size.width - 3, 20), self.forescale.glyphs
        lines = wrapped(plain(self.told, glyphs), width, lead=f"{glyphs.ok} ") if self.told else []
        for text in survey_report.found(self.answer):
            lines += wrapped(plain(text, glyphs), width, lead=f"{glyphs.note} ")
        return lines

    @property
    def together(self) -> bool:
        """Whether there is room for fields and results at once."""
        return self.size.height >= TALL

    def _lay_out(self) -> None:
        together = self.together
        fields = together or not self.results
        table = self.query_one(Table)
        table.display = self.query_one("#how").display = fields
        table.styles.height = len(PATHS) + 1
        self.query_one("#gives").display = together or self.results
        self._show_how()

    def _show_how(self) -> None:
        """Say how the field in hand is measured."""
        glyphs, how = self.forescale.glyphs, self.query_one("#how", Rows)
        lines = wrapped(plain(FIELD_HELP[self.in_hand].measure, glyphs), max(self.size.width - 2, 20))
        how.styles.height = len(lines)
        how.show(tuple(((f" {line}", "hint"),) for line in lines))

    @on(DataTable.RowHighlighted)
    def _moved(self) -> None:
        self._show_how()

    def action_next_view(self) -> None:
        """Go on to the results, or back to the fields."""
        self.results = not self.results
        self._lay_out()
        self.focus_body()

    def focus_body(self) -> None:
        """Put the keys to the fields or to the results."""
        self.query_one("#gives" if self.results else "#fields").focus()

    # Changes

    def change(self, changes: dict[str, Any]) -> None:
        """Change the shot and show what it gives now; raises BadInput."""
        self.session.apply(changes)
        self.forescale.changed()
        self.told = ""
        self.fill()
        self.say("")

    def put(self, changes: dict[str, Any], told: Callable[[Answer, Answer], str]) -> None:
        """Put a result into the shot and say what that did; raises BadInput."""
        before = self.answer
        self.change(changes)
        self.told, self.results = told(before, self.answer), not self.together
        self.fill()
        self.focus_body()

    @on(DataTable.RowSelected)
    def _edit(self) -> None:
        """Type a value for the field in hand."""
        path = self.in_hand
        self.ask(
            FIELD_HELP[path].label,
            survey_report.value_text(self.answer, path),
            lambda text: survey_report.entry(self.answer, path, text)[1],
            lambda text: self._take_entry(path, text),
        )

    def _take_entry(self, path: str, text: str) -> None:
        if not text.strip() and path != "place.background":
            self.change({path: None})
            return
        held, _ = survey_report.entry(self.answer, path, text)
        self.change({path: held})
        if not self.together:
            self.say(_chief(self.answer, path).partition(":")[0])

    def action_clear(self) -> None:
        """Leave the field in hand out."""
        if self.in_hand == "place.background":
            self.say("The background needs a distance; inf stands for one without end")
            return
        self.attempt(lambda: self.change({self.in_hand: None}))

    def action_distance(self) -> None:
        """Make the distance found the background's."""
        self.attempt(lambda: self.put(survey_report.distance_change(self.answer), survey_report.told_distance))

    def action_height(self) -> None:
        """Make the height found the one to meet."""
        self.attempt(lambda: self.put(survey_report.height_change(self.answer), survey_report.told_height))

    def action_width(self) -> None:
        """Ask under which name the width goes on the build list."""
        if survey_report.width_mm(self.answer) is None:
            self.attempt(lambda: self._put_part("feature"))
            return
        self.ask("Name of the part", "", lambda text: survey_report.part_change(self.answer, text)[1], self._put_part)

    def _put_part(self, name: str) -> None:
        changes, told = survey_report.part_change(self.answer, name)
        self.put(dict(changes), lambda _before, _after: told)

    def stepped(self, step: Step, changes: Sequence[Difference]) -> None:
        """Forget what the last change did: it is no longer so."""
        self.told = ""
        super().stepped(step, changes)


def _chief(answer: Answer, path: str) -> str:
    """Return the result that an entry bears upon."""
    size, *_, height, air = survey_report.found(answer)
    return {"survey.elevation": height, "place.lens_height": height, "survey.visibility": air}.get(path, size)
