"""One sentence or two on a whole search: what rules it, and where nothing works, what would mend it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from engine.edit import changed, value_at
from engine.faults import BadInput
from engine.lineup import reads_as_ratio
from engine.options.gates import REASONS, Reason
from engine.options.quest import Quest, plan
from engine.options.search import search
from engine.units import ratio_text

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


def verdict(quest: Quest, dropped: Mapping[Reason, int], working: int, modes: set[tuple[str, str]]) -> str:
    """Return what is to be said of a search; `dropped` has the reasons most first, `modes` those that work."""
    searched = working + sum(dropped.values())
    if searched < quest.ways:
        return f"{searched} of {quest.ways} ways tried so far; {working} work."
    if not working:
        return _nothing(quest, dropped, searched)
    if not dropped:
        return f"All {searched} ways work: choose by what you want most.{_unbounded(quest)}"
    worst, count = next(iter(dropped.items()))
    rest = f"of those that fail, most ({count} of {searched - working}) fail because {REASONS[worst]}."
    works = f"{working} of {searched} ways work"
    if len(modes) == 1 and len(quest.bodies) > 1:
        camera, mode = next(iter(modes))
        works = f"Only one mode works, {mode} of {camera}, in {working} of {searched} ways"
    return f"{works}; {rest}{_unbounded(quest)}"


def _unbounded(quest: Quest) -> str:
    """Say that nothing bounds the model where its ratio is searched, since contrast and detail both ask for more."""
    if len(quest.ratios) == 1 or quest.setting.limits.build_max is not None:
        return ""
    return " Nothing bounds the size of the model: set limits.build_max to what can be built and carried."


def _nothing(quest: Quest, dropped: Mapping[Reason, int], searched: int) -> str:
    worst, count = next(iter(dropped.items()))
    said = f"None of {searched} ways works"
    if dropped.keys() <= _OF_THE_LENS:
        said = f"No lens at hand reaches: none of {searched} ways works"
    share = "all" if count == searched else f"most ({count})"
    said += f", {share} because {REASONS[worst]}.{_wanted_ratio(quest, dropped)}"
    mends = list(_mends(quest, dropped))
    if not mends:
        return f"{said} No one thing that is set would mend it by being given up."
    gains = ", ".join(f"{path} {count}" for path, count in mends)
    if len(mends) == 1:
        return f"{said} Without {mends[0][0]} {mends[0][1]} would work."
    return f"{said} What is set contradicts itself: giving up one thing would free some ways ({gains})."


def _wanted_ratio(quest: Quest, dropped: Mapping[Reason, int]) -> str:
    """Say which ratio the place set asks for, where none of those tried is near it."""
    place = quest.setting.place
    if "match" not in dropped or quest.setting.scale.ratio is not None or place.model is None:
        return ""
    ratio = ratio_text(float(f"{reads_as_ratio(place.model, place.background):.3g}"))
    return f" Where it is set, the model reads as about {ratio}, which limits.ratios can add."


def _mends(quest: Quest, dropped: Mapping[Reason, int]) -> Iterator[tuple[str, int]]:
    """Yield each field whose being given up alone lets ways through, and how many, found by searching again."""
    for path in dict.fromkeys(path for reason in dropped for path in _EASES[reason]):
        if not value_at(quest.setting, path):
            continue
        eased = () if path == "limits.hold" else _MOST.get(path)
        try:
            again = plan(changed(quest.setting, {path: eased}), quest.system, quest.shelves)
        except BadInput:
            continue
        if count := sum(len(batch.options) for batch in search(again)):
            yield path, count
