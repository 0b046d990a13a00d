"""A TOML file written anew with the comments, and in the words, of the person who wrote it."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping, MutableMapping, MutableSequence
from typing import Any, TypeGuard

from forescale.engine.files.faults import BadInput

Table = Mapping[str, Any]


def with_comments(old: str, new: str, canonical: Callable[[Table], Table]) -> str | None:
    """Return what `new` holds as TOML, with what stays so as `old` has it, its comments, order and blank lines.

    `canonical` returns what the program itself would write for what a file holds; it may raise BadInput. A comment
    goes with what it stands beside: that of a value stays when the value changes, that of a row that is gone goes
    with it. None where `old` cannot be read, or anything would be lost.
    """
    import tomli_w
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    def written(text: str) -> Table:
        return tomllib.loads(tomli_w.dumps(canonical(tomllib.loads(text))))

    old = old if old.endswith("\n") else f"{old}\n"  # else what is put behind its last row ends up in its comment
    try:
        document, data = tomlkit.parse(old), tomllib.loads(new)
        _update(document, written(old), data)
        text = tomlkit.dumps(document)
        return text if written(text) == data else None
    except (BadInput, TOMLKitError, ValueError, TypeError, KeyError, IndexError):
        return None


def _update(table: MutableMapping[str, Any], before: Table, data: Table) -> None:
    """Bring a table of the old file, which held `before`, to hold `data`; what says what is usual anyway stays."""
    for name in [name for name in table if name in before and name not in data]:
        del table[name]
    for name, value in data.items():
        now, was = table.get(name), before.get(name)
        if was == value:
            continue
        if isinstance(now, MutableMapping) and isinstance(value, Mapping):
            _update(now, was or {}, value)
        elif isinstance(now, MutableSequence) and _has_rows(was) and _has_rows(value):
            _update_rows(table, now, was, value)
        else:
            table[name] = value


def _update_rows(
    table: MutableMapping[str, Any], rows: MutableSequence[Any], before: list[Any], data: list[Any]
) -> None:
    from forescale.engine.files.comment_rows import origins, put_in_order

    now = origins(before, data)
    if now != list(range(len(before))):
        put_in_order(table, rows, now, data)
    for place, (old, value) in enumerate(zip(now, data, strict=True)):
        if old is None or before[old] == value:
            continue
        if isinstance(value, Mapping):
            _update(rows[place], before[old], value)
        else:
            rows[place] = value


def _has_rows(value: Any) -> TypeGuard[list[Any]]:
    return isinstance(value, list) and bool(value)
