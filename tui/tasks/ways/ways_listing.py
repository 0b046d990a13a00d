"""A long table of ways in the room there is: names are shortened before they go, rows found by the words they hold."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from forescale.tui.tasks.frame.columns import Column, fitted, shortened

NAMES = ("mode", "camera")
MOST_OF_NAMES = ((40, 40), (40, 20), (40, 12), (20, 20), (16, 16), (14, 14))  # their columns as the room shrinks
LENS = 24  # columns that the lens's name keeps as long as another column can go
_AT_START = r"(?<![\d.])"  # 28 is not in 0.028
SAME_GOES = 100  # a column that says the same in every row goes before any other


@dataclass(frozen=True, slots=True)
class Listing:
    """The rows of a table: `whole` as they are, `kept` what the screen has room for."""

    whole: tuple[Column, ...]
    kept: tuple[Column, ...]

    def rows_with(self, words: str) -> list[int]:
        """Return the rows that hold every word in any column, shown or not; a number counts from its first digit on."""
        wanted = [re.compile(_AT_START * word[0].isdigit() + re.escape(word)) for word in words.lower().split()]
        texts = (" ".join(cells).lower() for cells in zip(*(one.cells for one in self.whole), strict=True))
        return [row for row, text in enumerate(texts) if all(word.search(text) for word in wanted)]

    def only(self, rows: Sequence[int]) -> list[Column]:
        """Return the table of these rows in this order."""
        return [replace(one, cells=tuple(one.cells[row] for row in rows)) for one in self.kept]

    def cells(self, row: int) -> dict[str, str]:
        """Return what a row holds, by column."""
        return {one.id: one.cells[row] for one in self.whole}

    def untold(self, row: int) -> dict[str, str]:
        """Return what a row holds and the table does not show, or not whole, by column."""
        told = {one.id: one.cells[row] for one in self.kept}
        return {name: cell for name, cell in self.cells(row).items() if told.get(name) != cell}


def listing(whole: Sequence[Column], brief: Sequence[Column], width: int, wanted: Iterable[set[str]]) -> Listing:
    """Return a table that fits a width, with the first of the sets of columns `wanted` for which there is room.

    `brief` says the same in fewer words, for where `whole` has no room; from there on names are shortened as well.
    """
    variants = [whole, *(_with_names(brief, most) for most in MOST_OF_NAMES)]
    return Listing(tuple(whole), tuple(_roomiest([_ranked(one) for one in variants], width, wanted)))


def _with_names(columns: Sequence[Column], most: tuple[int, int]) -> list[Column]:
    """Return the columns with the names of mode and camera at most so long."""
    room = dict(zip(NAMES, most, strict=True))
    return [
        replace(one, cells=tuple(shortened(cell, room[one.id]) for cell in one.cells)) if one.id in room else one
        for one in columns
    ]


def _ranked(columns: Sequence[Column]) -> list[Column]:
    """Let the columns go first that tell no row from another."""
    return [
        replace(one, goes=one.goes + SAME_GOES) if one.goes and len(set(one.cells)) == 1 < len(one.cells) else one
        for one in columns
    ]


def _roomiest(variants: Sequence[list[Column]], width: int, wanted: Iterable[set[str]]) -> list[Column]:
    """Return the first variant that keeps what is wanted, what is wanted most first; the last where none does."""
    ids = [_ids_kept(columns, width) for columns in variants]
    for names in wanted:
        for columns, kept in zip(variants, ids, strict=True):
            if names <= kept:
                return fitted([one for one in columns if one.id in kept], width, LENS)
    return fitted(variants[-1], width, LENS)


def _ids_kept(columns: Sequence[Column], width: int) -> set[str]:
    """Return which columns stay, told from their distinct cells alone, as there may be many rows."""
    distinct = [replace(one, cells=tuple(dict.fromkeys(one.cells))) for one in columns]
    return {one.id for one in fitted(distinct, width, LENS)}
