"""Findings on rate, move and light."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from engine import light, similarity, speed
from engine.answer.speed_light import chosen_fps
from engine.findings.finding import Finding, Level, Words
from engine.profiles import Rates
from engine.units import number_text

if TYPE_CHECKING:
    from engine.answer import Answer

LIGHT_GRAVITY = 0.85  # slower than real by more than this looks like slow motion (common practice, no source)
HEAVY_GRAVITY = 1.15  # quicker than real by more than this begins to look small (common practice, no source)
TOY_GRAVITY = 2.6  # reads as a toy (common practice, no source)
JUDDER_S = 7.0  # a thing crossing the frame faster judders at 24 fps and 180° (common practice, no source)
LIGHT_NOTICED = 1 / 3  # stops
SKEW_NOTICED_PX = 2.0


def find(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of rate, weight, move, light and lamps, and of what does not shrink."""
    yield from _rate(answer)
    yield from _weight(answer)
    yield from _driven(answer)
    yield from _move(answer)
    yield from _light(answer)
    yield from _lamps(answer)
    yield from _nature(answer)


def _rate(answer: Answer) -> Iterator[Finding]:
    rates, fps, words = answer.kit.mode.fps, answer.speed.fps, Words(answer)
    if isinstance(rates, Rates):
        if not rates.min <= fps <= rates.max:
            has = f"{number_text(rates.min)} to {words.rate(rates.max)}"
            text = f"{answer.kit.mode.name} runs at {has}, not at {words.rate(fps)}: set a rate within it"
            yield Finding("speed", "stop", "rate-missing", text, "action.fps")
    elif not any(abs(rate - fps) < 1e-6 for rate in rates):
        near = min(rates, key=lambda rate: abs(rate - fps))
        text = f"{answer.kit.mode.name} has no {words.rate(fps)}: the nearest it has is {words.rate(near)}"
        yield Finding("speed", "stop", "rate-missing", text, "action.fps")


def _weight(answer: Answer) -> Iterator[Finding]:
    action, run, words = answer.setting.action, answer.speed, Words(answer)
    if action.kind not in speed.SCALED_KINDS:
        return
    gravity = run.apparent_gravity * action.heft**2
    if gravity > HEAVY_GRAVITY:
        reads = "which reads as a toy" if gravity >= TOY_GRAVITY else "which looks small"
        text = (
            f"At {words.rate(run.fps)} the action falls {number_text(gravity, 2)} times as hard as it should, {reads}; "
            f"{words.ratio(answer.scale.ratio)} needs {words.rate(run.ideal_fps)}"
        )
        if run.top_fps < run.ideal_fps * (1 - 1e-9):
            serves = f"serves {words.ratio(run.largest_ratio)} at most: build larger or take"
            mend = serves if run.largest_ratio >= 1 else "serves no model: take"
            text += f", and the top of {answer.kit.mode.name}, {words.rate(run.top_fps)}, {mend} a faster mode"
        else:
            text += _to_set(answer)
        level: Level = "stop" if gravity >= TOY_GRAVITY else "warn"
        yield Finding("speed", level, "rate-low", text, "action.fps")
    elif gravity < LIGHT_GRAVITY and run.fps > chosen_fps(answer.kit.mode, run.ideal_fps):
        text = (
            f"At {words.rate(run.fps)} the action falls {number_text(gravity, 2)} times as hard as it should, slower "
            f"than the real thing; {words.rate(run.ideal_fps)} is right{_to_set(answer)}"
        )
        yield Finding("speed", "note", "rate-high", text, "action.fps")


def _to_set(answer: Answer) -> str:
    """Return the rate to set where the mode has not the ideal one."""
    ideal = answer.speed.ideal_fps
    rate = chosen_fps(answer.kit.mode, ideal)
    return "" if math.isclose(rate, ideal, rel_tol=1e-4) else f": set {Words(answer).rate(rate)}"


def _driven(answer: Answer) -> Iterator[Finding]:
    if answer.setting.action.kind == "driven" and answer.setting.action.real_speed is None:
        text = "Give the speed of the real thing to know how fast the model must be driven"
        yield Finding("speed", "note", "real-speed-missing", text, "action.real_speed")


def _move(answer: Answer) -> Iterator[Finding]:
    run, words = answer.speed, Words(answer)
    if run.crossing_s is not None and run.crossing_s < JUDDER_S * (1 - 1e-9):
        wanted = (answer.setting.move.screen_time or answer.setting.action.screen_time) * JUDDER_S / run.crossing_s
        text = (
            f"In the move a thing crosses the frame in {number_text(run.crossing_s, 2)} s of screen time and will "
            f"judder: let the move take {words.at_least(wanted)} s on the screen, or turn less"
        )
        yield Finding("speed", "warn", "judder", text, "move.screen_time")
    if run.readout_skew_px is not None and run.readout_skew_px > SKEW_NOTICED_PX:
        text = (
            f"While the sensor reads out, the move carries the picture {number_text(run.readout_skew_px, 2)} px "
            "aside, so uprights lean: move more slowly if it shows"
        )
        yield Finding("speed", "note", "readout-skew", text, "move.screen_time")


