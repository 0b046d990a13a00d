"""Findings on rate and move, and on what does not shrink."""

from collections.abc import Iterator

from forescale.engine.findings.words import Words, said
from forescale.engine.formulas import frame_rate, lineup, scale, stand
from forescale.engine.kit.profiles import Rates
from forescale.engine.shot.sections import TILTS
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.solve.speed_light import chosen_fps, pulse_of, runs_at
from forescale.engine.units import number_text

MAY_JUDDER, WILL_JUDDER = 0.95, 0.7  # of the crossing time that is safe: a soft edge (common practice, no source)
SKEW_NOTICED_PX, METRE_A_SECOND = 2.0, 1000.0
LESS_NOTICED = 1.05  # times as thin a flow: nothing shrinks to speak of by less, which would be told as once


def frame_rate_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of rate, weight and move, and of what does not shrink."""
    yield from _rate(answer)
    if answer.setting.action.scaled:
        yield from _weight(answer)
        yield from _as_read(answer)
    if "driven" in answer.setting.action.kinds and answer.setting.action.real_speed is None:
        yield said(answer, "real-speed-missing")
    run, safe = answer.speed, frame_rate.judder_s(answer.setting.action.playback_fps)
    if run.crossing_s is not None and run.crossing_s < MAY_JUDDER * safe:
        yield said(answer, "judder", does="will" if run.crossing_s < WILL_JUDDER * safe else "may", safe=safe)
    if run.move_set_time_s is not None and run.move_set_time_s > run.set_time_s * (1 + 1e-9):
        yield said(answer, "move-longer")
    if run.readout_skew_px is not None and run.readout_skew_px > SKEW_NOTICED_PX:
        way, shows = ("up or down", "stretch") if answer.setting.move.axis in TILTS else ("aside", "skew")
        yield said(answer, "readout-skew", way=way, shows=shows)
    ratio, kinds = answer.scale.ratio, answer.setting.action.kinds  # what does not shrink with the model
    thinner, share, drop = ratio**1.5, scale.heat_share(ratio), scale.drop_reads_as_mm(ratio)
    if thinner < LESS_NOTICED:
        return
    if "water" in kinds:
        finest = scale.CAPILLARY_MM
        yield said(answer, "surface-tension", finest=finest, drop=drop, weber=ratio**2, thinner=thinner)
    if "fire" in kinds:
        yield said(answer, "flame", less=1 / share, kilowatts=1000 * share)
    if "smoke" in kinds or "fire" in kinds:
        less, slower = 1 / share, 1 / scale.exit_speed_share(ratio)
        calm = METRE_A_SECOND * (1 + 1e-9)
        reads = stand.reads_as_wind_mm_s(METRE_A_SECOND, ratio, answer.speed.time_factor)
        yield said(answer, "smoke-plume", less=less, slower=slower, reads=reads, calm=calm)
    if "smoke" in kinds:
        yield said(answer, "smoke-curl", thinner=thinner)


def _rate(answer: Answer) -> Iterator[Finding]:
    """Say that the mode has no such rate; or, where the one chosen lets the action float, what the next lower does."""
    run, words, rates = answer.speed, Words(answer), answer.kit.mode.fps
    if not runs_at(answer.kit.mode, run.fps):
        runs = f"has no {words.rate(run.fps)}"
        if isinstance(rates, Rates):
            runs = f"runs at {number_text(rates.min)} to {words.rate(rates.max)}, not at {words.rate(run.fps)}"
        yield said(answer, "rate-missing", runs=runs)
        return
    falls = frame_rate.weight_shown(run.apparent_gravity, answer.setting.action.heft)
    if "action.fps" in answer.auto and answer.setting.action.scaled and falls < frame_rate.LIGHT_GRAVITY:
        text = ""
        if (lower := next_lower(answer)) is not None:
            text = f"; {words.rate(lower)} would fall {words.weight(falls * (run.fps / lower) ** 2)} times as hard"
        yield said(answer, "rate-chosen", falls=falls, lower=text)


def next_lower(answer: Answer) -> float | None:
    """Return the next rate of the mode below the one that runs."""
    return max((rate for rate in answer.speed.rates if rate < answer.speed.fps), default=None)


def _weight(answer: Answer) -> Iterator[Finding]:
    action, run, words, mode = answer.setting.action, answer.speed, Words(answer), answer.kit.mode
    falls = frame_rate.weight_shown(run.apparent_gravity, action.heft)
    if falls > frame_rate.HEAVY_GRAVITY:
        level: Level = "warn"
        reads, top, largest = "looks small", "", run.largest_ratio
        if falls >= frame_rate.TOY_GRAVITY:
            level, reads = "stop", "reads as a toy"
        if run.top_fps < run.ideal_fps * (1 - 1e-9):
            serves = f"serves {words.ratio_at_most(largest)} at most" if largest >= 1 else "serves no model"
            top = f", and the top of {mode.name}, {words.rate(run.top_fps)}, {serves}"
        faster = "take a faster mode (another frame size: line up and focus anew)" if largest < 1 else ""
        yield said(answer, "rate-low", level=level, falls=falls, reads=reads, top=top, faster=faster)
        return
    chosen, pulse = chosen_fps(action, mode, run.ideal_fps), pulse_of(answer.setting, mode)
    if falls >= frame_rate.LIGHT_GRAVITY or run.fps <= chosen:
        return
    steady = [pulse is not None and pulse.is_safe(fps, action.shutter) for fps in (run.fps, chosen)]
    if steady != [True, False]:  # else it was chosen for the lamps
        yield said(answer, "rate-high", falls=falls)


def _as_read(answer: Answer) -> Iterator[Finding]:
    """Say how hard the action falls for the size that the model reads as where it stands, where that is another."""
    read, built = answer.speed.gravity_as_read, answer.speed.apparent_gravity
    if read is None or abs(read / built - 1) < lineup.SIZE_WRONG:
        return
    falls = read * answer.setting.action.heft**2
    if not frame_rate.LIGHT_GRAVITY <= falls <= frame_rate.HEAVY_GRAVITY:
        yield said(answer, "gravity-as-read", falls=falls)
