"""What a sheet is made of: sections of rows, tables and remarks, the same for text and for a page."""

from collections.abc import Callable
from typing import Any, NamedTuple

Spell = Callable[[str], str]


class Row(NamedTuple):
    """A named value, and what is to be said of it: `chosen` where the program chose it."""

    label: str
    value: str
    remark: str = ""
    chosen: bool = False

    @property
    def shown(self) -> str:
        """The value, marked where it was chosen."""
        return f"{self.value} (auto)" if self.chosen else self.value


class Table(NamedTuple):
    """Columns under their heads; those named in `numbers` (by place) stand to the right."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: frozenset[int] = frozenset()


class Remark(NamedTuple):
    """A sentence under a short mark, such as "WARN"."""

    mark: str
    text: str


Block = Row | Table | Remark


class Section(NamedTuple):
    """A part of the sheet; `note` says by which convention its numbers count."""

    title: str
    blocks: tuple[Block, ...]
    note: str = ""


def spelt(thing: Any, spell: Spell) -> Any:
    """Return a section, or anything that it is made of, in the signs that `spell` leaves."""
    if isinstance(thing, str):
        return spell(thing)
    if not isinstance(thing, tuple):
        return thing
    parts = [spelt(one, spell) for one in thing]
    return type(thing)(*parts) if hasattr(thing, "_fields") else tuple(parts)
