"""The answer's speed and light groups, and what the lamps of a shot give at the model."""

import math

from forescale.engine.formulas import flicker, frame_rate, holding, light, lineup, optics
from forescale.engine.formulas.flicker import SAFE_STOPS, Pulse, safe_shutter_deg
from forescale.engine.kit.kit import Kit
from forescale.engine.kit.profiles import Mode, Rates
from forescale.engine.shot.records import Lamp, Setting
from forescale.engine.shot.sections import TILTS, Action, Move
from forescale.engine.solve.groups import LampLight, LightAnswer, SpeedAnswer
from forescale.engine.solve.lens_setup import LensPlacement, LensSetup
from forescale.engine.solve.view import View


def chosen_fps(action: Action, mode: Mode, ideal_fps: float) -> float:
    """Return the lowest rate of the mode that serves the action, or its highest: on a range in whole rates."""
    if isinstance(mode.fps, Rates):
        return frame_rate.whole_rate_between(mode.fps.min, mode.fps.max, ideal_fps)
    return frame_rate.lowest_rate_that_serves(mode.fps, ideal_fps, frame_rate.SERVED_GRAVITY if action.scaled else 1.0)


def runs_at(mode: Mode, fps: float) -> bool:
    """Return whether the mode has a rate."""
    if isinstance(mode.fps, Rates):
        return mode.fps.min <= fps <= mode.fps.max
    return any(abs(rate - fps) < 1e-6 for rate in mode.fps)


def speed_group(setting: Setting, kit: Kit, setup: LensSetup, view: View) -> SpeedAnswer:
    """Return how fast camera, action and move run."""
    action, move, mode = setting.action, setting.move, kit.mode
    ideal = frame_rate.ideal_fps(action.scaled, setup.ratio, action.playback_fps, action.heft)
    fps = action.fps or chosen_fps(action, mode, ideal)
    factor = fps / action.playback_fps
    set_time = frame_rate.set_time_s(action.screen_time, factor)
    move_time = move.screen_time if move.screen_time is not None else action.screen_time
    move_set_time = frame_rate.set_time_s(move_time, factor)
    crossing = skew = None
    if view.moves:
        crossing = frame_rate.crossing_s(move_time, _crossing_share(setting, kit, setup, view))
        if mode.readout is not None:
            # as if the whole move went at the pace of the line-up
            about, away = view.about_pupil, (setup.model_mm, setup.background_mm)
            pace = max(holding.picture_speed(mm, about, view.frame) for mm in away)
            skew = frame_rate.readout_skew_px(pace * (about.last - about.first) / move_set_time, mode.readout)
    reads_as, real = lineup.reads_as_ratio(setup.model_mm, setup.seems_mm), action.real_speed
    return SpeedAnswer(
        time_factor=factor,
        ideal_fps=ideal,
        fps=fps,
        top_fps=mode.top_fps,
        rates=() if isinstance(mode.fps, Rates) else tuple(sorted(mode.fps)),
        apparent_gravity=frame_rate.apparent_gravity(setup.ratio, factor),
        gravity_as_read=None if math.isinf(reads_as) else frame_rate.apparent_gravity(reads_as, factor),
        largest_ratio=frame_rate.largest_ratio(mode.top_fps / action.playback_fps, action.heft),
        screen_time_s=action.screen_time,
        set_time_s=set_time,
        frames=set_time * fps,
        exposure_s=light.exposure_s(action.shutter, fps),
        model_speed_mm_s=None if real is None else frame_rate.model_speed_mm_s(real, setup.ratio, factor),
        move_set_time_s=move_set_time if view.moves else None,
        crossing_s=crossing,
        readout_skew_px=skew,
        data_mb=None if mode.data_rate is None else mode.data_rate * set_time * fps / mode.top_fps,
    )


def _crossing_share(setting: Setting, kit: Kit, setup: LensSetup, view: View) -> float:
    """Return how many times the whole move, start to end, a thing takes to cross the frame."""
    move, about = setting.move, view.about_pupil
    if move.tilt_sweep or move.travel is not None:
        shares = (holding.crossing_share(point, about, view.frame) for point in view.aimed)
        return min(shares) / (about.last - about.first)
    return 2 * to_edge_deg(move, kit, setup) / (move.start + move.sweep)


def to_edge_deg(move: Move, kit: Kit, setup: LensSetup) -> float:
    """Return the turn that carries what the lens is aimed at to the edge of the frame, about the pupil."""
    if move.axis in TILTS:
        return optics.half_field_deg(kit.mode.height, setup.image_mm)
    return optics.pan_to_edge_deg(setup.frame_width_mm, setup.image_mm, setup.aim_deg)


