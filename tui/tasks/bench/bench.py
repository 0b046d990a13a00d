"""The bench: slips read along the slide, the line through them, its zero, and the pupil put into the lens's profile."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from typing import Any, ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.answer import Answer
from forescale.engine.bench import bench_entry, bench_report, pupil_store
from forescale.engine.bench.bench_entry import Way, of_its_own
from forescale.engine.compare.differences import Difference, Step
from forescale.engine.files.faults import BadInput
from forescale.engine.shot import edit
from forescale.engine.shot.readings import BenchRow
from forescale.engine.shot.sections import TILTS
from forescale.engine.units import angle_text, exact_length, tape_text
from forescale.tui.tasks.bench.bench_guide import BenchGuideScreen
from forescale.tui.tasks.bench.bench_view import BenchView

ABOUT: dict[Way, tuple[str, str]] = {
    "pixels": ("Slip, px", "+ where the near target outran the far one, - where it lagged behind"),
    "tape": ("Slip on tape", "+ where the near target outran the far one, - where it lagged behind"),
    "eye": ("Seen", "outruns, lags or locked: + - 0 will do"),
}


class BenchScreen(BenchView):
    """What the keys of the bench do."""

    ENTER = "edit"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("p", "add('pixels')", "pixels", tooltip="add a reading in pixels"),
        Binding("tab", "next_view", "view", tooltip="go on from the readings to the line, what was found, and back"),
        Binding("t", "add('tape')", "tape", tooltip="add a reading off a tape hung at the background"),
        Binding("e", "add('eye')", "eye", tooltip="add what the eye saw: outruns, lags or locked"),
        Binding("g", "guide", "guide", tooltip="how to do it, in six steps with this shot's numbers"),
        Binding("s", "store", "store", tooltip="store the pupil in the lens's profile"),
        Binding("z", "use_zero", "use zero", tooltip="set the slide of the shot to the zero"),
        Binding("x", "delete", "delete", tooltip="take away the selected reading"),
        Binding("w", "sweep", "sweep", tooltip="set the sweep of the bench; the shot keeps its own"),
        Binding("v", "axis", "pan/tilt", tooltip="read the bench over a pan or a tilt"),
        Binding("d", "sticks", "distances", tooltip="set how far off the two sticks of the bench stand"),
        Binding("k", "count_all", "count all", tooltip="count every reading as taken with this kit and over this move"),
        Binding("u", "undo", "undo", tooltip="undo the last change"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._objected: Answer | None = None

    def action_guide(self) -> None:
        """Explain how it is done."""
        self.app.push_screen(BenchGuideScreen(self.bench_setup))

    # Readings

    def change(self, changes: dict[str, Any], told: str = "") -> None:
        """Change the shot and show it, saying in words what that did; raises BadInput."""
        self.session.apply(changes)
        self.told = told
        self.forescale.changed()
        self.fill()
        self.say("")

    def action_add(self, way: Way) -> None:
        """Ask where the slide stands, at the place to read next unless typed over, and then for the slip."""
        places = bench_report.next_places(self.answer)
        self._ask_slide(
            way, self.scale.mark(places[0]) if places else "", "", lambda row: self._put((*self.readings, row))
        )

    @on(DataTable.RowSelected)
    def _edit(self) -> None:
        """Ask for slide and slip of the reading in hand anew; what it was taken with stays."""
        place = self.table.cursor_row
        row = self.readings[place]

        def put(new: BenchRow) -> None:
            kept = {name: getattr(row, name) for name in bench_entry.TAKEN_WITH}
            self._put(edit.replaced(self.readings, place, new.model_copy(update=kept)), place)

        slip = bench_entry.slip_text(row, self.answer.system)
        self._ask_slide(bench_entry.way_of(row), self.scale.mark(row.slide, 9), slip, put)

    def _ask_slide(self, way: Way, slide: str, slip: str, put: Callable[[BenchRow], None]) -> None:
        head = self.session.state.kit.head

        def read(text: str) -> float:
            return bench_entry.read_slide(text, head, self.answer.system)

        self.ask(
            "Slide at",
            slide,
            lambda text: self.scale.mark(read(text)),
            lambda text: self._ask_slip(way, read(text), slip, put),
        )

    def _ask_slip(self, way: Way, slide: float, slip: str, put: Callable[[BenchRow], None]) -> None:
        def row_of(text: str) -> BenchRow:
            return bench_entry.new_row(slide, bench_entry.read_slip(text, way, self.answer.system), self._own_fields)

        label, about = ABOUT[way]
        self.ask(
            label,
            slip,
            lambda text: bench_entry.in_words(row_of(text), self.answer.system),
            lambda text: put(row_of(text)),
        )
        self.say(about)

    def _put(self, readings: tuple[BenchRow, ...], place: int | None = None) -> None:
        self.change({"bench": readings})
        self.table.move_cursor(row=len(readings) - 1 if place is None else place)

    def action_delete(self) -> None:
        """Take the reading in hand away."""
        if not self.readings:
            self.say("There is no reading to take away")
            return
        place = self.table.cursor_row
        if self.attempt(lambda: self._put(edit.without(self.readings, place), max(place - 1, 0))):
            self.say(f"Reading {place + 1} was taken away; u brings it back")

    def action_count_all(self) -> None:
        """Count every reading as taken with the kit and over the move that the shot has now."""
        if self.attempt(lambda: self.change({"bench": bench_entry.as_now(self.readings)})):
            self.say("Every reading now counts as taken with this kit and over this move; u undoes that")

    # How it is set up

    @property
    def _own_fields(self) -> dict[str, Any]:
        return of_its_own(self.bench_setup, self.answer)

    def _set_up(self, **changes: Any) -> None:
        """Set the bench up otherwise for the readings to come; those that were taken say how it was for them."""
        self.own = replace(self.bench_setup, **changes)
        self.fill()
        self.say("Set for the readings to come; the shot keeps its own")

    def action_sweep(self) -> None:
        """Ask for the sweep of the bench."""

        def read(text: str) -> float:
            return self._value("move.sweep", text, self.bench_setup.sweep_deg)

        def take(text: str) -> None:
            if read(text) == 0:
                raise ValueError("a bench needs a sweep to read over: 10 deg will do")
            self._set_up(sweep_deg=read(text))

        self.ask("Sweep", angle_text(self.bench_setup.sweep_deg), lambda text: angle_text(read(text)), take)

    def action_sticks(self) -> None:
        """Ask how far off the near stick stands, and then the far one."""

        def near(text: str) -> float:
            return self._value("place.model", text, self.bench_setup.near_mm)

        def far(text: str, near_mm: float) -> float:
            value = self._value("place.background", text, self.bench_setup.far_mm)
            if value <= near_mm:
                raise ValueError("the far stick must stand beyond the near one, or nothing slips")
            return value

        def ask_far(text: str) -> None:
            near_mm = near(text)
            self.ask(
                "Far stick at",
                tape_text(self.bench_setup.far_mm, system),
                lambda typed: tape_text(far(typed, near_mm), system),
                lambda typed: self._set_up(near_mm=near_mm, far_mm=far(typed, near_mm)),
            )

        system = self.answer.system
        self.ask(
            "Near stick at",
            tape_text(self.bench_setup.near_mm, system),
            lambda text: tape_text(near(text), system),
            ask_far,
        )

    def _value(self, path: str, text: str, shown: float) -> float:
        """Return the value of an entry as the field of the shot at a path reads it; raises ValueError."""
        shot = self.session.state.shot
        quantity = edit.quantity_of(type(shot), path)
        assert quantity is not None
        return quantity.read(edit.entry(path, text, shot, self.answer.system, shown)[0])

    def action_axis(self) -> None:
        """Read the bench over a pan or a tilt."""
        self._set_up(axis="pan" if self.bench_setup.axis in TILTS else "tilt")

    # The zero

    def action_use_zero(self) -> None:
        """Set the slide of the shot to the zero."""
        self.attempt(self._use_zero)

    def _use_zero(self) -> None:
        zero, source = pupil_store.zero_to_set(self.answer)
        before = self.session.state.shot.move.slide
        stood = "" if before is None else f"; it stood at {self.scale.mark(before)}"
        told = f"The slide is set to {self.scale.mark(zero)}, {source}{stood}"
        self.change({"move.slide": exact_length(zero, "metric")}, told)

    def action_store(self) -> None:
        """Store the pupil; where something speaks against it, the second press does it."""
        objection = pupil_store.objection(self.answer)
        if objection and self._objected is not self.answer:
            try:
                pupil_store.found_row(self.answer, date.today())
            except BadInput as fault:
                self.say(str(fault), refused=True)
                return
            self._objected = self.answer
            self.say(f"{objection.capitalize()}: s once more stores it all the same", refused=True)
            return
        self.attempt(self._store)

    def _store(self) -> None:
        before = self.answer
        row = pupil_store.found_row(before, date.today())
        try:
            stored = pupil_store.store(self.session.state.kit.lens, row)
        except pupil_store.ChangedOnDisk as changed:
            self.session.reload_kit()
            self.fill()
            raise BadInput(f"{changed}. It is loaded now as it is: look at it, then s stores") from None
        self.session.reload_kit()
        self.told = f"{pupil_store.told_stored(stored, self.scale)}. {bench_report.stored_text(before, self.answer)}"
        self.say("")

    def stepped(self, step: Step, changes: Sequence[Difference]) -> None:
        """Forget what the last change did: it is no longer so."""
        self.told = ""
        super().stepped(step, changes)
