"""How the head turns in a shot, as the closed forms of `formulas.slip` have it; and the bench, its readings and line.

A pan turns about the pan axis, its distances level; a tilt about its own axis, `tilt_ahead` of the pan axis and
`tilt_drop` below the lens axis, its distances along the lens. A tilt and a travel that go with a turn are left out.
"""

from contextlib import suppress
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.formulas import bench_doubts, bench_fit, slip
from forescale.engine.formulas.head import ahead_for_pan_mm, ahead_of_pan_mm, slide_at_mm
from forescale.engine.formulas.zero_crossing import CannotBe
from forescale.engine.kit.kit import Kit, taken_with
from forescale.engine.kit.profiles import Head
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import BenchRow
from forescale.engine.shot.sections import TILTS, Axis, Move
from forescale.engine.solve.groups import BenchAnswer
from forescale.engine.solve.lens_setup import LensPlacement, LensSetup, own_lens
from forescale.engine.solve.record import Answer
from forescale.engine.solve.view import pupil_on_head

_Taken = list[tuple[int, bench_fit.Reading]]  # the places of the rows that count, and their readings
_OWN = ("camera", "mode", "lens", "focal_length", "focus", "axis", "sweep", "model", "background", "aim")


class TurnGeometry(NamedTuple):
    """The geometry of a turn; its offset is the pupil ahead of the axis."""

    turn: slip.Turn  # to its far end
    before: slip.Turn | None  # from the line-up back to where the move begins, None where it begins there
    pixel_mm: float  # along it
    zero_slide_mm: float  # the slide at which the offset is 0

    @property
    def no_slip_mm(self) -> float:
        """The slide reading at which nothing slips at the end of the turn."""
        return self.slide_mm(slip.zero_offset_mm(self.turn))

    def slide_mm(self, offset_mm: float) -> float:
        """Return the slide reading that puts the pupil so far ahead of the axis."""
        return self.zero_slide_mm + offset_mm / self.turn.offset_per_slide

    def offset_mm(self, slide_mm: float) -> float:
        """Return how far a slide reading puts the pupil ahead of the axis."""
        return (slide_mm - self.zero_slide_mm) * self.turn.offset_per_slide

    def off_by_mm(self, offset_mm: float, passes_px: float) -> float:
        """Return how far off in slide readings an offset may be before the slip passes anywhere in the move."""
        low, high = slip.offsets_within_mm(self.turn, passes_px * self.pixel_mm)
        if self.before is not None:
            lower, higher = slip.offsets_within_mm(self.before, passes_px * self.pixel_mm)
            low, high = max(low, lower), min(high, higher)
        return max(0.0, min(high - offset_mm, offset_mm - low)) / self.turn.offset_per_slide


def slide_on_axis_mm(kit: Kit, setup: LensPlacement, aim_deg: float) -> float:
    """Return the slide reading that puts the pupil on the pan axis at an aim; counted from 0 where no head is named."""
    head = kit.head
    if head is None:
        return -setup.pupil.ahead_mm
    ahead = ahead_for_pan_mm(head.tilt_drop, head.tilt_ahead, aim_deg)
    return slide_at_mm(ahead, head.sensor_at_zero, setup.pupil.ahead_mm, head.tilt_ahead)


def rise_mm(axis: Axis, head: Head | None) -> float:
    """Return how far the lens axis lies above the axis of a move, 0 for a pan; a tilt down is one up in a mirror."""
    if head is None or axis not in TILTS:
        return 0.0
    return -head.tilt_drop if axis == "tilt down" else head.tilt_drop


def offset_of_mm(move: Move, kit: Kit, setup: LensPlacement) -> float:
    """Return the pupil ahead of the axis that a move turns about, as the slide is set."""
    sits = pupil_on_head(kit, setup, move.slide)
    return sits.ahead_of_tilt_mm if move.axis in TILTS else ahead_of_pan_mm(sits, setup.aim_deg)


def turn_geometry(move: Move, kit: Kit, setup: LensPlacement, where: str = "") -> TurnGeometry | None:
    """Return the geometry of the turn, or None where nothing turns; raises BadInput where it cannot turn so."""
    if move.axis == "none" or move.sweep == move.start == 0:
        return None
    head, aim, tilts = kit.head, setup.aim_deg, move.axis in TILTS
    model, background = setup.model_mm, setup.background_mm
    if not tilts:
        model, background = setup.level(model), setup.level(background)
    if head is not None and move.slide is not None:
        offset = offset_of_mm(move, kit, setup)
    else:  # the tape was read with the pupil wherever it was
        offset = -head.tilt_ahead if tilts and head is not None else 0.0
    across, up = kit.mode.pixel_mm * kit.lens.squeeze, kit.mode.pixel_up_mm
    try:
        turn = slip.Turn(
            sweep_deg=move.sweep or -move.start,
            model_mm=model + offset,
            background_mm=background + offset,
            rise_mm=rise_mm(move.axis, head),
            image_distance_mm=setup.image_mm,
            aim_deg=0.0 if tilts else aim,
            up_weight=across / up,
        )
        before = replace(turn, sweep_deg=-move.start) if move.start and move.sweep else None
    except ValueError as error:
        raise BadInput(Fault.at("move", str(error), file=where)) from None
    if tilts and head is not None:
        zero = slide_at_mm(0.0, head.sensor_at_zero, setup.pupil.ahead_mm, head.tilt_ahead)
    else:
        zero = slide_on_axis_mm(kit, setup, aim)
    return TurnGeometry(turn, before, up if tilts else across, zero)


