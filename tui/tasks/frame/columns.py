"""Fitting a table into a width: the columns that matter least go first, so that nothing is cut."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from rich.cells import cell_len, set_cell_size

from forescale.tui.glyphs import FULL
from forescale.tui.glyphs import fitted as fitted_text

PADDING = 2  # a table keeps a space on either side of a cell
NARROWEST = 14
FEWEST = 6  # columns that a name keeps where no other column can go
NUMBER = re.compile(r"[-+]?\d[\d.,]*(?: ?(?:%|mm|m|px|lx|fc|fps|stops?|x))?|-|")  # such columns stand to the right
_LETTERED = re.compile(r"^[A-Z] ")  # the letter that stands for a point in a drawing
SPELT_OUT = 2  # how much wider the sign of a cut is where a terminal has it only as three points


@dataclass(frozen=True)
class Column:
    """One column: `id` for what it holds, how soon it goes for want of room (0: last), its head on a later page."""

    id: str
    head: str
    cells: tuple[str, ...]
    goes: int = 0
    alone: str = ""

    @cached_property
    def width(self) -> int:
        """How wide it is with its padding."""
        return max(map(cell_len, (self.head, *self.cells))) + PADDING


def fitted(columns: Sequence[Column], width: int, least: int = NARROWEST) -> list[Column]:
    """Return the columns that a width holds, two at the least; the first, a name, is shortened to `least` before."""
    kept = list(columns)
    while _spare(kept, width) < min(least + PADDING, kept[0].width) and len(kept) > 2:
        kept.remove(max(reversed(kept[1:]), key=lambda column: column.goes))
    room, name = max(_spare(kept, width) - PADDING, FEWEST), kept[0]
    kept[0] = replace(name, cells=tuple(told_apart(name.cells, room)))
    return kept


def paged(columns: Sequence[Column], width: int, least: int = NARROWEST) -> list[list[Column]]:
    """Return the columns that a width holds, and then by turns those that had no room, each beside the first."""
    pages, rest = list[list[Column]](), list(columns[1:])
    while rest or not pages:
        pages.append(fitted([columns[0], *rest], width, least))
        shown = {one.id for one in pages[-1]}
        rest = [replace(one, head=one.alone or one.head) for one in rest if one.id not in shown]
    return pages


def told_apart(names: Sequence[str], room: int) -> list[str]:
    """Return names that fit; of those that would then look the same, but for a letter before them, the ends stay."""
    cut = [shortened(name, room) for name in names]
    seen = [_LETTERED.sub("", one) for one in cut]
    return [
        _without_middle(name, room) if one != name and seen.count(look) > 1 else one
        for name, one, look in zip(names, cut, seen, strict=True)
    ]


def _without_middle(name: str, room: int) -> str:
    room -= SPELT_OUT + 1
    head, end = set_cell_size(name, room // 3), name
    while cell_len(end) > room - room // 3:
        end = end[1:]
    return f"{head.rstrip()}…{end.lstrip()}"


def shortened(name: str, room: int) -> str:
    """Return a name that fits, cut between words, or within one where a word alone is too long."""
    if cell_len(name) <= room:
        return name
    room -= SPELT_OUT
    cut = fitted_text(name, room, FULL)
    return cut if room // 2 < cell_len(cut) <= room else f"{set_cell_size(name, room - 1).rstrip()}…"


def _spare(columns: Sequence[Column], width: int) -> int:
    """Return the room that is left for the first column beside the others."""
    return width - sum(column.width for column in columns[1:])
