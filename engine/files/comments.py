"""A TOML file written anew with the comments and words of whoever wrote it; loaded only where needed, as tomlkit is."""

import tomllib
from collections.abc import Callable, Mapping, MutableMapping, MutableSequence, Sequence
from typing import Any

import tomli_w
import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Comment, Table, Whitespace

from forescale.engine.files.faults import BadInput

Held = Mapping[str, Any]  # a table of a file


def with_comments(old: str, new: str, canonical: Callable[[Held], Held]) -> str | None:
    """Return what `new` holds, the rest as `old` has it, each comment with what it stands beside; None if any goes."""

    def written(text: str) -> Held:  # as the program would write what a file holds
        return tomllib.loads(tomli_w.dumps(canonical(tomllib.loads(text))))

    old = old if old.endswith("\n") else f"{old}\n"  # else what is put behind its last row ends up in its comment
    try:
        document, data = tomlkit.parse(old), tomllib.loads(new)
        _update(document, written(old), data)
        text = tomlkit.dumps(document)
        return text if written(text) == data else None
    except (BadInput, TOMLKitError, ValueError, TypeError, KeyError, IndexError):
        return None


def _update(table: MutableMapping[str, Any], before: Held, data: Held) -> None:
    """Bring a table of the old file, which held `before`, to hold `data`; what says what is usual anyway stays."""
    for name in [name for name in table if name in before and name not in data]:
        del table[name]
    for name, value in data.items():
        now, was = table.get(name), before.get(name)
        if was == value:
            continue
        if isinstance(now, MutableMapping) and isinstance(value, Mapping):
            _update(now, was or {}, value)
        elif isinstance(now, MutableSequence) and isinstance(was, list) and isinstance(value, list) and was and value:
            _update_rows(table, now, was, value)
        else:
            table[name] = value


def _update_rows(table: Any, rows: MutableSequence[Any], before: list[Any], data: list[Any]) -> None:
    now = _origins(before, data)
    if now != list(range(len(before))):
        _put_in_order(table, rows, now, data)
    for place, (old, value) in enumerate(zip(now, data, strict=True)):
        if old is not None and before[old] != value:
            if isinstance(value, Mapping):
                _update(rows[place], before[old], value)
            else:
                rows[place] = value


def _origins(before: Sequence[Any], data: Sequence[Any]) -> list[int | None]:
    """Return for each row now which one it was before: the one like it, or one changed in its place; None for none."""
    left = list(range(len(before)))
    found: list[int | None] = []
    for row in data:
        found.append(next((old for old in left if before[old] == row), None))
        left = [old for old in left if old != found[-1]]
    for place in (place for place, old in enumerate(found) if old is None):
        above = next((old for old in reversed(found[:place]) if old is not None), -1)
        below = next((old for old in found[place:] if old is not None), len(before))
        found[place] = next((old for old in left if above < old < below), None)
        left = [old for old in left if old != found[place]]
    return found


def _put_in_order(table: Any, rows: MutableSequence[Any], now: Sequence[int | None], data: Sequence[Any]) -> None:
    """Put each old row listed in `table` where its number stands in `now`, and new ones of `data`; the others go."""
    if isinstance(rows, AoT):
        # each row takes the comments right above it, which TOML reads as the end of what stands before
        body = getattr(table.value if isinstance(table, Table) else table, "body", [])
        start = next((place for place, (_, one) in enumerate(body) if one is rows), 0)
        ends = [(body, start), *((row.value.body, len(row.value.body)) for row in rows)]
        for row, (before, end) in zip(rows, ends, strict=False):
            row.trivia.indent = _cut_comments(before, end) + row.trivia.indent
    old, kept = list(rows), [number for number in now if number is not None]
    if kept == sorted(kept):
        for gone in sorted(set(range(len(old))) - set(kept), reverse=True):
            del rows[gone]
        for place in (place for place, number in enumerate(now) if number is None):
            rows.insert(place, data[place])
    else:
        del rows[:]
        rows.extend(data[place] if number is None else old[number] for place, number in enumerate(now))


def _cut_comments(body: list[Any], end: int) -> str:
    """Return the comments last before `end`, of pairs of a key or None and what stands there; leave nothing there."""
    last = body[end - 1][1] if end else None
    last = last[-1] if isinstance(last, AoT) else last
    if isinstance(last, Table):
        return _cut_comments(last.value.body, len(last.value.body))
    start = end
    while start and isinstance(body[start - 1][1], Comment):
        start -= 1
    text = "".join(one.as_string() for _, one in body[start:end])
    body[start:end] = [(None, Whitespace(""))] * (end - start)
    return text
