"""What may mend rate, weight and move."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.frame_rate import SKEW_NOTICED_PX
from forescale.engine.findings.light import steady_rates
from forescale.engine.formulas import frame_rate, lineup
from forescale.engine.kit.profiles import Rates
from forescale.engine.mends.placing import stood_at
from forescale.engine.solve.record import Answer, Finding, Mend
from forescale.engine.solve.speed_light import chosen_fps
from forescale.engine.units import number_text, rounded_down, rounded_up


def rate(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the rate that serves the action, those at which lamps are steady, and the nearest that the mode has."""
    mode, now = of.kit.mode, of.speed.fps
    serves = chosen_fps(of.setting.action, mode, of.speed.ideal_fps)
    if isinstance(mode.fps, Rates):
        near = min(max(now, mode.fps.min), mode.fps.max)
    else:
        near = min(mode.fps, key=lambda fps: (abs(fps - now), fps))
    free = not of.setting.action.scaled
    for fps in (near, serves) if free else (serves, near):
        yield _set(fps)
    for fps in steady_rates(of):
        yield _set(fps)


def _set(fps: float) -> Mend:
    return Mend("", {"action.fps": number_text(fps, 6)})


def heavier(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the rate that serves, a faster mode, and the larger model that the top rate serves."""
    yield from rate(of, finding)
    ideal = of.speed.ideal_fps
    if of.speed.top_fps >= ideal * (1 - 1e-9):
        return
    for mode in of.kit.camera.mode:
        if mode.top_fps >= ideal and mode.name != of.kit.mode.name:
            fps = number_text(chosen_fps(of.setting.action, mode, ideal), 6)
            yield Mend("", {"kit.mode": mode.name, "action.fps": fps}, "another frame size: line up and focus anew")
    serves = rounded_down(of.speed.largest_ratio, 3)
    if serves >= 1:
        changes: dict[str, str | None] = {
            "scale.ratio": f"1:{number_text(serves, 3)}",
            "action.fps": number_text(of.speed.top_fps, 6),
        }
        place = of.setting.place
        if place.model is not None and math.isfinite(of.setup.seems_mm):
            match = of.setup.tape(lineup.match_distance_mm(of.setup.seems_mm, serves))
            changes |= stood_at(of, match, serves)
        yield Mend("", changes, "everything is built larger")
    if of.speed.largest_ratio < 1:
        yield Mend("take a faster mode")


def slower_move(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the screen time, or the sweep, at which the move no longer shows it."""
    run, move = of.speed, of.setting.move
    time = move.screen_time or of.setting.action.screen_time
    if run.crossing_s is None:
        return
    factor = frame_rate.judder_s(of.setting.action.playback_fps) / run.crossing_s
    if finding.code == "readout-skew":
        factor = (run.readout_skew_px or 0.0) / SKEW_NOTICED_PX
    yield Mend("", {"move.screen_time": f"{number_text(rounded_up(time * factor), 3)} s"})
    less = rounded_down(move.sweep / factor)
    if less > 0:
        yield Mend("", {"move.sweep": f"{number_text(less)} deg"})
