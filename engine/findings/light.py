"""Findings on light, filters, lamps and flames, on two readings, and on what moves in the background."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas import frame_rate, lamps, light
from forescale.engine.kit.profiles import Rates
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.solve.speed_light import pulse_of
from forescale.engine.units import illuminance_text, number_text

STEADY_TRIED = 4  # rates at which lamps are steady, of those nearest to the one set
SLOWER_NOTICED = 1.5  # times too slow from which people and trees look wrong (common practice, no source)
PEOPLE_TOP = 2  # times as fast as they would, at which people can still move (common practice, no source)
SOFTER = 1.5  # times the sun's own width at which a lamp's shadow edges show as soft
LEAST_DIMMER = 0.1  # stops by which a model's flame is dimmer that are worth a word


def light_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of film speed, light, lamps and flames, and of what moves behind."""
    yield from _film_speed(answer)
    yield from _amount(answer)
    yield from _pulses(answer)
    yield from _two_readings(answer)
    yield from _each_lamp(answer)
    yield from _flame(answer)
    yield from _background(answer)


def _film_speed(answer: Answer) -> Iterator[Finding]:
    mode, speed = answer.kit.mode, answer.light.iso
    if (mode.iso_min or 0.0) <= speed <= mode.iso_max:
        return
    iso, end = number_text(speed, 5), f"to ISO {number_text(mode.iso_max, 5)}"
    if speed < mode.iso_max:
        end = f"down to ISO {number_text(mode.lowest_iso, 5)}"
    text, short = f"{mode.name} goes {end}, not to ISO {iso}", f"No ISO {iso} in this mode"
    yield Finding("speed", "stop", "iso-missing", text, "light.iso", short)


def _amount(answer: Answer) -> Iterator[Finding]:
    lit, top = answer.light, answer.kit.mode.iso_max
    if lit.over_stops is None or lit.iso_needed is None:
        return
    stops, state = Words(answer).stops(lit.over_stops), light.light_state(lit.over_stops)
    if state == "over":
        text, short = f"The light is {stops} over what is needed", f"Light {stops} over"
        yield Finding("speed", "note", "light-over", text, "light.nd", short)
    elif state != "enough":
        level: Level = "note" if state == "nearly" else "warn"
        lacks, where = f"The light is {stops} short", "light.iso"
        if state == "nearly":
            lacks = f"{lacks}, which a grade takes up"
        elif lit.iso_needed > top:
            lacks, level, where = f"{lacks}, more than ISO {number_text(top, 5)} can mend", "stop", "light.available"
        short, by_hand = lacks.replace("The light is", "Light"), f"add light up to {light_wanted(answer)}"
        yield Finding("speed", level, "light-short", lacks, where, short, by_hand)


def light_wanted(answer: Answer) -> str:
    """Return the light needed, through the filter that is fitted, in the shot's own unit."""
    return illuminance_text(answer.light.lux_with_nd, answer.system)


def _pulses(answer: Answer) -> Iterator[Finding]:
    lit, mode, run = answer.light, answer.kit.mode, answer.speed
    pulse = pulse_of(answer.setting, mode)
    if pulse is None or lit.flicker_stops is None:
        return
    on_mains = lit.mains_hz is not None and pulse.hz == 2 * lit.mains_hz
    named = f"Lamps on {number_text(pulse.hz / 2)} Hz mains" if on_mains else f"Lamps that pulse at {pulse.hz:g} Hz"
    rate = Words(answer).rate(run.fps)
    if lit.flicker_safe is False:
        text = f"{named} flicker at {rate} and this shutter, by {_swing(lit.flicker_stops)} from row to row"
        field = "action.fps" if lit.safe_shutter_deg is None else "action.shutter"
        short, by_hand = f"Lamps flicker at {rate}", "take lamps that do not pulse"
        yield Finding("speed", "warn", "flicker", text, field, short, by_hand)
    elif mode.readout is None:
        rolling = pulse._replace(readout_s=1 / run.fps).stops(run.fps, run.exposure_s)
        if rolling >= lamps.SAFE_STOPS:
            text = (
                f"{named} are steady from frame to frame at {rate}, but if the sensor reads out row by row they leave "
                f"bands of up to {_swing(rolling)}: how long it reads out is not known"
            )
            short = "Lamps may leave bands: how it reads out is not known"
            yield Finding("speed", "note", "bands", text, "action.shutter", short)


def _swing(stops: float) -> str:
    black = lamps.swing_stops(lamps.BLACK_BANDS_FROM)
    return "black bands" if stops >= black else f"{number_text(stops, 2)} stops"


def steady_rate(answer: Answer) -> float | None:
    """Return the nearest rate that the mode has, that lamps are steady at and at which the action looks right."""
    return next(iter(steady_rates(answer)), None)


