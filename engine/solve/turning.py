"""How the head turns in a shot.

The pan axis is the origin for the slide: the sensor plane stands `slide + sensor_at_zero` ahead of it. A tilt turns
about its own axis, `tilt_ahead` of the pan axis and `tilt_drop` below the lens axis.
"""

from __future__ import annotations

from dataclasses import dataclass

from forescale.engine.files.faults import BadInput
from forescale.engine.formulas import slip
from forescale.engine.kit.kit import Kit
from forescale.engine.kit.profiles import Head
from forescale.engine.shot.records import TILTS, Axis, Setting
from forescale.engine.solve.sight import Standing


@dataclass(frozen=True, slots=True)
class Turning:
    """The geometry of the move: the turn, the axis ahead of the pan axis, and what a pixel is along the move."""

    turn: slip.Turn
    axis_mm: float
    pixel_mm: float


def sensor_mm(setting: Setting, kit: Kit, sight: Standing) -> float:
    """Return how far the sensor plane stands ahead of the pan axis; with the pupil on the axis where not said."""
    if kit.head is None or setting.move.slide is None:
        return -sight.pupil.ahead_mm
    return setting.move.slide + kit.head.sensor_at_zero


def rise_mm(axis: Axis, head: Head | None) -> float:
    """Return how far the lens axis lies above the axis of a move, counted the way the lens turns: h, 0 for a pan.

    A tilt down by θ about an axis h below the lens is a tilt up by θ about one h above it, seen in a mirror.
    """
    if head is None or axis not in TILTS:
        return 0.0
    return -head.tilt_drop if axis == "tilt down" else head.tilt_drop


def turning_of(setting: Setting, kit: Kit, sight: Standing, where: str = "shot") -> Turning | None:
    """Return the geometry of the move, or None where nothing turns; raises BadInput where it cannot turn so."""
    move, head = setting.move, kit.head
    if move.axis == "none" or move.sweep == 0:
        return None
    tilts = move.axis in TILTS
    axis = head.tilt_ahead if tilts and head else 0.0
    to_axis = sensor_mm(setting, kit, sight) + sight.pupil.ahead_mm - axis
    try:
        turn = slip.Turn(
            sweep_deg=move.sweep,
            model_mm=sight.model_mm + to_axis,
            background_mm=sight.background_mm + to_axis,
            rise_mm=rise_mm(move.axis, head),
            image_distance_mm=sight.image_mm,
        )
    except ValueError as error:
        raise BadInput(f"{where}: move: {error}") from None
    pixel = kit.mode.pixel_up_mm if tilts else kit.mode.pixel_mm * kit.lens.squeeze
    return Turning(turn, axis, pixel)
