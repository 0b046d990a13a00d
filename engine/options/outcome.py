"""What a search has come to: the options in order, what was dropped and why, and a sentence on the whole."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from forescale.engine.files.faults import At, BadInput, Sentence, sentence
from forescale.engine.options.option import FAINT_CONTRAST, Ranked, Ranking
from forescale.engine.options.search import REASONS, Batch, Reason, search
from forescale.engine.options.to_try import Shelves, ToTry, plan
from forescale.engine.shot.edit import changed, value_at
from forescale.engine.shot.records import Setting
from forescale.engine.units import UnitSystem

# What may be given up to get past each reason, and what a limit with a default is eased to.
_HELD = "limits.hold"
_PLACE = ("place.model", "scale.ratio")
_BUILD = ("limits.build_max", "scale.ratio")
_EASES: dict[Reason, tuple[str, ...]] = {"blur": ("focus.sharpness", _HELD), "rate": ("action.fps", _HELD)}
_EASES |= {"gravity": ("limits.gravity", "action.fps", "scale.ratio", _HELD), "build": _BUILD}
_EASES |= {"inside": ("place.model", "focus.distance", "scale.ratio", _HELD), "match": _PLACE, "move": _PLACE}
_EASES |= {"close": ("focus.distance", *_PLACE, _HELD), "zone": ("focus.stop", "focus.distance", *_PLACE, _HELD)}
_EASES |= {"small": ("limits.frame_min", "place.model", _HELD), "large": ("limits.frame_max", "place.model", _HELD)}
_EASES |= {"stop": ("focus.stop", _HELD), "light": ("limits.short_stops", "light.iso", "focus.stop", _HELD)}
_MOST: dict[str, float] = {"limits.gravity": 100, "limits.short_stops": 20}
_OF_THE_LENS: frozenset[Reason] = frozenset({"inside", "close", "stop", "zone"})


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


class Gathering:
    """A search as it comes in: batches go in, and at any time an outcome comes out."""

    def __init__(self, to_try: ToTry, keep: int | None = None) -> None:
        self.to_try = to_try
        self.searched = self.working = self._faint = 0
        self._ranking = Ranking(to_try.setting.limits.order, to_try.setting.kit, keep)
        self._dropped = Counter[Reason]()
        self._modes: set[tuple[str, str]] = set()

    def add(self, batch: Batch) -> None:
        """Take in what became of some ways."""
        self.searched += batch.tried
        self.working += len(batch.options)
        self._faint += sum(option.faint for option in batch.options)
        self._ranking.add(batch.options)
        self._modes.update((option.in_mode.camera.name, option.in_mode.mode.name) for option in batch.options[:1])
        self._dropped.update(batch.dropped)

    def outcome(self) -> Outcome:
        """Return what has been found so far; where nothing works this looks for what would mend it."""
        most_first = self._dropped.most_common()
        dropped = tuple(Dropped(code, str(REASONS[code]), count) for code, count in most_first)
        return Outcome(self._ranking.ranked(), dropped, self.searched, self.working, self._verdict(dict(most_first)))

    def _verdict(self, dropped: Mapping[Reason, int]) -> Sentence:
        """Return what is to be said of the search; `dropped` has the reasons most first."""
        searched, working, ways = self.searched, self.working, self.to_try.ways
        if searched < ways:
            return sentence(f"{searched} of {ways} ways tried so far; {working} work{'s' * (working == 1)}.")
        if not working:
            return _nothing(self.to_try, dropped, searched)
        more = sentence()
        if self._faint:  # said, since hardly any contrast drops none
            who = f"{self._faint} of those that work {'has' if self._faint == 1 else 'have'}"
            who = "All that work have" if self._faint == working else who
            more = sentence(f" {who} under {100 * FAINT_CONTRAST:.0f} % contrast: fine detail is all but lost there.")
        if len(self.to_try.ratios) > 1 and self.to_try.setting.limits.build_max is None:  # contrast and detail ask more
            most = At("limits.build_max")
            more += sentence(" Nothing bounds the size of the model: set ", most, " to what can be built and carried.")
        if not dropped:
            all_work = f"All {searched} ways work: choose by what you want most."
            return sentence("The one way works." if searched == 1 else all_work) + more
        works = f"{working} of {searched} ways work{'s' * (working == 1)}"
        if len(self._modes) == 1 and len(self.to_try.modes_at_hand) > 1:
            camera, mode = next(iter(self._modes))
            works = f"Only one mode works, {mode} of {camera}, in {working} of {searched} ways"
        worst, count = next(iter(dropped.items()))
        failing = searched - working
        share = "" if failing == 1 else ", all" if count == failing else f", {count} of them"
        fail = "fails" if failing == 1 else "fail"
        return sentence(f"{works}; {failing} {fail}{share} because ") + REASONS[worst] + "." + more


def find_options(
    setting: Setting, system: UnitSystem, shelves: Shelves, *, keep: int | None = None, where: str = ""
) -> Outcome:
    """Return the ways with the kit at hand, `keep` of them beside the front; raises BadInput."""
    to_try = plan(setting, system, shelves, where)
    gathering = Gathering(to_try, keep)
    for batch in search(to_try):
        gathering.add(batch)
    return gathering.outcome()


def _nothing(to_try: ToTry, dropped: Mapping[Reason, int], searched: int) -> Sentence:
    worst, count = next(iter(dropped.items()))
    lens = "No lens at hand reaches. " if dropped.keys() <= _OF_THE_LENS else ""
    share = "all fail" if count == searched else f"{count} fail" if count > 1 else "1 fails"
    none = "The one way fails" if searched == 1 else f"None of {searched} ways works: {share}"
    said = sentence(f"{lens}{none} because ") + REASONS[worst] + "."
    mends = list(_mends(to_try, dropped))
    if not mends:
        return said + " No one thing that is set would mend it by being given up."
    (first, gain), *others = mends
    gained = f" {gain} {'way' if gain == 1 else 'ways'} would work"
    if not others:
        return said + sentence(" Without ", first, f"{gained}.")
    said += sentence(" What is set contradicts itself: without ", first, gained)
    for path, count in others:
        said += sentence(", without ", path, f" {count}")
    return said + "."


def _mends(to_try: ToTry, dropped: Mapping[Reason, int]) -> Iterator[tuple[At, int]]:
    """Yield each field whose being given up alone lets ways through, and how many, found by searching again."""
    for path in dict.fromkeys(path for reason in dropped for path in _EASES[reason]):
        if not value_at(to_try.setting, path):
            continue
        eased = () if path == "limits.hold" else _MOST.get(path)
        try:
            again = plan(changed(to_try.setting, {path: eased}), to_try.system, to_try.shelves)
        except BadInput:
            continue
        if count := sum(len(batch.options) for batch in search(again)):
            yield At(path), count
