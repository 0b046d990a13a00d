"""Lens and focus, rate and run times, light: what is set on the camera, and what it costs."""

from collections.abc import Iterator

from forescale.engine.compare.stop_words import stop_cells, stop_heads
from forescale.engine.findings.light import steady_rates
from forescale.engine.findings.words import Words
from forescale.engine.formulas.chances import NORMAL_95
from forescale.engine.formulas.frame_rate import judder_s
from forescale.engine.formulas.light import light_state
from forescale.engine.formulas.lineup import SIZE_NOTICED
from forescale.engine.kit.pupil import not_measured_at
from forescale.engine.sheet.blocks import Row, Table
from forescale.engine.shot.sections import TILTS
from forescale.engine.solve.focus_zone import around, split_field, stop_table
from forescale.engine.solve.groups import LightAnswer
from forescale.engine.units import angle_text, data_text, filter_text, number_text, rounded_up, speed_text, time_text

MOST_STOPS = 7
AT_FOCUS = 5  # its column among a stop's cells
STATES = {"short": "TOO LITTLE", "nearly": "A little short", "enough": "Enough", "over": "Too much"}


def zone(voice: Words) -> Iterator[Row]:
    """Yield focus mark and stop, the zone that they hold, and what the stop costs in contrast."""
    zone = voice.of.focus
    yield Row("Focal length", voice.focal(zone.focal_length_mm))
    yield Row("Focus mark", voice.length(zone.focus_mm), "", "focus.distance" in voice.of.auto)
    exact = f"exactly {voice.f_stop(zone.f_number)}"
    yield Row("Stop", voice.stop(zone.f_number), exact, "focus.stop" in voice.of.auto)
    yield Row("Must be sharp", f"{voice.length(zone.near_needed_mm)} to {voice.length(zone.far_needed_mm)}")
    holds = "by geometry: holds it" if zone.covers else "by geometry: FALLS SHORT"
    yield Row("Is sharp", f"{voice.sharp_from(zone.near_mm)} to {voice.sharp_to(zone.far_mm)}", holds)
    needed = voice.f_stop(zone.stop_needed)
    first = voice.of.kit.lens.first_past(zone.stop_needed) if needed.startswith("f/") else None
    yield Row("Stop needed", needed, f"so {voice.stop(first)} on the ring" if first is not None else "")
    if split := split_field(voice.of):
        ends = f"{voice.sharp_from(split.near_mm)} to {voice.sharp_to(split.far_mm)}"
        mark = f"lens at {voice.length(split.focus_mm)}, {voice.stop(split.f_number)}: sharp through it {ends}"
        yield Row("Split-field close-up", f"+{split.dioptres:g} dioptres", mark)
    yield Row("Hyperfocal", voice.length(zone.hyperfocal_mm), "focused here, half to infinity")
    blur = f"blur of {number_text(zone.coc_mm)} mm on the sensor"
    yield Row("Sharpness", str(voice.of.setting.focus.sharpness), blur)
    if (found := zone.contrast) is None:
        return
    shares = (("near", found.near), ("focus", found.focus), ("far", found.far))
    told = ", ".join(f"{name} {voice.percent(share)}" for name, share in shares)
    yield Row("Contrast", told, f"at {number_text(found.frequency_lpmm, 2)} line pairs/mm")
    yield Row("Best stop", voice.stop(found.best_f_number), f"the worst is then {voice.percent(found.best_worst)}")
    yield Row("Airy disk", f"{number_text(1000 * zone.airy_mm)} µm", "across, on the sensor (Airy)")


def pupil(voice: Words) -> Iterator[Row]:
    """Yield where the entrance pupil is, and how well that is known."""
    slip = voice.of.slip
    if not slip.pupil_known:
        yield Row("Entrance pupil", "not known", "taken at the sensor plane")
        return
    error = slip.pupil_uncertainty_mm
    band = "" if error is None else f", ± {voice.slide(NORMAL_95 * error)} (95 times of 100)"
    off = not_measured_at(slip.pupil_rows, voice.of.kit.focal_mm, voice.of.focus.focus_mm)
    outside = f", not measured at this {off}" if slip.pupil_outside else ""
    yield Row("Entrance pupil", voice.pupil(slip.pupil_ahead_mm), f"of the sensor plane{band}{outside}")


def stops(voice: Words) -> Iterator[Row | Table]:
    """Yield the stops around the one set, what closing down gains and costs, and how the table is to be read."""
    heads = tuple(head.capitalize() if place != 2 else head for place, head in enumerate(stop_heads(voice.of)))
    light = "is what each stop needs" if voice.of.light.over_stops is None else "in stops over (+) or short (-)"
    rows = [stop_cells(voice.of, row) for row in around(stop_table(voice.of), MOST_STOPS)]
    yield Row("Stop beside stop", f"contrast in % at near and far, and the worst of the zone; light {light}")
    # Lengths in feet and inches leave no room for the contrast at the focus, which is seldom the worst.
    shown = [(*row[:AT_FOCUS], *row[AT_FOCUS + 1 :]) for row in (heads, *rows)]
    yield Table(shown[0], tuple(shown[1:]), frozenset({4, 5, 7}))


