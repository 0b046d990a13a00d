"""The bench: slips read along the slide, the line through them, its zero, and the pupil put into the lens's profile."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from functools import partial
from typing import Any

from textual.containers import Horizontal
from textual.widget import Widget

from forescale.engine.answer import Answer
from forescale.engine.answer.readings import TAKEN_WITH, as_now
from forescale.engine.bench import bench_entry, bench_report, pupil_store
from forescale.engine.bench.bench_entry import BenchSetup, ReadBy, as_left, of_its_own, of_shot, shown_slip
from forescale.engine.files.faults import BadInput, ChangedElsewhere
from forescale.engine.findings.words import Words
from forescale.engine.kit.kit import taken_with
from forescale.engine.kit.slide_scale import SlideScale
from forescale.engine.shot import edit
from forescale.engine.shot.rows import BenchRow
from forescale.engine.shot.sections import TILTS
from forescale.engine.solve.turning import bench_line
from forescale.engine.units import angle_text, exact_length, signed_text, tape_text
from forescale.tui.diagrams import curves
from forescale.tui.runs import Rows
from forescale.tui.tasks.frame import UNDO, Column, Question, RowsScreen, Said, TaskPage, TaskTable, key, listed

SET_UP = {
    "near_mm": ("Near stick at", "place.model"),
    "far_mm": ("Far stick at", "place.background"),
    "sweep_deg": ("Sweep", "move.sweep"),
}
WIDE = 72  # columns of a screen from which on the line stands beside the readings
TABLE_WIDTH = 42
MOVED = 1e-3  # a model that stands nearer or farther by less is where it was
ABOUT = "in px, off a tape as {}, or outruns, lags, locked; + where the near target outran the far one, - lagged"


class BenchScreen(RowsScreen[None]):
    ENTER, SECTION, VIEWS = "edit", "bench", ("rows", "line", "gives")
    BINDINGS = [
        key("add", "reading", "add a reading: where the slide stands, and the slip"),
        key("next view", "views", "go on from the readings to the line, what was found, and back"),
        key("save", "store", "store the pupil in the lens's profile"),
        key("put", "use zero", "set the slide of the shot to the zero"),
        key("delete", "delete", "take away the selected reading"),
        key("edit", "sticks, sweep", "how far off the two sticks stand, and the sweep, of readings to come or taken"),
        key("turn", "pan/tilt", "read the bench over a pan or a tilt"),
        *UNDO,
        listed("count_all", "count all", "count every reading as taken with this kit and over this move"),
    ]
    _objected: Answer | None = None

    @property
    def setup(self) -> BenchSetup:
        """Return the bench as it was set here, else as its last reading left it."""
        return self.session.bench or as_left(self.answer)

    @property
    def scale(self) -> SlideScale:
        return Words(self.answer).on_slide

    def lists(self) -> Sequence[Widget]:
        return Horizontal(TaskTable(id="rows"), Rows(id="line"), id="upper"), TaskPage(id="gives")

    def in_sight(self) -> tuple[str, ...]:
        """Return all where there is room, else the readings with what was found, the line alone, what was found."""
        if self.together and self.size.width >= WIDE:
            return self.VIEWS
        return ("rows", "gives") if self.view == "rows" else (self.view,)

    def fill(self) -> None:
        setup, shot = self.setup, of_shot(self.answer)
        self.TASK = f"Bench, {setup.axis} {angle_text(setup.sweep_deg)}"
        if (setup.near_mm, setup.far_mm) != (shot.near_mm, shot.far_mm):
            near, far = (tape_text(mm, self.system) for mm in (setup.near_mm, setup.far_mm))
            self.TASK += f", sticks at {near} and {far}"
        width = TABLE_WIDTH if self.in_sight() == self.VIEWS else self.size.width
        self.table.put(reading_columns(self.answer), self.glyphs, width - 1)
        self.table.styles.width = width if self.in_sight() == self.VIEWS else "1fr"
        self.page_width = self.size.width - 3
        self.tell()

    def gives(self) -> Iterator[Said]:
        if self.answer.slip.bench is None:
            yield "note", "a takes a reading; F1 explains how, in six steps with this shot's numbers"
        yield from (("warn", text) for text in bench_report.doubts(self.answer))
        yield from (("ok" if good else "  ", text) for text, good in bench_report.report(self.answer))
        if idle := bench_entry.idle(self.setup, self.answer):
            yield "warn", f"{idle[0].upper()}{idle[1:]}"

    def more_help(self) -> Iterator[Said]:
        yield "Step by step:"
        for number, step in enumerate(bench_report.steps(self.answer, self.setup), start=1):
            yield f"{number}  ", f"{step.title}. {step.text}"
            if step.caution:
                yield f"   {self.glyphs.warn} ", step.caution
        yield ""

    def list_height(self, room: int) -> int:
        return max(room - len(self.page.rows), room // 2)

    def share_room(self, room: int) -> None:
        """Give every view its place, what was found never more than half of the screen; and draw the line."""
        in_sight, upper, line = self.shown_views(), self.query_one("#upper"), self.query_one("#line", Rows)
        upper.display = in_sight != ("gives",)
        below = min(len(self.page.rows), room // 2) if "gives" in in_sight else 0
        self.page.styles.height = below if upper.display else "1fr"
        width = self.size.width - 1 - TABLE_WIDTH * ("rows" in in_sight)
        line.show(tuple(curves.bench(self.answer, max(width, 0), max(room - below, 0), self.glyphs)))

    def action_add(self) -> None:
        """Ask where the slide stands, at the place to read next unless typed over, and then for the slip."""
        places = bench_report.next_places(self.answer)
        way = bench_entry.way_of(self.records[-1]) if self.records else "pixels"
        self._ask_reading(way, self.scale.mark(places[0]) if places else "", "", len(self.records))

    def enter(self) -> None:
        place = self.table.place
        row = self.records[place]
        slip = bench_entry.slip_text(row, self.system)
        self._ask_reading(bench_entry.way_of(row), self.scale.mark(row.slide, 9), slip, place)

    def _ask_reading(self, way: ReadBy, slide: str, slip: str, place: int) -> None:
        """Ask for a reading; one that stands there already keeps what it was taken with."""
        own = of_its_own(self.setup, self.answer)
        at = partial(bench_entry.read_slide, head=self.session.state.kit.head, system=self.system)

        def row_of(slide: str, slip: str) -> BenchRow:
            return bench_entry.new_row(at(slide), bench_entry.read_slip(slip, way, self.system), own)

        def slip_at(slide: str) -> Question:
            label = {"pixels": "Slip, px", "tape": "Slip on tape", "eye": "Seen"}[way]
            about = ABOUT.format("4 in" if self.system == "imperial" else "10 cm")
            return Question(label, lambda text: bench_entry.in_words(row_of(slide, text), self.system), slip, about)

        def put(*texts: str) -> None:
            row = row_of(*texts)
            for old in self.records[place : place + 1]:
                row = row.model_copy(update={name: getattr(old, name) for name in TAKEN_WITH})
            self.change({"bench": edit.replaced(self.records, place, row)}, row=place)

        self.ask_each([Question("Slide at", lambda text: self.scale.mark(at(text)), slide), slip_at], put)

    def action_delete(self) -> None:
        if self.some():
            place = self.table.place
            self.take_away(f"Reading {place + 1}", {"bench": edit.without(self.records, place)}, max(place - 1, 0))

    def action_count_all(self) -> None:
        said = "Every reading now counts as taken with this kit and over this move; u undoes that"
        pairs = zip(as_now(self.records), self.records, strict=True)
        rows = tuple(now.model_copy(update={"aim": then.aim}) for now, then in pairs)  # a level lens was level
        self.attempt(lambda: self.change({"bench": rows}, said))

    def _set_up(self, **changes: Any) -> None:
        """Set the bench up otherwise for the readings to come; those that were taken say how it was for them."""
        self.session.bench = replace(self.setup, **changes)
        self.refill()
        self._say_set()

    def _say_set(self) -> None:
        idle = bench_entry.idle(self.setup, self.answer)
        self.say(f"Set for the readings to come; {idle or 'the shot keeps its own'}", refused=bool(idle))

    def action_edit(self) -> None:
        def put(*texts: str) -> None:
            self._set_up(**{name: self._value(name, text) for name, text in zip(SET_UP, texts, strict=True)})
            so = bench_entry.taken_so(self.setup, self.answer)
            if so != self.records:
                said = "The readings taken count as read with these sticks and sweep too; u undoes that"
                ways = {"as they were": self._say_set, "with these too": lambda: self.change({"bench": so}, said)}
                self.pick("Count readings taken", ways)

        self.ask_each([partial(self._question_of, name) for name in SET_UP], put)

    def _question_of(self, name: str, *typed: str) -> Question:
        def read(text: str) -> str:
            value = self._value(name, text)
            if name == "far_mm" and value <= self._value("near_mm", typed[0]):
                raise ValueError("the far stick must stand beyond the near one, or nothing slips")
            if name == "sweep_deg" and value == 0:
                raise ValueError("a bench needs a sweep to read over: 10 deg will do")
            return self._shown_text(name, value)

        return Question(SET_UP[name][0], read, self._shown_text(name, getattr(self.setup, name)))

    def _shown_text(self, name: str, value: float) -> str:
        return angle_text(value) if name == "sweep_deg" else tape_text(value, self.system)

    def _value(self, name: str, text: str) -> float:
        """Return what a field of the shot reads of an entry; what stood there counts to its last digit."""
        path, stands = SET_UP[name][1], float(getattr(self.setup, name))
        if text.strip() == self._shown_text(name, stands):
            return stands
        return edit.number_at(type(self.shot), path).read(edit.entry(path, text, self.shot, self.system, stands)[0])

    def action_turn(self) -> None:
        shot, tilts = of_shot(self.answer).axis, self.setup.axis in TILTS
        self._set_up(axis=shot if (shot in TILTS) != tilts else "pan" if tilts else "tilt")

    def action_put(self) -> None:
        def use_zero() -> None:
            zero, source = pupil_store.zero_to_set(self.answer)
            state, before = self.session.state, self.shot.move.slide
            stood = "" if before is None else f"; it stood at {self.scale.mark(before)}"
            self.change({"move.slide": exact_length(zero, "metric")})
            if self.session.state is state:
                self.say(f"The slide is set to {self.scale.mark(zero)} already, {source}: nothing is changed")
                return
            told = f"The slide is set to {self.scale.mark(zero)}, {source}{stood}"
            self.tell_done(told)
            if "gives" not in self.shown_views():
                self.say(told)

        self.attempt(use_zero)

    def action_save(self) -> None:
        """Store the pupil; where something speaks against it, the second press does it."""
        objection = pupil_store.objection(self.answer)
        if not objection or self._objected is self.answer:
            self.attempt(self._store)
        elif self.attempt(lambda: pupil_store.found_row(self.answer, date.today())):
            self._objected = self.answer
            self.say(f"{objection.capitalize()}: s once more stores it all the same", refused=True)

    def _store(self) -> None:
        before = self.answer
        row = pupil_store.found_row(before, date.today())
        try:
            stored = pupil_store.store(self.session.state.kit.lens, row)
        except ChangedElsewhere as changed:
            self.session.reload_kit()
            self.refill()
            raise BadInput(f"{changed}. It is loaded now as it is: look at it, then s stores") from None
        self.session.reload_kit()
        self.changed()
        told = pupil_store.told_stored(stored, Words(self.answer))
        self.tell_done(f"{told}. {bench_report.stored_text(before, self.answer)}")


def reading_columns(answer: Answer) -> list[Column]:
    """Return the readings: slide, slip, how far off the line, and what is the matter with one."""
    rows, line = answer.setting.bench, bench_line(answer)
    points = {} if line is None else {point.row: point for point in line.points}
    off = tuple(f"{signed_text(points[row].residual_px, 1)} px" if row in points else "" for row in range(len(rows)))
    columns = [
        Column("number", "no.", tuple(str(number) for number in range(1, len(rows) + 1))),
        Column("slide", "slide", tuple(Words(answer).on_slide.mark(row.slide) for row in rows)),
        Column("slip", "slip", tuple(shown_slip(row, answer.system) for row in rows)),
    ]
    if any(off):
        columns.append(Column("off", "off line", off, goes=2))
    remarks = tuple(_remark(answer, number, row) for number, row in enumerate(rows))
    if any(remarks):
        columns.append(Column("remark", "remark", remarks, goes=1))
    return columns


def _remark(answer: Answer, number: int, row: BenchRow) -> str:
    if not taken_with(row, answer.setting, answer.kit):
        return "left out"
    bench = answer.slip.bench
    if bench is not None and number in bench.contradicting:
        return "look again"
    if row.sweep is not None and row.sweep != answer.setting.move.sweep:
        return f"over {angle_text(row.sweep)}"
    aim = answer.setup.aim_deg if row.aim is None else row.aim
    if aim:
        return f"lens {Words.tilted(aim)}"
    if row.model is not None and not math.isclose(row.model, answer.lineup.model_mm, rel_tol=MOVED):
        return f"model at {tape_text(row.model, answer.system)}"
    return ""
