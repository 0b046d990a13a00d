"""Findings on light, filters and lamps that pulse."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas import frame_rate, lamp_ripple, light
from forescale.engine.kit.profiles import Rates
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.solve.speed_light import pulse_of
from forescale.engine.units import illuminance_text, number_text

STEADY_TRIED = 4  # rates at which lamps are steady, of those nearest to the one set


def light_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of film speed, light and lamps."""
    yield from _iso(answer)
    yield from _light(answer)
    yield from _lamps(answer)


def _iso(answer: Answer) -> Iterator[Finding]:
    mode, speed = answer.kit.mode, answer.light.iso
    if (mode.iso_min or 0.0) <= speed <= mode.iso_max:
        return
    iso, end = number_text(speed, 5), f"to ISO {number_text(mode.iso_max, 5)}"
    if speed < mode.iso_max:
        end = f"down to ISO {number_text(mode.lowest_iso, 5)}"
    text, short = f"{mode.name} goes {end}, not to ISO {iso}", f"No ISO {iso} in this mode"
    yield Finding("speed", "stop", "iso-missing", text, "light.iso", short)


def _light(answer: Answer) -> Iterator[Finding]:
    lit, top = answer.light, answer.kit.mode.iso_max
    if lit.over_stops is None or lit.iso_needed is None:
        return
    stops, state = Words(answer).stops(lit.over_stops), light.light_state(lit.over_stops)
    level: Level = "note"
    if state == "over":
        text, short = f"The light is {stops} over what is needed", f"Light {stops} over"
        yield Finding("speed", level, "light-over", text, "light.nd", short)
    elif state != "enough":
        lacks, where = f"The light is {stops} short", "light.iso"
        if state == "nearly":
            lacks = f"{lacks}, which a grade takes up"
        elif lit.iso_needed > top:
            lacks, level, where = f"{lacks}, more than ISO {number_text(top, 5)} can mend", "stop", "light.available"
        else:
            level = "warn"
        short = lacks.replace("The light is", "Light")
        yield Finding("speed", level, "light-short", lacks, where, short)


def light_wanted(answer: Answer) -> str:
    """Return the light needed in the shot's own unit."""
    return illuminance_text(answer.light.lux_needed, answer.system)


def _lamps(answer: Answer) -> Iterator[Finding]:
    lit, words, mode = answer.light, Words(answer), answer.kit.mode
    pulse = pulse_of(answer.setting, mode)
    if pulse is None or lit.flicker_stops is None:
        return
    on_mains = lit.mains_hz is not None and pulse.hz == 2 * lit.mains_hz
    lamps = f"Lamps on {number_text(pulse.hz / 2)} Hz mains" if on_mains else f"Lamps that pulse at {pulse.hz:g} Hz"
    rate = words.rate(answer.speed.fps)
    if lit.flicker_safe is False:
        text = f"{lamps} flicker at {rate} and this shutter, by {_swing(lit.flicker_stops)} from row to row"
        field = "action.fps" if lit.safe_shutter_deg is None else "action.shutter"
        yield Finding("speed", "warn", "flicker", text, field, f"Lamps flicker at {rate}")
    elif mode.readout is None:
        rolling = pulse._replace(readout_s=1 / answer.speed.fps).stops(answer.speed.fps, answer.speed.exposure_s)
        if rolling >= lamp_ripple.SAFE_STOPS:
            text = (
                f"{lamps} are steady from frame to frame at {rate}, but if the sensor reads out row by row they leave "
                f"bands of up to {_swing(rolling)}: how long it reads out is not known"
            )
            short = "Lamps may leave bands: how it reads out is not known"
            yield Finding("speed", "note", "bands", text, "action.shutter", short)


def _swing(stops: float) -> str:
    black = lamp_ripple.swing_stops(lamp_ripple.BLACK_BANDS_FROM)
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


def chosen_for_lamps(answer: Answer, other_fps: float) -> bool:
    """Return whether lamps are steady at the rate set and not at another."""
    pulse, shutter = pulse_of(answer.setting, answer.kit.mode), answer.setting.action.shutter
    return pulse is not None and pulse.is_safe(answer.speed.fps, shutter) and not pulse.is_safe(other_fps, shutter)