def _light(answer: Answer) -> Iterator[Finding]:
    lit, words, top = answer.light, Words(answer), answer.kit.mode.iso_max
    if lit.iso > top:
        reach = f"{answer.kit.mode.name} goes to ISO {number_text(top, 5)}"
        text = f"{reach}, not to ISO {number_text(lit.iso, 5)}: set one that it has"
        yield Finding("speed", "stop", "iso-missing", text, "light.iso")
    if lit.over_stops is None or lit.iso_needed is None:
        return
    if lit.over_stops < -LIGHT_NOTICED:
        short = words.stops(lit.over_stops)
        if lit.iso_needed <= top:
            iso = min(float(number_text(lit.iso_needed, 2)), top)
            text = f"The light is {short} short: set ISO {number_text(iso, 5)}, or bring light"
            yield Finding("speed", "warn", "light-short", text, "light.iso")
        else:
            text = (
                f"The light is {short} short, more than ISO {number_text(top, 5)} can mend: bring "
                f"{light_wanted(answer)}, or open the stop and let the zone go"
            )
            yield Finding("speed", "stop", "light-short", text, "light.available")
    elif lit.nd_stops:
        text = (
            f"There is {words.stops(lit.over_stops)} more light than needed: "
            f"ND {lit.nd_stops * 0.3:.1f} ({words.stops(lit.nd_stops)})"
        )
        yield Finding("speed", "note", "light-over", text, "light.available")


def light_wanted(answer: Answer) -> str:
    """Return the light needed in the shot's own unit."""
    lit = answer.light
    if answer.system == "imperial":
        return f"{number_text(lit.footcandles_needed)} fc"
    return f"{number_text(lit.lux_needed)} lx"


def _lamps(answer: Answer) -> Iterator[Finding]:
    lit, words = answer.light, Words(answer)
    if lit.flicker_safe is not False or lit.mains_hz is None:
        return
    rate, angle = _steady_rate(answer, lit.mains_hz), lit.safe_shutter_deg
    # Five digits of a rate: a ten-thousandth off, and the picture walks through the pulse again.
    ways = [] if rate is None else [f"{number_text(rate, 5)} fps"]
    ways += [] if angle is None else [f"a shutter of {number_text(angle, 4)}°"]
    text = (
        f"Lamps on {number_text(lit.mains_hz)} Hz mains will flicker at {words.rate(answer.speed.fps)} and this "
        f"shutter; safe are {', '.join(ways)}{' or ' if ways else ''}lamps that do not pulse"
    )
    yield Finding("speed", "warn", "flicker", text, "action.shutter" if angle else "action.fps")


def _steady_rate(answer: Answer, mains_hz: float) -> float | None:
    """Return the rate nearest to the shot's that the mode has and that such lamps are steady at, if any."""
    rates, shutter = answer.kit.mode.fps, answer.setting.action.shutter
    if isinstance(rates, Rates):
        most, fewest = (math.floor(2 * mains_hz / rates.min), math.ceil(2 * mains_hz / rates.max))
        rates = tuple(2 * mains_hz / pulses for pulses in range(max(fewest, 1), most + 1))
    steady = [rate for rate in rates if light.flicker_safe(rate, light.exposure_s(shutter, rate), mains_hz)]
    return min(steady, key=lambda rate: abs(rate - answer.speed.fps), default=None)


def _nature(answer: Answer) -> Iterator[Finding]:
    words, ratio = Words(answer), answer.scale.ratio
    kind = answer.setting.action.kind
    if kind == "water":
        text = (
            f"Water keeps its skin: the finest drop or crest, {similarity.CAPILLARY_MM:.1f} mm, reads as "
            f"{words.length(similarity.drop_reads_as_mm(ratio))}, and spray will not break up as the real thing does "
            f"(Weber number down {number_text(ratio**2, 2)} times, Reynolds {number_text(ratio**1.5, 2)} times)"
        )
        yield Finding("speed", "note", "surface-tension", text, "scale.ratio")
    elif kind == "fire":
        text = (
            f"A flame as high as the model asks gives {number_text(1 / similarity.heat_share(ratio), 2)} times less "
            f"heat than the real fire: a real megawatt is {number_text(1000 * similarity.heat_share(ratio), 2)} kW here"
        )
        yield Finding("speed", "note", "flame", text, "scale.ratio")
    elif kind == "smoke":
        text = (
            f"Smoke curls {number_text(ratio**1.5, 2)} times less finely than the real plume (Reynolds number): "
            "use the finest and coldest smoke that serves, in still air"
        )
        yield Finding("speed", "note", "smoke-curl", text, "scale.ratio")
