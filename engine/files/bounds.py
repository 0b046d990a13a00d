"""How much a file may hold and how deep: what no person writes is refused before it costs time or memory."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

DEEPEST = 16  # tables in tables; a shot's marks stand four deep
MOST_VALUES = 50_000
MOST_ROWS = 5_000
LARGEST = 2**63  # TOML's own whole numbers go no further
SHORT = 4_000  # a text of fewer characters holds nothing that costs much


class BeyondBounds(ValueError):
    """A file holds more, or goes deeper, than can be worked with; the words follow the file's name."""


_STRINGS = re.compile(
    r'"""[^"\\]*+(?:(?:\\.|"(?!""))[^"\\]*+)*+"""|\'\'\'(?:[^\']|\'(?!\'\'))*+\'\'\''
    r'|"[^"\\\n]*+(?:\\.[^"\\\n]*+)*+"|\'[^\'\n]*+\'|#[^\n]*+',
    re.DOTALL,
)
_DEEP_KEY = re.compile(r"(?<![\w-])[\w-]++(?:[ \t]*+\.[ \t]*+[\w-]++){16}")


def check_text(text: str) -> None:
    """Raise BeyondBounds where a TOML text would cost more to read than anything that a person writes."""
    if len(text) < SHORT:
        return
    bare = _STRINGS.sub("s", text)
    if _DEEP_KEY.search(bare):
        raise BeyondBounds(f"a key in it goes more than {DEEPEST} tables deep")
    if max(bare.count("="), bare.count(","), bare.count("[")) > MOST_VALUES:
        raise BeyondBounds(f"it has more than {MOST_VALUES} values")


def check_data(data: Mapping[str, Any]) -> None:
    """Raise BeyondBounds where a file's data goes too deep, has too many rows, or a number beyond all use."""
    left: list[tuple[Any, int]] = [(data, 0)]
    while left:
        held, depth = left.pop()
        if depth > DEEPEST:
            raise BeyondBounds(f"it goes more than {DEEPEST} tables deep")
        if isinstance(held, Mapping):
            left += [(one, depth + 1) for one in held.values()]
        elif isinstance(held, list | tuple):
            if len(held) > MOST_ROWS:
                raise BeyondBounds(f"a list in it has {len(held)} rows, and at most {MOST_ROWS} can be worked with")
            left += [(one, depth + 1) for one in held]
        elif isinstance(held, int) and not -LARGEST <= held < LARGEST:
            raise BeyondBounds("a whole number in it has more digits than TOML allows")
