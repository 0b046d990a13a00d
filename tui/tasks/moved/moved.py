"""The rig has moved: the tape distances alone, several changed at a time and taken together."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, NamedTuple

from forescale.engine.answer.natural_step import stepped
from forescale.engine.field_help import FIELD_HELP, prompt
from forescale.engine.files.faults import BadInput
from forescale.engine.findings.words import Words
from forescale.engine.moved.moved import DISTANCES, Moved, distances, distances_now, usual_choice, work_out
from forescale.engine.shot import edit
from forescale.tui.panes.arrange import AUTO
from forescale.tui.session import reasons
from forescale.tui.tasks.frame import Cell, Column, Question, RowsScreen, Said, key
from forescale.tui.tasks.moved.what_to_do import WhatToDoScreen, to_do

FOCUS, STOP, WHO, MODEL = "focus.distance", "focus.stop", "who moved", "where the model stands"
ROWS = (*DISTANCES, WHO, MODEL, FOCUS, STOP)
WHOLE = {"place.model_near": "model", "place.background_far": "background"}
LABEL, WITH_WAS = 12, 56  # columns of a label; columns of a screen from which was and now stand side by side
LEAVING = "Esc once more lets go what was typed here; d does it"
WITH_NOTE = 80  # columns of a screen from which there is room for a note


class FormRow(NamedTuple):
    """A row: what it is, what it was, what it is now (empty where it stays), and a note."""

    label: str
    was: str
    now: str = ""
    note: str = ""


class MovedScreen(RowsScreen[None]):
    TASK, ENTER, LIST_FIRST = "The rig has moved", "type", True
    BINDINGS = [
        key("do", "do it", "put what is to be done on the board; the state before is saved"),
        key("turn", "who moved", "say that it was the camera that moved, or the model"),
        key("delete", "as it was", "put the selected distance back to what it was"),
        key("less", "much less", "a large step down; left is a small one"),
        key("more", "much more", "a large step up; right is a small one"),
    ]

    def on_mount(self) -> None:
        self.before, self.typed = self.session.state, dict[str, float]()
        self.choice = replace(usual_choice(self.before.answer), camera_moved=True)

    def put_rows(self) -> None:
        self.form = [*map(self._distance, DISTANCES), *self._choices()]
        if self.size.width >= WITH_WAS:
            super().put_rows()
            return
        heads, lead = [("what", LABEL), ("was, and is now", max(self.size.width - LABEL - 5, LABEL))], self.glyphs.right
        rows: list[list[Cell]] = [[row.label, [row.was, *[(f"{lead} ", row.now)] * bool(row.now)]] for row in self.form]
        self.table.put_wrapped(heads, rows, self.glyphs)

    def columns(self) -> list[Column]:
        labels, was, now, notes = zip(*self.form, strict=True)
        columns = [Column("what", "what", labels), Column("was", "was", was), Column("now", "now", now)]
        return [*columns, *[Column("note", "note", notes)] * (self.size.width >= WITH_NOTE)]

    def how(self, place: int) -> list[Said]:
        if ROWS[place] in DISTANCES:
            adds = ", or + or - and the change: a digit or sign begins"
            return [f"Type what is re-measured{adds if self._adds(ROWS[place]) else ': Enter or a digit begins'}"]
        if ROWS[place] == WHO:
            carried = "what was not taped goes along" if self.choice.camera_moved else "the rest stands as it did"
            return [f"With {self.form[place].now} {carried}; Enter changes it"]
        moves = "is moved where its size or a point is off, or must stand there"
        return [f"It {moves if ROWS[place] == MODEL else 'stays as it was, or is recalculated'}: Enter changes it"]

    def gives(self) -> Iterator[Said]:
        """Return what is to be done as far as it is known; what is typed so far may be refused until more is typed."""
        if not self.typed:
            yield "What is to be done on set stands here as soon as a distance has changed."
            return
        try:
            yield from to_do(self._moved(), wide=self.page_width >= WITH_WAS)
        except BadInput as fault:
            yield "warn", f"So far: {reasons(fault)}"

    def _moved(self) -> Moved:
        return work_out(self.before.answer, self.typed, self.choice)

    def _now(self) -> dict[str, float | None]:
        """Return what is in force by path with what was typed, and what went along with it."""
        return distances_now(self.before.answer, self.typed, self.choice.camera_moved)

    def _distance(self, path: str) -> FormRow:
        before, label = self.before.answer, FIELD_HELP[path].label
        was, now, typed = distances(before)[path], self._now()[path], path in self.typed
        quantity, whole = edit.number_at(type(before.setting), path), WHOLE.get(path, "")
        nothing = f"as {whole}" if whole else "-"
        old, new = (nothing if mm is None else quantity.shown(mm, before.system) for mm in (was, now))
        if was is not None and edit.value_at(before.setting, path) is None:
            old = Words(before).length(was)
        if now != was and not typed:  # nobody taped it: it moved along with one that was
            return FormRow(label, old, f"{new}{AUTO}", f"moved with {whole or 'the camera'}")
        anew = "re-measured" if path.startswith("place.") else "as it is now"
        return FormRow(label, old, *((new, anew) if typed else ()))

    def _choices(self) -> Iterator[FormRow]:
        """Yield who moved, whether the model may be moved, and what is kept of focus and stop."""
        choice, words, focus = self.choice, Words(self.before.answer), self.before.answer.focus
        yield FormRow("moved", "", "the camera" if choice.camera_moved else "the model")
        yield FormRow("then model", "", "must stand here" if choice.move_model is False else "to its match if off")
        keeps = {True: "keep", False: "recalculate"}
        yield FormRow(FIELD_HELP[FOCUS].label, words.length(focus.focus_mm), keeps[choice.keep_focus])
        yield FormRow(FIELD_HELP[STOP].label, words.stop(focus.f_number), keeps[choice.keep_stop])

    @property
    def in_hand(self) -> str:
        return ROWS[self.table.place]

    def takes_text(self) -> bool:
        return self.in_hand in DISTANCES

    def _was(self, path: str) -> float | None:
        """Return what a sign counts from: what it was, as that which it follows where it was never taped."""
        was = distances(self.before.answer)
        return was[path] if was[path] is not None or path not in WHOLE else was[f"place.{WHOLE[path]}"]

    def _adds(self, path: str) -> bool:
        """Whether a sign adds to what it was: not on a slide that is marked below zero too."""
        head = self.before.kit.head
        return self._was(path) is not None and (path != "move.slide" or head is None or head.slide_min >= 0)

    def enter(self) -> None:
        if (path := self.in_hand) not in DISTANCES:
            self._turn_over(path)
            return
        shot, shown, was = self.before.shot, self._now()[path], self._was(path)
        quantity = edit.number_at(type(shot), path)
        stands = edit.text_of(shown, quantity, shot.units)
        if path == "place.model" and path not in self.typed and shown is not None and shot.place.model is None:
            stands = Words(self.before.answer).length(shown)  # chosen, never taped

        def read(entered: str) -> tuple[Any, str]:
            sign = entered.strip()[:1]
            if sign in {"+", "-"} and self._adds(path) and was is not None:
                by = quantity.read(edit.entry(path, entered.strip()[1:], shot, shot.units, was)[0])
                now = was + (by if sign == "+" else -by)
                if not now >= 0:  # nor is infinity less infinity
                    raise ValueError(f"It was {quantity.shown(was, shot.units)}: no more can be taken off")
                entered = edit.text_of(now, quantity, shot.units)
            return edit.entry(path, entered, shot, shot.units, shown)

        def take(entered: str) -> None:
            held, told = read(entered) if entered.strip() else (None, "as it was")
            self._take_distance(path, held)
            self.say(f"{FIELD_HELP[path].label} {told}")

        self.ask(Question(prompt(path, shot.units, shown), lambda entered: read(entered)[1], stands), take)

    def _take_distance(self, path: str, held: str | float | None) -> None:
        """Take what a file would hold for a distance, or put it back as it was where there is nothing."""
        self.typed.pop(path, None)
        self.say("")
        if held is not None:
            self.typed[path] = edit.number_at(type(self.before.shot), path).read(held)
        self.refill()

    def action_sideways(self, step: int, *, large: bool = False) -> None:
        """Step the distance in hand, or turn over what is kept."""
        path, setting = self.in_hand, self.before.answer.setting
        if path not in DISTANCES:
            self._turn_over(path)
            return
        section, _, field = path.partition(".")
        there = {section: getattr(setting, section).model_copy(update={field: self._now()[path]})}
        held = stepped(self.before.answer._replace(setting=setting.model_copy(update=there)), path, step, large=large)
        if held is None:
            self.say("No step is natural here: type the distance")
        else:
            self._take_distance(path, held)

    def action_step_by(self, direction: int) -> None:
        self.action_sideways(direction, large=True)

    def _turn_over(self, path: str) -> None:
        if path == MODEL:
            self.choice = replace(self.choice, move_model=None if self.choice.move_model is False else False)
        else:
            name = {FOCUS: "keep_focus", STOP: "keep_stop", WHO: "camera_moved"}[path]
            self.choice = replace(self.choice, **{name: not getattr(self.choice, name)})
        self.refill()
        row = self.form[ROWS.index(path)]
        self.say(f"{row.label[0].upper()}{row.label[1:]}: {row.now}")

    def action_turn(self) -> None:
        self._turn_over(WHO)

    def action_delete(self) -> None:
        if self.in_hand in DISTANCES:
            self._take_distance(self.in_hand, None)

    def action_leave(self) -> None:
        if self.typed and self._said[0] != LEAVING:
            self.say(LEAVING, refused=True)
        else:
            super().action_leave()

    def action_do(self) -> None:
        if self.typed:
            self.attempt(self._take_over)
        else:
            self.say("Nothing is re-measured yet: type the distances that have changed", refused=True)

    def _take_over(self) -> None:
        """Work out what to do and show it; leave with that, unless it was undone to be typed again."""

        def done(stays: bool | None) -> None:
            if stays:
                self.dismiss()

        self.app.push_screen(WhatToDoScreen(self.before, dict(self.typed), self.choice, self._moved()), done)
