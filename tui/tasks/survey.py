"""The survey: a reading at a time, from the picture or an inclinometer; one key puts each result into the shot."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.answer import Answer
from forescale.engine.compare.differences import Difference, Step
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.moved.kept import survey_as_now
from forescale.engine.survey import survey_entry, survey_report
from forescale.engine.survey.survey_entry import FIELDS, PLACE
from forescale.tui.glyphs import plain
from forescale.tui.runs import Rows
from forescale.tui.tasks.frame.columns import Column, fitted, show
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen, TaskTable
from forescale.tui.wrapped import wrapped

NAMES = (*FIELDS, *PLACE)
TALL = 22  # rows; with fewer, fields and results are shown in turn
AROUND = 4  # rows for the title, what is said and the keys


class SurveyTable(TaskTable):
    """The fields of a reading; left and right go from one reading to the next."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "screen.reading(-1)", show=False),
        Binding("right", "screen.reading(1)", show=False),
    ]


class SurveyScreen(TaskScreen[None]):
    """What is read from the picture above, what it gives below."""

    TASK = "Survey"
    ENTER = "type"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "next_view", "view", tooltip="go on from the fields to what they give, and back"),
        Binding("d", "distance", "distance", tooltip="make the distance found the background's"),
        Binding("h", "height", "height", tooltip="make the height found the tie-in height"),
        Binding("w", "width", "width", tooltip="put the width found on the build list, under a name"),
        Binding("a", "add", "another", tooltip="begin another reading, of another thing"),
        Binding("x", "clear", "clear", tooltip="leave the selected field out; a reading with none left is gone"),
        Binding("k", "count_all", "count all", tooltip="count every reading as read with this kit and from here"),
        Binding("u", "undo", "undo", tooltip="undo the last change"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.told = ""
        self.results = False
        self.number = 1

    @property
    def answer(self) -> Answer:
        """The present answer."""
        return self.session.state.answer

    @property
    def in_hand(self) -> str:
        """The name of the field in hand."""
        return NAMES[self.query_one(TaskTable).cursor_row]

    def body(self) -> ComposeResult:
        """The fields, how the one in hand is measured, and what they give."""
        yield SurveyTable(id="fields")
        yield Rows(id="how")
        yield TaskPage(id="gives")

    # What is shown

    def on_resize(self, event: events.Resize) -> None:
        """Lay fields and results anew."""
        super().on_resize(event)
        self.fill()

    def fill(self) -> None:
        """Show the fields and what they give."""
        table, glyphs = self.query_one(TaskTable), self.forescale.glyphs
        self.number = min(self.number, len(self.answer.setting.survey) + 1)
        self.TASK = self._title()
        self._show_lines()
        labels = Column("field", "field", tuple(FIELD_HELP[_help(name)].label for name in NAMES))
        shown = tuple(survey_entry.shown_text(self.answer, self.number, name) for name in NAMES)
        values = Column("value", "as read", shown)
        show(table, fitted([labels, values], self.size.width - 1), glyphs)
        self.query_one("#gives", TaskPage).show("\n".join(self._gives()))
        self._lay_out()

    def _title(self) -> str:
        of = len(self.answer.setting.survey)
        return "Survey" if max(of, self.number) < 2 else f"Survey, reading {self.number} of {max(of, self.number)}"

    def _gives(self) -> list[str]:
        width, glyphs = max(self.size.width - 3, 20), self.forescale.glyphs
        lines = wrapped(plain(self.told, glyphs), width, lead=f"{glyphs.ok} ") if self.told else []
        for text in survey_report.found(self.answer, self.number):
            lines += wrapped(plain(text, glyphs), width, lead=f"{glyphs.note} ")
        return lines

    @property
    def together(self) -> bool:
        """Whether there is room for fields and results at once."""
        return self.size.height >= TALL

    def _lay_out(self) -> None:
        together = self.together
        fields = together or not self.results
        table = self.query_one(TaskTable)
        table.display = self.query_one("#how").display = fields
        table.styles.height = len(NAMES) + 1
        self.query_one("#gives").display = together or self.results
        self._show_how()

    def _show_how(self) -> None:
        """Say how the field in hand is measured."""
        glyphs, how = self.forescale.glyphs, self.query_one("#how", Rows)
        lines = wrapped(plain(FIELD_HELP[_help(self.in_hand)].measure, glyphs), max(self.size.width - 2, 20))
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
        self.session.apply(changes, keeping=["bench"])  # what is entered here was so when the survey was read
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
        name = self.in_hand
        self.ask(
            FIELD_HELP[_help(name)].label,
            survey_entry.value_text(self.answer, self.number, name),
            lambda text: survey_entry.changes(self.answer, self.number, name, text)[1],
            lambda text: self._take_entry(name, text),
        )

    def _take_entry(self, name: str, text: str) -> None:
        if not text.strip() and name != "place.background":
            self._clear(name)
            return
        self.change(survey_entry.changes(self.answer, self.number, name, text)[0])
        if not self.together:
            self.say(_chief(self.answer, self.number, name).partition(":")[0])

    def _clear(self, name: str) -> None:
        if name in PLACE or self.number <= len(self.answer.setting.survey):
            self.change(dict(survey_entry.cleared(self.number, name)))

    def action_clear(self) -> None:
        """Leave the field in hand out."""
        if self.in_hand == "place.background":
            self.say("The background needs a distance; inf stands for one without end")
            return
        self.attempt(lambda: self._clear(self.in_hand))

    def action_add(self) -> None:
        """Begin another reading."""
        self.number = len(self.answer.setting.survey) + 1
        self.fill()
        self.say(f"Reading {self.number}: what is typed here is of another thing")

    def action_reading(self, step: int) -> None:
        """Go on to the next reading, or back."""
        self.number = min(max(self.number + step, 1), max(len(self.answer.setting.survey), 1))
        self.told = ""
        self.fill()

    def action_count_all(self) -> None:
        """Count every reading as read with the kit that the shot has now, and from here."""
        if self.attempt(lambda: self.change({"survey": survey_as_now(self.answer.setting.survey)})):
            self.say("Every reading now counts as read with this kit and from here; u undoes that")

    def action_distance(self) -> None:
        """Make the distance found the background's."""
        self.attempt(
            lambda: self.put(survey_report.distance_change(self.answer, self.number), survey_report.told_distance)
        )

    def action_height(self) -> None:
        """Make the height found the one to meet."""
        self.attempt(lambda: self.put(survey_report.height_change(self.answer, self.number), survey_report.told_height))

    def action_width(self) -> None:
        """Ask under which name the width goes on the build list."""
        called = survey_entry.row_of(self.answer, self.number).name
        if survey_report.result_of(self.answer, self.number).feature_width_mm is None:
            self.attempt(lambda: self._put_part("feature"))
            return
        read = lambda text: survey_report.part_change(self.answer, text, self.number)[1]  # noqa: E731
        self.ask("Name of the part", called, read, self._put_part)

    def _put_part(self, name: str) -> None:
        changes, told = survey_report.part_change(self.answer, name, self.number)
        self.put(dict(changes), lambda _before, _after: told)

    def stepped(self, step: Step, changes: Sequence[Difference]) -> None:
        """Forget what the last change did: it is no longer so."""
        self.told = ""
        super().stepped(step, changes)


def _help(name: str) -> str:
    """Return the path at which help on a field stands."""
    return name if name in PLACE else f"survey.{name}"


def _chief(answer: Answer, number: int, name: str) -> str:
    """Return the result that an entry bears upon."""
    told = survey_report.found(answer, number)
    if name == "visibility":
        return told[-1]
    high = {"elevation", "place.lens_height", "feature_height"}
    return told[-2] if name in high and len(told) > 1 else told[0]
