"""How the bench looks: the readings, their line and what was found, together or one at a time in little room."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widget import Widget

from forescale.engine.answer import Answer
from forescale.engine.bench.bench_entry import BenchSetup, as_left, of_shot
from forescale.engine.findings.words import Words
from forescale.engine.kit.slide_scale import SlideScale
from forescale.engine.shot.readings import BenchRow
from forescale.engine.units import angle_text, tape_text
from forescale.tui.diagrams import bench_line
from forescale.tui.runs import Rows
from forescale.tui.tasks.bench.bench_table import found_lines, reading_columns
from forescale.tui.tasks.frame.columns import fitted, show
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen, TaskTable

VIEWS = ("readings", "line", "found")
WIDE, TALL = 72, 20  # with less room one view is shown at a time
TABLE_WIDTH = 42
AROUND = 4  # rows for the title, what is said and the keys


class BenchView(TaskScreen[None]):
    """The bench's widgets and what stands in them."""

    def __init__(self) -> None:
        super().__init__()
        self.view = "readings"
        self.told = ""
        self._below = 0
        self.own: BenchSetup | None = None

    @property
    def answer(self) -> Answer:
        """The present answer."""
        return self.session.state.answer

    @property
    def bench_setup(self) -> BenchSetup:
        """The bench as it was set here, else as its last reading left it."""
        return self.own or as_left(self.answer)

    @property
    def scale(self) -> SlideScale:
        """How the slide is marked."""
        return Words(self.answer).on_slide

    @property
    def readings(self) -> tuple[BenchRow, ...]:
        """The readings of the shot."""
        return self.session.state.shot.bench

    @property
    def table(self) -> TaskTable:
        """The table of readings."""
        return self.query_one("#readings", TaskTable)

    def body(self) -> ComposeResult:
        """The readings beside their line, and what was found below."""
        yield Horizontal(TaskTable(id="readings"), Rows(id="line"), id="bench")
        yield TaskPage(id="found")

    # What is shown

    def on_resize(self, event: events.Resize) -> None:
        """Lay the views anew."""
        super().on_resize(event)
        self.fill()

    @property
    def together(self) -> bool:
        """Whether there is room for all views at once."""
        return self.size.width >= WIDE and self.size.height >= TALL

    def fill(self) -> None:
        """Show the readings, their line and what was found."""
        self.TASK = self._title()
        self._show_lines()
        width, glyphs = self.size.width, self.forescale.glyphs
        table_width = TABLE_WIDTH if self.together else width
        show(self.table, fitted(reading_columns(self.answer), table_width - 1), glyphs)
        self.table.styles.width = table_width if self.together else "1fr"
        lines = found_lines(self.answer, self.told, glyphs, max(width - 3, 20))
        self.query_one("#found", TaskPage).show("\n".join(lines))
        self._lay_out(len(lines))
        self._draw(self.size.width - (table_width if self.together else 0) - 1)

    def _title(self) -> str:
        bench_setup = self.bench_setup
        title = f"Bench, {bench_setup.axis} {angle_text(bench_setup.sweep_deg)}"
        shot = of_shot(self.answer)
        if (bench_setup.near_mm, bench_setup.far_mm) == (shot.near_mm, shot.far_mm):
            return title
        near, far = (tape_text(mm, self.answer.system) for mm in (bench_setup.near_mm, bench_setup.far_mm))
        return f"{title}, sticks at {near} and {far}"

    def _lay_out(self, found: int) -> None:
        """Give every view its place: what was found below the rest, never more than half of the screen."""
        shown = VIEWS if self.together else ("readings", "found") if self.view == "readings" else (self.view,)
        for name in VIEWS:
            self.query_one(f"#{name}", Widget).display = name in shown
        self.query_one("#bench").display = shown != ("found",)
        below = min(found, (self.size.height - AROUND) // 2)
        self.query_one("#found").styles.height = "1fr" if shown == ("found",) else max(below, 1)
        self._below = below if "found" in shown else 0

    def _draw(self, width: int) -> None:
        height = self.size.height - AROUND - self._below
        drawn = bench_line.draw(self.answer, max(width, 0), max(height, 0), self.forescale.glyphs)
        self.query_one("#line", Rows).show(tuple(drawn))

    def keys(self) -> list[tuple[str, str]]:
        """Return the keys for the footer; with all views in sight the one that goes between them can wait."""
        pairs = super().keys()
        return [pair for pair in pairs if not (self.together and pair[0] == "tab")]

    def focus_body(self) -> None:
        """Put the keys to the view in hand."""
        wanted = self.query_one(f"#{self.view}")
        self.set_focus(wanted if wanted.can_focus else None)

    def action_next_view(self) -> None:
        """Go on to the next view."""
        self.view = VIEWS[(VIEWS.index(self.view) + 1) % len(VIEWS)]
        self.fill()
        self.focus_body()
