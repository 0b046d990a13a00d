"""One way to shoot it: its numbers, the changes that put it on the shot, its full answer, and which way is better.

A goal counts in steps, since a hundredth more contrast should not outweigh a model twice the size.
"""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import reduce
from operator import and_, getitem

from forescale.engine.answer import Answer, answer
from forescale.engine.findings.words import Words
from forescale.engine.formulas.frame_rate import HEAVY_GRAVITY
from forescale.engine.kit.kit import Kit
from forescale.engine.options.to_try import CameraMode, LensAt, ToTry
from forescale.engine.shot.edit import changed, number_at
from forescale.engine.shot.records import Setting
from forescale.engine.shot.sections import Goal, KitChoice
from forescale.engine.solve.record import Finding
from forescale.engine.solve.slip_check import slide_goal
from forescale.engine.solve.speed_light import pulse_of
from forescale.engine.units import exact_length

FAINT_CONTRAST = 0.1  # with less, detail counts as not resolved: common practice, no source
CONTRAST_STEP = 0.03  # as much as is worth a word
SIZE_STEP = 1.1  # a tenth more or less in size
TOLERANCE_STEP = 1.25  # a quarter more or less of what may be off
LIGHT_STEPS = 3  # a third of a stop
ENDLESS = 10**6  # the step of what has no end

Rank = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Option:
    """A way that works, in the numbers by which it is weighed; lengths in mm, light in lux, exact f-number.

    `model_mm` is the model's tape distance, `build_mm` the size of its largest part and `frame_share` how much of
    the frame's width that fills (None where nothing is to be built). `gravity` is 1 where the action looks as heavy
    as it should, None where its rate is free. `iso` is raised above the set or base speed only where the light needs
    it; `base_lux` is what would be needed without.
    """

    to_try: ToTry = field(repr=False, compare=False)
    in_mode: CameraMode
    lens_at: LensAt
    ratio: float
    iso: float
    model_mm: float
    build_mm: float | None
    frame_share: float | None
    fps: float
    gravity: float | None
    f_number: float
    worst_contrast: float
    drift_tolerance_mm: float
    lux_with_nd: float
    base_lux: float
    over_stops: float | None

    @property
    def heavy(self) -> bool:
        """Whether the action falls harder than it should."""
        return self.gravity is not None and self.gravity > HEAVY_GRAVITY

    @property
    def flickers(self) -> bool:
        """Whether lamps flicker at the rate."""
        pulse = pulse_of(self.to_try.setting, self.in_mode.mode)
        return pulse is not None and not pulse.is_safe(self.fps, self.to_try.setting.action.shutter)

    @property
    def faint(self) -> bool:
        """Whether fine detail is all but lost somewhere in the zone."""
        return self.worst_contrast < FAINT_CONTRAST


def as_changes(option: Option) -> dict[str, str | None]:
    """Return the fields that put this way on the shot, as a file holds them, None where one goes; open ones stay so."""
    lens, mode = option.lens_at.lens, option.in_mode.mode
    changes: dict[str, str | None] = {
        "kit.camera": option.in_mode.camera.name,
        "kit.mode": mode.name,
        "kit.lens": lens.name,
        "kit.focal_length": _text("kit.focal_length", option.lens_at.focal_mm) if lens.is_zoom else None,
        "scale.ratio": _text("scale.ratio", option.ratio),
    }
    if option.to_try.setting.light.iso is None and option.iso != mode.iso_base:
        changes["light.iso"] = _text("light.iso", option.iso)
    return changes


def _text(path: str, value: float) -> str:
    return number_at(Setting, path).show(value)


def taken(option: Option) -> tuple[dict[str, str | None], Answer]:
    """Return the changes that put this way on the shot, with the slide that its lens wants, and the full answer."""
    to_try, lens_at, changes = option.to_try, option.lens_at, as_changes(option)
    kit = Kit(option.in_mode.camera, option.in_mode.mode, lens_at.lens, lens_at.focal_mm, to_try.shelves.head)
    found = answer(changed(to_try.setting, changes), kit, to_try.system)
    goal = slide_goal(found)
    if goal is not None and any(finding.code == "slip-over" for finding in found.findings):
        changes["move.slide"] = exact_length(goal.to_set_mm, "metric")
        found = answer(changed(to_try.setting, changes), kit, to_try.system)
    return changes, found


def amiss(found: Answer) -> list[Finding]:
    """Return what is amiss with a way that works; a bench tells nothing of other kit, and a filter takes light away."""
    wrong = (finding for finding in found.findings if finding.level in {"warn", "stop"})
    return [finding for finding in wrong if not finding.code.startswith(("bench-", "light-over"))]


