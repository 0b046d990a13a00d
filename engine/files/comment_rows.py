"""The rows of a list in a TOML file, each with the comments above and beside it, put in the order they have now."""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence
from typing import Any

from tomlkit.items import AoT, Comment, Table, Whitespace

Entries = list[Any]  # pairs of a key, None for a comment or a blank line, and what stands there


def origins(before: Sequence[Any], data: Sequence[Any]) -> list[int | None]:
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


def put_in_order(table: Any, rows: MutableSequence[Any], now: Sequence[int | None], data: Sequence[Any]) -> None:
    """Put each old row where its number stands in `now`, and what `data` has there for a new one; the others go.

    `table` is what the rows are listed in.
    """
    if isinstance(rows, AoT):
        _carry_comments(getattr(table.value if isinstance(table, Table) else table, "body", []), rows)
    old, kept = list(rows), [number for number in now if number is not None]
    if kept == sorted(kept):
        for gone in sorted(set(range(len(old))) - set(kept), reverse=True):
            del rows[gone]
        for place in (place for place, number in enumerate(now) if number is None):
            rows.insert(place, data[place])
    else:
        del rows[:]
        rows.extend(data[place] if number is None else old[number] for place, number in enumerate(now))


def _carry_comments(body: Entries, rows: AoT) -> None:
    """Give each row the comments right above it, which TOML reads as the end of what stands before."""
    place = next((place for place, (_, one) in enumerate(body) if one is rows), 0)
    ends = [(body, place), *((row.value.body, len(row.value.body)) for row in rows)]
    for row, (before, end) in zip(rows, ends, strict=False):
        row.trivia.indent = _cut_comments(before, end) + row.trivia.indent


def _cut_comments(body: Entries, end: int) -> str:
    """Return the comments that stand last before `end`, and leave nothing in their place."""
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
