"""The answer's timing group: how long what gravity rules takes, and when each cue is called."""

from typing import NamedTuple

from forescale.engine.formulas import timing
from forescale.engine.shot.records import Setting
from forescale.engine.solve.groups import SpeedAnswer


class CueTimes(NamedTuple):
    """A cue on screen, on the stopwatch, and the number of the frame that runs then, from 1."""

    name: str
    screen_s: float
    set_s: float
    frame: int


class TimingAnswer(NamedTuple):
    """How long what is ruled by gravity takes: at full size, on set, on screen; times in s."""

    fall_real_s: float | None
    fall_set_s: float | None
    fall_screen_s: float | None
    fall_frames: float | None
    swing_real_s: float | None
    swing_set_s: float | None
    swing_screen_s: float | None
    topple_real_s: float | None
    topple_set_s: float | None
    topple_screen_s: float | None
    topple_let_go_set_s: float | None
    puff_real_hz: float | None
    puff_hz: float | None
    cues: tuple[CueTimes, ...]


def timing_group(setting: Setting, ratio: float, speeds: SpeedAnswer) -> TimingAnswer | None:
    """Return how long falls, swings and topples take, how a fire puffs, when each cue is called; None without any."""
    action, factor = setting.action, speeds.time_factor
    sizes = {"fall": action.fall, "swing": action.swing, "topple": action.topple}
    width = action.fire_width
    if not setting.cue and not any((*sizes.values(), width)):
        return None
    times: dict[str, float | None] = {}
    for (name, size), takes in zip(sizes.items(), (timing.fall_s, timing.swing_s, timing.topple_s), strict=True):
        real = None if size is None else takes(size)
        on_set = None if real is None else timing.model_s(real, ratio)
        on_screen = None if on_set is None else on_set * factor
        times |= {f"{name}_real_s": real, f"{name}_set_s": on_set, f"{name}_screen_s": on_screen}
    fall, topple = times["fall_set_s"], times["topple_set_s"]
    return TimingAnswer(
        **times,
        fall_frames=None if fall is None else fall * speeds.fps,
        topple_let_go_set_s=None if topple is None else topple * timing.LET_GO_SHARE,
        puff_real_hz=None if width is None else timing.puff_hz(width),
        puff_hz=None if width is None else timing.puff_hz(width / ratio),
        cues=tuple(
            CueTimes(cue.name, cue.screen, cue.screen / factor, timing.running_frame(cue.screen / factor, speeds.fps))
            for cue in setting.cue
        ),
    )