def to_mind(found: Answer, changes: Mapping[str, str | None]) -> list[str]:
    """Return in words what is amiss with a way, and where its slide goes if elsewhere than it stands."""
    told = [one.short or one.text for one in amiss(found)]
    slide = found.setting.move.slide if "move.slide" in changes else None
    return told if slide is None else [*told, f"the slide goes to {Words(found).on_slide.mark(slide)}"]


def _steps(value: float, step: float) -> int:
    """Return the nearest whole number of steps of proportion; the step of infinity is ENDLESS."""
    return ENDLESS if math.isinf(value) else round(math.log(value) / math.log(step))


_STEPS: dict[Goal, Callable[[Option], int]] = {
    "contrast": lambda option: round(option.worst_contrast / CONTRAST_STEP),
    "model": lambda option: -_steps(option.ratio, SIZE_STEP),
    "tolerance": lambda option: _steps(option.drift_tolerance_mm, TOLERANCE_STEP),
    "light": lambda option: -round(LIGHT_STEPS * math.log2(option.base_lux)),
    "build": lambda option: _steps(option.ratio, SIZE_STEP),
}


def level(option: Option, order: Sequence[Goal]) -> Rank:
    """Return how far an option gets in each goal, in whole steps, more being better.

    The tolerance is that of drift. The slide's goes with it: both are t·d / (v·(1 − d/D)), but for what the sweep
    makes of it. Light counts at the ISO set, or the mode's base.
    """
    return tuple(_STEPS[goal](option) for goal in order)


def front(levels: Iterable[Rank]) -> set[Rank]:
    """Return the levels that no other beats: none is at least as good in all goals and better in one (Pareto).

    Every level is a bit; for each goal and step a mask holds those that get at least so far. What is left after
    all the masks of a level have cut is what does at least as well as it.
    """
    distinct = list(dict.fromkeys(levels))
    masks = [_at_least(steps) for steps in zip(*distinct, strict=True)]
    as_good = (reduce(and_, map(getitem, masks, steps), -1) for steps in distinct)
    return {distinct[place] for place, bits in enumerate(as_good) if bits == 1 << place}


def _at_least(steps: Sequence[int]) -> dict[int, int]:
    """Return for each step of one goal the bits of all that reach it."""
    places: dict[int, int] = {}
    for place, step in enumerate(steps):
        places[step] = places.get(step, 0) | 1 << place
    reached = 0
    for step in sorted(places, reverse=True):
        reached |= places[step]
        places[step] = reached
    return places


@dataclass(frozen=True, slots=True)
class Ranked:
    """An option in its place in the order, and whether it is on the front."""

    option: Option
    front: bool


# Where an option stands in the order, how far it gets, and itself.
_Row = tuple[tuple[Rank, int, float, str, str, str, float], Rank, Option]


class Ranking:
    """The options of a search in order, best first; `keep` bounds how many beyond the front are held.

    The front comes first; within it, and the rest, what falls as it should under steady lamps, for which no goal makes
    up, then the goals in the order set, the fewest changes to the shot's own kit, the larger model.
    """

    def __init__(self, order: Sequence[Goal], shot: KitChoice, keep: int | None = None) -> None:
        self._order, self._shot, self._keep = order, shot, keep
        self._rows: list[_Row] = []
        self._full = math.inf if keep is None else 8 * keep

    def add(self, options: Iterable[Option]) -> None:
        """Take in options, letting go of those that can no longer count."""
        self._rows += map(self._row, options)
        if len(self._rows) > self._full:
            self._rows = [row for _, row in self._sorted()]
            self._full = max(4 * len(self._rows), self._full)

    def ranked(self) -> tuple[Ranked, ...]:
        """Return the options found so far, best first."""
        return tuple(Ranked(option, not beaten) for beaten, (_, _, option) in self._sorted())

    def _sorted(self) -> list[tuple[bool, _Row]]:
        """Return what is held, best first, each with whether another beats it, down to what is to be kept."""
        best = front(levels for _, levels, _ in self._rows)
        rows = [(row[1] not in best, row) for row in self._rows]
        rows.sort(key=lambda marked: (marked[0], marked[1][0]))
        return rows if self._keep is None else rows[: max(self._keep, sum(not beaten for beaten, _ in rows))]

    def _row(self, option: Option) -> _Row:
        in_mode, lens_at, shot = option.in_mode, option.lens_at, self._shot
        camera, mode, lens = in_mode.camera.name, in_mode.mode.name, lens_at.lens.name
        changes = (camera != shot.camera) + (mode != shot.mode) + (lens != shot.lens)
        changes += shot.focal_length is not None and lens_at.focal_mm != shot.focal_length
        levels = (not (option.heavy or option.flickers), *level(option, self._order))
        place = (tuple(-step for step in levels), changes, option.ratio, camera, mode, lens, lens_at.focal_mm)
        return place, levels, option