def light_group(setting: Setting, kit: Kit, setup: LensSetup, speeds: SpeedAnswer) -> LightAnswer:
    """Return what the speed and the stop need of light, and whether lamps on the mains will flicker."""
    there, shutter = setting.light, setting.action.shutter
    iso = kit.mode.iso_base if there.iso is None else there.iso
    t_working = optics.working_stop(setup.t_stop, setup.magnification, setup.pupil_magnification)
    nd, available = there.nd or 0.0, lux_there(setting)
    needed = light.lux_needed(t_working, speeds.exposure_s, iso)
    with_nd = light.lux_with_nd(needed, nd)
    over = None if available is None else light.over_stops(available, needed)
    pulse = pulse_of(setting, kit.mode)
    flicker = None if pulse is None else pulse.stops(speeds.fps, speeds.exposure_s)
    behind = shift = None
    if available is not None and there.at_background is not None:
        behind = light.over_stops(there.at_background, available)
    if there.kelvin is not None and there.kelvin_at_background is not None:
        shift = light.shift_mired(there.kelvin, there.kelvin_at_background)
    return LightAnswer(
        iso=iso,
        t_stop_working=t_working,
        lux_needed=needed,
        footcandles_needed=light.footcandles(needed),
        lux_with_nd=with_nd,
        available_lux=available,
        at_background_lux=there.at_background,
        background_stops=behind,
        shift_mired=shift,
        lamps=tuple(_lamp(setting, setup, lamp, with_nd) for lamp in setting.lamp),
        pulse_depth=pulse_depth(setting),
        over_stops=None if over is None else over - nd,
        nd_stops=None if over is None else light.nd_stops(over),
        nd_fitted=there.nd,
        iso_needed=None if available is None else light.iso_needed(iso, available, with_nd),
        mains_hz=there.mains,
        flicker_safe=None if flicker is None else flicker < SAFE_STOPS,
        flicker_stops=flicker,
        safe_fps=None if pulse is None else pulse.safe_fps(speeds.fps, shutter),
        safe_shutter_deg=None if pulse is None else safe_shutter_deg(speeds.fps, pulse.hz, shutter),
    )


def pulse_of(setting: Setting, mode: Mode) -> Pulse | None:
    """Return how the lamps pulse, by the strongest, else twice the mains, and the readout, 0 where not known."""
    strongest = max(setting.lamp, key=lambda lamp: (lamp_lux(lamp) or 0.0) * _depth(lamp), default=None)
    hz = None if strongest is None else strongest.pulse
    if hz is None and setting.light.mains is not None:
        hz = 2 * setting.light.mains
    return None if hz is None else Pulse(hz, pulse_depth(setting), mode.readout or 0.0)


def lamp_lux(lamp: Lamp) -> float | None:
    """Return what a kind of lamp gives at the model; None where it is not said where it stands."""
    return None if lamp.stands is None else light.lux_at(lamp.gives, lamp.at, lamp.stands, lamp.number, lamp.loss)


def lux_there(setting: Setting) -> float | None:
    """Return the light at the model, what was read there with what the lamps give; None where neither is known."""
    given = [lux for lux in (*map(lamp_lux, setting.lamp), setting.light.available) if lux is not None]
    return sum(given) if given else None


def pulse_depth(setting: Setting) -> float:
    """Return how deep the light at the model pulses, 0 to 1, with the daylight; an unknown lamp is `UNKNOWN_DEPTH`."""
    if not setting.lamp:
        return flicker.UNKNOWN_DEPTH
    lights = [(lamp_lux(lamp) or 0.0, _depth(lamp)) for lamp in setting.lamp]
    if not any(lux for lux, _ in lights):
        return max(map(_depth, setting.lamp))
    return flicker.mean_depth([*lights, (setting.light.available or 0.0, 0.0)])


def _depth(lamp: Lamp) -> float:
    return flicker.UNKNOWN_DEPTH if lamp.depth is None else lamp.depth


def _lamp(setting: Setting, setup: LensPlacement, lamp: Lamp, needed_lux: float) -> LampLight:
    lux, stands = lamp_lux(lamp), lamp.stands
    short = needed_lux - (lux_there(setting) or 0.0) + (lux or 0.0)
    deep = setup.model_mm - setup.near_mm
    return LampLight(
        name=lamp.name,
        lux=lux,
        stands_mm=None if short <= 0 else light.stands_for_mm(short, lamp.gives, lamp.at, lamp.number, lamp.loss),
        fall_stops=light.fall_stops(stands, stands + deep) if stands and deep > 0 else None,
        point_from_mm=None if lamp.size is None else light.POINT_FROM_SIZES * lamp.size,
        sun_width_mm=None if stands is None else stands * light.SUN_WIDTH_SHARE,
    )
