"""The workings of the speed group."""

from __future__ import annotations

from typing import TYPE_CHECKING

from forescale.engine.formulas import optics
from forescale.engine.shot.records import PANS
from forescale.engine.units import speed_text
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import DEFINITION, PRACTICE, Working

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
    say, image = Figures(of), of.sight.image_mm
    pans = of.setting.move.axis in PANS
    if not say.plain:
        return f"a thing in the frame's middle, followed from edge to edge: {value_text('speed.crossing_s', of)}"
    side = of.sight.frame_width_mm if pans else of.kit.mode.height
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
    picture = f"{say.mm(of.sight.image_mm)} × {turn} × {say.seconds(of.kit.mode.readout or 0.0)} / {say.pixel()}"
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
    Working(
        key="speed.gravity_as_read",
        name="gravity as read",
        meaning="How strong gravity looks for the size that the model reads as where it stands; 1 is right.",
        formula="(D/d)/k²",
        put_in=_as_read,
        conventions=on.always("The same as the apparent gravity where the model stands at its match."),
        leads_to=(),
        source=FROUDE,
        needs="enter what the model seems to stand at, or a background nearer than infinity",
    ),
    Working(
        key="speed.ideal_fps",
        name="ideal rate",
        meaning="The frame rate at which the model's fall, splash, smoke or flame looks as heavy as the real thing's. "
        "An action that moves by no weight of its own takes the playback rate.",
        formula="playback × √S × heft",
        put_in=lambda of: ideal_rate(of, of.scale.ratio, "speed.ideal_fps"),
        conventions=on.always(
            f"Time shrinks by the root of the ratio for {_FALLS}; heft is a matter of taste, 1 exact."
        ),
        leads_to=("speed.fps",),
        source=FROUDE,
    ),
    Working(
        key="speed.fps",
        name="frame rate",
        meaning="The rate to run the camera at.",
        formula="the lowest rate of the mode at or above the ideal, else its highest",
        put_in=_fps,
        conventions=on.always("A rate between two is never made up: only those that the camera's mode runs at."),
        leads_to=("speed.time_factor", "speed.frames", "speed.exposure_s", "light.flicker_safe", "speed.data_mb"),
        source=PRACTICE,
    ),
    Working(
        key="speed.rates",
        name="rates of the mode",
        meaning="What the camera's mode can run at.",
        formula="from the camera's profile",
        put_in=lambda of: f"from the mode {of.kit.mode.name}: {value_text('speed.rates', of)}",
        conventions=on.entered,
        leads_to=("speed.fps", "speed.top_fps"),
        source=DEFINITION,
    ),
    Working(
        key="speed.top_fps",
        name="top rate",
        meaning="The fastest that the camera's mode runs.",
        formula="the highest rate of the mode",
        put_in=lambda of: f"the highest of the mode {of.kit.mode.name}: {value_text('speed.top_fps', of)}",
        conventions=on.entered,
        leads_to=("speed.fps", "speed.largest_ratio", "speed.data_mb"),
        source=DEFINITION,
    ),
    Working(
        key="speed.time_factor",
        name="time factor k",
        meaning="How many times slower the action looks on the screen than it ran on set.",
        formula="k = fps / playback",
        put_in=_time_factor,
        conventions=on.plain,
        leads_to=(
            "speed.apparent_gravity",
            "speed.set_time_s",
            "speed.model_speed_mm_s",
            "speed.move_set_time_s",
        ),
        source=DEFINITION,
    ),
    Working(
        key="speed.apparent_gravity",
        name="apparent gravity",
        meaning="How hard things seem to fall on the screen: 1 is right, more looks small and quick, less floats.",
        formula="S / k²",
        put_in=_apparent_gravity,
        conventions=_weighed,
        leads_to=(),
        source=FROUDE,
    ),
    Working(
        key="speed.largest_ratio",
        name="largest S served",
        meaning="The smallest model that the mode's top rate can still make heavy enough.",
        formula="(top rate / playback / heft)²",
        put_in=_largest_ratio,
        conventions=_weighed,
        leads_to=("scale.ratio",),
        source=FROUDE,
    ),
    Working(
        key="speed.screen_time_s",
        name="screen time",
        meaning="How long the action is to last on the screen.",
        formula="as entered",
        put_in=lambda of: f"as entered: {value_text('speed.screen_time_s', of)}",
        conventions=_screen,
        leads_to=("speed.set_time_s",),
        source=DEFINITION,
    ),
    Working(
        key="speed.set_time_s",
        name="time on set",
        meaning="How long the action lasts on set, and so how long the camera must run at speed.",
        formula="screen time / k",
        put_in=lambda of: _on_set(of, of.speed.screen_time_s, "speed.set_time_s"),
        conventions=_screen,
        leads_to=("speed.frames", "speed.data_mb"),
        source=DEFINITION,
    ),
    Working(
        key="speed.frames",
        name="frames",
        meaning="How many frames the action takes.",
        formula="set time · fps",
        put_in=_frames,
        conventions=on.always("For the action alone: add what the camera needs to come up to speed."),
        leads_to=(),
        source=DEFINITION,
    ),
    Working(
        key="speed.exposure_s",
        name="shutter time",
        meaning="How long each frame is exposed.",
        formula="shutter angle / (360° · fps)",
        put_in=_exposure,
        conventions=on.always("A shutter of 360° is open for the whole of each frame."),
        leads_to=("light.lux_needed", "light.flicker_safe"),
        source=DEFINITION,
    ),
    Working(
        key="speed.model_speed_mm_s",
        name="model's speed",
        meaning="How fast a driven model must be pulled to look as fast as the real thing.",
        formula="real speed · k / S",
        put_in=_model_speed,
        conventions=on.always("Measured on set, in real seconds."),
        leads_to=(),
        source="VES Handbook of Visual Effects, appendix A",
        needs="enter the speed of the real thing",
    ),
    Working(
        key="speed.move_set_time_s",
        name="move on set",
        meaning="How long the pan or tilt must take on set.",
        formula="screen time of the move / k",
        put_in=lambda of: _on_set(of, _move_screen_s(of), "speed.move_set_time_s"),
        conventions=_screen,
        leads_to=("speed.readout_skew_px",),
        source=DEFINITION,
        needs="enter a pan or a tilt and its sweep",
    ),
    Working(
        key="speed.crossing_s",
        name="crossing time",
        meaning="The screen time in which a thing crosses the whole frame in the move. Under about 7 s it judders "
        "at 24 fps and 180°, at 48 fps under half of that.",
        formula="screen time of the move · angle of view / sweep",
        put_in=_crossing,
        conventions=on.picture,
        leads_to=(),
        source=PRACTICE,
        needs="enter a pan or a tilt and its sweep",
    ),
    Working(
        key="speed.readout_skew_px",
        name="readout skew",
        meaning="How far the move carries the picture while the sensor reads out from top to bottom: in a pan uprights "
        "lean by so much, in a tilt the picture is stretched or squeezed by it.",
        formula="v·w·t/p, w the turn in radians a second on set, t the readout time",
        put_in=_skew,
        conventions=on.always("For the middle of the frame and a move at an even speed."),
        leads_to=(),
        source="perspective of a pinhole at the entrance pupil",
        needs="enter a move and its sweep, and the readout time in the camera's mode",
    ),
    Working(
        key="speed.data_mb",
        name="data",
        meaning="How much the take records.",
        formula="data rate · fps / top rate · set time",
        put_in=_data,
        conventions=on.always("The mode's data rate is the one at its top rate; 1 MB is a million bytes."),
        leads_to=(),
        source=DEFINITION,
        needs="enter the data rate in the camera's mode",
    ),
)
