"""What a sheet is made of: sections of rows, tables and remarks, the same for text and for a page."""

from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

Spell = Callable[[str], str]


@dataclass(frozen=True, slots=True)
class Row:
    """A named value, and what is to be said of it: `chosen` where the program chose it."""

    label: str
    value: str
    remark: str = ""
    chosen: bool = False

    @property
    def shown(self) -> str:
        """The value, marked where it was chosen."""
        return f"{self.value} (auto)" if self.chosen else self.value


@dataclass(frozen=True, slots=True)
class Table:
    """Columns under their heads; those named in `numbers` (by place) stand to the right."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Remark:
    """A sentence under a short mark, such as "WARN"."""

    mark: str
    text: str


Block = Row | Table | Remark


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the sheet; `note` says by which convention its numbers count."""

    title: str
    blocks: tuple[Block, ...]
    note: str = ""


def spelt(thing: Any, spell: Spell) -> Any:
    """Return a section, or anything that it is made of, in the signs that `spell` leaves."""
    if isinstance(thing, str):
        return spell(thing)
    if isinstance(thing, tuple):
        return tuple(spelt(one, spell) for one in thing)
    if is_dataclass(thing) and not isinstance(thing, type):
        return replace(thing, **{part.name: spelt(getattr(thing, part.name), spell) for part in fields(thing)})
    return thing
