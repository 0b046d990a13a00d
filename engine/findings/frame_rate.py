"""Findings on rate and move, and on what does not shrink."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas import frame_rate, scale
from forescale.engine.formulas.lineup import SIZE_WRONG
from forescale.engine.kit.profiles import Rates
from forescale.engine.shot.sections import TILTS
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.solve.speed_light import chosen_fps, pulse_of, runs_at
from forescale.engine.units import number_text

MAY_JUDDER, WILL_JUDDER = 0.95, 0.7  # of the crossing time that is safe: a soft edge (common practice, no source)
SKEW_NOTICED_PX = 2.0


def frame_rate_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of rate, weight and move, and of what does not shrink."""
    yield from _rate(answer)
    if answer.setting.action.scaled:
        yield from _weight(answer)
        yield from _as_read(answer)
    if "driven" in answer.setting.action.kinds and answer.setting.action.real_speed is None:
        text, by_hand = "The speed of the real thing is missing", "give it to know how fast the model must be driven"
        yield Finding("speed", "note", "real-speed-missing", text, "action.real_speed", "Real speed missing", by_hand)
    yield from _move(answer)
    yield from _nature(answer)


def _rate(answer: Answer) -> Iterator[Finding]:
    """Say that the mode has no such rate; or, where the one chosen lets the action float, what the next lower does."""
    run, words, rates, mode = answer.speed, Words(answer), answer.kit.mode.fps, answer.kit.mode.name
    if not runs_at(answer.kit.mode, run.fps):
        text = f"{mode} has no {words.rate(run.fps)}"
        if isinstance(rates, Rates):
            text = f"{mode} runs at {number_text(rates.min)} to {words.rate(rates.max)}, not at {words.rate(run.fps)}"
        yield Finding("speed", "stop", "rate-missing", text, "action.fps", f"No {words.rate(run.fps)} in this mode")
        return
    gravity = frame_rate.weight_shown(run.apparent_gravity, answer.setting.action.heft)
    chosen = "action.fps" in answer.auto and answer.setting.action.scaled
    if not chosen or gravity >= frame_rate.LIGHT_GRAVITY:
        return
    ideal, falls = number_text(run.ideal_fps, 4), words.weight(gravity)
    text = (
        f"{words.rate(run.fps)} is the lowest rate that serves the ideal {ideal}, and the "
        f"action falls {falls} times as hard as it should"
    )
    if (lower := next_lower(answer)) is not None:
        text += f"; {words.rate(lower)} would fall {words.weight(gravity * (run.fps / lower) ** 2)} times as hard"
    short = f"Falls at {falls} of its weight: ideal {ideal}, next {words.rate(run.fps)}"
    yield Finding("speed", "note", "rate-chosen", text, "action.fps", short)


def next_lower(answer: Answer) -> float | None:
    """Return the next rate of the mode below the one that runs."""
    return max((rate for rate in answer.speed.rates if rate < answer.speed.fps), default=None)


def _weight(answer: Answer) -> Iterator[Finding]:
    action, run, words, mode = answer.setting.action, answer.speed, Words(answer), answer.kit.mode
    gravity = frame_rate.weight_shown(run.apparent_gravity, action.heft)
    times, at = f"{words.weight(gravity)} times", f"At {words.rate(run.fps)} the action falls"
    if gravity > frame_rate.HEAVY_GRAVITY:
        toy = gravity >= frame_rate.TOY_GRAVITY
        text = f"{at} {times} as hard as it should, which {'reads as a toy' if toy else 'looks small'}; "
        text += f"{words.ratio(answer.scale.ratio)} needs {words.rate(run.ideal_fps)}"
        if run.top_fps < run.ideal_fps * (1 - 1e-9):
            largest = run.largest_ratio
            serves = f"serves {words.ratio_at_most(largest)} at most" if largest >= 1 else "serves no model"
            text += f", and the top of {mode.name}, {words.rate(run.top_fps)}, {serves}"
        level: Level = "stop" if toy else "warn"
        by_hand = "take a faster mode" if run.largest_ratio < 1 else ""
        yield Finding("speed", level, "rate-low", text, "action.fps", f"Falls {times} as hard as wanted", by_hand)
        return
    chosen, pulse = chosen_fps(action, mode, run.ideal_fps), pulse_of(answer.setting, mode)
    if gravity >= frame_rate.LIGHT_GRAVITY or run.fps <= chosen:
        return
    steady = [pulse is not None and pulse.is_safe(fps, action.shutter) for fps in (run.fps, chosen)]
    if steady != [True, False]:  # else it was chosen for the lamps
        text = f"{at} {times} as hard as it should, slower than the real thing; {words.rate(run.ideal_fps)} is right"
        short = f"Falls at {words.weight(gravity)} of its weight"
        yield Finding("speed", "note", "rate-high", text, "action.fps", short)


