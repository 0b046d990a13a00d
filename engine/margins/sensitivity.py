"""What matters most now: how far each thing that is taped or set may be off before something is to be said of it.

The shot is first taken as it will stand on the day: what the program chose counts as set, since focus, stop and
slide do not follow a tape that was misread. Then one value at a time is moved either way and the whole answer
solved anew, contrast with it, until a warning comes, goes or changes; no formula's guess. What matters most is what
lies nearest to its edge, counted in what a person is usually off by: the tape, the mark, a step of the slide, the ring.
The lens's height has no row: the point to meet is lined up by eye, in the picture.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Any, Literal

from forescale.engine.answer import Answer, answer
from forescale.engine.answer.in_force import in_force
from forescale.engine.field_help import FIELD_HELP, LEFT_OPEN
from forescale.engine.files.faults import BadInput
from forescale.engine.formulas import lineup, optics
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import Setting
from forescale.engine.solve.record import Finding
from forescale.engine.solve.slip_check import slide_goal
from forescale.engine.units import UnitSystem

Unit = Literal["mm", "stops", "deg"]
Codes = Mapping[tuple[str, str, bool], Finding]  # by level, code, and the side to which it is wrong

GROWTH = 6.0  # how much farther off each step out goes
HALVINGS = 6  # of the last step, as a proportion: an edge is known to 3 % of itself, and given on its safe side
FURTHEST = 1.0  # a distance is tried to twice itself, and to a tenth of itself
STRIDES = 12  # in a distance, at least: what comes and goes within one is not found
MOST_STOPS, STOP_STRIDE = 8.0, 0.5  # what diffraction and a false contrast make of a zone comes and goes by the stop
LEAST_MM = 1.0  # no tape is read closer
STOP_ERROR = 1 / 6  # a ring is set no closer (common practice, no source)
AIM_DEG = 0.1  # a head or an inclinometer is read no closer (common practice, no source)
MOST_AIM_DEG = 80.0  # up or down, as the field takes it
MOST_HALF_FIELDS = 12  # that the aim is tried: by then all that a long lens held has left its frame


@dataclass(frozen=True, slots=True)
class Edge:
    """How far off a value may be one way, in mm, stops or degrees, and the finding that turns next: comes, or goes."""

    off: float
    finding: Finding
    comes: bool


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """One value and how far it may be off; `less` is nearer, lower or wider open, None where nothing turns.

    `value` is in mm, of the stop an exact f-number, of the aim degrees; `margin` how many times what a person is
    usually off by it may be off the worse way, infinite where nothing turns; `rank` is 1 for what matters most.
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
    """A value to move: what a person is usually off by, how far it is tried either way, and the shot so far off.

    No step out is longer than `stride`, so that what comes and goes within a frame is not stepped over.
    """

    path: str
    value: float
    unit: Unit
    error: float
    least: float
    most: float
    moved: Callable[[float], Setting]
    stride: float = math.inf


def sensitivity(setting: Setting, kit: Kit, system: UnitSystem) -> tuple[Sensitivity, ...]:
    """Return how far each tape distance and each thing set may be off, what matters most first; raises BadInput."""
    of = answer(setting, kit, system, with_contrast=False)
    lean = _lean(as_it_stands(of))
    as_set = _codes(lean, kit, system) or {}
    half_field_deg = optics.half_field_deg(kit.mode.height, kit.focal_mm)
    probes = (*_distances(lean), *_aim(lean, half_field_deg), *_settings(lean, kit))

    def codes(probe: _Probe, way: int, off: float) -> Codes | None:
        return _codes(probe.moved(way * off), kit, system)

    rows = []
    for probe in probes:
        less, more = (
            _edge(partial(codes, probe, way), as_set, probe, limit)
            for way, limit in ((-1, probe.least), (1, probe.most))
        )
        times = min((edge.off / probe.error for edge in (less, more) if edge), default=math.inf)
        label = FIELD_HELP[probe.path].label
        rows.append(Sensitivity(probe.path, label, probe.value, probe.unit, less, more, times, rank=0))
    rows.sort(key=lambda row: row.margin)
    return tuple(replace(row, rank=rank) for rank, row in enumerate(rows, start=1))


