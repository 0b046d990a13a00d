"""Findings on rate, move and light."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas import frame_rate, light, similarity
from forescale.engine.kit.profiles import Rates
from forescale.engine.shot.records import TILTS
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.solve.speed_light import chosen_fps, runs_at
from forescale.engine.units import number_text

MAY_JUDDER, WILL_JUDDER = 0.95, 0.7  # of the crossing time that is safe: a soft edge (common practice, no source)
SKEW_NOTICED_PX = 2.0
STEADY_TRIED = 4  # rates at which lamps are steady, of those nearest to the one set


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
    text = f"{mode} has no {words.rate(fps)}"
    if isinstance(rates, Rates):
        text = f"{mode} runs at {number_text(rates.min)} to {words.rate(rates.max)}, not at {words.rate(fps)}"
    yield Finding("speed", "stop", "rate-missing", text, "action.fps", f"No {words.rate(fps)} in this mode")


def _chosen(answer: Answer) -> Iterator[Finding]:
    """Say what the next lower rate would do, where the one chosen is so high that the action floats."""
    run, words = answer.speed, Words(answer)
    if "action.fps" not in answer.auto or not answer.setting.action.scaled:
        return
    gravity = run.apparent_gravity * answer.setting.action.heft**2
    if gravity >= frame_rate.LIGHT_GRAVITY:
        return
    lower = max((rate for rate in run.rates if rate < run.fps), default=None)
    text = (
        f"{words.rate(run.fps)} is the lowest rate that serves the ideal {number_text(run.ideal_fps, 4)}, and the "
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
    if not action.scaled:
        return
    gravity = run.apparent_gravity * action.heft**2
    if gravity > frame_rate.HEAVY_GRAVITY:
        times = f"{number_text(gravity, 2)} times"
        reads = "which reads as a toy" if gravity >= frame_rate.TOY_GRAVITY else "which looks small"
        text = f"At {words.rate(run.fps)} the action falls {times} as hard as it should, {reads}; "
        text += f"{words.ratio(answer.scale.ratio)} needs {words.rate(run.ideal_fps)}"
        if run.top_fps < run.ideal_fps * (1 - 1e-9):
            largest = run.largest_ratio
            serves = f"serves {words.ratio_at_most(largest)} at most" if largest >= 1 else "serves no model"
            text += f", and the top of {answer.kit.mode.name}, {words.rate(run.top_fps)}, {serves}"
        level: Level = "stop" if gravity >= frame_rate.TOY_GRAVITY else "warn"
        yield Finding("speed", level, "rate-low", text, "action.fps", f"Falls {times} as hard as wanted")
        return
    chosen = chosen_fps(action, answer.kit.mode, run.ideal_fps)
    if gravity < frame_rate.LIGHT_GRAVITY and run.fps > chosen:
        if _steady_at(answer, run.fps) and not _steady_at(answer, chosen):
            return  # it was chosen for the lamps
        text = (
            f"At {words.rate(run.fps)} the action falls {number_text(gravity, 2)} times as hard as it should, slower "
            f"than the real thing; {words.rate(run.ideal_fps)} is right"
        )
        short = f"Falls at {number_text(gravity, 2)} of its weight"
        yield Finding("speed", "note", "rate-high", text, "action.fps", short)


def _driven(answer: Answer) -> Iterator[Finding]:
    if "driven" in answer.setting.action.kinds and answer.setting.action.real_speed is None:
        text = "Give the speed of the real thing to know how fast the model must be driven"
        short = "Real speed missing: give it to know how fast to drive"
        yield Finding("speed", "note", "real-speed-missing", text, "action.real_speed", short)


def _move(answer: Answer) -> Iterator[Finding]:
    run = answer.speed
    safe = frame_rate.judder_s(answer.setting.action.playback_fps)
    if run.crossing_s is not None and run.crossing_s < MAY_JUDDER * safe:
        crossing, does = number_text(run.crossing_s, 2), "will" if run.crossing_s < WILL_JUDDER * safe else "may"
        text = (
            f"In the move a thing crosses the frame in {crossing} s of screen time and {does} judder: from about "
            f"{number_text(safe, 2)} s on it is smooth"
        )
        short = f"It {does} judder, crossing in {crossing} s"
        yield Finding("speed", "note", "judder", text, "move.screen_time", short)
    if run.readout_skew_px is not None and run.readout_skew_px > SKEW_NOTICED_PX:
        pans = answer.setting.move.axis not in TILTS
        shows = "aside, so uprights lean" if pans else "up or down, so it is stretched or squeezed"
        text = (
            f"While the sensor reads out, the move carries the picture {number_text(run.readout_skew_px, 2)} px {shows}"
        )
        short = f"Readout skews it {number_text(run.readout_skew_px, 2)} px"
        yield Finding("speed", "note", "readout-skew", text, "move.screen_time", short)


def _light(answer: Answer) -> Iterator[Finding]:
    lit, words, top = answer.light, Words(answer), number_text(answer.kit.mode.iso_max, 5)
    mode, iso = answer.kit.mode, number_text(lit.iso, 5)
    if lit.iso > mode.iso_max or lit.iso < (mode.iso_min or 0.0):
        end = f"to ISO {top}" if lit.iso > mode.iso_max else f"down to ISO {number_text(mode.lowest_iso, 5)}"
        text = f"{mode.name} goes {end}, not to ISO {iso}"
        short = f"No ISO {iso} in this mode"
        yield Finding("speed", "stop", "iso-missing", text, "light.iso", short)
    if lit.over_stops is None or lit.iso_needed is None:
        return
    state = light.light_state(lit.over_stops)
    if state == "short":
        level: Level
        lacks, level, where = f"The light is {words.stops(lit.over_stops)} short", "warn", "light.iso"
        if lit.iso_needed > answer.kit.mode.iso_max:
            lacks, level, where = f"{lacks}, more than ISO {top} can mend", "stop", "light.available"
        yield Finding("speed", level, "light-short", lacks, where, lacks.replace("The light is", "Light"))
    elif state == "over":
        over = words.stops(lit.over_stops)
        text, short = f"The light is {over} over what is needed", f"Light {over} over"
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
    text = (
        f"Lamps on {number_text(lit.mains_hz)} Hz mains will flicker at {words.rate(answer.speed.fps)} and this shutter"
    )
    field = "action.fps" if lit.safe_shutter_deg is None else "action.shutter"
    yield Finding("speed", "warn", "flicker", text, field, f"Lamps flicker at {words.rate(answer.speed.fps)}")


def steady_rate(answer: Answer) -> float | None:
    """Return the nearest rate that the mode has, that lamps are steady at and at which the action looks right."""
    return next(iter(steady_rates(answer)), None)


def steady_rates(answer: Answer) -> list[float]:
    """Return the rates that the mode has, that lamps are steady at and at which the action looks right, nearest first.

    Slower than right is let pass where the shot is so already.
    """
    rates, mains_hz, now = answer.kit.mode.fps, answer.light.mains_hz, answer.speed
    if mains_hz is None:
        return []
    if isinstance(rates, Rates):
        most, fewest = (math.floor(2 * mains_hz / rates.min), math.ceil(2 * mains_hz / rates.max))
        rates = tuple(2 * mains_hz / pulses for pulses in range(max(fewest, 1), most + 1))
    steady = [rate for rate in rates if _steady_at(answer, rate)]
    if answer.setting.action.scaled:
        weight_now = (now.ideal_fps / now.fps) ** 2
        slowest = min(frame_rate.LIGHT_GRAVITY, weight_now)
        steady = [rate for rate in steady if slowest <= (now.ideal_fps / rate) ** 2 <= frame_rate.HEAVY_GRAVITY]
    return sorted(steady, key=lambda rate: abs(rate - now.fps))[:STEADY_TRIED]


def _steady_at(answer: Answer, rate: float) -> bool:
    """Return whether the shot's lamps are steady at a rate with its shutter; true of daylight."""
    mains_hz, shutter = answer.light.mains_hz, answer.setting.action.shutter
    return mains_hz is None or light.flicker_safe(rate, light.exposure_s(shutter, rate), mains_hz)


