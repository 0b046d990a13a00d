"""The answer's slip group, and the bench in it.

The pan axis is the origin for the slide: the sensor plane stands `slide + sensor_at_zero` ahead of it. A tilt turns
about its own axis, `tilt_ahead` of the pan axis and `tilt_drop` below the lens axis.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine import bench, optics, slip
from engine.answer.groups import BenchAnswer, SlipAnswer
from engine.answer.sight import Sight, Standing
from engine.faults import BadInput
from engine.kit import Kit
from engine.shot import BenchRow, Setting


@dataclass(frozen=True, slots=True)
class Turning:
    """The geometry of the move: the turn, the axis ahead of the pan axis, and what a pixel is along the move."""

    turn: slip.Turn
    axis_mm: float
    pixel_mm: float
    sensor_mm: float


def slip_group(setting: Setting, kit: Kit, sight: Sight, where: str) -> SlipAnswer:
    """Return the slip of the move as set, the slide that has none, and what the bench says; raises BadInput."""
    move, pupil, head = setting.move, sight.pupil, kit.head
    turning = turning_of(setting, kit, sight, where)
    zero_offset = slip.zero_offset_mm(turning.turn) if turning else None
    sensor = _sensor_mm(setting, kit, sight)
    offset = slip_px = largest_px = slip_mm = slide_for_zero = None
    if turning and head and pupil.known:
        if zero_offset is not None:
            slide_for_zero = zero_offset + turning.axis_mm - head.sensor_at_zero - pupil.ahead_mm
        if move.slide is not None:
            offset = sensor + pupil.ahead_mm - turning.axis_mm
            slip_mm = _slip_mm(turning, offset, where)
            slip_px = slip_mm / turning.pixel_mm
            largest_px = slip.largest_slip_mm(turning.turn, offset) / turning.pixel_mm
    return SlipAnswer(
        axis=move.axis,
        sweep_deg=move.sweep,
        pupil_ahead_mm=pupil.ahead_mm,
        pupil_known=pupil.known,
        pupil_outside=pupil.outside,
        pupil_uncertainty_mm=pupil.uncertainty_mm,
        pupil_rows=pupil.rows,
        slide_mm=move.slide,
        offset_mm=offset,
        slip_px=slip_px if turning else 0.0,
        slip_mm=slip_mm if turning else 0.0,
        largest_slip_px=largest_px if turning else 0.0,
        leaves_frame_deg=_leaves_frame_deg(kit, sight, move.axis),
        tolerance_px=move.tolerance,
        tolerance_mm=slip.tolerance_mm(turning.turn, move.tolerance * turning.pixel_mm) if turning else None,
        slide_for_zero_mm=slide_for_zero,
        model_from_axis_mm=turning.turn.model_mm if turning else None,
        background_from_axis_mm=turning.turn.background_mm if turning else None,
        bench=_bench(setting, kit, sight, turning, zero_offset),
    )


def check_turn(setting: Setting, kit: Kit, sight: Standing, where: str) -> None:
    """Raise BadInput where the head cannot turn so, or would carry the lens into the model."""
    turning = turning_of(setting, kit, sight, where)
    if turning and kit.head and sight.pupil.known and setting.move.slide is not None:
        _slip_mm(turning, _sensor_mm(setting, kit, sight) + sight.pupil.ahead_mm - turning.axis_mm, where)


def _slip_mm(turning: Turning, offset_mm: float, where: str) -> float:
    try:
        return slip.slip_mm(turning.turn, offset_mm)
    except ValueError as error:
        raise BadInput(f"{where}: move: {error}") from None


def _sensor_mm(setting: Setting, kit: Kit, sight: Standing) -> float:
    """Return how far the sensor plane stands ahead of the pan axis; with the pupil on the axis where not said."""
    if kit.head is None or setting.move.slide is None:
        return -sight.pupil.ahead_mm
    return setting.move.slide + kit.head.sensor_at_zero


def turning_of(setting: Setting, kit: Kit, sight: Standing, where: str = "shot") -> Turning | None:
    """Return the geometry of the move, or None where nothing turns; raises BadInput where it cannot turn so."""
    move, head = setting.move, kit.head
    if move.axis == "none" or move.sweep == 0:
        return None
    tilts = move.axis == "tilt"
    axis = head.tilt_ahead if tilts and head else 0.0
    to_axis = _sensor_mm(setting, kit, sight) + sight.pupil.ahead_mm - axis
    try:
        turn = slip.Turn(
            sweep_deg=move.sweep,
            model_mm=sight.model_mm + to_axis,
            background_mm=sight.background_mm + to_axis,
            rise_mm=head.tilt_drop if tilts and head else 0.0,
            image_distance_mm=sight.image_mm,
        )
    except ValueError as error:
        raise BadInput(f"{where}: move: {error}") from None
    pixel = kit.mode.pixel_up_mm if tilts else kit.mode.pixel_mm * kit.lens.squeeze
    return Turning(turn, axis, pixel, sight.image_mm)


def _bench(
    setting: Setting, kit: Kit, sight: Sight, turning: Turning | None, zero_offset: float | None
) -> BenchAnswer | None:
    rows = setting.bench
    if not rows:
        return None
    if turning is None:
        return _bench_answer(len(rows), fault="the readings need the move they were taken over: set axis and sweep")
    readings = [_reading(row, sight, turning) for row in rows]
    measured = [reading for reading in readings if reading.slip_px is not None]
    by_eye = _bracketed(readings, kit)
    if not measured:
        return by_eye
    return replace(_fitted(measured, len(rows), kit, turning, zero_offset), contradicting=by_eye.contradicting)


def _reading(row: BenchRow, sight: Sight, turning: Turning) -> bench.Reading:
    slip_px = row.slip_px
    if row.slip_at_background is not None:
        slip_px = bench.slip_px_at_background(
            row.slip_at_background, sight.image_mm, sight.background_mm, turning.pixel_mm, turning.turn.sweep_deg
        )
    return bench.Reading(row.slide, slip_px, row.seen)


def _leaves_frame_deg(kit: Kit, sight: Sight, axis: str) -> float | None:
    """Return the turn at which the point aimed at leaves the frame, half the field along the move."""
    if axis == "none":
        return None
    return optics.half_field_deg(kit.mode.height if axis == "tilt" else sight.frame_width_mm, sight.image_mm)


def _fitted(
    measured: Sequence[bench.Reading], count: int, kit: Kit, turning: Turning, zero_offset: float | None
) -> BenchAnswer:
    try:
        fit = bench.fit(measured, turning.turn, turning.pixel_mm)
    except ValueError as error:
        return _bench_answer(count, fault=str(error))
    pupil = None
    if kit.head is not None and zero_offset is not None:
        pupil = zero_offset + turning.axis_mm - fit.slide_for_zero_mm - kit.head.sensor_at_zero
    return BenchAnswer(
        readings=count,
        slide_for_zero_mm=fit.slide_for_zero_mm,
        std_error_mm=fit.std_error_mm,
        band_mm=fit.band_mm,
        pupil_ahead_mm=pupil,
        slope_px_per_mm=fit.slope_px_per_mm,
        slope_predicted_px_per_mm=fit.slope_predicted_px_per_mm,
        outside=fit.outside,
        suspects=fit.suspects,
        bracket_mm=None,
        try_next_mm=None,
        contradicting=(),
        fault=None,
    )


def _bracketed(readings: Sequence[bench.Reading], kit: Kit) -> BenchAnswer:
    head = kit.head
    found = bench.bracket(
        readings,
        slide_min=head.slide_min if head else None,
        slide_max=head.slide_max if head else None,
    )
    return BenchAnswer(
        readings=len(readings),
        slide_for_zero_mm=found.locked_mm,
        std_error_mm=None,
        band_mm=None,
        pupil_ahead_mm=None,
        slope_px_per_mm=None,
        slope_predicted_px_per_mm=None,
        outside=False,
        suspects=(),
        bracket_mm=(found.low_mm, found.high_mm),
        try_next_mm=found.try_next_mm,
        contradicting=found.contradicting,
        fault=None,
    )


def _bench_answer(count: int, fault: str) -> BenchAnswer:
    return BenchAnswer(count, None, None, None, None, None, None, False, (), None, None, (), fault)