class _Bench(NamedTuple):
    """The bench of a shot, the move that it is for, and the readings that count for that, each with its place."""

    kit: Kit
    setup: LensSetup
    move: Move
    turning: TurnGeometry  # in the shot
    rows: list[tuple[int, BenchRow]]

    def turned(self, row: BenchRow) -> tuple[TurnGeometry, LensSetup]:
        """Return how the head turned at a reading, and the lens there; CannotBe where it cannot have been so."""
        if all(getattr(row, name) is None for name in _OWN):
            return self.turning, self.setup
        return _own_turning(row, self.move, self.kit, self.setup)

    def as_last_read(self) -> TurnGeometry:
        """Return the bench's own geometry, as its last reading was taken; CannotBe where it cannot be."""
        return self.turned(self.rows[-1][1])[0] if self.rows else self.turning

    def readings(self, bench: TurnGeometry) -> _Taken:
        """Return each reading over its own move, in pixels of the bench's mode; CannotBe where one cannot have been."""
        taken = []
        for number, row in self.rows:
            own, there = self.turned(row)
            slip_px = row.slip_px
            if row.slip_at_background is not None:
                slip_px = bench_fit.slip_px_at_background(
                    row.slip_at_background, there.image_mm, there.background_mm, own.pixel_mm, own.turn.sweep_deg
                )
            if slip_px is not None and own.pixel_mm != bench.pixel_mm:
                slip_px *= own.pixel_mm / bench.pixel_mm
            as_aimed = row.slide + bench.zero_slide_mm - own.zero_slide_mm  # what would have slipped so at the bench's
            taken.append((number, bench_fit.Reading(as_aimed, slip_px, row.seen, own.turn)))
        return taken


def _bench(setting: Setting, kit: Kit, setup: LensSetup, turning: TurnGeometry | None) -> _Bench | None:
    """Return the bench, of the first reading's move where the shot does not turn; None where nothing tells a move."""
    move, row = setting.move, next((row for row in setting.bench if row.axis and row.sweep), None)
    if turning is None and row is not None:
        move = move.model_copy(update={"axis": row.axis, "sweep": row.sweep, "start": 0.0})
        setting = setting.model_copy(update={"move": move})
        with suppress(BadInput):
            turning = turn_geometry(move, kit, setup)
    if turning is None:
        return None
    rows = [(number, row) for number, row in enumerate(setting.bench) if taken_with(row, setting, kit)]
    return _Bench(kit, setup, move, turning, rows)


def _bench_of(answer: Answer) -> _Bench | None:
    setting, kit, setup = answer.setting, answer.kit, answer.setup
    return _bench(setting, kit, setup, turn_geometry(setting.move, kit, setup))


def bench_group(setting: Setting, kit: Kit, setup: LensSetup, turning: TurnGeometry | None) -> BenchAnswer | None:
    """Return what the readings say; None where there are none."""
    rows = setting.bench
    if not rows:
        return None
    count = len(rows)
    try:
        bench = _bench(setting, kit, setup, turning)
        if bench is None:
            raise CannotBe("the readings need the move they were taken over", "set axis and sweep")
        there = bench.as_last_read()
        taken = bench.readings(there)
        count = len(taken)
        if not taken:
            named = {}  # each lens, head and axis once: "prime-35, 35 mm, slide-head, pan", as far as a reading says so
            for row in rows:
                focal = None if row.focal_length is None else f"{row.focal_length:g} mm"
                named[", ".join(part for part in (row.lens, focal, row.head, row.axis) if part)] = True
            lacks = f"no reading was taken with this kit and axis, but with {' and with '.join(named)}"
            raise CannotBe(lacks, "take new readings, or go back to those")
        measured = any(reading.slip_px is not None for _, reading in taken)
        found = _by_number(taken, there) if measured else _by_eye(taken, kit.head)
        if (zero := found.slide_for_zero_mm) is None:
            return found
        pupil = None if kit.head is None else there.no_slip_mm - zero + setup.pupil.ahead_mm
        return found._replace(
            slide_for_zero_mm=zero + bench.turning.no_slip_mm - there.no_slip_mm, pupil_ahead_mm=pupil
        )
    except CannotBe as error:
        return BenchAnswer(readings=count, fault=str(error), mend=error.right or None)


def bench_geometry(answer: Answer) -> tuple[TurnGeometry, TurnGeometry] | None:
    """Return how the head turns on the bench, as last read there, and in the shot; None where that cannot be told."""
    bench = _bench_of(answer)
    try:
        return bench and (bench.as_last_read(), bench.turning)
    except CannotBe:
        return None


