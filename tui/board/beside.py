"""The column beside the panes on a wide terminal: what the lens sees, and all that is to be minded."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.findings.words import with_advice
from forescale.tui.diagrams import lens_view
from forescale.tui.glyphs import Glyphs, plain
from forescale.tui.runs import Row
from forescale.tui.wrapped import wrapped

VIEW_SHARE = 0.6  # of the column's rows at most for the view; what it leaves is for the findings


def beside_rows(answer: Answer, width: int, height: int, glyphs: Glyphs) -> tuple[Row, ...]:
    """Return the column, exactly as many rows as it is high."""
    picture = lens_view.draw(answer, width, int(height * VIEW_SHARE), glyphs)
    while picture and not picture[-1]:
        picture.pop()
    rows = [_title("What the lens sees", width, glyphs), *picture, (), _title("What to mind", width, glyphs)]
    rows += _minded(answer, width, max(height - len(rows), 0), glyphs)
    return (*rows, *[()] * height)[:height]


def _title(text: str, width: int, glyphs: Glyphs) -> Row:
    name = f" {text} "
    return ((name, "title"), (glyphs.horizontal * max(width - len(name), 0), "rule"))


def _minded(answer: Answer, width: int, room: int, glyphs: Glyphs) -> list[Row]:
    """Return the findings, the gravest first: whole where all have room, else in short, and how many have none."""
    wanted = [finding for finding in answer.findings if finding.level != "ok"]
    whole = [row for one in wanted for row in _finding(one.text, one.level, width, glyphs)]
    if len(whole) <= room:
        return whole
    rows: list[Row] = []
    for number, finding in enumerate(wanted):
        advice = finding.by_hand.partition(",")[0] if finding.level == "note" else ""
        told = list(_finding(with_advice(finding.short or finding.text, advice), finding.level, width, glyphs))
        last = number == len(wanted) - 1
        if len(rows) + len(told) > room - (not last):
            return [*rows, ((f"   {len(wanted) - number} more: f", "hint"),)]
        rows += told
    return rows


def _finding(text: str, level: str, width: int, glyphs: Glyphs) -> Iterator[Row]:
    mark = f" {getattr(glyphs, level)} "
    for place, line in enumerate(wrapped(plain(text, glyphs), max(width - len(mark) - 1, 10))):
        yield ((mark if place == 0 else " " * len(mark), level), (line, "answer"))
