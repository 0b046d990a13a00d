"""Screens that are one page to read."""

from collections.abc import Iterable, Iterator

from textual.app import ComposeResult

from forescale.tui.app_screen import Result
from forescale.tui.tasks.frame.task_screen import TaskScreen
from forescale.tui.tasks.frame.widgets import Said, TaskPage, lines_of


class PageScreen(TaskScreen[Result]):
    """A page of sentences."""

    def body(self) -> ComposeResult:
        yield TaskPage(id="page")

    def said(self) -> Iterable[Said]:
        """Return what stands on the page; an empty sentence is an empty line."""
        return ()

    def fill(self) -> None:
        self.query_one(TaskPage).show_rows(lines_of(self.said(), self.size.width - 3, self.glyphs))


class WholeScreen(PageScreen[None]):
    """Sentences in full, with a line between, for where a list has no room for all of them."""

    def __init__(self, said: Iterable[Said], title: str = "In full") -> None:
        super().__init__()
        self.TASK, self._sentences = title, tuple(said)

    def said(self) -> Iterator[Said]:
        for one in self._sentences:
            yield from (one, "")
