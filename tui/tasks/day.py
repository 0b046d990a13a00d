"""The day: sun, light, lamps, what is timed and cued; what is entered in the list, and what comes of it."""

from datetime import datetime
from functools import partial

from forescale.engine.day import day_list
from forescale.engine.day.day_list import DayLine
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.sheet.blocks import spelt
from forescale.engine.sheet.sections import sections_of
from forescale.engine.sheet.text import section_lines
from forescale.engine.shot import edit
from forescale.tui.diagrams.day_strip import draw
from forescale.tui.glyphs import plain
from forescale.tui.runs import Row
from forescale.tui.tasks.frame import UNDO, WIDE, Column, Question, RowsScreen, Said, key, shortened

LEAST_COLUMNS, LABEL, VALUE = 20, 20, 34  # columns of what comes of it at the least, of a label and value at the most


class DayScreen(RowsScreen[None]):
    TASK, ENTER = "The day", "type"
    BINDINGS = [
        key("get", "now", "set day, time and offset by this machine's clock"),
        key("add", "lamp, cue", "add a kind of lamp, or a cue"),
        key("delete", "clear", "leave the selected field out, or take the lamp or cue away"),
        *UNDO,
    ]

    def columns(self) -> list[Column]:
        self.listed = day_list.lines(self.answer)
        room = self.size.width - (82 if self.size.width >= WIDE else 24)  # the sun's table stands whole beside
        room = min(max(room, VALUE // 2), VALUE)
        return [
            Column("field", "field", tuple(shortened(line.label, LABEL) for line in self.listed)),
            Column("value", "as set", tuple(shortened(line.value, room) for line in self.listed)),
        ]

    def page_rows(self) -> list[Row]:
        glyphs, width = self.glyphs, max(self.page_width, LEAST_COLUMNS)
        found = [*draw(self.answer, width, glyphs)]
        for section in sections_of(self.answer, "The sun", "Light", "Time on set"):
            found += ["", *section_lines(spelt(section, lambda text: plain(text, glyphs)), width)]
        if self.answer.sun is None:
            found = ["Give latitude, longitude, day, time and UTC offset, and the sun is told here", *found]
        return [((line, ""),) for line in found]

    def how(self, place: int) -> list[Said]:
        label, value, path, *_ = self.listed[place]
        return [f"{FIELD_HELP[path].what} {FIELD_HELP[path].measure}" if path else f"{label}: {value}"]

    @property
    def line(self) -> DayLine:
        return self.listed[self.table.place]

    def enter(self) -> None:
        if self.line.rows is None:
            self.action_field(self.line.path, hint=FIELD_HELP[self.line.path].what)
        else:
            self._ask_row(self.line.rows, self.line.place)

    def _ask_row(self, kind: day_list.RowKind, place: int) -> None:
        """Ask for the fields of a lamp or cue one after another, and then put it into the shot."""
        there, names = getattr(self.shot, kind), day_list.names_of(kind)
        stands = there[place].model_dump(exclude_none=True, exclude_defaults=True) if place < len(there) else {}

        def question(name: str) -> Question:
            text, help_on = str(stands.get(name, "")), FIELD_HELP[f"{kind}.{name}"]
            alone = "" if text or name in day_list.NEEDED[kind] else "Enter alone leaves it."
            hint = f"{names.index(name) + 1} of {len(names)}: {help_on.what} {alone}"
            return Question(help_on.label, lambda text: day_list.held(kind, name, text, self.system), text, hint)

        def put(*texts: str) -> None:
            held = {name: day_list.held(kind, name, text, self.system) for name, text in zip(names, texts, strict=True)}
            row = day_list.made(kind, held)
            said = "" if stands else f"{kind.capitalize()} {row.name} is added"
            self.change({kind: edit.replaced(there, place, row)}, said)
            self.table.move_cursor(row=[(line.rows, line.place) for line in self.listed].index((kind, place)))

        self.ask_each([question(name) for name in names], put)

    def action_add(self) -> None:
        kinds: tuple[day_list.RowKind, ...] = ("lamp", "cue")
        self.pick("Add a", {kind: partial(self._ask_row, kind, len(getattr(self.shot, kind))) for kind in kinds})

    def action_delete(self) -> None:
        line = self.line
        if line.rows is None:
            self.attempt(lambda: self.change({line.path: None}))
        else:
            self.take_away(line.label, {line.rows: edit.without(getattr(self.shot, line.rows), line.place)})

    def action_get(self) -> None:
        self.attempt(lambda: self.change(day_list.by_the_clock(datetime.now().astimezone())))
