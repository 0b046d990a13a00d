"""The workings of the speed group."""

from __future__ import annotations

from typing import TYPE_CHECKING

from forescale.engine.formulas import optics
from forescale.engine.shot.records import PANS
from forescale.engine.units import speed_text
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import told

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

FROUDE = "Froude similarity; Transactions of the SMPE, May 1924"
_FALLS = "falling, water, smoke or fire"
_screen = on.always("Screen time is what the audience sees; set time is what the stopwatch on set shows.")
_weighed = on.always(f"Counts only where something moves by its own weight: {_FALLS}.")


def ideal_rate(of: Answer, ratio: float, key: str) -> str:
    """Return the ideal rate of the shot's action at a ratio, worked out with its numbers; `key` has the result."""
    say, action, rate = Figures(of), of.setting.action, value_text(key, of)
    if not action.scaled:
        return f"a {action.kind} thing does not move by its own weight, so the rate is that of playback: {rate}"
    return f"{say.number(action.playback_fps)} fps × √{say.number(ratio)} × {say.number(action.heft)} = {rate}"


def _time_factor(of: Answer) -> str:
    say = Figures(of)
    rates = f"{say.number(of.speed.fps)} fps / {say.number(of.setting.action.playback_fps)} fps"
    return f"{rates} = {value_text('speed.time_factor', of)}"


def _fps(of: Answer) -> str:
    fps, ideal = value_text("speed.fps", of), value_text("speed.ideal_fps", of)
    if "action.fps" not in of.auto:
        return f"set to {fps}; the ideal is {ideal}"
    if of.speed.fps < of.speed.ideal_fps * (1 - 1e-9):
        return f"no rate of the mode reaches {ideal}, so its highest: {fps}"
    return f"the lowest rate of the mode that serves {ideal}: {fps}"


def _apparent_gravity(of: Answer) -> str:
    say = Figures(of)
    sum_ = f"{say.number(of.scale.ratio)} / {say.number(of.speed.time_factor)}²"
    return f"{sum_} = {value_text('speed.apparent_gravity', of)}"


def _largest_ratio(of: Answer) -> str:
    say, action = Figures(of), of.setting.action
    top = f"({say.number(of.speed.top_fps)} fps / {say.number(action.playback_fps)} fps / {say.number(action.heft)})²"
    return f"{top} = {value_text('speed.largest_ratio', of)}"


def _on_set(of: Answer, screen_s: float, key: str) -> str:
    say = Figures(of)
    return f"{say.seconds(screen_s)} / {say.number(of.speed.time_factor)} = {value_text(key, of)}"


def _move_screen_s(of: Answer) -> float:
    return of.setting.move.screen_time or of.setting.action.screen_time


def _frames(of: Answer) -> str:
    say = Figures(of)
    return f"{say.seconds(of.speed.set_time_s)} × {say.number(of.speed.fps)} fps = {value_text('speed.frames', of)}"


def _exposure(of: Answer) -> str:
    say = Figures(of)
    cycle = f"{say.degrees(of.setting.action.shutter)} / (360° × {say.number(of.speed.fps)} fps)"
    return f"{cycle} = {value_text('speed.exposure_s', of)}"


def _model_speed(of: Answer) -> str:
    say = Figures(of)
    real = speed_text(of.setting.action.real_speed or 0.0, of.system)
    sum_ = f"{real} × {say.number(of.speed.time_factor)} / {say.number(of.scale.ratio)}"
    return f"{sum_} = {value_text('speed.model_speed_mm_s', of)}"


def _crossing(of: Answer) -> str:
    say, image = Figures(of), of.setup.image_mm
    pans = of.setting.move.axis in PANS
    if not say.plain:
        return f"a thing in the frame's middle, followed from edge to edge: {value_text('speed.crossing_s', of)}"
    side = of.setup.frame_width_mm if pans else of.kit.mode.height
    field = say.degrees(2 * optics.half_field_deg(side, image))
    width = say.across(of.kit.mode.width) if pans else say.mm(side)
    return (
        f"angle of view: 2 × atan({width} / (2 × {say.mm(image)})) = {field}; "
        f"{say.seconds(_move_screen_s(of))} × {field} / {say.degrees(of.setting.move.sweep)} = "
        f"{value_text('speed.crossing_s', of)}"
    )


def _skew(of: Answer) -> str:
    if not Figures(of).plain:
        return f"the picture's pace at the line-up, over the readout: {value_text('speed.readout_skew_px', of)}"
    say = Figures(of)
    turn = f"{say.degrees(of.setting.move.sweep)} × pi / 180° / {say.seconds(of.speed.move_set_time_s or 0.0)}"
    picture = f"{say.mm(of.setup.image_mm)} × {turn} × {say.seconds(of.kit.mode.readout or 0.0)} / {say.pixel()}"
    return f"{picture} = {value_text('speed.readout_skew_px', of)}"


def _data(of: Answer) -> str:
    say, run = Figures(of), of.speed
    rate = (
        f"{say.number(of.kit.mode.data_rate or 0.0)} MB/s × {say.number(run.fps)} fps / {say.number(run.top_fps)} fps"
    )
    return f"{rate} × {say.seconds(run.set_time_s)} = {value_text('speed.data_mb', of)}"


def _as_read(of: Answer) -> str:
    say, run = Figures(of), of.speed
    reads_as = f"{say.number(of.lineup.reads_as_ratio)} / {say.number(run.time_factor)}²"
    return f"{reads_as} = {value_text('speed.gravity_as_read', of)}"


WORKINGS = (
    told(
        "speed.gravity_as_read",
        _as_read,
        on.always("The same as the apparent gravity where the model stands at its match."),
    ),
    told(
        "speed.ideal_fps",
        lambda of: ideal_rate(of, of.scale.ratio, "speed.ideal_fps"),
        on.always(f"Time shrinks by the root of the ratio for {_FALLS}; heft is a matter of taste, 1 exact."),
    ),
    told(
        "speed.fps", _fps, on.always("A rate between two is never made up: only those that the camera's mode runs at.")
    ),
    told("speed.rates", lambda of: f"from the mode {of.kit.mode.name}: {value_text('speed.rates', of)}", on.entered),
    told(
        "speed.top_fps",
        lambda of: f"the highest of the mode {of.kit.mode.name}: {value_text('speed.top_fps', of)}",
        on.entered,
    ),
    told("speed.time_factor", _time_factor, on.plain),
    told("speed.apparent_gravity", _apparent_gravity, _weighed),
    told("speed.largest_ratio", _largest_ratio, _weighed),
    told("speed.screen_time_s", lambda of: f"as entered: {value_text('speed.screen_time_s', of)}", _screen),
    told("speed.set_time_s", lambda of: _on_set(of, of.speed.screen_time_s, "speed.set_time_s"), _screen),
    told("speed.frames", _frames, on.always("For the action alone: add what the camera needs to come up to speed.")),
    told("speed.exposure_s", _exposure, on.always("A shutter of 360° is open for the whole of each frame.")),
    told("speed.model_speed_mm_s", _model_speed, on.always("Measured on set, in real seconds.")),
    told("speed.move_set_time_s", lambda of: _on_set(of, _move_screen_s(of), "speed.move_set_time_s"), _screen),
    told("speed.crossing_s", _crossing, on.picture),
    told("speed.readout_skew_px", _skew, on.always("For the middle of the frame and a move at an even speed.")),
    told(
        "speed.data_mb", _data, on.always("The mode's data rate is the one at its top rate; 1 MB is a million bytes.")
    ),
)
