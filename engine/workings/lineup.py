"""The workings of the line-up group."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from forescale.engine.formulas import optics
from forescale.engine.shot.records import PANS, TILTS
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import DEFINITION, Working

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
    spread = f"{sensor} × {say.from_pupil(of.lineup.model_mm)} / {say.mm(of.sight.image_mm)}"
    return f"{spread} = {value_text(key, of)}"


def _cover(of: Answer, axes: frozenset[str], sensor: str, sensor_mm: float, key: str) -> str:
    say, move = Figures(of), of.setting.move
    moves = of.speed.move_set_time_s is not None
    if (moves and move.axis not in axes) or not say.plain:
        return f"the corners of the frame, followed over the whole move: {value_text(key, of)}"
    half = say.degrees(optics.half_field_deg(sensor_mm, of.sight.image_mm))
    sides = f"2 × tan({half})"
    if move.axis in axes and move.sweep:
        sides = f"(tan({half}) + tan({half} + {say.degrees(move.sweep)}))"
    return (
        f"half the angle of view: atan({sensor} / (2 × {say.mm(of.sight.image_mm)})) = {half}; "
        f"{say.from_pupil(of.lineup.model_mm)} × {sides} = {value_text(key, of)}"
    )


def _drift(of: Answer) -> str:
    say, lined = Figures(of), of.lineup
    if math.isinf(lined.drift_tolerance_mm):
        return "model and background stand at one distance, so no drift parts them: infinity"
    parting = f"(1 / {say.from_pupil(lined.model_mm)} − 1 / {say.from_pupil(lined.background_mm)})"
    passed = f"{say.number(of.setting.move.tolerance)} px × {say.across(of.kit.mode.pixel_mm)}"
    return f"{passed} / ({say.mm(of.sight.image_mm)} × {parting}) = {value_text('lineup.drift_tolerance_mm', of)}"


def _place_tolerance(of: Answer) -> str:
    say, mode = Figures(of), of.kit.mode
    passed = f"{say.number(of.setting.move.tolerance)} px × {say.across(mode.pixel_mm)}"
    along = f"{passed} × {say.from_pupil(of.lineup.model_mm)} / ({say.across(mode.width)} / 2)"
    return f"{along} = {value_text('lineup.place_tolerance_mm', of)}"


WORKINGS = (
    Working(
        key="lineup.model_mm",
        name="model's place",
        meaning="Where the plane of the model stands that must match the background.",
        formula="d, as taped; left open, D/S",
        put_in=_model,
        conventions=on.tape,
        leads_to=(
            "lineup.reads_as_ratio",
            "lineup.frame_width_model_mm",
            "lineup.frame_height_model_mm",
            "scale.detail_model_mm",
            "focus.near_needed_mm",
        ),
        source=DEFINITION,
    ),
    Working(
        key="lineup.background_mm",
        name="background",
        meaning="Where the real thing stands that the model must match.",
        formula="D, as taped",
        put_in=lambda of: f"taped: {value_text('lineup.background_mm', of)}",
        conventions=on.tape,
        leads_to=("lineup.match_distance_mm", "lineup.reads_as_ratio", "focus.far_needed_mm"),
        source=DEFINITION,
    ),
    Working(
        key="lineup.match_distance_mm",
        name="stand it at",
        meaning="Where a model of the set ratio looks exactly as large as it should against the background.",
        formula="D/S",
        put_in=_match,
        conventions=on.tape,
        leads_to=("lineup.model_mm",),
        source=SHRINK,
    ),
    Working(
        key="lineup.reads_as_ratio",
        name="reads as",
        meaning="The ratio that the model would have to have for the place where it stands.",
        formula="D/d",
        put_in=_reads_as,
        conventions=on.tape,
        leads_to=("lineup.size_error", "scale.ratio"),
        source=SHRINK,
    ),
    Working(
        key="lineup.size_error",
        name="apparent size",
        meaning="How large the model looks over how large it should look, where it stands.",
        formula="(D/d)/S",
        put_in=_size_error,
        conventions=on.always("Above 1 the model looks too large: move it away from the camera."),
        leads_to=(),
        source=SHRINK,
    ),
    Working(
        key="lineup.hang_height_mm",
        name="hang height",
        meaning="How high above the background's ground the model's matching point is hung where the model stands, so "
        "that it meets the real one in the picture.",
        formula="lens height + (point's height − lens height)·d/D",
        put_in=lambda of: _meet(of, of.lineup.reads_as_ratio, "lineup.hang_height_mm"),
        conventions=on.always("Heights are above the ground on which the background stands, not the model's table."),
        leads_to=(),
        source=SHRINK,
        needs="enter the height of the lens and of the point to meet",
    ),
    Working(
        key="lineup.scaled_height_mm",
        name="height to scale",
        meaning="How high the model's matching point belongs by its ratio, wherever it stands.",
        formula="lens height + (point's height − lens height) / S",
        put_in=lambda of: _meet(of, of.scale.ratio, "lineup.scaled_height_mm"),
        conventions=on.always("The same as the hang height where the model stands at its match."),
        leads_to=(),
        source=SHRINK,
        needs="enter the height of the lens and of the point to meet",
    ),
    Working(
        key="lineup.foot_height_mm",
        name="model's ground",
        meaning="How high above the background's ground the ground of the model meets it in the picture: its table.",
        formula="lens height · (1 − d/D)",
        put_in=lambda of: _height(of, 0.0, of.lineup.reads_as_ratio, "lineup.foot_height_mm"),
        conventions=on.always("On the line of sight to the background's ground, where the model stands."),
        leads_to=(),
        source=SHRINK,
        needs="enter the height of the lens",
    ),
    Working(
        key="lineup.scaled_foot_height_mm",
        name="ground to scale",
        meaning="How high above the background's ground the model's ground belongs by its ratio.",
        formula="lens height · (1 − 1/S)",
        put_in=lambda of: _height(of, 0.0, of.scale.ratio, "lineup.scaled_foot_height_mm"),
        conventions=on.always("Where every point of the background's ground is built, at the model as behind it."),
        leads_to=(),
        source=SHRINK,
        needs="enter the height of the lens",
    ),
    Working(
        key="lineup.seems_mm",
        name="seems to stand at",
        meaning="How far off the real thing would be that the model stands for.",
        formula="D, as entered; left open, that of the background",
        put_in=lambda of: f"as entered, or the background's: {value_text('lineup.seems_mm', of)}",
        conventions=on.tape,
        leads_to=("lineup.match_distance_mm", "lineup.reads_as_ratio"),
        source=DEFINITION,
    ),
    Working(
        key="lineup.frame_width_model_mm",
        name="frame width",
        meaning="How wide a stretch the frame sees at the model.",
        formula="w·d/v",
        put_in=lambda of: _frame(of, Figures(of).across(of.kit.mode.width), "lineup.frame_width_model_mm"),
        conventions=on.picture,
        leads_to=("lineup.cover_width_mm",),
        source=PINHOLE,
    ),
    Working(
        key="lineup.frame_height_model_mm",
        name="frame height",
        meaning="How high a stretch the frame sees at the model.",
        formula="height of the sensor · d/v",
        put_in=lambda of: _frame(of, Figures(of).mm(of.kit.mode.height), "lineup.frame_height_model_mm"),
        conventions=on.picture,
        leads_to=("lineup.cover_height_mm",),
        source=PINHOLE,
    ),
    Working(
        key="lineup.cover_width_mm",
        name="cover across",
        meaning="How wide the model must be for its edges to stay out of the picture over the whole move.",
        formula="d·(tan(half the angle of view) + tan(half the angle of view + pan))",
        put_in=lambda of: _cover(
            of,
            PANS,
            Figures(of).across(of.kit.mode.width),
            of.sight.frame_width_mm,
            "lineup.cover_width_mm",
        ),
        conventions=_one_way,
        leads_to=(),
        source=PINHOLE,
        needs="the move passes 85° off the model's plane, which no flat model fills: enter a shorter sweep",
    ),
    Working(
        key="lineup.cover_height_mm",
        name="cover up, down",
        meaning="How high the model must be for its edges to stay out of the picture over the whole move.",
        formula="d·(tan(half the angle of view) + tan(half the angle of view + tilt))",
        put_in=lambda of: _cover(
            of, TILTS, Figures(of).mm(of.kit.mode.height), of.kit.mode.height, "lineup.cover_height_mm"
        ),
        conventions=_one_way,
        leads_to=(),
        source=PINHOLE,
        needs="the move passes 85° off the model's plane, which no flat model fills: enter a shorter sweep",
    ),
    Working(
        key="lineup.drift_tolerance_mm",
        name="sideways drift",
        meaning="How far the camera may drift sideways before it shows against the background.",
        formula="t·p / (v·(1/d − 1/D))",
        put_in=_drift,
        conventions=on.both(_slip_passed, on.picture),
        leads_to=(),
        source=PINHOLE,
    ),
    Working(
        key="lineup.place_tolerance_mm",
        name="place tolerance",
        meaning="How far the model may stand too near or too far before an edge at the frame's side shows it.",
        formula="t·p·d / (w/2)",
        put_in=_place_tolerance,
        conventions=_slip_passed,
        leads_to=(),
        source=PINHOLE,
    ),
)
