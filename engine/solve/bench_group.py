"""The bench of an answer: the readings taken with the kit in hand, and what they say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from forescale.engine.files.faults import BadInput
from forescale.engine.formulas import bench_doubts, bench_fit, slip
from forescale.engine.formulas.refusal import CannotBe
from forescale.engine.kit.kit import Kit, taken_with
from forescale.engine.shot.records import BenchRow, Setting
from forescale.engine.solve.groups import BenchAnswer
from forescale.engine.solve.lens_setup import LensSetup
from forescale.engine.solve.own_lens import own_lens
from forescale.engine.solve.turn_geometry import TurnGeometry, turn_geometry

_SAYS_NOTHING = BenchAnswer(
    readings=0,
    slide_for_zero_mm=None,
    std_error_mm=None,
    band_mm=None,
    pupil_ahead_mm=None,
    slope_px_per_mm=None,
    slope_predicted_px_per_mm=None,
    outside=False,
    suspects=(),
    bracket_mm=None,
    try_next_mm=None,
    contradicting=(),
    fault=None,
    mend=None,
)


@dataclass(frozen=True, slots=True)
class Readings:
    """The readings that count: those taken with the kit in hand, and the places of their rows in the shot."""

    rows: tuple[int, ...]
    taken: tuple[bench_fit.Reading, ...]

    @property
    def measured(self) -> Readings:
        """The readings with a number, in pixels."""
        kept = [number for number, reading in enumerate(self.taken) if reading.slip_px is not None]
        return Readings(tuple(self.rows[number] for number in kept), tuple(self.taken[number] for number in kept))


def bench_group(setting: Setting, kit: Kit, setup: LensSetup, turning: TurnGeometry | None) -> BenchAnswer | None:
    """Return what the readings say; None where there are none."""
    rows = setting.bench
    if not rows:
        return None
    setting, turning = bench_move(setting, kit, setup, turning)
    if turning is None:
        return _no_answer(len(rows), CannotBe("the readings need the move they were taken over", "set axis and sweep"))
    try:
        readings = readings_of(setting, kit, setup, turning)
    except ValueError as error:
        return _no_answer(len(rows), error)
    if not readings.taken:
        lacks = f"no reading was taken with this kit and axis, but {_taken_with(rows)}"
        return _no_answer(0, CannotBe(lacks, "take new readings, or go back to that kit"))
    by = _by_number if readings.measured.taken else _by_eye
    return by(readings, kit, turning, setup.pupil.ahead_mm)


def _no_answer(readings: int, error: ValueError) -> BenchAnswer:
    mend = error.right if isinstance(error, CannotBe) else ""
    return replace(_SAYS_NOTHING, readings=readings, fault=str(error), mend=mend or None)


def bench_move(
    setting: Setting, kit: Kit, setup: LensSetup, turning: TurnGeometry | None
) -> tuple[Setting, TurnGeometry | None]:
    """Return the setting with the move that the bench is for, and its geometry, `turning` being the shot's.

    Of a shot that does not turn it is the move over which the first reading says it was taken.
    """
    if turning is not None:
        return setting, turning
    row = next((row for row in setting.bench if row.axis and row.sweep), None)
    if row is None:
        return setting, None
    move = setting.move.model_copy(update={"axis": row.axis, "sweep": row.sweep, "start": 0.0})
    moved = setting.model_copy(update={"move": move})
    try:
        return moved, turn_geometry(moved, kit, setup)
    except BadInput:
        return setting, None


def readings_of(setting: Setting, kit: Kit, setup: LensSetup, turning: TurnGeometry) -> Readings:
    """Return the readings that count, lengths on the tape turned into pixels; CannotBe where one cannot have been."""
    numbers = tuple(number for number, row in enumerate(setting.bench) if taken_with(row, setting, kit))
    taken = tuple(_reading(setting.bench[number], setting, kit, setup, turning) for number in numbers)
    return Readings(numbers, taken)


def _reading(row: BenchRow, setting: Setting, kit: Kit, setup: LensSetup, turning: TurnGeometry) -> bench_fit.Reading:
    """Return a reading over its own move, seen through its own mode and focus, in pixels of the bench's."""
    try:
        own, there = _own_turning(row, setting, kit, setup)
    except BadInput as fault:
        first = fault.faults[0]
        raise CannotBe(f"a reading cannot have been so: {first.wrong}", first.right) from None
    if own is None:
        raise CannotBe("a reading over no sweep shows no slip", "set the sweep that it was taken over")
    slip_px = row.slip_px
    if row.slip_at_background is not None:
        slip_px = bench_fit.slip_px_at_background(
            row.slip_at_background, there.image_mm, there.background_mm, own.pixel_mm, own.turn.sweep_deg
        )
    if slip_px is not None and own.pixel_mm != turning.pixel_mm:
        slip_px *= own.pixel_mm / turning.pixel_mm
    as_aimed = row.slide + turning.zero_slide_mm - own.zero_slide_mm  # what would have slipped so at the shot's aim
    return bench_fit.Reading(as_aimed, slip_px, row.seen, own.turn)


