"""The rows of the list of shots: in columns, or one thing under another where a screen is narrow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from forescale.engine.files.faults import BadInput
from forescale.engine.kit import library
from forescale.engine.sheet.cells import width as columns_of
from forescale.engine.sheet.cells import wrap

NAME, CHANGED, SHIPPED, PADDING = 24, 16, 19, 2
IN_COLUMNS, NARROWEST = 72, 8
Head = tuple[str, int]


@dataclass(frozen=True, slots=True)
class Told:
    """What the list tells of a shot."""

    name: str
    title: str
    changed: str
    shipped: str


def told(entry: library.ShelfFile) -> Told:
    """Return what is told of a file on the shelf."""
    try:
        title = library.load_shot(entry.path).title
    except BadInput:
        title = "cannot be read"
    return Told(entry.name, title, _changed(entry.path), "built-in, read-only" if entry.shipped else "")


def _changed(path: Path) -> str:
    """Return when a file was changed; "" where that cannot be known, or is a time that no calendar has."""
    try:
        return datetime.fromtimestamp(path.stat().st_mtime).strftime("%Y-%m-%d %H:%M")
    except (OSError, OverflowError, ValueError):
        return ""


def shot_rows(shots: Sequence[Told], width: int) -> tuple[list[Head], list[tuple[str, ...]]]:
    """Return the columns with their widths, and a row a shot whose cells have the lines they need; nothing is cut."""
    width = max(width, NARROWEST)
    if width < IN_COLUMNS - 1:
        return [("shot", width - PADDING)], [(_below(shot, width - PADDING),) for shot in shots]
    name = min(max((columns_of(shot.name) for shot in shots), default=0), NAME)
    title = width - name - CHANGED - SHIPPED - 4 * PADDING
    heads = [("shot", name), ("title", title), ("changed", CHANGED), ("", SHIPPED)]
    rows = [(*map(_lines, (shot.name, shot.title), (name, title)), shot.changed, shot.shipped) for shot in shots]
    return heads, rows


def _lines(text: str, width: int) -> str:
    return "\n".join(wrap(text, width))


def _below(shot: Told, width: int) -> str:
    """Return the title, and what else is told of it farther in."""
    rest = ", ".join(part for part in (shot.name, shot.changed, shot.shipped) if part)
    return "\n".join([*wrap(shot.title, width), *(f"  {line}" for line in wrap(rest, width - 2))])
