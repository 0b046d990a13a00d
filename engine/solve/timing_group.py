"""The answer's timing group: what is timed and cued on set."""

from __future__ import annotations

from forescale.engine.formulas import timing
from forescale.engine.shot.records import Setting
from forescale.engine.solve.day_groups import CueTimes, TimingAnswer
from forescale.engine.solve.groups import SpeedAnswer


def timing_group(setting: Setting, ratio: float, speeds: SpeedAnswer) -> TimingAnswer:
    """Return how long falls, swings and topples take, how often a fire puffs, and when each cue is called."""
    action, factor = setting.action, speeds.time_factor

    def on_set(real_s: float | None) -> float | None:
        return None if real_s is None else timing.model_s(real_s, ratio)

    def on_screen(real_s: float | None) -> float | None:
        return None if real_s is None else timing.model_s(real_s, ratio) * factor

    fall = None if action.fall is None else timing.fall_s(action.fall)
    swing = None if action.swing is None else timing.swing_s(action.swing)
    topple = None if action.topple is None else timing.topple_s(action.topple)
    width = action.fire_width
    return TimingAnswer(
        fall_real_s=fall,
        fall_set_s=on_set(fall),
        fall_screen_s=on_screen(fall),
        fall_frames=None if fall is None else timing.model_s(fall, ratio) * speeds.fps,
        swing_real_s=swing,
        swing_set_s=on_set(swing),
        swing_screen_s=on_screen(swing),
        topple_real_s=topple,
        topple_set_s=on_set(topple),
        topple_screen_s=on_screen(topple),
        topple_let_go_set_s=None if topple is None else timing.model_s(topple, ratio) * timing.LET_GO_SHARE,
        puff_real_hz=None if width is None else timing.puff_hz(width),
        puff_hz=None if width is None else timing.puff_hz(width / ratio),
        cues=tuple(
            CueTimes(cue.name, cue.screen, cue.screen / factor, timing.running_frame(cue.screen / factor, speeds.fps))
            for cue in setting.cue
        ),
    )
