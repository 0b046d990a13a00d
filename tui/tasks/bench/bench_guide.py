"""The bench explained in six steps, over the readings; the key that opened it closes it."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from forescale.engine.bench.bench_entry import BenchSetup
from forescale.engine.bench.bench_guide import steps
from forescale.tui.glyphs import plain
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen
from forescale.tui.wrapped import wrapped


class BenchGuideScreen(TaskScreen[None]):
    """What to do at the bench, with the bench's own numbers."""

    TASK = "Bench, step by step"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("g", "leave", "readings", tooltip="back to the readings")]

    def __init__(self, bench_setup: BenchSetup) -> None:
        super().__init__()
        self.bench_setup = bench_setup

    def body(self) -> ComposeResult:
        """One page."""
        yield TaskPage(id="guide")

    def on_resize(self, event: events.Resize) -> None:
        """Wrap the steps anew."""
        super().on_resize(event)
        self.fill()

    def fill(self) -> None:
        """Show the steps."""
        self.query_one(TaskPage).show("\n".join(self._lines(max(self.size.width - 3, 20))))

    def _lines(self, width: int) -> list[str]:
        glyphs, lines = self.forescale.glyphs, list[str]()
        for number, step in enumerate(steps(self.session.state.answer, self.bench_setup), start=1):
            lines += wrapped(plain(f"{step.title}. {step.text}", glyphs), width, lead=f"{number}  ")
            if step.caution:
                lines += wrapped(plain(f"{glyphs.warn} {step.caution}", glyphs), width, lead="   ")
            lines.append("")
        return lines
