"""Findings on rate and move, and on what does not shrink."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.findings.light import chosen_for_lamps
from forescale.engine.findings.words import Words
from forescale.engine.formulas import frame_rate, similarity
from forescale.engine.formulas.lineup import SIZE_WRONG
from forescale.engine.kit.profiles import Rates
from forescale.engine.shot.records import TILTS
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.solve.speed_light import chosen_fps, runs_at
from forescale.engine.units import number_text

MAY_JUDDER, WILL_JUDDER = 0.95, 0.7  # of the crossing time that is safe: a soft edge (common practice, no source)
SKEW_NOTICED_PX = 2.0


def frame_rate_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of rate, weight and move, and of what does not shrink."""
    yield from _rate(answer)
    yield from _weight(answer)
    yield from _as_read(answer)
    yield from _driven(answer)
    yield from _move(answer)
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
    gravity = frame_rate.weight_shown(run.apparent_gravity, answer.setting.action.heft)
    if gravity >= frame_rate.LIGHT_GRAVITY:
        return
    lower = max((rate for rate in run.rates if rate < run.fps), default=None)
    text = (
        f"{words.rate(run.fps)} is the lowest rate that serves the ideal {number_text(run.ideal_fps, 4)}, and the "
        f"action falls {words.weight(gravity)} times as hard as it should"
    )
    if lower is not None:
        harder = words.weight(gravity * (run.fps / lower) ** 2)
        text += f"; {words.rate(lower)} would fall {harder} times as hard"
    short = (
        f"Falls at {words.weight(gravity)} of its weight: ideal {number_text(run.ideal_fps, 4)}, next {run.fps:g} fps"
    )
    yield Finding("speed", "note", "rate-chosen", text, "action.fps", short)


def _weight(answer: Answer) -> Iterator[Finding]:
    action, run, words = answer.setting.action, answer.speed, Words(answer)
    if not action.scaled:
        return
    gravity = frame_rate.weight_shown(run.apparent_gravity, action.heft)
    if gravity > frame_rate.HEAVY_GRAVITY:
        times = f"{words.weight(gravity)} times"
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
        if chosen_for_lamps(answer, chosen):
            return
        text = (
            f"At {words.rate(run.fps)} the action falls {words.weight(gravity)} times as hard as it should, slower "
            f"than the real thing; {words.rate(run.ideal_fps)} is right"
        )
        short = f"Falls at {words.weight(gravity)} of its weight"
        yield Finding("speed", "note", "rate-high", text, "action.fps", short)


def _as_read(answer: Answer) -> Iterator[Finding]:
    """Say how hard the action falls for the size that the model reads as where it stands, where that is another."""
    read, words, built = answer.speed.gravity_as_read, Words(answer), answer.speed.apparent_gravity
    if read is None or not answer.setting.action.scaled or abs(read / built - 1) < SIZE_WRONG:
        return
    heft = answer.setting.action.heft**2
    if frame_rate.LIGHT_GRAVITY <= read * heft <= frame_rate.HEAVY_GRAVITY:
        return
    reads, falls = words.ratio(answer.lineup.reads_as_ratio), words.weight(read * heft)
    text = f"Where it stands the model reads as {reads}, for which it falls {falls} times as hard as it should"
    short = f"As it reads it falls wrong: {falls} times as hard"
    yield Finding("speed", "note", "gravity-as-read", text, "place.model", short)


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
