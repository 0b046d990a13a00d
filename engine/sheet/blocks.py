"""What a sheet is made of: sections of rows, tables and points, the same for text and for a page."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

Spell = Callable[[str], str]


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
        return f"{self.value} (auto)" if self.chosen else self.value

    def spelt(self, spell: Spell) -> Row:
        """Return the row in the signs that `spell` leaves."""
        return replace(self, label=spell(self.label), value=spell(self.value), remark=spell(self.remark))


@dataclass(frozen=True, slots=True)
class Table:
    """Columns under their heads; those named in `numbers` (by place) stand to the right."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: frozenset[int] = frozenset()

    def spelt(self, spell: Spell) -> Table:
        """Return the table in the signs that `spell` leaves."""
        heads, *rows = (tuple(map(spell, cells)) for cells in (self.heads, *self.rows))
        return replace(self, heads=heads, rows=tuple(rows))


@dataclass(frozen=True, slots=True)
class Remark:
    """A sentence under a short mark, such as "WARN"."""

    mark: str
    text: str

    def spelt(self, spell: Spell) -> Remark:
        """Return the point in the signs that `spell` leaves."""
        return Remark(spell(self.mark), spell(self.text))


Block = Row | Table | Remark


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the sheet; `note` says by which convention its numbers count."""

    title: str
    blocks: tuple[Block, ...]
    note: str = ""

    def spelt(self, spell: Spell) -> Section:
        """Return the section in the signs that `spell` leaves."""
        blocks = tuple(block.spelt(spell) for block in self.blocks)
        return Section(spell(self.title), blocks, spell(self.note))