def steady_rates(answer: Answer) -> list[float]:
    """Return the rates that the mode has, that lamps are steady at and at which the action looks right, nearest first.

    Slower than right is let pass where the shot is so already.
    """
    rates, now, shutter = answer.kit.mode.fps, answer.speed, answer.setting.action.shutter
    pulse = pulse_of(answer.setting, answer.kit.mode)
    if pulse is None:
        return []
    if isinstance(rates, Rates):
        steady = list(pulse.safe_rates(rates.min, rates.max, shutter))
    else:
        steady = [rate for rate in rates if pulse.is_safe(rate, shutter)]
    if answer.setting.action.scaled:
        slowest = min(frame_rate.LIGHT_GRAVITY, (now.ideal_fps / now.fps) ** 2)
        steady = [rate for rate in steady if slowest <= (now.ideal_fps / rate) ** 2 <= frame_rate.HEAVY_GRAVITY]
    return sorted(steady, key=lambda rate: abs(rate - now.fps))[:STEADY_TRIED]


def _two_readings(answer: Answer) -> Iterator[Finding]:
    """Say by how much the light at the background is another than that at the model."""
    lit, light_set = answer.light, answer.setting.light
    stops, shift = lit.background_stops, lit.shift_mired
    if stops is not None and abs(stops) >= lamps.STOPS_SEEN:
        off = f"{number_text(abs(stops), 2)} stops"
        if stops > 0:
            text, short = f"The background gets {off} more light than the model", f"Model {off} too dark"
            more = illuminance_text((lit.at_background_lux or 0.0) - (lit.available_lux or 0.0), answer.system)
            by_hand = f"add {more} on the model"
        else:
            text, short = f"The model gets {off} more light than the background", f"Model {off} too bright"
            by_hand = f"flag the model, or scrim it by {off}"
        yield Finding("speed", "warn", "light-differs", text, "light.available", short, by_hand)
    if shift is not None and abs(shift) >= lamps.MIREDS_SEEN:
        there, here = (number_text(kelvin or 0.0, 5) for kelvin in (light_set.kelvin_at_background, light_set.kelvin))
        off, warmer = f"{abs(shift):.0f} mireds", "warmer" if shift > 0 else "cooler"
        text = f"The light at the background, {there} K, is {off} {warmer} than the {here} K at the model"
        by_hand = f"put a filter of {'+' if shift > 0 else '-'}{off} on what lights the model, not on the lens"
        yield Finding("speed", "warn", "colour-differs", text, "light.kelvin", f"Background is {off} {warmer}", by_hand)


def _each_lamp(answer: Answer) -> Iterator[Finding]:
    words = Words(answer)
    for number, (lamp, found) in enumerate(zip(answer.setting.lamp, answer.light.lamps, strict=True), start=1):
        stands = f"lamp.{number}.stands"
        nearest = min((one for one in (lamp.at, lamp.stands) if one is not None), default=math.inf)
        if found.point_from_mm is not None and nearest < found.point_from_mm * (1 - 1e-9):
            near = words.length(found.point_from_mm)
            less = "a lamp gives less than the inverse square says"
            text = f"{lamp.name}: nearer than {near}, five times its size, {less}"
            short, by_hand = "Lamp too near to reckon", "meter it at the model"
            yield Finding("speed", "note", "lamp-near", text, stands, short, by_hand)
        if found.fall_stops is not None and found.fall_stops >= lamps.STOPS_SEEN:
            off = f"{number_text(found.fall_stops, 2)} stops"
            text = f"{lamp.name}: its light falls by {off} over the depth of the model, where the sun's does not"
            yield Finding("speed", "note", "lamp-falls-off", text, stands, f"Lamp falls {off} in depth")
        wide = found.sun_width_mm
        if wide is not None and lamp.size is not None and lamp.size > wide * SOFTER:
            size, may = words.length(lamp.size), words.length(wide)
            text = f"{lamp.name}: at {size} wide its shadows are softer than the sun's, as which it reads at {may}"
            yield Finding("speed", "note", "lamp-soft", text, f"lamp.{number}.size", "Lamp is softer than the sun")


def _flame(answer: Answer) -> Iterator[Finding]:
    width = answer.setting.action.fire_width
    if width is None:
        return
    real, model = lamps.flame_share(width), lamps.flame_share(width / answer.scale.ratio)
    stops = math.log2(real / model)
    if stops >= LEAST_DIMMER:
        dimmer = number_text(stops, 2)
        text = (
            f"A flame {Words(answer).length(width)} deep has {Words.percent(real)} of a full flame's luminance and its "
            f"model {Words.percent(model)}, {dimmer} stops dimmer; a flame adds to what is behind it"
        )
        short, by_hand = f"Model flame is {dimmer} stops dimmer", "compare it with that"
        yield Finding("speed", "note", "flame-dim", text, "action.fire_width", short, by_hand)


def _background(answer: Answer) -> Iterator[Finding]:
    factor = answer.speed.time_factor
    if factor < SLOWER_NOTICED:
        return
    times = number_text(factor, 3)
    none = "" if factor <= PEOPLE_TOP else f", and none can beyond about {PEOPLE_TOP}"
    text = (
        f"All that moves at the background looks {times} times too slow, people, trees, smoke, water and traffic; "
        f"people would have to move {times} times as fast{none}"
    )
    yield Finding("speed", "note", "background-slow", text, "action.fps", f"Background {times} times too slow")
