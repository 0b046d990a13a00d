"""What would mend a finding, as changes that can be made: each remedy is tried on the shot before it is offered."""

from __future__ import annotations

from forescale.engine.mends.offers import OFFERS
from forescale.engine.mends.taking import as_changes, taken
from forescale.engine.mends.trial import tried
from forescale.engine.solve.record import Answer, Finding, Mend

__all__ = ["as_changes", "joined", "joined_short", "mends", "taken"]

MOST = 4
_of_last: list[tuple[Answer, dict[Finding, tuple[Mend, ...]]]] = []  # the answer asked of last, with what was found


def mends(answer: Answer, finding: Finding) -> tuple[Mend, ...]:
    """Return what mends a finding of an answer, those without a price first; solves anew once for each tried.

    After each that sets anything the finding is gone, and nothing as grave has come that its price does not say. Those
    that set nothing are for a person to do.
    """
    if not _of_last or _of_last[0][0] is not answer:
        _of_last[:] = [(answer, {})]
    found = _of_last[0][1]
    if finding not in found:
        found[finding] = _found(answer, finding)
    return found[finding]


def _found(answer: Answer, finding: Finding) -> tuple[Mend, ...]:
    offers = OFFERS.get(finding.code)
    offered = [] if offers is None else list(offers(answer, finding))
    can = [mend for offer in offered if offer.set and (mend := tried(answer, finding, offer)) is not None]
    by_hand = [offer for offer in offered if not offer.set]
    unlike = list({tuple(mend.set.items()): mend for mend in reversed(can)}.values())[::-1]
    return (*sorted(unlike, key=lambda mend: mend.price is not None)[:MOST], *by_hand)


def _first(answer: Answer, finding: Finding) -> Mend | None:
    """Return the first remedy of a finding, trying no more than it takes to find it."""
    offers, rest = OFFERS.get(finding.code), list[Mend]()
    for offer in () if offers is None else offers(answer, finding):
        mend = tried(answer, finding, offer) if offer.set else offer
        if mend is not None and mend.set and mend.price is None:
            return mend
        rest += [] if mend is None else [mend]
    return min(rest, key=lambda mend: not mend.set, default=None)


def joined(answer: Answer, finding: Finding) -> str:
    """Return a finding's sentence with the first of its remedies, and what that costs."""
    first = _first(answer, finding)
    if first is None:
        return finding.text
    price = "" if first.price is None else f" ({first.price})"
    return f"{finding.text}{';' if ': ' in finding.text else ':'} {first.text}{price}"


def joined_short(answer: Answer, finding: Finding) -> str:
    """Return a finding in short with the first of its remedies; empty where its sentence is short and has none."""
    first = _first(answer, finding)
    return finding.short if first is None else f"{finding.short or finding.text}: {first.text}"
