"""The workings of the line-up group."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from forescale.engine.formulas import optics
from forescale.engine.shot.records import PANS, TILTS
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import told

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

PINHOLE = "perspective of a pinhole at the entrance pupil"
SHRINK = "a shrink by S about the entrance pupil: perspective of a pinhole"
_one_way = on.always("Over the whole move, the lens turning about its pupil; the model is flat and square to it.")
_slip_passed = on.always("Until model and background part by the slip that may pass, read on the recorded picture.")


def _model(of: Answer) -> str:
    place = value_text("lineup.model_mm", of)
    if "place.model" in of.auto:
        return f"left open, so where the ratio matches: {place}"
    return f"taped: {place}"


def _match(of: Answer) -> str:
    say = Figures(of)
    shrunk = f"{say.from_pupil(of.lineup.seems_mm)} / {say.number(of.scale.ratio)}{say.to_tape()}"
    return f"{shrunk} = {value_text('lineup.match_distance_mm', of)}"


def _reads_as(of: Answer) -> str:
    say = Figures(of)
    places = f"{say.from_pupil(of.lineup.seems_mm)} / {say.from_pupil(of.lineup.model_mm)}"
    return f"{places} = {say.number(of.lineup.reads_as_ratio)}, so {value_text('lineup.reads_as_ratio', of)}"


def _size_error(of: Answer) -> str:
    say = Figures(of)
    ratios = f"{say.number(of.lineup.reads_as_ratio)} / {say.number(of.scale.ratio)}"
    return f"{ratios} = {value_text('lineup.size_error', of)}"


def _height(of: Answer, real_mm: float, by: float, key: str) -> str:
    """Put in a height as built: the lens's, and the point's above it shrunk by a ratio."""
    say, found = Figures(of), value_text(key, of)
    lens = say.length(of.setting.place.lens_height or 0.0)
    if math.isinf(by):
        return f"what the model stands for is at infinity, where every line of sight is level: {found}"
    return f"{lens} + ({say.length(real_mm)} − {lens}) / {say.number(by)} = {found}"


def _meet(of: Answer, by: float, key: str) -> str:
    return _height(of, of.setting.place.feature_height or 0.0, by, key)


def _frame(of: Answer, sensor: str, key: str) -> str:
    say = Figures(of)
    spread = f"{sensor} × {say.from_pupil(of.lineup.model_mm)} / {say.mm(of.setup.image_mm)}"
    return f"{spread} = {value_text(key, of)}"


def _cover(of: Answer, axes: frozenset[str], sensor: str, sensor_mm: float, key: str) -> str:
    say, move = Figures(of), of.setting.move
    moves = of.speed.move_set_time_s is not None
    if (moves and move.axis not in axes) or not say.plain:
        return f"the corners of the frame, followed over the whole move: {value_text(key, of)}"
    half = say.degrees(optics.half_field_deg(sensor_mm, of.setup.image_mm))
    sides = f"2 × tan({half})"
    if move.axis in axes and move.sweep:
        sides = f"(tan({half}) + tan({half} + {say.degrees(move.sweep)}))"
    return (
        f"half the angle of view: atan({sensor} / (2 × {say.mm(of.setup.image_mm)})) = {half}; "
        f"{say.from_pupil(of.lineup.model_mm)} × {sides} = {value_text(key, of)}"
    )


def _drift(of: Answer) -> str:
    say, lined = Figures(of), of.lineup
    if math.isinf(lined.drift_tolerance_mm):
        return "model and background stand at one distance, so no drift parts them: infinity"
    parting = f"(1 / {say.from_pupil(lined.model_mm)} − 1 / {say.from_pupil(lined.background_mm)})"
    passed = f"{say.number(of.setting.move.tolerance)} px × {say.across(of.kit.mode.pixel_mm)}"
    return f"{passed} / ({say.mm(of.setup.image_mm)} × {parting}) = {value_text('lineup.drift_tolerance_mm', of)}"


def _place_tolerance(of: Answer) -> str:
    say, mode = Figures(of), of.kit.mode
    passed = f"{say.number(of.setting.move.tolerance)} px × {say.across(mode.pixel_mm)}"
    along = f"{passed} × {say.from_pupil(of.lineup.model_mm)} / ({say.across(mode.width)} / 2)"
    return f"{along} = {value_text('lineup.place_tolerance_mm', of)}"


WORKINGS = (
    told("lineup.model_mm", _model, on.tape),
    told("lineup.background_mm", lambda of: f"taped: {value_text('lineup.background_mm', of)}", on.tape),
    told("lineup.match_distance_mm", _match, on.tape),
    told("lineup.reads_as_ratio", _reads_as, on.tape),
    told(
        "lineup.size_error", _size_error, on.always("Above 1 the model looks too large: move it away from the camera.")
    ),
    told(
        "lineup.hang_height_mm",
        lambda of: _meet(of, of.lineup.reads_as_ratio, "lineup.hang_height_mm"),
        on.always("Heights are above the ground on which the background stands, not the model's table."),
    ),
    told(
        "lineup.scaled_height_mm",
        lambda of: _meet(of, of.scale.ratio, "lineup.scaled_height_mm"),
        on.always("The same as the hang height where the model stands at its match."),
    ),
    told(
        "lineup.foot_height_mm",
        lambda of: _height(of, 0.0, of.lineup.reads_as_ratio, "lineup.foot_height_mm"),
        on.always("On the line of sight to the background's ground, where the model stands."),
    ),
    told(
        "lineup.scaled_foot_height_mm",
        lambda of: _height(of, 0.0, of.scale.ratio, "lineup.scaled_foot_height_mm"),
        on.always("Where every point of the background's ground is built, at the model as behind it."),
    ),
    told(
        "lineup.seems_mm", lambda of: f"as entered, or the background's: {value_text('lineup.seems_mm', of)}", on.tape
    ),
    told(
        "lineup.frame_width_model_mm",
        lambda of: _frame(of, Figures(of).across(of.kit.mode.width), "lineup.frame_width_model_mm"),
        on.picture,
    ),
    told(
        "lineup.frame_height_model_mm",
        lambda of: _frame(of, Figures(of).mm(of.kit.mode.height), "lineup.frame_height_model_mm"),
        on.picture,
    ),
    told(
        "lineup.cover_width_mm",
        lambda of: _cover(
            of,
            PANS,
            Figures(of).across(of.kit.mode.width),
            of.setup.frame_width_mm,
            "lineup.cover_width_mm",
        ),
        _one_way,
    ),
    told(
        "lineup.cover_height_mm",
        lambda of: _cover(of, TILTS, Figures(of).mm(of.kit.mode.height), of.kit.mode.height, "lineup.cover_height_mm"),
        _one_way,
    ),
    told("lineup.drift_tolerance_mm", _drift, on.both(_slip_passed, on.picture)),
    told("lineup.place_tolerance_mm", _place_tolerance, _slip_passed),
)