def read_off_mm(answer: Answer) -> float:
    """Return by how much the bench's zero, on the slide as it was read there, lies beyond that for the shot."""
    both = bench_geometry(answer)
    return 0.0 if both is None else both[0].no_slip_mm - both[1].no_slip_mm


def worth_px_per_mm(answer: Answer, axis: Axis, sweep_deg: float, near_mm: float, far_mm: float) -> float | None:
    """Return the slip in pixels that a mm of slide is worth on a level bench; None where it cannot turn so."""
    row = BenchRow.model_construct(slide=0.0, axis=axis, sweep=sweep_deg, model=near_mm, background=far_mm, aim=0.0)
    try:
        bench, _ = _own_turning(row, answer.setting.move, answer.kit, answer.setup)
    except CannotBe:
        return None
    return slip.slip_per_offset(bench.turn) * bench.turn.offset_per_slide / bench.pixel_mm


def _own_turning(row: BenchRow, move: Move, kit: Kit, setup: LensSetup) -> tuple[TurnGeometry, LensSetup]:
    """Return the move that a reading was taken over, and the lens with model and background where they then stood."""
    try:
        own = own_lens(row, kit, setup)
        taped = (setup.tape(setup.model_mm), setup.tape(setup.background_mm))
        model, background = (then or here for then, here in zip((row.model, row.background), taped, strict=True))
        aimed = replace(setup, image_mm=own.frame.image_mm, aim_deg=setup.aim_deg if row.aim is None else row.aim)
        there = replace(aimed, model_mm=aimed.along(model), background_mm=aimed.along(background))
        own_move = {name: value for name in ("axis", "sweep") if (value := getattr(row, name)) is not None}
        turning = turn_geometry(move.model_copy(update=own_move), kit._replace(mode=own.mode), there)
    except BadInput as fault:
        first = fault.faults[0]
        raise CannotBe(f"a reading cannot have been so: {first.wrong}", first.right) from None
    if turning is None:
        raise CannotBe("a reading over no sweep shows no slip", "set the sweep that it was taken over")
    return turning, there


def _by_number(taken: _Taken, there: TurnGeometry) -> BenchAnswer:
    fit, doubted = _fitted(tuple(reading for _, reading in taken), there.turn, there.pixel_mm)
    said = {name: value for name, value in fit._asdict().items() if name in BenchAnswer._fields}
    against = tuple(taken[number][0] for number in doubted)
    return BenchAnswer(**said | {"readings": len(taken), "contradicting": against})


@lru_cache(maxsize=32)  # most of what is set leaves the readings as they were taken
def _fitted(
    readings: tuple[bench_fit.Reading, ...], turn: slip.Turn, pixel_mm: float
) -> tuple[bench_fit.BenchFit, tuple[int, ...]]:
    """Return the line through the readings, and the places of those that contradict the rest; raises CannotBe."""
    fit = bench_fit.fit(readings, turn, pixel_mm)
    return fit, bench_doubts.contradicting(readings, fit, turn, pixel_mm)


def _by_eye(taken: _Taken, head: Head | None) -> BenchAnswer:
    ends = (head.slide_min, head.slide_max) if head else (None, None)
    found = bench_fit.bracket([reading for _, reading in taken], *ends)
    return BenchAnswer(
        readings=len(taken),
        slide_for_zero_mm=found.locked_mm,
        bracket_mm=(found.low_mm, found.high_mm),
        try_next_mm=found.try_next_mm,
        contradicting=tuple(taken[number][0] for number in found.contradicting),
    )


class BenchPoint(NamedTuple):
    """A reading of slip: its row, its slide, and in pixels as read, as laid out straight, and that less the line."""

    row: int
    slide_mm: float
    slip_px: float
    straight_px: float
    residual_px: float


class BenchLine(NamedTuple):
    """The fitted line: slip = slope · (slide − zero), with the readings that it is fitted to."""

    slope_px_per_mm: float
    zero_mm: float
    points: tuple[BenchPoint, ...]

    def at(self, slide_mm: float) -> float:
        """Return the slip in pixels that the line has at a place of the slide."""
        return self.slope_px_per_mm * (slide_mm - self.zero_mm)


def bench_line(answer: Answer) -> BenchLine | None:
    """Return the line through the readings in pixels, as the bench stood at the last; None where none can be fitted."""
    bench, found = _bench_of(answer), answer.slip.bench
    if bench is None or found is None or found.slope_predicted_px_per_mm is None:
        return None
    there = bench.as_last_read()
    measured = [one for one in bench.readings(there) if one[1].slip_px is not None]
    fit = bench_fit.fit([reading for _, reading in measured], there.turn, there.pixel_mm)
    line = BenchLine(fit.slope_px_per_mm or fit.slope_predicted_px_per_mm, fit.slide_for_zero_mm, ())
    points = tuple(
        BenchPoint(row, reading.slide_mm, reading.slip_px or 0.0, line.at(reading.slide_mm) + residual, residual)
        for (row, reading), residual in zip(measured, fit.residuals, strict=True)
    )
    return line._replace(points=points)
