"""What a search has come to: the options in order, what was dropped and why, and a sentence on the whole."""

from __future__ import annotations

from dataclasses import dataclass

from forescale.engine.files.faults import Sentence
from forescale.engine.options.option import Option
from forescale.engine.options.rank import Ranked, Ranking
from forescale.engine.options.rejections import REASONS, Reason
from forescale.engine.options.search import Batch, Miss, search
from forescale.engine.options.shelves import Shelves
from forescale.engine.options.to_try import ToTry, plan
from forescale.engine.options.verdict import verdict
from forescale.engine.shot.records import Setting
from forescale.engine.units import UnitSystem


@dataclass(frozen=True, slots=True)
class Dropped:
    """How many ways failed for a reason."""

    code: Reason
    reason: str
    count: int


@dataclass(frozen=True, slots=True)
class Outcome:
    """The options, best first, those dropped by reason (most first), how many were searched and how many work."""

    options: tuple[Ranked, ...]
    dropped: tuple[Dropped, ...]
    searched: int
    working: int
    verdict: Sentence

    @property
    def top(self) -> Option | None:
        """The best way, against which the others are traded; None where nothing works."""
        return self.options[0].option if self.options else None


class Gathering:
    """A search as it comes in: batches go in, and at any time an outcome comes out."""

    def __init__(self, to_try: ToTry, keep: int | None = None) -> None:
        self.to_try = to_try
        self.searched = self.working = self._faint = 0
        self._ranking = Ranking(to_try.setting.limits.order, to_try.setting.kit, keep)
        self._dropped: dict[Reason, int] = {}
        self._modes: set[tuple[str, str]] = set()

    def add(self, batch: Batch) -> None:
        """Take in what became of some ways."""
        self.searched += batch.tried
        self.working += len(batch.options)
        self._faint += sum(option.faint for option in batch.options)
        self._ranking.add(batch.options)
        self._modes.update((option.in_mode.camera.name, option.in_mode.mode.name) for option in batch.options[:1])
        for reason, count in batch.dropped.items():
            self._dropped[reason] = self._dropped.get(reason, 0) + count

    def outcome(self) -> Outcome:
        """Return what has been found so far; where nothing works this looks for what would mend it."""
        most_first = sorted(self._dropped.items(), key=lambda item: -item[1])
        return Outcome(
            options=self._ranking.ranked(),
            dropped=tuple(Dropped(code, str(REASONS[code]), count) for code, count in most_first),
            searched=self.searched,
            working=self.working,
            verdict=verdict(self.to_try, dict(most_first), self.working, self._faint, self._modes),
        )


def find_options(
    setting: Setting,
    system: UnitSystem,
    shelves: Shelves,
    *,
    keep: int | None = None,
    where: str = "",
    misses: list[Miss] | None = None,
) -> Outcome:
    """Return the ways to shoot it with the kit at hand; raises BadInput.

    `keep` bounds how many are held beyond the front, and with it the memory; `misses` is given those that fail.
    """
    to_try = plan(setting, system, shelves, where)
    gathering = Gathering(to_try, keep)
    for batch in search(to_try, with_misses=misses is not None):
        gathering.add(batch)
        if misses is not None:
            misses += batch.misses
    return gathering.outcome()
