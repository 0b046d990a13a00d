"""What a trial of many tries counts, and how it is told."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass
class Tally:
    """How often something was tried, what came of it by name, and every failure in a line or more."""

    what: str
    tries: int = 0
    seen: dict[str, int] = field(default_factory=dict)
    failures: list[str] = field(default_factory=list)

    def count(self, name: str) -> None:
        """Count one outcome."""
        self.seen[name] = self.seen.get(name, 0) + 1

    def __str__(self) -> str:
        seen = ", ".join(f"{name} {number}" for name, number in sorted(self.seen.items()))
        return f"{self.what}: {self.tries} tries, {len(self.failures)} failures ({seen})"