def _as_read(answer: Answer) -> Iterator[Finding]:
    """Say how hard the action falls for the size that the model reads as where it stands, where that is another."""
    read, words, built = answer.speed.gravity_as_read, Words(answer), answer.speed.apparent_gravity
    if read is None or abs(read / built - 1) < SIZE_WRONG:
        return
    weight = read * answer.setting.action.heft**2
    if not frame_rate.LIGHT_GRAVITY <= weight <= frame_rate.HEAVY_GRAVITY:
        reads, falls = words.ratio(answer.lineup.reads_as_ratio), words.weight(weight)
        text = f"Where it stands the model reads as {reads}, for which it falls {falls} times as hard as it should"
        short = f"As it reads it falls wrong: {falls} times as hard"
        yield Finding("speed", "note", "gravity-as-read", text, "place.model", short)


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
        pans, skew = answer.setting.move.axis not in TILTS, f"{number_text(run.readout_skew_px, 2)} px"
        way, shows = ("aside", "Rolling-shutter skew") if pans else ("up or down", "Rolling-shutter stretch")
        text = f"While the sensor reads out, the move carries the picture {skew} {way}: {shows[0].lower()}{shows[1:]}"
        yield Finding("speed", "note", "readout-skew", text, "move.screen_time", f"{shows} {skew}")


def _nature(answer: Answer) -> Iterator[Finding]:
    """Say what of water, fire and smoke does not shrink with the model."""
    words, ratio, kinds = Words(answer), answer.scale.ratio, answer.setting.action.kinds
    thinner = number_text(ratio**1.5, 2)
    if "water" in kinds:
        drop = words.length(scale.drop_reads_as_mm(ratio))
        text = (
            f"Water keeps its skin: the finest drop or crest, {scale.CAPILLARY_MM:.1f} mm, reads as "
            f"{drop}. At the ideal rate it flows at a Weber number "
            f"{number_text(ratio**2, 2)} times and a Reynolds number {thinner} times lower than the real thing, so "
            "spray breaks up more coarsely"
        )
        short = f"Water keeps its skin: its drops read as {drop}"
        yield Finding("speed", "note", "surface-tension", text, "scale.ratio", short)
    if "fire" in kinds:
        share = scale.heat_share(ratio)
        megawatt = f"a real megawatt is {number_text(1000 * share, 2)} kW here"
        less = number_text(1 / share, 2)
        text = f"A flame as high as the model asks gives {less} times less heat than the real fire: {megawatt}"
        yield Finding("speed", "note", "flame", text, "scale.ratio", f"Flame gives too little heat: {megawatt}")
    if "smoke" in kinds:
        text = (
            f"Smoke flows at a Reynolds number {thinner} times lower than the real plume (at the ideal rate), so it "
            "curls more coarsely"
        )
        by_hand = "use the finest smoke that serves, in still air"
        yield Finding("speed", "note", "smoke-curl", text, "scale.ratio", "Smoke curls too coarsely", by_hand)
