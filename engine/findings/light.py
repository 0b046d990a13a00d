"""Findings on light, filters, lamps and flames, and on what moves behind."""

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words, said
from forescale.engine.formulas import flicker, frame_rate, light
from forescale.engine.kit.profiles import Rates
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.solve.speed_light import pulse_of
from forescale.engine.units import number_text

STEADY_TRIED = 4  # rates at which lamps are steady, of those nearest to the one set
SLOWER_NOTICED = 1.5  # times too slow from which people and trees look wrong (common practice, no source)
PEOPLE_TOP = 2  # times as fast as they would, at which people can still move (common practice, no source)
SOFTER = 1.5  # times the sun's own width at which a lamp's shadow edges show as soft
LEAST_DIMMER = 0.1  # stops by which a model's flame is dimmer that are worth a word


def light_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of film speed, light, lamps and flames, and of what moves behind."""
    mode, speed, width = answer.kit.mode, answer.light.iso, answer.setting.action.fire_width
    if not (mode.iso_min or 0.0) <= speed <= mode.iso_max:
        down, end = ("down ", mode.lowest_iso) if speed < mode.iso_max else ("", mode.iso_max)
        yield said(answer, "iso-missing", end=f"{down}to ISO {number_text(end, 5)}")
    yield from _amount(answer)
    yield from _pulses(answer)
    yield from _two_readings(answer)
    yield from _each_lamp(answer)
    if width is not None:
        real, model = light.flame_share(width), light.flame_share(width / answer.scale.ratio)
        stops = math.log2(real / model)
        if stops >= LEAST_DIMMER:
            yield said(answer, "flame-dim", real=real, model=model, stops=stops)
    if answer.speed.time_factor >= SLOWER_NOTICED:
        none = "" if answer.speed.time_factor <= PEOPLE_TOP else f", and none can beyond about {PEOPLE_TOP}"
        yield said(answer, "background-slow", none=none)


def _amount(answer: Answer) -> Iterator[Finding]:
    lit, top = answer.light, answer.kit.mode.iso_max
    if lit.over_stops is None or lit.iso_needed is None:
        return
    state = light.light_state(lit.over_stops)
    if state == "over":
        yield said(answer, "light-over")
    elif state == "nearly":
        yield said(answer, "light-short", level="note", lacks=", which a grade takes up")
    elif state != "enough" and lit.iso_needed > top:
        lacks = f", more than ISO {number_text(top, 5)} can mend"
        yield said(answer, "light-short", level="stop", field="light.available", lacks=lacks)
    elif state != "enough":
        yield said(answer, "light-short", lacks="")


def light_wanted(answer: Answer) -> str:
    """Return the light needed, through the filter that is fitted, in the shot's own unit."""
    return Words(answer).lux(answer.light.lux_with_nd)


def _pulses(answer: Answer) -> Iterator[Finding]:
    lit, mode, run = answer.light, answer.kit.mode, answer.speed
    pulse = pulse_of(answer.setting, mode)
    if pulse is None and any(lamp.pulse is None and lamp.depth != 0 for lamp in answer.setting.lamp):
        yield said(answer, "mains-missing")
    if pulse is None or lit.flicker_stops is None:
        return
    on_mains = lit.mains_hz is not None and pulse.hz == 2 * lit.mains_hz
    named = f"Lamps on {number_text(pulse.hz / 2)} Hz mains" if on_mains else f"Lamps that pulse at {pulse.hz:g} Hz"
    named += "" if answer.setting.lamp else ", all light taken for theirs,"
    if lit.flicker_safe is False:
        field = "action.fps" if lit.safe_shutter_deg is None else ""
        also = "" if answer.setting.lamp else "; where some is daylight, name the lamps in the list of the day"
        yield said(answer, "flicker", field=field, named=named, swing=_swing(lit.flicker_stops), also=also)
    elif mode.readout is None:
        rolling = pulse._replace(readout_s=1 / run.fps).stops(run.fps, run.exposure_s)
        if rolling >= flicker.SAFE_STOPS:
            yield said(answer, "bands", named=named, swing=_swing(rolling))


def _swing(stops: float) -> str:
    return "black bands" if stops >= flicker.swing_stops(flicker.BLACK_BANDS_FROM) else Words.few_stops(stops)


def steady_rates(answer: Answer) -> list[float]:
    """Return the rates of the mode, nearest first, with lamps steady and the action right, or no slower than it is."""
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
    lit, stops, shift = answer.light, answer.light.background_stops, answer.light.shift_mired
    if stops is not None and abs(stops) >= light.STOPS_SEEN:
        brighter, darker, way = "background", "model", "dark"
        more = (lit.at_background_lux or 0.0) - (lit.available_lux or 0.0)
        by_hand = f"add {Words(answer).lux(more)} on the model (more lamps, heat and power)"
        if stops < 0:
            brighter, darker, way = "model", "background", "bright"
            nd, left = lit.nd_fitted or 0.0, (lit.over_stops or 0.0) + stops
            less = f", and lighten the ND of {Words.stops(nd)} by as much" if nd and left < -light.SHORT_STOPS else ""
            by_hand = f"flag the model, or scrim it by {Words.few_stops(stops)} (then meter again{less})"
        by = abs(stops)
        yield said(answer, "light-differs", by=by, brighter=brighter, darker=darker, way=way, by_hand=by_hand)
    if shift is not None and abs(shift) >= light.MIREDS_SEEN:
        warmer, sign = ("warmer", "+") if shift > 0 else ("cooler", "-")
        yield said(answer, "colour-differs", off=f"{abs(shift):.0f} mireds", warmer=warmer, sign=sign)


def _each_lamp(answer: Answer) -> Iterator[Finding]:
    for number, (lamp, found) in enumerate(zip(answer.setting.lamp, answer.light.lamps, strict=True), start=1):
        stands, near, wide = f"lamp.{number}.stands", found.point_from_mm, found.sun_width_mm
        nearest = min((one for one in (lamp.at, lamp.stands) if one is not None), default=math.inf)
        if near is not None and nearest < near * (1 - 1e-9):
            yield said(answer, "lamp-near", field=stands, lamp=lamp.name, near=near)
        if found.fall_stops is not None and found.fall_stops >= light.STOPS_SEEN:
            yield said(answer, "lamp-falls-off", field=stands, lamp=lamp.name, fall=found.fall_stops)
        if wide is not None and lamp.size is not None and lamp.size > wide * SOFTER:
            yield said(answer, "lamp-soft", field=f"lamp.{number}.size", lamp=lamp.name, size=lamp.size, wide=wide)
