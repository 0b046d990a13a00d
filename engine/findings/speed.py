"""Findings on rate, move and light."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from forescale.engine.findings.words import Words
from forescale.engine.formulas import frame_rate, light, similarity
from forescale.engine.kit.profiles import Rates
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.solve.speed_light import chosen_fps, runs_at
from forescale.engine.units import number_text

JUDDER_S = 7.0  # a thing crossing the frame faster judders at 24 fps and 180° (common practice, no source)
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
    rates, fps, words, mode = answer.kit.mode.fps, answer.speed.fps, Words(answer), answer.kit.mode.name
    if runs_at(answer.kit.mode, fps):
        yield from _chosen(answer)
        return
    if isinstance(rates, Rates):
        has = f"{number_text(rates.min)} to {words.rate(rates.max)}"
        text = f"{mode} runs at {has}, not at {words.rate(fps)}: set a rate within it"
        short = f"No {words.rate(fps)} in this mode: set {has}"
    else:
        near = words.rate(min(rates, key=lambda rate: (abs(rate - fps), rate)))
        serves = _serving(answer, rates, fps)
        also = "" if serves is None else f"; {words.rate(serves)} serves the action"
        text = f"{mode} has no {words.rate(fps)}: the nearest it has is {near}{also}"
        short = f"No {words.rate(fps)} in this mode: set {near if serves is None else words.rate(serves)}"
    yield Finding("speed", "stop", "rate-missing", text, "action.fps", short)


def _serving(answer: Answer, rates: Sequence[float], fps: float) -> float | None:
    """Return the lowest rate that serves the action, where the one nearest to what is set is too low for it."""
    ideal = answer.speed.ideal_fps
    if answer.setting.action.kind not in frame_rate.SCALED_KINDS:
        return None
    near, serves = min(rates, key=lambda rate: (abs(rate - fps), rate)), chosen_fps(answer.kit.mode, ideal)
    return serves if near < ideal * (1 - 1e-9) <= serves else None


def _chosen(answer: Answer) -> Iterator[Finding]:
    """Say what the next lower rate would do, where the one chosen is so high that the action floats."""
    run, words = answer.speed, Words(answer)
    if "action.fps" not in answer.auto or answer.setting.action.kind not in frame_rate.SCALED_KINDS:
        return
    gravity = run.apparent_gravity * answer.setting.action.heft**2
    if gravity >= frame_rate.LIGHT_GRAVITY:
        return
    lower = max((rate for rate in run.rates if rate < run.fps), default=None)
    text = (
        f"{words.rate(run.fps)} is the lowest rate at or above the ideal {number_text(run.ideal_fps, 4)}, and the "
        f"action falls {number_text(gravity, 2)} times as hard as it should"
    )
    if lower is not None:
        harder = number_text(gravity * (run.fps / lower) ** 2, 3)
        text += f"; {words.rate(lower)} would fall {harder} times as hard"
    short = (
        f"Falls at {number_text(gravity, 2)} of its weight: ideal {number_text(run.ideal_fps, 4)}, next {run.fps:g} fps"
    )
    yield Finding("speed", "note", "rate-chosen", text, "action.fps", short)


def _weight(answer: Answer) -> Iterator[Finding]:
    action, run, words = answer.setting.action, answer.speed, Words(answer)
    if action.kind not in frame_rate.SCALED_KINDS:
        return
    gravity = run.apparent_gravity * action.heft**2
    if gravity > frame_rate.HEAVY_GRAVITY:
        times = f"{number_text(gravity, 2)} times"
        reads = "which reads as a toy" if gravity >= frame_rate.TOY_GRAVITY else "which looks small"
        text = f"At {words.rate(run.fps)} the action falls {times} as hard as it should, {reads}; "
        text += f"{words.ratio(answer.scale.ratio)} needs {words.rate(run.ideal_fps)}"
        if run.top_fps < run.ideal_fps * (1 - 1e-9):
            serves = f"serves {words.ratio_at_most(run.largest_ratio)} at most: build larger or take"
            mend = serves if run.largest_ratio >= 1 else "serves no model: take"
            text += f", and the top of {answer.kit.mode.name}, {words.rate(run.top_fps)}, {mend} a faster mode"
            to = "larger model or faster mode" if run.largest_ratio >= 1 else "take a faster mode"
        else:
            text += _to_set(answer)
            to = f"set {words.rate(chosen_fps(answer.kit.mode, run.ideal_fps))}"
        level: Level = "stop" if gravity >= frame_rate.TOY_GRAVITY else "warn"
        yield Finding("speed", level, "rate-low", text, "action.fps", f"Falls {times} as hard as wanted: {to}")
    elif gravity < frame_rate.LIGHT_GRAVITY and run.fps > (chosen := chosen_fps(answer.kit.mode, run.ideal_fps)):
        if _steady_at(answer, run.fps) and not _steady_at(answer, chosen):
            return  # it was chosen for the lamps
        text = (
            f"At {words.rate(run.fps)} the action falls {number_text(gravity, 2)} times as hard as it should, slower "
            f"than the real thing; {words.rate(run.ideal_fps)} is right{_to_set(answer)}"
        )
        short = f"Falls at {number_text(gravity, 2)} of its weight: set {words.rate(chosen)}"
        yield Finding("speed", "note", "rate-high", text, "action.fps", short)


def _to_set(answer: Answer) -> str:
    """Return the rate to set where the mode has not the ideal one."""
    ideal = answer.speed.ideal_fps
    rate = chosen_fps(answer.kit.mode, ideal)
    return "" if math.isclose(rate, ideal, rel_tol=1e-4) else f": set {Words(answer).rate(rate)}"


def _driven(answer: Answer) -> Iterator[Finding]:
    if answer.setting.action.kind == "driven" and answer.setting.action.real_speed is None:
        text = "Give the speed of the real thing to know how fast the model must be driven"
        short = "Real speed missing: give it to know how fast to drive"
        yield Finding("speed", "note", "real-speed-missing", text, "action.real_speed", short)


def _move(answer: Answer) -> Iterator[Finding]:
    run, words = answer.speed, Words(answer)
    if run.crossing_s is not None and run.crossing_s < JUDDER_S * (1 - 1e-9):
        asked = (answer.setting.move.screen_time or answer.setting.action.screen_time) * JUDDER_S / run.crossing_s
        crossing, wanted = number_text(run.crossing_s, 2), words.at_least(asked)
        text = (
            f"In the move a thing crosses the frame in {crossing} s of screen time and will "
            f"judder: let the move take {wanted} s on the screen, or turn less"
        )
        short = f"Judders: crosses in {crossing} s; take {wanted} s, or turn less"
        yield Finding("speed", "warn", "judder", text, "move.screen_time", short)
    if run.readout_skew_px is not None and run.readout_skew_px > SKEW_NOTICED_PX:
        pans = answer.setting.move.axis == "pan"
        shows = "aside, so uprights lean" if pans else "up or down, so it is stretched or squeezed"
        text = (
            f"While the sensor reads out, the move carries the picture {number_text(run.readout_skew_px, 2)} px "
            f"{shows}: move more slowly if it shows"
        )
        short = f"Readout skews it {number_text(run.readout_skew_px, 2)} px: move more slowly if it shows"
        yield Finding("speed", "note", "readout-skew", text, "move.screen_time", short)


def _light(answer: Answer) -> Iterator[Finding]:
    lit, words, top = answer.light, Words(answer), number_text(answer.kit.mode.iso_max, 5)
    if lit.iso > answer.kit.mode.iso_max:
        iso = number_text(lit.iso, 5)
        text = f"{answer.kit.mode.name} goes to ISO {top}, not to ISO {iso}: set one that it has"
        short = f"No ISO {iso} in this mode: set ISO {top} or less"
        yield Finding("speed", "stop", "iso-missing", text, "light.iso", short)
    if lit.over_stops is None or lit.iso_needed is None:
        return
    state = light.light_state(lit.over_stops)
    if state == "short" and lit.iso_needed <= answer.kit.mode.iso_max:
        iso = number_text(min(light.speed_to_set(lit.iso_needed), answer.kit.mode.iso_max), 5)
        text = f"The light is {words.stops(lit.over_stops)} short: set ISO {iso}, or bring light"
        yield Finding("speed", "warn", "light-short", text, "light.iso")
    elif state == "short":
        lacks = f"{words.stops(lit.over_stops)} short"
        text = (
            f"The light is {lacks}, more than ISO {top} can mend: bring "
            f"{light_wanted(answer)}, or open the stop and let the zone go"
        )
        short = f"Light {lacks}, past ISO {top}: bring {light_wanted(answer)}"
        yield Finding("speed", "stop", "light-short", text, "light.available", short)
    elif state == "over":
        over, filters = words.stops(lit.over_stops), f"ND {(lit.nd_stops or 0) * 0.3:.1f}"
        text = f"The light is {over} over what is needed: {filters} ({words.stops(lit.nd_stops or 0)})"
        short = f"Light {over} over: {filters}"
        yield Finding("speed", "note", "light-over", text, "light.available", short)


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
    rate, angle = steady_rate(answer), lit.safe_shutter_deg
    safe = [] if angle is None else [f"a shutter of {number_text(angle, 4)}°"]
    # Five digits of a rate: a ten-thousandth off, and the picture walks through the pulse again.
    safe += [] if rate is None else [f"{number_text(rate, 5)} fps"]
    text = (
        f"Lamps on {number_text(lit.mains_hz)} Hz mains will flicker at {words.rate(answer.speed.fps)} and this "
        f"shutter; safe are {', '.join(safe)}{' or ' if safe else ''}lamps that do not pulse"
    )
    mend = f"set {' or '.join(safe)}" if safe else "take lamps that do not pulse"
    short = f"Lamps flicker at {words.rate(answer.speed.fps)}: {mend}"
    yield Finding("speed", "warn", "flicker", text, "action.shutter" if angle else "action.fps", short)


def steady_rate(answer: Answer) -> float | None:
    """Return the nearest rate that the mode has, that lamps are steady at and at which the action looks right, if any.

    Slower than right is let pass where the shot is so already.
    """
    rates, mains_hz, now = answer.kit.mode.fps, answer.light.mains_hz, answer.speed
    if mains_hz is None:
        return None
    if isinstance(rates, Rates):
        most, fewest = (math.floor(2 * mains_hz / rates.min), math.ceil(2 * mains_hz / rates.max))
        rates = tuple(2 * mains_hz / pulses for pulses in range(max(fewest, 1), most + 1))
    steady = [rate for rate in rates if _steady_at(answer, rate)]
    if answer.setting.action.kind in frame_rate.SCALED_KINDS:
        weight_now = (now.ideal_fps / now.fps) ** 2
        slowest = min(frame_rate.LIGHT_GRAVITY, weight_now)
        steady = [rate for rate in steady if slowest <= (now.ideal_fps / rate) ** 2 <= frame_rate.HEAVY_GRAVITY]
    return min(steady, key=lambda rate: abs(rate - now.fps), default=None)


def _steady_at(answer: Answer, rate: float) -> bool:
    """Return whether the shot's lamps are steady at a rate with its shutter; true of daylight."""
    mains_hz, shutter = answer.light.mains_hz, answer.setting.action.shutter
    return mains_hz is None or light.flicker_safe(rate, light.exposure_s(shutter, rate), mains_hz)


