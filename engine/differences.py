"""In what two states of a shot differ: their fields, their chief answers and what is to be said of them."""

from __future__ import annotations

from dataclasses import dataclass

from engine.answer import Answer, Finding


@dataclass(frozen=True, slots=True)
class FindingsChange:
    """What is to be said of a second answer and not of the first, and the other way about."""

    brought: tuple[Finding, ...]
    gone: tuple[Finding, ...]


def findings_changed(first: Answer, second: Answer) -> FindingsChange:
    """Return the findings that came and went, by what they are about and how grave they are, not by their numbers."""
    return FindingsChange(_only_in(second, first), _only_in(first, second))


def _only_in(this: Answer, other: Answer) -> tuple[Finding, ...]:
    known = {(finding.code, finding.level) for finding in other.findings}
    return tuple(found for found in this.findings if found.level != "ok" and (found.code, found.level) not in known)
