"""Lists that a person orders by hand: one row put in, changed, taken away or moved; the list itself stays as it was."""

from __future__ import annotations

from typing import TypeVar

Row = TypeVar("Row")


def inserted(rows: tuple[Row, ...], place: int, row: Row) -> tuple[Row, ...]:
    """Return the rows with one more, which then stands at `place`."""
    return (*rows[:place], row, *rows[place:])


def replaced(rows: tuple[Row, ...], place: int, row: Row) -> tuple[Row, ...]:
    """Return the rows with another at `place`."""
    return (*rows[:place], row, *rows[place + 1 :])


def without(rows: tuple[Row, ...], place: int) -> tuple[Row, ...]:
    """Return the rows without the one at `place`."""
    return (*rows[:place], *rows[place + 1 :])


def moved(rows: tuple[Row, ...], place: int, step: int) -> tuple[Row, ...]:
    """Return the rows with the one at `place` so many places on; beyond the first or last it stays."""
    target = place + step
    if not 0 <= target < len(rows):
        return rows
    return inserted(without(rows, place), target, rows[place])