def _nature(answer: Answer) -> Iterator[Finding]:
    words, ratio = Words(answer), answer.scale.ratio
    kinds = answer.setting.action.kinds
    thinner = number_text(ratio**1.5, 2)
    if "water" in kinds:
        text = (
            f"Water keeps its skin: the finest drop or crest, {similarity.CAPILLARY_MM:.1f} mm, reads as "
            f"{words.length(similarity.drop_reads_as_mm(ratio))}. At the ideal rate it flows at a Weber number "
            f"{number_text(ratio**2, 2)} times and a Reynolds number {thinner} times lower than the real thing, so "
            "spray breaks up more coarsely"
        )
        short = f"Water keeps its skin: its drops read as {words.length(similarity.drop_reads_as_mm(ratio))}"
        yield Finding("speed", "note", "surface-tension", text, "scale.ratio", short)
    if "fire" in kinds:
        share = similarity.heat_share(ratio)
        megawatt = f"a real megawatt is {number_text(1000 * share, 2)} kW here"
        text = (
            f"A flame as high as the model asks gives {number_text(1 / share, 2)} times less "
            f"heat than the real fire: {megawatt}"
        )
        short = f"Flame gives too little heat: {megawatt}"
        yield Finding("speed", "note", "flame", text, "scale.ratio", short)
    if "smoke" in kinds:
        text = (
            f"Smoke flows at a Reynolds number {thinner} times lower than the real plume (at the ideal rate), so it "
            "curls more coarsely: use the finest smoke that serves, in still air"
        )
        short = "Smoke curls too coarsely: use the finest, in still air"
        yield Finding("speed", "note", "smoke-curl", text, "scale.ratio", short)
