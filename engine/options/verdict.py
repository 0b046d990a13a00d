"""One sentence or two on a whole search: what rules it, and where nothing works, what would mend it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from forescale.engine.files.faults import At, BadInput, Sentence, sentence
from forescale.engine.options.option import FAINT_CONTRAST
from forescale.engine.options.rejections import REASONS, Reason
from forescale.engine.options.search import search
from forescale.engine.options.to_try import ToTry, plan
from forescale.engine.shot.edit import changed, value_at

# What may be given up to get past each reason, and what a limit with a default is eased to.
_EASES: dict[Reason, tuple[str, ...]] = {
    "build": ("limits.build_max", "scale.ratio"),
    "rate": ("action.fps", "limits.hold"),
    "gravity": ("limits.gravity", "action.fps", "scale.ratio", "limits.hold"),
    "inside": ("place.model", "focus.distance", "scale.ratio", "limits.hold"),
    "match": ("place.model", "scale.ratio"),
    "move": ("place.model", "scale.ratio"),
    "close": ("focus.distance", "place.model", "scale.ratio", "limits.hold"),
    "stop": ("focus.stop", "limits.hold"),
    "small": ("limits.frame_min", "place.model", "limits.hold"),
    "large": ("limits.frame_max", "place.model", "limits.hold"),
    "zone": ("focus.stop", "focus.distance", "place.model", "scale.ratio", "limits.hold"),
    "light": ("limits.short_stops", "light.iso", "focus.stop", "limits.hold"),
}
_MOST: dict[str, float] = {"limits.gravity": 100, "limits.short_stops": 20}
_OF_THE_LENS: frozenset[Reason] = frozenset({"inside", "close", "stop", "zone"})


def verdict(
    to_try: ToTry, dropped: Mapping[Reason, int], working: int, faint: int, modes: set[tuple[str, str]]
) -> Sentence:
    """Return what is to be said of a search.

    `dropped` has the reasons most first, `faint` counts the ways that work with hardly any contrast, and `modes` has
    the cameras' modes that work.
    """
    searched = working + sum(dropped.values())
    if searched < to_try.ways:
        return sentence(f"{searched} of {to_try.ways} ways tried so far; {working} work.")
    if not working:
        return _nothing(to_try, dropped, searched)
    more = sentence(_faint(working, faint)) + _unbounded(to_try)
    if not dropped:
        return sentence(f"All {searched} ways work: choose by what you want most.") + more
    works = f"{working} of {searched} ways work"
    if len(modes) == 1 and len(to_try.modes_at_hand) > 1:
        camera, mode = next(iter(modes))
        works = f"Only one mode works, {mode} of {camera}, in {working} of {searched} ways"
    worst, count = next(iter(dropped.items()))
    failing = searched - working
    share = "" if failing == 1 else ", all" if count == failing else f", {count} of them"
    fail = "fails" if failing == 1 else "fail"
    return sentence(f"{works}; {failing} {fail}{share} because ") + REASONS[worst] + "." + more


def _faint(working: int, faint: int) -> str:
    """Say how many ways work with hardly any contrast, since that alone drops none."""
    if not faint:
        return ""
    who = "All that work" if faint == working else f"{faint} of those that work"
    have = "has" if faint == 1 < working else "have"
    return f" {who} {have} under {100 * FAINT_CONTRAST:.0f} % contrast: fine detail is all but lost there."


def _unbounded(to_try: ToTry) -> Sentence:
    """Say that nothing bounds the model where its ratio is searched, since contrast and detail both ask for more."""
    if len(to_try.ratios) == 1 or to_try.setting.limits.build_max is not None:
        return sentence()
    most = At("limits.build_max")
    return sentence(" Nothing bounds the size of the model: set ", most, " to what can be built and carried.")


def _nothing(to_try: ToTry, dropped: Mapping[Reason, int], searched: int) -> Sentence:
    worst, count = next(iter(dropped.items()))
    lens = "No lens at hand reaches. " if dropped.keys() <= _OF_THE_LENS else ""
    share = "all fail" if count == searched else f"{count} fail" if count > 1 else "1 fails"
    said = sentence(f"{lens}None of {searched} ways works: {share} because ") + REASONS[worst] + "."
    mends = list(_mends(to_try, dropped))
    if not mends:
        return said + " No one thing that is set would mend it by being given up."
    (first, gain), *others = mends
    if not others:
        return said + sentence(" Without ", first, f" {_ways(gain)} would work.")
    said += sentence(" What is set contradicts itself: without ", first, f" {_ways(gain)} would work")
    for path, count in others:
        said += sentence(", without ", path, f" {count}")
    return said + "."


def _ways(count: int) -> str:
    return f"{count} {'way' if count == 1 else 'ways'}"


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
