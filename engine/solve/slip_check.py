"""The answer's slip group."""

from __future__ import annotations

from forescale.engine.files.faults import BadInput
from forescale.engine.formulas import optics, slip
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import TILTS, Setting
from forescale.engine.solve.bench_group import bench_group
from forescale.engine.solve.groups import SlipAnswer
from forescale.engine.solve.sight import Sight, Standing
from forescale.engine.solve.turning import Turning, sensor_mm, turning_of


def slip_group(setting: Setting, kit: Kit, sight: Sight, where: str) -> SlipAnswer:
    """Return the slip of the move as set, the slide that has none, and what the bench says; raises BadInput."""
    move, pupil, head = setting.move, sight.pupil, kit.head
    turning = turning_of(setting, kit, sight, where)
    zero_offset = slip.zero_offset_mm(turning.turn) if turning else None
    sensor = sensor_mm(setting, kit, sight)
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
        bench=bench_group(setting, kit, sight, turning),
    )


def check_turn(setting: Setting, kit: Kit, sight: Standing, where: str) -> None:
    """Raise BadInput where the head cannot turn so, or would carry the lens into the model."""
    turning = turning_of(setting, kit, sight, where)
    if turning and kit.head and sight.pupil.known and setting.move.slide is not None:
        _slip_mm(turning, sensor_mm(setting, kit, sight) + sight.pupil.ahead_mm - turning.axis_mm, where)


def _slip_mm(turning: Turning, offset_mm: float, where: str) -> float:
    try:
        return slip.slip_mm(turning.turn, offset_mm)
    except ValueError as error:
        raise BadInput(f"{where}: move: {error}") from None


def _leaves_frame_deg(kit: Kit, sight: Sight, axis: str) -> float | None:
    """Return the turn at which the point aimed at leaves the frame, half the field along the move."""
    if axis == "none":
        return None
    return optics.half_field_deg(kit.mode.height if axis in TILTS else sight.frame_width_mm, sight.image_mm)
