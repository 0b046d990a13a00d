"""Trying a remedy: whether the finding is gone with it, and what it brings instead."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from forescale.engine.mends.sentence import sentence
from forescale.engine.mends.taking import taken
from forescale.engine.solve.record import LEVELS, Answer, Finding, Mend

GRAVE = ("stop", "warn")


def tried(before: Answer, finding: Finding, offer: Mend) -> Mend | None:
    """Return a remedy with its sentence and its whole price; None where it does not mend, or brings a worse fault."""
    after = taken(before, offer.set)
    if after is None or not gone(before, finding, after):
        return None
    came = brought(before, after)
    if any(one.level == "stop" for one in came):
        return None
    prices = [offer.price] if offer.price else []
    prices += [f"then: {one.short or one.text}" for one in came[:2]]
    return replace(offer, text=sentence(before, offer.set), price="; ".join(prices) or None)


def gone(before: Answer, finding: Finding, after: Answer) -> bool:
    """Return whether a finding is gone: fewer are left of its kind, of which a shot may have several."""
    count = Counter(one.code for one in before.findings)
    return sum(one.code == finding.code for one in after.findings) < count[finding.code]


def brought(before: Answer, after: Answer) -> list[Finding]:
    """Return the warnings and stops that were not there before, or less grave."""
    had = {one.code: LEVELS.index(one.level) for one in reversed(before.findings)}
    return [
        one for one in after.findings if one.level in GRAVE and LEVELS.index(one.level) < had.get(one.code, len(LEVELS))
    ]
