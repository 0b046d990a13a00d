"""What the lens sees, on a whole screen; below it its whole legend, where that has no room."""

from forescale.tui.diagrams import lens_view
from forescale.tui.tasks.frame import PageScreen, TaskPage

FIXED, EDGES = 4, 3  # rows of title, foot and footer; columns of the page's edges, and its bar


class ViewScreen(PageScreen[None]):
    TASK = "What the lens sees"

    def fill(self) -> None:
        width, height = max(self.size.width - EDGES, 1), max(self.size.height - FIXED, 1)
        rows = lens_view.draw(self.answer, width, height, self.glyphs)
        legend = lens_view.legend(self.answer, width, self.glyphs)
        rows += [] if all(row in rows for row in legend) else [(), *legend]
        self.query_one(TaskPage).show_rows(rows)
