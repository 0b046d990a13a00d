"""Undo and redo in words: what the step changed, and how that was before it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from forescale.engine.compare.differences import NOT_GIVEN, Difference, fields_that_differ
from forescale.engine.shot.records import Shot

Step = Literal["Undone", "Redone"]
OUT = "left out"
_ONE_OF = {"saved states": "saved state", "takes": "take"}


def changed_by_step(before: Shot, after: Shot) -> tuple[Difference, ...]:
    """Return what a step changed: the fields that are set, and then what else the file holds."""
    found = (*fields_that_differ(before, after, after.units), *_beside_the_fields(before, after))
    if not found and before.bench != after.bench:  # its readings noted, or no longer, what they were taken with
        return (Difference("bench", "", ""),)
    return found


def _beside_the_fields(before: Shot, after: Shot) -> Iterator[Difference]:
    if before.title != after.title:
        yield Difference("title", before.title, after.title)
    if before.notes != after.notes:
        yield Difference("notes", "", "")
    if before.units != after.units:
        yield Difference("units", before.units, after.units)
    for what, one, other in (("saved states", before.mark, after.mark), ("takes", before.take, after.take)):
        if one != other:
            yield Difference(what, str(len(one)), str(len(other)))


def step_words(step: Step, changes: Sequence[Difference]) -> tuple[str, ...]:
    """Return what a step did in words, "Undone: meet height 20 ft again, was 18 ft", and then more briefly."""
    if not changes:
        return (step,)
    more = f", and {len(changes) - 1} more" if len(changes) > 1 else ""
    first = changes[0]
    if first.what in _ONE_OF and first.first != first.second:
        return (f"{step}: {_counted(first)}{more}",)
    if first.second in {first.first, f"{first.first}, otherwise"}:  # long texts, and lists of as many rows
        return (f"{step}: a change of the {first.what}{more}",)
    was, is_now = (OUT if text == NOT_GIVEN else text for text in (first.first, first.second))
    now = f"{step}: {first.what} {is_now}{' again' if step == 'Undone' else ''}"
    return f"{now}, was {was}{more}", f"{now}{more}"


def _counted(rows: Difference) -> str:
    """Return "a saved state is back", "2 takes are gone"."""
    count = int(rows.second) - int(rows.first)
    which = f"a {_ONE_OF[rows.what]} is" if abs(count) == 1 else f"{abs(count)} {rows.what} are"
    return f"{which} {'back' if count > 0 else 'gone'}"
