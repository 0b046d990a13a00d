"""The way in hand below the table: what the table has no room for, what it trades, what to mind, where things stand."""

from collections.abc import Sequence

from forescale.engine.answer import Answer
from forescale.engine.options.option import Option, Ranked, option_answer, to_mind
from forescale.engine.options.trade import trade
from forescale.tui.diagrams import bars, views
from forescale.tui.glyphs import Glyphs, plain
from forescale.tui.runs import Row, indented
from forescale.tui.tasks.ways.ways_table import UNBEATEN, Shown
from forescale.tui.wrapped import fitted, wrapped

BAR, LEAST_BAR, SIDE_VIEW = 4, 2, 3  # lines of the distance bar, at most and at least, and at least of the side view


def height_for(screen: int, *, words_alone: bool = False) -> int:
    """Return the lines that the preview takes of a screen so high; those of a way that fails are words alone."""
    return 4 if screen < 20 or words_alone else 7 if screen < 30 else 13


def way_said(row: Ranked, top: Option, cells: dict[str, str], columns: Sequence[Shown]) -> list[str]:
    """Return sentences on a way; `cells` are those of its row that are to be told, by column."""
    hidden = [one.told.format(cells[one.head]) for one in columns if one.told and one.head in cells]
    mind = "; ".join(finding.short or finding.text for finding in to_mind(option_answer(row.option)))
    parts = (", ".join(hidden), _weighed(row, top), mind and f"Mind: {mind}")
    return [f"{part}." for part in parts if part]


def _weighed(row: Ranked, top: Option) -> str:
    """Return what a way trades, and whether another is as good in all that counts and better in one."""
    said = trade(row.option, top)
    if row.option == top:
        return said
    standing = f"Unbeaten ({UNBEATEN})" if row.front else f"Beaten by one with {UNBEATEN}"
    return f"{standing}: {said[0].lower()}{said[1:]}"


def preview_rows(said: Sequence[str], found: Answer | None, width: int, height: int, glyphs: Glyphs) -> tuple[Row, ...]:
    """Return sentences, and in the lines that they leave the diagrams of an answer."""
    room = max(width - 2, 10)
    words = [line for one in said for line in wrapped(plain(one, glyphs), room)]
    if len(words) > height:
        words = [*words[: height - 1], fitted(" ".join(words[height - 1 :]), room, glyphs)]
    left = height - len(words)
    drawn = _drawn(found, room, left, glyphs) if found is not None else []
    return (*(((f" {line}", "hint"),) for line in words), *indented(drawn))


def _drawn(found: Answer, width: int, height: int, glyphs: Glyphs) -> list[Row]:
    lines = bars.distances(found, width, min(height, BAR), glyphs) if height >= LEAST_BAR else []
    if height - len(lines) >= SIDE_VIEW:
        lines += views.side(found, width, height - len(lines), glyphs)
    return lines
