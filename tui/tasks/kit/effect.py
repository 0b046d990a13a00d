"""What a choice changes: as many rows as there is room for, and a screen to read it whole."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from textual.app import ComposeResult

from forescale.engine.compare.kit_effect import EffectLine
from forescale.tui.glyphs import Glyphs, plain
from forescale.tui.runs import Row
from forescale.tui.tasks.frame.task_screen import TaskPage, TaskScreen

LEAST_ROWS = 3
LOW = 20  # a screen so low has no room for a preview beside an entry


def effect_height(height: int, share: int) -> int:
    """Return how many rows of a screen a preview takes, one part of its height in so many."""
    return max(height // share, LEAST_ROWS)


def effect_rows(lines: Sequence[EffectLine], width: int, height: int, glyphs: Glyphs) -> tuple[Row, ...]:
    """Return the lines wrapped into rows; where they do not all fit, the last says how to read on."""
    rows = [row for line in lines for row in _rows(line, width, glyphs)]
    if len(rows) <= height:
        return tuple(rows)
    return (*rows[: height - 1], ((plain(" … v reads on", glyphs), "label"),))


def _rows(line: EffectLine, width: int, glyphs: Glyphs) -> list[Row]:
    mark = f" {getattr(glyphs, line.level)} " if line.level else " "
    texts = textwrap.wrap(plain(line.text, glyphs), max(width - len(mark) - 1, 10))
    marks = [mark, *[" " * len(mark)] * len(texts)]
    return [((before, line.level or "answer"), (text, "answer")) for before, text in zip(marks, texts, strict=False)]


class EffectScreen(TaskScreen[None]):
    """A preview, whole."""

    TASK = "What it changes"

    def __init__(self, lines: Sequence[EffectLine]) -> None:
        super().__init__()
        self._lines = lines

    def body(self) -> ComposeResult:
        """Text to go up and down in."""
        yield TaskPage(id="effect-page")

    def fill(self) -> None:
        """Show all of it."""
        glyphs = self.forescale.glyphs
        texts = [f"{getattr(glyphs, line.level)} {line.text}" if line.level else line.text for line in self._lines]
        self.query_one(TaskPage).show(plain("\n\n".join(texts), glyphs))
