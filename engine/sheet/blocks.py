"""What a sheet is made of: sections of rows, tables and points, the same for text and for a page."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """A named value, and what is to be said of it: `marked` where the program chose it."""

    label: str
    value: str
    remark: str = ""
    chosen: bool = False

    @property
    def shown(self) -> str:
        """The value, marked where it was chosen."""
        return f"{self.value} (chosen)" if self.chosen else self.value


@dataclass(frozen=True, slots=True)
class Table:
    """Columns under their heads; those named in `numbers` (by place) stand to the right."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Point:
    """A sentence under a short mark, such as "WARN"."""

    mark: str
    text: str


Block = Row | Table | Point


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the sheet; `note` says by which convention its numbers count."""

    title: str
    blocks: tuple[Block, ...]
    note: str = ""
