"""What matters most now: how far each thing that is taped or set may be off before something is to be said of it.

The shot is first taken as it will stand on the day: what the program chose counts as set, since focus, stop and
slide do not follow a tape that was misread. Then one value at a time is moved either way and the whole answer
solved anew, contrast with it, until a warning comes, goes or changes; no formula's guess. What the points do may come
right for a hair's breadth alone: the picture tells where to look. What matters most is what lies nearest to its edge,
counted in what a person is usually off by: the tape, the mark, a step of the slide, the ring.
The lens's height has no row: the point to meet is lined up by eye, in the picture.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from functools import partial
from typing import Any, Literal, NamedTuple

from forescale.engine.answer import Answer, answer
from forescale.engine.answer.in_force import in_force
from forescale.engine.field_help import FIELD_HELP, LEFT_OPEN
from forescale.engine.files.faults import BadInput
from forescale.engine.formulas import lineup, optics
from forescale.engine.formulas.misses import miss, peak
from forescale.engine.formulas.projection import in_frame
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import Setting
from forescale.engine.solve.lens_setup import Unread, lens_setup
from forescale.engine.solve.record import Finding
from forescale.engine.solve.slip_check import slide_goal
from forescale.engine.solve.view import in_reference, view_of
from forescale.engine.units import UnitSystem

Unit = Literal["mm", "stops", "deg"]
Codes = Mapping[tuple[str, str, bool], Finding]  # by level, code, and the side to which it is wrong
Solve = Callable[[Setting], Codes | None]  # None of a shot that is refused

GROWTH = 6.0  # how much farther off each step out goes
HALVINGS = 6  # of the last step: an edge is known to 3 % of itself or 2 % of a usual error, given on its safe side
FURTHEST = 1.0  # a distance is tried to twice itself, and to a tenth of itself
STRIDES = 12  # in a distance, at least: what comes and goes within one is not found
MOST_STOPS = 8.0
STOP_STRIDE = 0.5  # what diffraction and a false contrast make of a zone comes and goes by the stop
LEAST_MM = 1.0  # no tape is read closer
STOP_ERROR = 1 / 6  # a ring is set no closer (common practice, no source)
AIM_DEG = 0.1  # a head or an inclinometer is read no closer (common practice, no source)
MOST_AIM_DEG = 80.0  # up or down, as the field takes it
MOST_HALF_FIELDS = 12  # that the aim is tried: by then all that a long lens held has left its frame
MOVES_POINTS = ("place.model", "place.background", "place.seems_at", "place.aim")
NOT_SEEN = 1e9  # as far off, in pixels or frames, as no point in front of the lens


class Edge(NamedTuple):
    """How far off a value may be one way, in mm, stops or degrees, and the finding that turns next: comes, or goes."""

    off: float
    finding: Finding
    comes: bool


class Sensitivity(NamedTuple):
    """One value and how far it may be off; `less` is nearer, lower or wider open, None where nothing turns."""

    path: str
    label: str
    value: float  # mm, of the stop an exact f-number, of the aim degrees
    unit: Unit
    less: Edge | None
    more: Edge | None
    margin: float  # how many times what a person is usually off by, the worse way; infinite where nothing turns
    rank: int  # 1 for what matters most


class _Probe(NamedTuple):
    """A value to move: what a person is usually off by, how far it is tried either way, the longest step, `_turns`."""

    path: str
    value: float
    unit: Unit
    error: float
    least: float
    most: float
    stride: float
    turns: Sequence[float] = ()

    def moved(self, setting: Setting, off: float) -> Setting:
        """Return the shot so far off."""
        if self.unit != "stops":
            return _with(setting, self.path, self.value + off)
        stop = setting.focus.stop
        return _with(setting, self.path, stop and replace(stop, value=stop.value * 2 ** (off / 2)))


def sensitivity(setting: Setting, kit: Kit, system: UnitSystem) -> tuple[Sensitivity, ...]:
    """Return how far each tape distance and each thing set may be off, what matters most first; raises BadInput."""
    of = answer(setting, kit, system, with_contrast=False)
    lean = as_it_stands(of)
    # The largest part alone, no stock and no bench: no warning hangs on the others as a value is moved.
    largest = sorted(lean.build, key=lambda part: -part.real)[:1]
    lean = lean.model_copy(update={"build": tuple(largest), "stock": (), "bench": ()})
    codes = partial(_codes, kit=kit, system=system)
    as_set, rows = codes(lean) or {}, []
    for probe in _probes(lean, kit):
        probe = probe._replace(turns=_turns(lean, kit, probe, as_set))
        less, more = _edge(codes, lean, as_set, probe, -1), _edge(codes, lean, as_set, probe, 1)
        times = min((edge.off / probe.error for edge in (less, more) if edge), default=math.inf)
        rows.append((probe, less, more, times))
    return tuple(
        Sensitivity(of.path, FIELD_HELP[of.path].label, of.value, of.unit, less, more, times, rank)
        for rank, (of, less, more, times) in enumerate(sorted(rows, key=lambda row: row[-1]), start=1)
    )


def as_it_stands(of: Answer) -> Setting:
    """Return the shot with everything that the program chose set to what it chose."""
    setting = of.setting
    for path in LEFT_OPEN:
        setting = _with(setting, path, in_force(path, of))
    if setting.move.slide is not None:
        return setting
    goal = slide_goal(of)  # where the whole move holds, if the head reaches so far
    return _with(setting, "move.slide", goal.place_mm if goal is not None and goal.end_mm is None else None)


def _probes(setting: Setting, kit: Kit) -> Iterator[_Probe]:
    """Yield tapes as far as their neighbours, the aim if anything hangs on it, mark, slide, and a stop on the lens."""
    place, slide = setting.place, setting.move.slide
    mark, stop = setting.focus.distance, setting.focus.stop

    def taped(path: str, value: float, below: float = 0.0, above: float = math.inf) -> _Probe:
        error = max(lineup.tape_error_mm(value, setting.limits.tape_error), LEAST_MM)
        least, most = min(value - below, 0.9 * value), min(above - value, FURTHEST * value)
        return _Probe(path, value, "mm", error, least, most, value / STRIDES)

    names = ("model_near", "model", "background", "background_far")
    order = [(name, value) for name in names if (value := getattr(place, name)) is not None]
    for step, (name, value) in enumerate(order):
        if math.isfinite(value):  # one taped out of its order bounds nothing: it may be passed again
            below = max((tape for _, tape in order[:step] if tape <= value), default=0.0)
            above = min((tape for _, tape in order[step + 1 :] if tape >= value), default=math.inf)
            yield taped(f"place.{name}", value, below, above)
    if place.seems_at is not None:
        yield taped("place.seems_at", place.seems_at)
    if place.aim or setting.point or setting.outline:
        half_field = optics.half_field_deg(kit.mode.height, kit.focal_mm)
        least, most = (min(MOST_AIM_DEG + way * place.aim, MOST_HALF_FIELDS * half_field) for way in (1, -1))
        yield _Probe("place.aim", place.aim, "deg", AIM_DEG, least, most, half_field)
    if mark is not None and math.isfinite(mark):
        yield taped("focus.distance", mark)
    if stop is not None and kit.lens.has_stop(exact := kit.lens.f_number(stop.value, stop.marks)):
        yield _Probe("focus.stop", exact, "stops", STOP_ERROR, MOST_STOPS, MOST_STOPS, STOP_STRIDE)
    head = kit.head
    if slide is not None and head is not None and setting.move.axis != "none":
        stride = (head.slide_max - head.slide_min) / STRIDES
        yield _Probe("move.slide", slide, "mm", head.slide_step, slide - head.slide_min, head.slide_max - slide, stride)


def _with(setting: Setting, path: str, value: Any) -> Setting:
    section, _, name = path.partition(".")
    return setting.model_copy(update={section: getattr(setting, section).model_copy(update={name: value})})


def _codes(setting: Setting, kit: Kit, system: UnitSystem) -> Codes | None:
    try:
        found = answer(setting, kit, system)
    except BadInput:
        return None
    grave = (said for said in found.findings if said.level in {"warn", "stop"})
    return {(said.level, said.code, _side(found, said.code)): said for said in grave}


def _side(found: Answer, code: str) -> bool:
    """Return to which side a finding is wrong, so that a step from one over what is right to the other is seen."""
    sides = {
        "size-mismatch": found.lineup.size_error > 1,
        "zone-short": found.focus.near_mm > found.focus.near_needed_mm,
        "slip-over": (found.slip.largest_slip_px or 0.0) > 0,
    }
    return sides.get(code, False)


def _turns(lean: Setting, kit: Kit, probe: _Probe, as_set: Codes) -> list[float]:
    """Return how far off the points miss least, and are least outside the frame, if they miss or are outside as set.

    As one tape is moved, the picture of a point runs along a straight line. So what it comes nearer to on one side of
    this place it leaves behind on the other, and so does the worst of several.
    """

    def held(code: str, off: float) -> float:
        moved, worst = probe.moved(lean, off), 0.0
        try:
            setup = lens_setup(moved, kit, "")
            view = view_of(moved, kit, setup)
            for row in moved.point:
                with suppress(Unread):  # of a reading whose lens is gone nothing is said
                    pair = in_reference(moved, kit, setup, row)
                    missed, share = miss(pair, view.line_up, view.frame), in_frame(pair.real, view.line_up, view.frame)
                    apart = missed and missed.length if code == "points-miss" else share and share.off_middle
                    worst = max(worst, NOT_SEEN if apart is None else apart)
        except BadInput:
            worst = NOT_SEEN
        return -worst if worst < NOT_SEEN else -worst - abs(off)  # back to where something is seen

    codes = sorted({code for _, code, _ in as_set} & {"points-miss", "point-out-of-frame"})
    return [peak(partial(held, code), -probe.least, probe.most) for code in codes if probe.path in MOVES_POINTS]


def _edge(codes: Solve, lean: Setting, as_set: Codes, probe: _Probe, way: int) -> Edge | None:
    """Return how far off is still as set, and what turns past it: outward step by step and to each turn, by halves."""
    limit = probe.least if way < 0 else probe.most
    inside, outside = 0.0, 0.0
    beyond: Codes | None = as_set
    while beyond is not None and beyond.keys() == as_set.keys():
        if outside >= limit:
            return None
        step = min(max(probe.error, GROWTH * outside), outside + probe.stride, limit)
        inside, outside = outside, min([step, *(way * turn for turn in probe.turns if way * turn > outside)])
        beyond = codes(probe.moved(lean, way * outside))
    by_sum = outside <= probe.error
    for _ in range(HALVINGS):
        middle = (inside + outside) / 2 if by_sum else math.sqrt(inside * outside)
        found = codes(probe.moved(lean, way * middle))
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