def _own_turning(row: BenchRow, setting: Setting, kit: Kit, setup: LensSetup) -> tuple[TurnGeometry | None, LensSetup]:
    """Return the move that a reading was taken over, and the lens with model and background where they then stood."""
    own, taped = own_lens(row, kit, setup), (setup.tape(setup.model_mm), setup.tape(setup.background_mm))
    model, background = (then or here for then, here in zip((row.model, row.background), taped, strict=True))
    aimed = replace(setup, image_mm=own.image_mm, aim_deg=setup.aim_deg if row.aim is None else row.aim)
    there = replace(aimed, model_mm=aimed.along(model), background_mm=aimed.along(background))
    own_move = {name: own for name, own in (("axis", row.axis), ("sweep", row.sweep)) if own is not None}
    move = setting.move.model_copy(update=own_move)
    return turn_geometry(setting.model_copy(update={"move": move}), replace(kit, mode=own.mode), there), there


def _taken_with(rows: Sequence[BenchRow]) -> str:
    """Return what readings were taken with, each lens, head and axis named once."""
    named = dict.fromkeys(taken_with_text(row) for row in rows)
    return f"with {' and with '.join(named)}"


def taken_with_text(row: BenchRow) -> str:
    """Return what a reading was taken with, as far as it says so: "prime-35, 35 mm, slide-head, pan"."""
    focal = None if row.focal_length is None else f"{row.focal_length:g} mm"
    return ", ".join(part for part in (row.lens, focal, row.head, row.axis) if part)


def _pupil_mm(zero_mm: float | None, kit: Kit, turning: TurnGeometry, ahead_mm: float) -> float | None:
    """Return the pupil ahead of the sensor plane for a slide that turns about it; None where no head is named."""
    if zero_mm is None or kit.head is None:
        return None
    return turning.slide_mm(slip.zero_offset_mm(turning.turn)) - zero_mm + ahead_mm


def _by_number(readings: Readings, kit: Kit, turning: TurnGeometry, ahead_mm: float) -> BenchAnswer:
    measured = readings.measured
    try:
        fit = bench_fit.fit(measured.taken, turning.turn, turning.pixel_mm)
    except ValueError as error:
        return _no_answer(len(readings.rows), error)
    doubted = bench_doubts.contradicting(readings.taken, fit, turning.turn, turning.pixel_mm)
    return replace(
        _SAYS_NOTHING,
        readings=len(readings.rows),
        slide_for_zero_mm=fit.slide_for_zero_mm,
        std_error_mm=fit.std_error_mm,
        band_mm=fit.band_mm,
        pupil_ahead_mm=_pupil_mm(fit.slide_for_zero_mm, kit, turning, ahead_mm),
        slope_px_per_mm=fit.slope_px_per_mm,
        slope_predicted_px_per_mm=fit.slope_predicted_px_per_mm,
        outside=fit.outside,
        suspects=fit.suspects,
        contradicting=tuple(readings.rows[number] for number in doubted),
    )


def _by_eye(readings: Readings, kit: Kit, turning: TurnGeometry, ahead_mm: float) -> BenchAnswer:
    head = kit.head
    found = bench_fit.bracket(
        readings.taken,
        slide_min=head.slide_min if head else None,
        slide_max=head.slide_max if head else None,
    )
    return replace(
        _SAYS_NOTHING,
        readings=len(readings.rows),
        slide_for_zero_mm=found.locked_mm,
        pupil_ahead_mm=_pupil_mm(found.locked_mm, kit, turning, ahead_mm),
        bracket_mm=(found.low_mm, found.high_mm),
        try_next_mm=found.try_next_mm,
        contradicting=tuple(readings.rows[number] for number in found.contradicting),
    )
