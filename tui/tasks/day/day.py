"""The day: sun, light, lamps, what is timed and cued; what is entered above, what comes of it below."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable

from forescale.engine.answer import Answer
from forescale.engine.day import day_list
from forescale.engine.day.day_list import DayLine
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.sheet.blocks import spelt
from forescale.engine.sheet.sections import day, lens
from forescale.engine.sheet.text import section_lines
from forescale.engine.sheet.voice import Voice
from forescale.engine.shot import edit
from forescale.tui.diagrams.day_strip import draw
from forescale.tui.glyphs import plain
from forescale.tui.runs import Rows
from forescale.tui.tasks.frame.columns import Column, fitted, show
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen, TaskTable
from forescale.tui.wrapped import wrapped

TALL = 20  # rows; with fewer, list and results are shown in turn
LEAST_COLUMNS = 39


class DayScreen(TaskScreen[None]):
    """The list of the day, and the strip of the sun with all that is told."""

    TASK = "The day"
    ENTER = "type"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "next_view", "view", tooltip="go on from the list to what it gives, and back"),
        Binding("n", "now", "now", tooltip="set day, time and offset by this machine's clock"),
        Binding("l", "add('lamp')", "lamp", tooltip="add a kind of lamp"),
        Binding("c", "add('cue')", "cue", tooltip="add a cue"),
        Binding("x", "clear", "clear", tooltip="leave the selected field out, or take the lamp or cue away"),
        Binding("u", "undo", "undo", tooltip="undo the last change"),
        Binding("r", "redo", "redo", tooltip="take the undone change back"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.results = False

    @property
    def answer(self) -> Answer:
        """The present answer."""
        return self.session.state.answer

    @property
    def in_hand(self) -> DayLine:
        """The row in hand."""
        listed = day_list.lines(self.answer)
        return listed[min(self.query_one(TaskTable).cursor_row, len(listed) - 1)]

    def body(self) -> ComposeResult:
        """The list, how the field in hand is measured, and what it gives."""
        yield TaskTable(id="day")
        yield Rows(id="how")
        yield TaskPage(id="gives")

    # What is shown

    def on_resize(self, event: events.Resize) -> None:
        """Lay list and results anew."""
        super().on_resize(event)
        self.fill()

    def fill(self) -> None:
        """Show the list and what it gives."""
        listed = day_list.lines(self.answer)
        labels = Column("field", "field", tuple(line.label for line in listed))
        values = Column("value", "as set", tuple(line.value for line in listed))
        show(self.query_one(TaskTable), fitted([values, labels][::-1], self.size.width - 1), self.forescale.glyphs)
        self.query_one("#gives", TaskPage).show("\n".join(self._gives()))
        self._lay_out()

    def _gives(self) -> list[str]:
        """Return the strip of the day, and the sheet's own sections on sun, light and time."""
        voice, glyphs, width = Voice(self.answer), self.forescale.glyphs, max(self.size.width - 3, LEAST_COLUMNS)
        found = [*draw(self.answer, width, glyphs)]
        for section in (day.sun(voice), lens.light(voice), day.timing(voice)):
            if section is not None:
                found += ["", *section_lines(spelt(section, lambda text: plain(text, glyphs)), width)]
        if self.answer.sun is None:
            found = ["Give latitude, longitude, day, time and UTC offset, and the sun is told here", *found]
        return found

    @property
    def together(self) -> bool:
        """Whether there is room for list and results at once."""
        return self.size.height >= TALL

    def _lay_out(self) -> None:
        table = self.query_one(TaskTable)
        table.display = self.query_one("#how").display = self.together or not self.results
        table.styles.height = max(self.size.height // 2 - 4, 5) if self.together else "1fr"
        self.query_one("#gives").display = self.together or self.results
        self._show_how()

    @on(DataTable.RowHighlighted)
    def _show_how(self) -> None:
        """Say what the field in hand is, and how it is measured."""
        line, how = self.in_hand, self.query_one("#how", Rows)
        told = FIELD_HELP[line.path] if line.path else FIELD_HELP[f"{line.rows}.name"]
        text = f"{told.what} {told.measure}" if line.path else line.value
        said = wrapped(plain(text, self.forescale.glyphs), max(self.size.width - 2, 20))[:3]
        how.styles.height = max(len(said), 1)
        how.show(tuple(((f" {one}", "hint"),) for one in said))

    def action_next_view(self) -> None:
        """Go on to the results, or back to the list."""
        self.results = not self.results
        self._lay_out()
        self.focus_body()

    def focus_body(self) -> None:
        """Put the keys to the list or to the results."""
        self.query_one("#gives" if self.results else "#day").focus()

    # Changes

    def change(self, changes: dict[str, Any]) -> None:
        """Change the shot and show what it gives now; raises BadInput."""
        self.session.apply(changes)
        self.forescale.changed()
        self.fill()
        self.say("")

    @on(DataTable.RowSelected)
    def _edit(self) -> None:
        """Type a value for the field in hand, or the fields of the lamp or cue one after another."""
        line = self.in_hand
        if line.rows is not None:
            held = day_list.table_of(getattr(self.session.state.shot, line.rows)[line.place])
            self._ask_row(line.rows, line.place, held, 0)
            return
        shot, system, path = self.session.state.shot, self.answer.system, line.path

        def take(text: str) -> None:
            self.change({path: edit.entry(path, text, shot, system, None)[0] if text.strip() else None})

        self.ask(
            line.label,
            day_list.field_text(self.answer, path),
            lambda text: edit.entry(path, text, shot, system, None)[1],
            take,
            FIELD_HELP[path].what,
        )

    def _ask_row(self, kind: day_list.Rows, place: int, held: dict[str, Any], at: int) -> None:
        """Ask for one field of a lamp or cue after another, and then put it into the shot."""
        names, system = day_list.names_of(kind), self.answer.system
        name = names[at]
        stands = held.get(name, "")

        def take(text: str) -> None:
            more = held | {name: day_list.held(kind, name, text, system)}
            if at + 1 < len(names):
                self._ask_row(kind, place, more, at + 1)
            else:
                self._put(kind, place, more)

        read: Callable[[str], str] = lambda text: str(day_list.held(kind, name, text, system))  # noqa: E731
        help_on = FIELD_HELP[f"{kind}.{name}"]
        self.ask(help_on.label, str(stands), read, take, f"{help_on.what} {'' if stands else 'Enter alone leaves it.'}")

    def _put(self, kind: day_list.Rows, place: int, held: dict[str, Any]) -> None:
        there: tuple[Any, ...] = getattr(self.session.state.shot, kind)
        row = day_list.made(kind, held)
        new = edit.replaced(there, place, row) if place < len(there) else (*there, row)
        self.change({kind: new})

    def action_add(self, kind: day_list.Rows) -> None:
        """Add a lamp or a cue."""
        self._ask_row(kind, len(getattr(self.session.state.shot, kind)), {}, 0)

    def action_clear(self) -> None:
        """Leave the field in hand out, or take the lamp or cue away."""
        line = self.in_hand
        if line.rows is None:
            self.attempt(lambda: self.change({line.path: None}))
            return
        there: tuple[Any, ...] = getattr(self.session.state.shot, line.rows)
        if self.attempt(lambda: self.change({str(line.rows): edit.without(there, line.place)})):
            self.say(f"{line.label} was taken away; u brings it back")

    def action_now(self) -> None:
        """Set day, time and offset by this machine's clock."""
        self.attempt(lambda: self.change(day_list.by_the_clock(datetime.now().astimezone())))
