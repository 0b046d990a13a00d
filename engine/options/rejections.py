"""Why a way fails, and what of it can be told from a part of it: the cheap rejections come first.

A way is asked the reasons in the order in which they stand here, and counts under the first that holds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from forescale.engine.files.faults import At, BadInput, Sentence, sentence
from forescale.engine.formulas import frame_rate, light, lineup, scale
from forescale.engine.formulas.lineup import SIZE_NOTICED, SIZE_WRONG
from forescale.engine.kit.kit import Kit, lens_faults, sharpness_faults
from forescale.engine.options.to_try import CameraMode, LensAt, ToTry
from forescale.engine.solve.lens_setup import LensPlacement, lens_placement
from forescale.engine.solve.slip_check import check_turn
from forescale.engine.solve.speed_light import runs_at, shot_fps, shot_iso

Reason = Literal[
    "blur", "build", "rate", "gravity", "inside", "match", "move", "close", "stop", "small", "large", "zone", "light"
]
REASONS: dict[Reason, Sentence] = {
    "blur": sentence("the blur that passes for sharp was not measured in the mode"),
    "build": sentence("the largest part would be larger than ", At("limits.build_max")),
    "rate": sentence("the mode does not run at the rate set"),
    "gravity": sentence("the mode is too slow for the model to look heavy"),
    "inside": sentence("the model or the focus would lie inside the lens"),
    "match": sentence("the model would look wrong in size where it is set"),
    "move": sentence("the head cannot turn so near the model"),
    "close": sentence("the lens does not focus so near"),
    "stop": sentence("the lens does not have the stop set"),
    "small": sentence("the model would fill less of the frame than ", At("limits.frame_min")),
    "large": sentence("the model would fill more of the frame than ", At("limits.frame_max")),
    "zone": sentence("model and background are not both held sharp at a stop that may be used"),
    "light": sentence("there is too little light, even at the highest ISO that may be used"),
}
SAME = 1e-9  # shares by which two numbers that should be equal may differ


@dataclass(frozen=True, slots=True)
class Run:
    """How a mode runs for a ratio: the rate, how heavy it looks (1 is right), the exposure in s and the ISO."""

    fps: float
    gravity: float | None
    exposure_s: float
    iso: float


def run(to_try: ToTry, in_mode: CameraMode, ratio: float) -> Run | Reason:
    """Return how a camera's mode runs for a ratio, whatever the lens, or why it cannot.

    Where the shot leaves the rate open it is the one that the answer would choose for the mode: no other serves
    the ratio better.
    """
    setting, limits = to_try.setting, to_try.setting.limits
    action, mode = setting.action, in_mode.mode
    if sharpness_faults(setting, mode, ""):
        return "blur"
    if to_try.largest_mm is not None and limits.build_max is not None:
        built = scale.model_length_mm(to_try.largest_mm, ratio)
        if built > limits.build_max * (1 + SAME):
            return "build"
    fps = shot_fps(action, mode, frame_rate.ideal_fps(action.scaled, ratio, action.playback_fps, action.heft))
    if not runs_at(mode, fps):
        return "rate"
    gravity = None
    if action.scaled:
        apparent = frame_rate.apparent_gravity(ratio, fps / action.playback_fps)
        gravity = frame_rate.weight_shown(apparent, action.heft)
        if gravity > limits.gravity * (1 + 10 * SAME):
            return "gravity"
    return Run(fps, gravity, light.exposure_s(action.shutter, fps), shot_iso(setting, mode))


def place(to_try: ToTry, lens_at: LensAt, ratio: float) -> LensPlacement | Reason:
    """Return where lens and model stand for a ratio, whatever the camera, or why they cannot."""
    setting = to_try.setting.model_copy(update={"scale": to_try.setting.scale.model_copy(update={"ratio": ratio})})
    any_mode = to_try.modes_at_hand[0]
    kit = Kit(any_mode.camera, any_mode.mode, lens_at.lens, lens_at.focal_mm, to_try.shelves.head)
    if lens_faults(setting, lens_at.lens, lens_at.focal_mm, ""):
        return "inside"
    try:
        found = lens_placement(setting, kit, "")
    except BadInput:
        return "inside"
    if _mismatched(to_try, found):
        return "match"
    try:
        check_turn(setting, kit, found, "")
    except BadInput:
        return "move"
    if found.on_lens(found.focus_mm) < lens_at.lens.close_focus * (1 - SAME):
        return "close"
    return found if _has_stop(to_try, lens_at) else "stop"


def _mismatched(to_try: ToTry, found: LensPlacement) -> bool:
    """Return whether the model's size is wrong: by more than can be seen, or than can pass where ratio and place are
    both set."""
    if math.isinf(found.seems_mm):
        return False
    allowed = SIZE_NOTICED if to_try.setting.scale.ratio is None else SIZE_WRONG
    reads_as = lineup.reads_as_ratio(found.model_mm, found.seems_mm)
    return abs(reads_as / found.ratio - 1) >= allowed


def _has_stop(to_try: ToTry, lens_at: LensAt) -> bool:
    stop = to_try.setting.focus.stop
    if stop is None:
        return True
    f_number = lens_at.lens.f_number(stop.value, stop.marks)
    return lens_at.f_numbers[0] * (1 - 1e-6) <= f_number <= lens_at.f_numbers[-1] * (1 + 1e-6)