def as_it_stands(of: Answer) -> Setting:
    """Return the shot with everything that the program chose set to what it chose."""
    setting = of.setting
    for path in LEFT_OPEN:
        setting = _with(setting, path, in_force(path, of))
    if setting.move.slide is not None:
        return setting
    goal = slide_goal(of)  # where the whole move holds, if the head reaches so far
    return _with(setting, "move.slide", goal.place_mm if goal is not None and goal.end_mm is None else None)


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
        reach = min(value - below, 0.9 * value), min(above - value, FURTHEST * value)
        yield _length(setting, f"place.{name}", value, _tape_error(setting, value), *reach)
    if place.seems_at is not None:
        far = place.seems_at
        yield _length(setting, "place.seems_at", far, _tape_error(setting, far), 0.9 * far, FURTHEST * far)


def _tape_error(setting: Setting, distance_mm: float) -> float:
    return max(lineup.tape_error_mm(distance_mm, setting.limits.tape_error), LEAST_MM)


def _aim(setting: Setting, half_field_deg: float) -> Iterator[_Probe]:
    """Yield the aim, where something hangs on it, tried as far as a lens can be aimed."""
    aim = setting.place.aim
    if aim or setting.point or setting.outline:
        yield _Probe(
            path="place.aim",
            value=aim,
            unit="deg",
            error=AIM_DEG,
            least=min(MOST_AIM_DEG + aim, MOST_HALF_FIELDS * half_field_deg),
            most=min(MOST_AIM_DEG - aim, MOST_HALF_FIELDS * half_field_deg),
            moved=lambda off: _with(setting, "place.aim", aim + off),
            stride=half_field_deg,
        )


def _settings(setting: Setting, kit: Kit) -> Iterator[_Probe]:
    """Yield the focus mark, the stop and the slide."""
    mark, stop, slide = setting.focus.distance, setting.focus.stop, setting.move.slide
    if mark is not None and math.isfinite(mark):
        yield _length(setting, "focus.distance", mark, _tape_error(setting, mark), 0.9 * mark, FURTHEST * mark)
    if stop is not None:
        yield _Probe(
            path="focus.stop",
            value=kit.lens.f_number(stop.value, stop.marks),
            unit="stops",
            error=STOP_ERROR,
            least=MOST_STOPS,
            most=MOST_STOPS,
            stride=STOP_STRIDE,
            moved=lambda off: _with(setting, "focus.stop", replace(stop, value=stop.value * 2 ** (off / 2))),
        )
    head = kit.head
    if slide is not None and head is not None and setting.move.axis != "none":
        reach = slide - head.slide_min, head.slide_max - slide
        yield _length(setting, "move.slide", slide, head.slide_step, *reach, stride=sum(reach) / STRIDES)


def _length(
    setting: Setting, path: str, value: float, error: float, least: float, most: float, stride: float | None = None
) -> _Probe:
    stride = value / STRIDES if stride is None else stride
    return _Probe(path, value, "mm", error, least, most, lambda off: _with(setting, path, value + off), stride)


def _with(setting: Setting, path: str, value: Any) -> Setting:
    section, _, name = path.partition(".")
    record = getattr(setting, section)
    return setting.model_copy(update={section: record.model_copy(update={name: value})})


def _codes(setting: Setting, kit: Kit, system: UnitSystem) -> Codes | None:
    """Return the warnings and stops on a shot; None where it cannot be so."""
    try:
        found = answer(setting, kit, system)
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
        case "stop-beyond-lens":
            return found.focus.f_number > found.kit.lens.f_numbers[-1]
        case "slip-over":
            return found.slip.largest_slip_px is not None and found.slip.largest_slip_px > 0
        case _:
            return False


def _edge(codes: Callable[[float], Codes | None], as_set: Codes, probe: _Probe, limit: float) -> Edge | None:
    """Return how far off is still as set, and what turns past it: outward step by step, then by halves."""
    inside, outside = 0.0, min(probe.error, limit)
    beyond = codes(outside) if outside > 0 else as_set
    while beyond is not None and beyond.keys() == as_set.keys():
        if outside >= limit:
            return None
        inside, outside = outside, min(GROWTH * outside, outside + probe.stride, limit)
        beyond = codes(outside)
    for _ in range(HALVINGS):
        middle = math.sqrt(inside * outside) if inside else outside / 2
        found = codes(middle)
        if found is not None and found.keys() == as_set.keys():
            inside = middle
        else:
            outside, beyond = middle, found
    if beyond is None:
        return None
    came = [said for key, said in beyond.items() if key not in as_set]
    if came:
        return Edge(inside, came[0], comes=True)
    return Edge(inside, next(said for key, said in as_set.items() if key not in beyond), comes=False)