def rate(voice: Words) -> Iterator[Row]:
    """Yield rate and run times."""
    run, action = voice.of.speed, voice.of.setting.action
    yield Row("Action", action.kind)
    top = f"the mode's top is {voice.rate(run.top_fps)}"
    yield Row("Frame rate", voice.rate(run.fps), top, "action.fps" in voice.of.auto)
    heft = "" if action.heft == 1 else f"heft {number_text(action.heft)} of taste in it"
    yield Row("Ideal rate", voice.rate(run.ideal_fps), heft)
    if action.scaled:
        weight = voice.weight(run.apparent_gravity)
        yield Row("Apparent gravity", f"{weight} times real", "1 is right; at 2.6 it reads as a toy")
        if run.gravity_as_read is not None and abs(run.gravity_as_read / run.apparent_gravity - 1) >= SIZE_NOTICED:
            reads = f"as {voice.ratio(voice.of.lineup.reads_as_ratio)}, which it reads as"
            yield Row("Gravity as read", f"{voice.weight(run.gravity_as_read)} times real", reads)
        yield Row("Smallest scale, top rate", voice.ratio_at_most(run.largest_ratio), "no smaller a model")
    if run.model_speed_mm_s is not None and action.real_speed is not None:
        yield Row("Real speed", speed_text(action.real_speed, voice.of.system))
        yield Row("Drive the model at", speed_text(run.model_speed_mm_s, voice.of.system))
    yield Row("Shutter", angle_text(action.shutter), voice.exposure(run.exposure_s))
    yield Row("Screen time", time_text(run.screen_time_s))
    factor = "" if run.time_factor == 1 else f"all goes {number_text(run.time_factor)} times as fast"
    yield Row("Action lasts", time_text(run.set_time_s), factor)
    yield Row("Frames", number_text(round(run.frames), 12))
    if (data := run.data_mb) is not None:
        yield Row("Data", data_text(data), "for the action alone")


def move(voice: Words) -> Iterator[Row]:
    """Yield the move as it is made on set."""
    run, move = voice.of.speed, voice.of.setting.move
    if run.move_set_time_s is None or run.crossing_s is None:
        return
    lasts, turned = time_text(run.move_set_time_s), move.start + move.sweep
    if move.axis == "none" and move.travel is not None:
        yield Row("Track, on set", f"{voice.length(move.travel.mm)} {move.travel.way} in {lasts}")
    else:
        pace = f"{number_text(turned / run.move_set_time_s)} deg a second"
        yield Row(f"{move.axis.capitalize()}, on set", f"{angle_text(turned)} in {lasts}", pace)
    smooth = number_text(judder_s(voice.of.setting.action.playback_fps), 2)
    yield Row("Crossing time", time_text(run.crossing_s), f"screen time; under {smooth} s judders")
    if run.readout_skew_px is not None:
        label = "Rolling-shutter skew" if move.axis not in TILTS else "Rolling-shutter stretch"
        yield Row(label, f"{number_text(run.readout_skew_px, 2)} px", "while the sensor reads out")


def light(voice: Words) -> Iterator[Row]:
    """Yield the light needed and what there is."""
    lit = voice.of.light
    yield Row("ISO", number_text(lit.iso, 5), "", "light.iso" in voice.of.auto)
    yield Row("Effective T-stop", f"T{number_text(lit.t_stop_working)}", "at this focus")
    yield Row("Light needed", voice.lux(lit.lux_with_nd), "through the ND fitted" if lit.nd_fitted else "")
    if lit.available_lux is None or lit.over_stops is None:
        return
    yield Row("Model light", voice.lux(lit.available_lux), _lamps_counted(lit))
    way = "over" if lit.over_stops >= 0 else "short"
    yield Row(STATES[light_state(lit.over_stops)], f"{voice.stops(lit.over_stops)} {way}")
    if filtered := lit.nd_fitted or lit.fit_stops:
        yield Row("ND filter", filter_text(filtered), "fitted" if lit.nd_fitted else "not fitted yet")
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


def behind(voice: Words) -> Iterator[Row | Table]:
    """Yield the reading at the background, the colour, and what each kind of lamp gives."""
    lit = voice.of.light
    if lit.at_background_lux is not None:
        off = lit.background_stops
        over = "" if off is None else f"{voice.few_stops(off)} {'brighter' if off >= 0 else 'darker'}"
        yield Row("At the background", voice.lux(lit.at_background_lux), over)
    if lit.shift_mired is not None:
        yield Row("Model's light, filter", f"{lit.shift_mired:+.0f} mireds", "+ is warmer; not on the lens")
    if lit.lamps:
        rows = []
        for lamp in lit.lamps:
            stands = "not needed" if lamp.stands_mm is None else voice.length(lamp.stands_mm)
            rows.append((lamp.name, "" if lamp.lux is None else voice.lux(lamp.lux), stands))
        yield Table(("Lamp", "gives at the model", "for what is short, stands at"), tuple(rows), frozenset({1, 2}))


def flicker(voice: Words) -> Iterator[Row]:
    """Yield the check of lamps on mains."""
    lit = voice.of.light
    if lit.mains_hz is None:
        return
    safe = "flicker-free" if lit.flicker_safe else f"WILL FLICKER: {voice.few_stops(lit.flicker_stops or 0.0)}"
    yield Row(f"Lamps on {number_text(lit.mains_hz)} Hz mains", safe)
    yield from (Row("Flicker-free rate", f"{number_text(rate, 5)} fps") for rate in steady_rates(voice.of)[:1])
    if lit.safe_shutter_deg is not None:
        yield Row("Flicker-free angle", angle_text(lit.safe_shutter_deg), f"at {voice.rate(voice.of.speed.fps)}")
