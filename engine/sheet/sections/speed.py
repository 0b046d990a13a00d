"""Rate and run times, and the light that they need."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.findings.light import steady_rate
from forescale.engine.formulas.frame_rate import judder_s
from forescale.engine.formulas.light import light_state
from forescale.engine.formulas.lineup import SIZE_NOTICED
from forescale.engine.sheet.blocks import Row, Section, Table
from forescale.engine.sheet.voice import Voice
from forescale.engine.shot.records import TILTS
from forescale.engine.solve.groups import LightAnswer
from forescale.engine.units import angle_text, number_text, rounded_up, speed_text, time_text


def section(voice: Voice) -> Section:
    """Return rate, run times and the move."""
    playback = voice.rate(voice.of.setting.action.playback_fps)
    blocks = (*_rate(voice), *_times(voice), *_move(voice))
    return Section("Rate and run times", blocks, f"screen time is at {playback}; set time is on the stopwatch")


def _rate(voice: Voice) -> Iterator[Row]:
    run, action = voice.of.speed, voice.of.setting.action
    yield Row("Action", action.kind)
    top = f"the mode's top is {voice.rate(run.top_fps)}"
    yield Row("Frame rate", voice.rate(run.fps), top, voice.chosen("action.fps"))
    yield Row("Ideal rate", voice.rate(run.ideal_fps), _heft(action.heft))
    if action.scaled:
        weight = voice.weight(run.apparent_gravity)
        yield Row("Apparent gravity", f"{weight} times real", "1 is right; at 2.6 it reads as a toy")
        if run.gravity_as_read is not None and abs(run.gravity_as_read / run.apparent_gravity - 1) >= SIZE_NOTICED:
            reads = f"as {voice.ratio(voice.of.lineup.reads_as_ratio)}, which it reads as"
            yield Row("Gravity as read", f"{voice.weight(run.gravity_as_read)} times real", reads)
        yield Row("Top rate serves to", voice.ratio_at_most(run.largest_ratio), "no smaller a model")
    if run.model_speed_mm_s is not None and action.real_speed is not None:
        yield Row("Real speed", speed_text(action.real_speed, voice.of.system))
        yield Row("Drive the model at", speed_text(run.model_speed_mm_s, voice.of.system))


def _heft(heft: float) -> str:
    return "" if heft == 1 else f"heft {number_text(heft)} of taste in it"


def _times(voice: Voice) -> Iterator[Row]:
    run = voice.of.speed
    yield Row("Shutter", angle_text(voice.of.setting.action.shutter), voice.exposure(run.exposure_s))
    yield Row("Screen time", time_text(run.screen_time_s))
    factor = "" if run.time_factor == 1 else f"all goes {number_text(run.time_factor)} times as fast"
    yield Row("Action lasts", time_text(run.set_time_s), factor)
    yield Row("Frames", number_text(round(run.frames), 12))
    if run.data_mb is not None:
        yield Row("Data", _data(run.data_mb), "for the action alone")


def _data(megabytes: float) -> str:
    return f"{number_text(megabytes)} MB" if megabytes < 1000 else f"{number_text(megabytes / 1000)} GB"


def _move(voice: Voice) -> Iterator[Row]:
    run, move = voice.of.speed, voice.of.setting.move
    if run.move_set_time_s is None or run.crossing_s is None:
        return
    smooth = number_text(judder_s(voice.of.setting.action.playback_fps), 2)
    turned = move.start + move.sweep
    if move.axis == "none" and move.travel is not None:
        carried = f"{voice.length(move.travel.mm)} {move.travel.way}"
        yield Row("Track, on set", f"{carried} in {time_text(run.move_set_time_s)}")
    else:
        turn = f"{angle_text(turned)} in {time_text(run.move_set_time_s)}"
        yield Row(
            f"{move.axis.capitalize()}, on set", turn, f"{number_text(turned / run.move_set_time_s)} deg a second"
        )
    yield Row(
        "Crossing time",
        time_text(run.crossing_s),
        f"screen time; under {smooth} s judders",
    )
    if run.readout_skew_px is not None:
        label = "Lean of uprights" if move.axis not in TILTS else "Stretch or squeeze"
        yield Row(label, f"{number_text(run.readout_skew_px, 2)} px", "while the sensor reads out")


def light_section(voice: Voice) -> Section:
    """Return the light needed, what there is, and the lamp check."""
    return Section("Light", (*_light(voice), *_behind(voice), *_lamps(voice)), "incident light at the model")


def _light(voice: Voice) -> Iterator[Row]:
    lit = voice.of.light
    yield Row("ISO", number_text(lit.iso, 5), "", voice.chosen("light.iso"))
    yield Row("Working T-stop", f"T{number_text(lit.t_stop_working)}", "close focus costs light")
    yield Row("Light needed", voice.light(lit.lux_needed))
    if lit.available_lux is None or lit.over_stops is None:
        return
    yield Row("Light there", voice.light(lit.available_lux), _lamps_counted(lit))
    called = {"short": "TOO LITTLE", "nearly": "A little short", "enough": "Enough", "over": "Too much"}
    way = "over" if lit.over_stops >= 0 else "short"
    yield Row(called[light_state(lit.over_stops)], f"{voice.stops(lit.over_stops)} {way}")
    if lit.nd_fitted:
        yield Row("ND filter", f"ND {lit.nd_fitted * 0.3:.1f}", f"{voice.stops(lit.nd_fitted)}, fitted")
    elif lit.fit_stops:
        yield Row("ND filter", f"ND {lit.fit_stops * 0.3:.1f}", f"{voice.stops(lit.fit_stops)}, not fitted yet")
    if lit.iso_needed is not None:
        most = f"the mode goes to ISO {number_text(voice.of.kit.mode.iso_max, 6)}"
        yield Row("ISO needed", number_text(rounded_up(lit.iso_needed, 3), 3), most)


def _lamps_counted(lit: LightAnswer) -> str:
    """Return which lamps are in the light that is there: those of which it is known where they stand."""
    unknown = [lamp.name for lamp in lit.lamps if lamp.lux is None]
    if not unknown:
        return "with the lamps" if lit.lamps else ""
    left_out = f"without {', '.join(unknown)}: not said how far off"
    return left_out if len(unknown) == len(lit.lamps) else f"with the lamps, {left_out}"


def _behind(voice: Voice) -> Iterator[Row | Table]:
    """Return the reading at the background, the colour, and what each kind of lamp gives."""
    lit = voice.of.light
    if lit.at_background_lux is not None:
        off = lit.background_stops
        over = "" if off is None else f"{number_text(abs(off), 2)} stops {'brighter' if off >= 0 else 'darker'}"
        yield Row("At the background", voice.light(lit.at_background_lux), over)
    if lit.shift_mired is not None:
        yield Row("Model's light, filter", f"{lit.shift_mired:+.0f} mireds", "+ is warmer; not on the lens")
    if lit.lamps:
        rows = tuple(
            (
                lamp.name,
                "" if lamp.lux is None else voice.light(lamp.lux),
                "not needed" if lamp.stands_mm is None else voice.length(lamp.stands_mm),
            )
            for lamp in lit.lamps
        )
        yield Table(("Lamp", "gives at the model", "for what is short, stands at"), rows, frozenset({1, 2}))


def _lamps(voice: Voice) -> Iterator[Row]:
    lit = voice.of.light
    if lit.mains_hz is None:
        return
    safe = "safe" if lit.flicker_safe else f"WILL FLICKER: {number_text(lit.flicker_stops or 0.0, 2)} stops"
    yield Row(f"Lamps on {number_text(lit.mains_hz)} Hz mains", safe)
    rate = steady_rate(voice.of)
    if rate is not None:
        yield Row("Safe rate", f"{number_text(rate, 5)} fps")
    if lit.safe_shutter_deg is not None:
        yield Row("Safe shutter", angle_text(lit.safe_shutter_deg), f"at {voice.rate(voice.of.speed.fps)}")