def _nature(answer: Answer) -> Iterator[Finding]:
    words, ratio = Words(answer), answer.scale.ratio
    kind = answer.setting.action.kind
    thinner = number_text(ratio**1.5, 2)
    if kind == "water":
        text = (
            f"Water keeps its skin: the finest drop or crest, {similarity.CAPILLARY_MM:.1f} mm, reads as "
            f"{words.length(similarity.drop_reads_as_mm(ratio))}. At the ideal rate it flows at a Weber number "
            f"{number_text(ratio**2, 2)} times and a Reynolds number {thinner} times lower than the real thing, so "
            "spray breaks up more coarsely"
        )
        short = f"Water keeps its skin: its drops read as {words.length(similarity.drop_reads_as_mm(ratio))}"
        yield Finding("speed", "note", "surface-tension", text, "scale.ratio", short)
    elif kind == "fire":
        share = similarity.heat_share(ratio)
        megawatt = f"a real megawatt is {number_text(1000 * share, 2)} kW here"
        text = (
            f"A flame as high as the model asks gives {number_text(1 / share, 2)} times less "
            f"heat than the real fire: {megawatt}"
        )
        short = f"Flame gives too little heat: {megawatt}"
        yield Finding("speed", "note", "flame", text, "scale.ratio", short)
    elif kind == "smoke":
        text = (
            f"Smoke flows at a Reynolds number {thinner} times lower than the real plume (at the ideal rate), so it "
            "curls more coarsely: use the finest smoke that serves, in still air"
        )
        short = "Smoke curls too coarsely: use the finest, in still air"
        yield Finding("speed", "note", "smoke-curl", text, "scale.ratio", short)
