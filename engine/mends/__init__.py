"""What would mend a finding, as changes that can be made: each remedy is tried on the shot before it is offered."""

from collections.abc import Iterator

from forescale.engine.findings.words import with_advice
from forescale.engine.mends import focus, place, rate, slip
from forescale.engine.mends.taking import as_changes, gone, sentence, taken, taken_alone
from forescale.engine.solve.record import LEVELS, Answer, Finding, Mend

_OFFERED = (*place.OFFERS, *rate.OFFERS, *focus.OFFERS, *slip.OFFERS)
OFFERS = {code: offers for offers, codes in _OFFERED for code in codes.split()}
MOST = 4
GRAVE = ("stop", "warn")
_of_last: list[tuple[Answer, dict[Finding, tuple[Mend, ...]]]] = []  # the answer asked of last, with what was found


def mends(answer: Answer, finding: Finding) -> tuple[Mend, ...]:
    """Return what mends a finding, each tried on the shot, those without a price first; then what a hand can do."""
    if not _of_last or _of_last[0][0] is not answer:
        _of_last[:] = [(answer, {})]
    found = _of_last[0][1]
    if finding not in found:
        offered, can = [*_tried(answer, finding)], dict[tuple[tuple[str, str | None], ...], Mend]()
        for mend in (mend for mend in offered if mend.set):
            can.setdefault(tuple(mend.set.items()), mend)
        cheapest = sorted(can.values(), key=lambda mend: mend.price is not None)[:MOST]
        found[finding] = (*cheapest, *(mend for mend in offered if not mend.set))
    return found[finding]


def _tried(answer: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield what is offered for a finding and does mend it, with its whole price; then what a hand can do."""
    offers = OFFERS.get(finding.code)
    for offer in () if offers is None else offers(answer, finding):
        mend = _trial(answer, finding, offer) if offer.set else offer
        if mend is not None:
            yield mend
    if finding.by_hand:
        yield Mend(finding.by_hand)


def _trial(before: Answer, finding: Finding, offer: Mend) -> Mend | None:
    """Return a remedy with its sentence and its whole price; None where it does not mend, or brings a worse fault."""
    whole, after = taken_alone(before, offer.set)
    if after is None or not gone(before, finding, after):
        return None
    had = {one.code: LEVELS.index(one.level) for one in reversed(before.findings)}
    grave = (one for one in after.findings if one.level in GRAVE)
    came = [one for one in grave if LEVELS.index(one.level) < had.get(one.code, len(LEVELS))]
    if any(one.level == "stop" for one in came):
        return None
    prices = [offer.price] if offer.price else []
    prices += [f"then: {one.short or one.text}" for one in came[:2]]
    return Mend(offer.text or sentence(before, offer.set), whole, "; ".join(prices) or None)


def _first(answer: Answer, finding: Finding) -> Mend | None:
    """Return the first remedy of a finding, trying no more than it takes to find it."""
    rest = list[Mend]()
    for mend in _tried(answer, finding):
        if mend.set and mend.price is None:
            return mend
        rest.append(mend)
    if finding.level == "note" and finding.by_hand:  # a note is not worth a price
        return Mend(finding.by_hand)
    return min(rest, key=lambda mend: not mend.set, default=None)


def told(mend: Mend) -> str:
    """Return a remedy with its price: "Set f/5 (then: ...)"."""
    return f"{mend.text[0].upper()}{mend.text[1:]}{'' if mend.price is None else f' ({mend.price})'}"


def joined(answer: Answer, finding: Finding) -> str:
    """Return a finding's sentence with the first of its remedies, and what that costs."""
    return joined_both(answer, finding)[0]


def joined_both(answer: Answer, finding: Finding) -> tuple[str, str]:
    """Return that, and the finding in short with the same; empty where its sentence is short and has none."""
    first = _first(answer, finding)
    if first is None:
        return finding.text, finding.short
    price = "" if first.price is None else f" ({first.price})"
    # Two findings that send each other round say in short too what it costs.
    whole, short = (with_advice(said, first.text) + price for said in (finding.text, finding.short or finding.text))
    return whole, short
