"""A search that lets keys through while it works, and what may vary in it, in the app's own words."""

import asyncio
import time
from collections.abc import AsyncIterator
from dataclasses import dataclass

from forescale.engine.field_help import FIELD_HELP
from forescale.engine.files.faults import BadInput
from forescale.engine.options.outcome import Gathering, Outcome
from forescale.engine.options.search import Miss, search
from forescale.engine.options.to_try import ToTry
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting

KEPT = 400  # more than anyone reads; the front is kept whole
SLICE_S = 0.02  # how long the search works before it lets keys through
TELL_EVERY_S = 0.3
MAY_VARY = ("scale.ratio", "place.model", "action.fps", "focus.distance", "focus.stop", "light.iso")


@dataclass(frozen=True, slots=True)
class SoFar:
    """How far a search has come: what it found, and the first of the ways that fail where they are asked for."""

    outcome: Outcome
    misses: tuple[Miss, ...]


async def searching(to_try: ToTry, *, with_misses: bool) -> AsyncIterator[SoFar]:
    """Yield how far a search has come, at last the whole of it."""
    gathering, misses = Gathering(to_try, KEPT), list[Miss]()
    told = rested = time.monotonic()
    for batch in search(to_try, with_misses=with_misses):
        gathering.add(batch)
        misses += batch.misses[: KEPT - len(misses)]
        now = time.monotonic()
        if now - rested > SLICE_S:
            await asyncio.sleep(0)
            rested = time.monotonic()
        if now - told > TELL_EVERY_S:
            yield SoFar(gathering.outcome(), tuple(misses))
            told = time.monotonic()
    yield SoFar(gathering.outcome(), tuple(misses))


def in_app(path: str) -> str:
    """Return what a field is called: 'the limit "largest part"' for limits.build_max."""
    return f'{"the limit " if path.startswith("limits.") else ""}"{FIELD_HELP[path].label}"'


def set_in(setting: Setting) -> list[str]:
    """Return the fields set in a shot that a search could let vary."""
    return [path for path in MAY_VARY if edit.value_at(setting, path) is not None]


def labels_of(paths: tuple[str, ...] | list[str]) -> str:
    """Return the labels of fields, with commas between."""
    return ", ".join(FIELD_HELP[path].label for path in paths)


def named_among(text: str, held: list[str]) -> tuple[str, ...]:
    """Return the fields that an entry names, by label, "all" or "none"; raises BadInput for one that is not held."""
    rest = text.strip().lower()
    if rest in {"", "none"}:
        return ()
    if rest == "all":
        return tuple(held)
    named = tuple(path for path in held if FIELD_HELP[path].label.lower() in rest)
    for path in named:
        rest = rest.replace(FIELD_HELP[path].label.lower(), "")
    if rest.replace(",", "").split():
        raise BadInput(f'"{rest.strip(" ,")}" is not set in the shot; type all, none, or of {labels_of(held)}')
    return named
