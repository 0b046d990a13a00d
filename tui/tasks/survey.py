"""The survey: a reading at a time, from the picture or an inclinometer; one key puts what it gives into the shot."""

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import Any

from forescale.engine.answer import Answer
from forescale.engine.answer.readings import as_now
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.survey import survey_rows
from forescale.engine.survey.survey_rows import FIELDS, PLACE
from forescale.tui.tasks.frame import UNDO, Column, FieldsScreen, Question, Said, key, listed


class SurveyScreen(FieldsScreen):
    TASK, PATHS = "Survey", (*FIELDS, *PLACE)
    HEAD, TALL = "as read", 22
    BINDINGS = [
        key("put", "put it in", "put the distance, the height or the width found into the shot"),
        key("add", "another", "begin another reading, of another thing; left and right go from one to the next"),
        key("delete", "clear", "leave the selected field out; a reading with none left is gone"),
        *UNDO,
        listed("count_all", "count all", "count every reading as read with this kit and from here"),
    ]
    number = 1

    def columns(self) -> list[Column]:
        of = len(self.answer.setting.survey)
        self.number = min(self.number, of + 1)
        several = max(of, self.number)
        self.TASK = "Survey" if several < 2 else f"Survey, reading {self.number} of {several}"
        return super().columns()

    def registered(self, path: str) -> str:
        return path if path in PLACE else f"survey.{path}"

    prompt = FieldsScreen.label

    def now(self, path: str) -> str:
        return survey_rows.shown_text(self.answer, self.number, path)

    def entry(self, path: str) -> str:
        return survey_rows.value_text(self.answer, self.number, path)

    def hint(self, path: str) -> str:
        return FIELD_HELP[self.registered(path)].measure

    def how(self, place: int) -> list[Said]:
        return [self.hint(self.PATHS[place])]

    def gives(self) -> Iterator[Said]:
        if gainsaid := survey_rows.gainsaid(self.answer, self.number):
            yield "warn", gainsaid
        yield from (("note", text) for text in survey_rows.found(self.answer, self.number))

    def put(self, changes: Mapping[str, Any], said: str = "") -> None:
        """Change the shot; what is entered here was so when the survey was read."""
        self.change(changes, said, keeping=("bench",))

    def read(self, path: str, text: str) -> tuple[Any, str]:
        return survey_rows.changes(self.answer, self.number, path, text)

    def take(self, path: str, text: str) -> None:
        if not text.strip() and path != "place.background":
            self.put(survey_rows.cleared(self.number, path))
            return
        self.put(self.read(path, text)[0])
        if not self.together:
            self.say(_chief(self.answer, self.number, path).partition(":")[0])

    def action_delete(self) -> None:
        if self.path == "place.background":
            self.say("The background needs a distance; inf stands for one without end")
        else:
            self.attempt(lambda: self.put(survey_rows.cleared(self.number, self.path)))

    def action_add(self) -> None:
        self.number = len(self.answer.setting.survey) + 1
        self.refill()
        self.say(f"Reading {self.number} begins with the first value typed here")

    def action_sideways(self, step: int) -> None:
        self.number = min(max(self.number + step, 1), max(len(self.answer.setting.survey), 1))
        self.tell_done()  # nothing was done of the reading that comes
        self.say("")  # what an entry came to was of the other reading
        self.refill()

    def action_count_all(self) -> None:
        said = "Every reading now counts as read with this kit and from here; u undoes that"
        self.attempt(lambda: self.put({"survey": as_now(self.answer.setting.survey)}, said))

    def action_put(self) -> None:
        ways = {
            "distance": lambda: self._put_found(survey_rows.distance_change, survey_rows.told_distance),
            "height": lambda: self._put_found(survey_rows.height_change, survey_rows.told_height),
            "width": self._put_width,
        }
        hint = "the distance as the background's, the height as the tie-in height, the width on the build list"
        self.pick("Put", ways, hint)

    def _put_found(
        self, change: Callable[[Answer, int], Mapping[str, Any]], told: Callable[[Answer, Answer], str]
    ) -> None:
        before = self.answer
        self.put(change(before, self.number))
        self.view = self.view if self.together else "gives"
        self.tell_done(told(before, self.answer))

    def _put_width(self) -> None:
        """Ask under which name the width goes on the build list."""
        change = partial(survey_rows.part_change, self.answer, number=self.number)

        def put(name: str) -> None:
            changes, told = change(name)
            self._put_found(lambda *_: changes, lambda *_: told)

        if survey_rows.result_of(self.answer, self.number).feature_width_mm is None:
            put("feature")  # which says what is to be entered first
            return
        called = survey_rows.row_of(self.answer, self.number).name
        self.ask(Question("Name of the part", lambda text: change(text)[1], called), put)


def _chief(answer: Answer, number: int, name: str) -> str:
    told = survey_rows.found(answer, number)
    if name == "visibility":
        return told[-1]
    return told[-2] if name in {"elevation", "place.lens_height", "feature_height"} and len(told) > 1 else told[0]
