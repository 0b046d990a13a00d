"""The survey: a reading at a time, from the picture or an inclinometer; one key puts what it gives into the shot."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, ClassVar

from textual import on
from textual.binding import BindingType
from textual.widgets import DataTable

from forescale.engine.answer import Answer
from forescale.engine.compare.differences import Difference, Step
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.moved.kept import survey_as_now
from forescale.engine.survey import survey_entry, survey_report
from forescale.engine.survey.survey_entry import FIELDS, PLACE
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.frame.rows_screen import RowsScreen
from forescale.tui.tasks.frame.verbs import UNDO, key, listed
from forescale.tui.tasks.frame.widgets import Said, TaskTable

NAMES = (*FIELDS, *PLACE)


class SurveyScreen(RowsScreen[None]):
    """What is read from the picture, and what it gives."""

    TASK = "Survey"
    ENTER = "type"
    TALL = 22
    BINDINGS: ClassVar[list[BindingType]] = [
        key("put", "put it in", "put the distance, the height or the width found into the shot"),
        key("add", "another", "begin another reading, of another thing; left and right go from one to the next"),
        key("delete", "clear", "leave the selected field out; a reading with none left is gone"),
        *UNDO,
        listed("count_all", "count all", "count every reading as read with this kit and from here"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.told = ""
        self.number = 1

    @property
    def in_hand(self) -> str:
        """The name of the field in hand."""
        return NAMES[self.table.place]

    # What is shown

    def columns(self) -> list[Column]:
        """Return the fields of the reading in hand."""
        of = len(self.answer.setting.survey)
        self.number = min(self.number, of + 1)
        several = max(of, self.number)
        self.TASK = "Survey" if several < 2 else f"Survey, reading {self.number} of {several}"
        shown = tuple(survey_entry.shown_text(self.answer, self.number, name) for name in NAMES)
        labels = tuple(FIELD_HELP[_help(name)].label for name in NAMES)
        return [Column("field", "field", labels), Column("value", "as read", shown)]

    def gives(self) -> list[Said]:
        """Return what was done last, and what the reading gives."""
        found = survey_report.found(self.answer, self.number)
        return [*[("ok", self.told)] * bool(self.told), *(("note", text) for text in found)]

    def how(self, place: int) -> list[Said]:
        """Say how a field is measured."""
        return [FIELD_HELP[_help(NAMES[place])].measure]

    # Changes

    def enter(self, changes: Mapping[str, Any], said: str = "") -> None:
        """Change the shot and show what it gives now; what is entered here was so when the survey was read."""
        self.told = ""
        self.change(changes, said, keeping=("bench",))

    @on(DataTable.RowSelected)
    def _type(self) -> None:
        """Type a value for the field in hand."""
        name = self.in_hand

        def take(text: str) -> None:
            if not text.strip() and name != "place.background":
                self._clear(name)
                return
            self.enter(survey_entry.changes(self.answer, self.number, name, text)[0])
            if not self.together:
                self.say(_chief(self.answer, self.number, name).partition(":")[0])

        self.ask(
            FIELD_HELP[_help(name)].label,
            survey_entry.value_text(self.answer, self.number, name),
            lambda text: survey_entry.changes(self.answer, self.number, name, text)[1],
            take,
            FIELD_HELP[_help(name)].measure,
        )

    def _clear(self, name: str) -> None:
        if name in PLACE or self.number <= len(self.answer.setting.survey):
            self.enter(dict(survey_entry.cleared(self.number, name)))

    def action_delete(self) -> None:
        """Leave the field in hand out."""
        if self.in_hand == "place.background":
            self.say("The background needs a distance; inf stands for one without end")
        else:
            self.attempt(lambda: self._clear(self.in_hand))

    def action_add(self) -> None:
        """Begin another reading."""
        self.number = len(self.answer.setting.survey) + 1
        self.refill()
        self.say(f"Reading {self.number}: what is typed here is of another thing")

    @on(TaskTable.Sideways)
    def _another_reading(self, event: TaskTable.Sideways) -> None:
        """Go on to the next reading, or back."""
        self.number = min(max(self.number + event.step, 1), max(len(self.answer.setting.survey), 1))
        self.told = ""
        self.refill()

    def action_count_all(self) -> None:
        """Count every reading as read with the kit that the shot has now, and from here."""
        said = "Every reading now counts as read with this kit and from here; u undoes that"
        self.attempt(lambda: self.enter({"survey": survey_as_now(self.answer.setting.survey)}, said))

    # What was found, put into the shot

    def action_put(self) -> None:
        """Ask which of what was found is to be put into the shot."""
        ways = {
            "distance": lambda: self._put_found(survey_report.distance_change, survey_report.told_distance),
            "height": lambda: self._put_found(survey_report.height_change, survey_report.told_height),
            "width": self._put_width,
        }
        hint = "the distance as the background's, the height as the tie-in height, the width on the build list"
        self.pick("Put", ways, f"Up, Down: {hint}")

    def _put_found(
        self, change: Callable[[Answer, int], Mapping[str, Any]], told: Callable[[Answer, Answer], str]
    ) -> None:
        before = self.answer
        self._put(change(before, self.number), lambda: told(before, self.answer))

    def _put(self, changes: Mapping[str, Any], told: Callable[[], str]) -> None:
        """Put a result into the shot and say what that did; raises BadInput."""
        self.enter(changes)
        self.told = told()
        self.view = self.view if self.together else "gives"
        self.refill()

    def _put_width(self) -> None:
        """Ask under which name the width goes on the build list."""

        def put(name: str) -> None:
            changes, told = survey_report.part_change(self.answer, name, self.number)
            self._put(changes, lambda: told)

        if survey_report.result_of(self.answer, self.number).feature_width_mm is None:
            put("feature")  # which says what is to be entered first
            return
        called = survey_entry.row_of(self.answer, self.number).name
        read = lambda text: survey_report.part_change(self.answer, text, self.number)[1]  # noqa: E731
        self.ask("Name of the part", called, read, put)

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
