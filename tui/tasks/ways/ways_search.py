"""A search that lets keys through while it works, and tells from time to time how far it has come."""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator
from dataclasses import dataclass

from forescale.engine.options import Gathering, Miss, Outcome, ToTry, search

KEPT = 400  # more than anyone reads; the front is kept whole
SLICE_S = 0.02  # how long the search works before it lets keys through
TELL_EVERY_S = 0.3


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
