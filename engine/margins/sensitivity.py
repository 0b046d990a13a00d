"""What matters most now: how far each thing that is taped or set may be off before something is to be said of it.

The shot is first taken as it will stand on the day: what the program chose counts as set, since focus, stop and
slide do not follow a tape that was misread. Then one value at a time is moved either way and the whole answer
solved anew until a warning comes, goes or changes; no formula's guess. What no answer can tell is by formula: a lens
that stands higher than its height was taped to be, while the model is built for that.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

from forescale.engine.answer import Answer, answer
from forescale.engine.answer.in_force import in_force
from forescale.engine.field_help import FIELD_HELP, LEFT_OPEN
from forescale.engine.files.faults import BadInput
from forescale.engine.findings.words import Words
from forescale.engine.formulas import lineup
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import Setting
from forescale.engine.solve.record import Finding
from forescale.engine.solve.slide_goal import slide_goal
from forescale.engine.units import UnitSystem, number_text

Unit = Literal["mm", "stops"]
Codes = Mapping[tuple[str, str, bool], Finding]  # by level, code, and the side to which it is wrong

GROWTH = 6.0  # how much farther off each step out goes
HALVINGS = 6  # of the last step, as a proportion: an edge is known to 3 % of itself, and given on its safe side
FURTHEST = 1.0  # a distance is tried to twice itself, and to a tenth of itself
MOST_STOPS = 8.0
# How far off a careful hand may be: common practice, no source.
TAPE_SHARE, TAPE_MM = 0.005, 5.0
MARK_SHARE = 0.01
STOP_ERROR = 1 / 6
HEIGHT_MM = 10.0


@dataclass(frozen=True, slots=True)
class Edge:
    """How far off a value may be one way, in mm or stops, and the finding that turns next: comes, or goes."""

    off: float
    finding: Finding
    comes: bool


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """One value and how far it may be off; `less` is nearer, lower or wider open, None where nothing turns.

    `value` is in mm, for the stop an exact f-number; `margin` how many times a careful hand's error it may be off
    the worse way, infinite where nothing turns; `rank` is 1 for what matters most.
    """

    path: str
    label: str
    value: float
    unit: Unit
    less: Edge | None
    more: Edge | None
    margin: float
    rank: int


@dataclass(frozen=True, slots=True)
class _Probe:
    """A value to move: how far off a hand may be, how far it is tried either way, and the shot with it off so far."""

    path: str
    value: float
    unit: Unit
    error: float
    least: float
    most: float
    moved: Callable[[float], Setting]


def sensitivity(setting: Setting, kit: Kit, system: UnitSystem) -> tuple[Sensitivity, ...]:
    """Return how far each tape distance and each thing set may be off, what matters most first; raises BadInput."""
    of = answer(setting, kit, system, with_contrast=False)
    lean = _lean(as_it_stands(of))
    probes = [*_distances(lean), *_settings(lean, kit)]
    known = {"place.lens_height": _height_off(of)}
    as_set = {contrast: _codes(lean, kit, system, contrast) or {} for contrast in (False, True)}
    rows = [_row(probe, kit, system, as_set, known.get(probe.path)) for probe in probes]
    rows.sort(key=lambda row: row.margin)
    return tuple(replace(row, rank=rank) for rank, row in enumerate(rows, start=1))


def as_it_stands(of: Answer) -> Setting:
    """Return the shot with everything that the program chose set to what it chose."""
    setting = of.setting
    for path in LEFT_OPEN:
        setting = _with(setting, path, in_force(path, of))
    return setting if setting.move.slide is not None else _with(setting, "move.slide", _reachable(of))


def _reachable(of: Answer) -> float | None:
    """Return where the slide is to be set: where the whole move holds, if the head reaches so far."""
    goal = slide_goal(of)
    return goal.place_mm if goal is not None and goal.end_mm is None else None


def _lean(setting: Setting) -> Setting:
    """Return the shot with the largest part alone, no stock and no bench.

    No warning hangs on the other parts, and those of the bench doubt its readings, not what is set now.
    """
    largest = sorted(setting.build, key=lambda part: -part.real)[:1]
    return setting.model_copy(update={"build": tuple(largest), "stock": (), "bench": ()})


def _distances(setting: Setting) -> Iterator[_Probe]:
    """Yield the tape distances that are there, each free to move as far as its neighbours."""
    place = setting.place
    order = [
        (name, value)
        for name in ("model_near", "model", "background", "background_far")
        if (value := getattr(place, name)) is not None
    ]
    for step, (name, value) in enumerate(order):
        if math.isinf(value):
            continue
        below = order[step - 1][1] if step else 0.1 * value
        above = order[step + 1][1] if step + 1 < len(order) else math.inf
        yield _length(
            setting,
            f"place.{name}",
            value,
            error=max(TAPE_SHARE * value, TAPE_MM),
            least=min(value - below, 0.9 * value),
            most=min(above - value, FURTHEST * value),
        )
    if place.lens_height is not None:
        height = place.lens_height
        yield _length(setting, "place.lens_height", height, HEIGHT_MM, height, max(height, 1000.0))


def _settings(setting: Setting, kit: Kit) -> Iterator[_Probe]:
    """Yield the focus mark, the stop and the slide."""
    mark, stop, slide = setting.focus.distance, setting.focus.stop, setting.move.slide
    if mark is not None and math.isfinite(mark):
        yield _length(setting, "focus.distance", mark, MARK_SHARE * mark, 0.9 * mark, FURTHEST * mark)
    if stop is not None:
        yield _Probe(
            path="focus.stop",
            value=kit.lens.f_number(stop.value, stop.marks),
            unit="stops",
            error=STOP_ERROR,
            least=MOST_STOPS,
            most=MOST_STOPS,
            moved=lambda off: _with(setting, "focus.stop", replace(stop, value=stop.value * 2 ** (off / 2))),
        )
    head = kit.head
    if slide is not None and head is not None and setting.move.axis != "none":
        reach = slide - head.slide_min, head.slide_max - slide
        yield _length(setting, "move.slide", slide, head.slide_step / 2, *reach)


def _length(setting: Setting, path: str, value: float, error: float, least: float, most: float) -> _Probe:
    return _Probe(path, value, "mm", error, least, most, lambda off: _with(setting, path, value + off))


def _with(setting: Setting, path: str, value: Any) -> Setting:
    section, _, name = path.partition(".")
    record = getattr(setting, section)
    return setting.model_copy(update={section: record.model_copy(update={name: value})})


def _height_off(of: Answer) -> Edge | None:
    """Return how far off the lens height may be: by δ the point to meet parts from the background by δ·v·(1/d − 1/D).

    The model is built for the height as taped, so no answer to another height shows it; None without a point to meet.
    """
    place, sight, passes = of.setting.place, of.sight, of.setting.move.tolerance
    if place.lens_height is None or place.feature_height is None:
        return None
    parted = passes * of.kit.mode.pixel_up_mm
    off = lineup.drift_tolerance_mm(parted, sight.model_mm, sight.background_mm, sight.image_mm)
    if math.isinf(off):
        return None
    text = (
        f"With the lens {Words(of).no_more(off)} higher or lower than its taped height, the point to meet parts from "
        f"the background by {number_text(passes)} px: line it up in the picture"
    )
    return Edge(off, Finding("scale", "warn", "height-off", text, "place.lens_height"), comes=True)


def _row(
    probe: _Probe, kit: Kit, system: UnitSystem, as_set_by_contrast: Mapping[bool, Codes], known: Edge | None
) -> Sensitivity:
    contrast = probe.path == "focus.stop"  # what the stop costs is told by contrast; the rest turns on geometry

    def codes(off: float) -> Codes | None:
        return _codes(probe.moved(off), kit, system, contrast)

    as_set = as_set_by_contrast[contrast]
    less = _sooner(known, _edge(lambda off: codes(-off), as_set, probe.error, probe.least), probe.least)
    more = _sooner(known, _edge(codes, as_set, probe.error, probe.most), probe.most)
    margin = min((edge.off / probe.error for edge in (less, more) if edge), default=math.inf)
    label = FIELD_HELP[probe.path].label
    return Sensitivity(probe.path, label, probe.value, probe.unit, less, more, margin, rank=0)


def _sooner(known: Edge | None, solved: Edge | None, limit: float) -> Edge | None:
    """Return the nearer of an edge known by formula, as far as the value goes, and the one that was solved for."""
    if known is None or known.off > limit or (solved is not None and solved.off <= known.off):
        return solved
    return known


def _codes(setting: Setting, kit: Kit, system: UnitSystem, with_contrast: bool) -> Codes | None:
    """Return the warnings and stops on a shot; None where it cannot be so."""
    try:
        found = answer(setting, kit, system, with_contrast=with_contrast)
    except BadInput:
        return None
    grave = (said for said in found.findings if said.level in {"warn", "stop"})
    return {(said.level, said.code, _side(found, said.code)): said for said in grave}


def _side(found: Answer, code: str) -> bool:
    """Return to which side a finding is wrong, so that a step from one over what is right to the other is seen."""
    match code:
        case "size-mismatch":
            return found.lineup.size_error > 1
        case "zone-short":
            return found.focus.near_mm > found.focus.near_needed_mm
        case "slip-over":
            return found.slip.largest_slip_px is not None and found.slip.largest_slip_px > 0
        case _:
            return False


def _edge(codes: Callable[[float], Codes | None], as_set: Codes, error: float, limit: float) -> Edge | None:
    """Return how far off is still as set, and what turns past it: outward step by step, then by halves."""
    inside, outside = 0.0, min(error, limit)
    beyond = codes(outside) if outside > 0 else as_set
    while beyond is not None and beyond.keys() == as_set.keys():
        if outside >= limit:
            return None
        inside, outside = outside, min(GROWTH * outside, limit)
        beyond = codes(outside)
    for _ in range(HALVINGS):
        middle = math.sqrt(inside * outside) if inside else outside / 2
        found = codes(middle)
        if found is not None and found.keys() == as_set.keys():
            inside = middle
        else:
            outside, beyond = middle, found
    return None if beyond is None else _turned(inside, as_set, beyond)


def _turned(off: float, as_set: Codes, beyond: Codes) -> Edge:
    """Return the edge with the finding that came, or where none came, the one that went."""
    came = [said for key, said in beyond.items() if key not in as_set]
    if came:
        return Edge(off, came[0], comes=True)
    return Edge(off, next(said for key, said in as_set.items() if key not in beyond), comes=False)
