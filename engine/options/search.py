"""Every way to shoot it, tried: what depends on the camera, on the lens and on both is worked out once each.

A way is asked the reasons to fail in the order in which they stand here, the cheap ones first, and counts under the
first that holds.
"""

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Literal, NamedTuple

from forescale.engine.files.faults import At, BadInput, Sentence, sentence
from forescale.engine.formulas import contrast, focus, frame_rate, light, lineup, optics, scale
from forescale.engine.kit.kit import Kit, sharpness_faults
from forescale.engine.options.option import Option
from forescale.engine.options.to_try import CameraMode, LensAt, ToTry
from forescale.engine.solve.focus_zone import holds
from forescale.engine.solve.lens_setup import LensPlacement, frame_width_mm, lens_placement, shot_f_number
from forescale.engine.solve.scale_lineup import slip_across_mm
from forescale.engine.solve.slip_check import check_turn
from forescale.engine.solve.speed_light import chosen_fps, lux_there, runs_at
from forescale.engine.units import rounded_up

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


class RunAt(NamedTuple):
    """How a mode runs for a ratio: the rate, how heavy it looks (1 is right), the exposure in s and the ISO."""

    fps: float
    gravity: float | None
    exposure_s: float
    iso: float


def run(to_try: ToTry, in_mode: CameraMode, ratio: float) -> RunAt | Reason:
    """Return how a mode runs for a ratio, an open rate as the answer would choose it, or why it cannot."""
    setting = to_try.setting
    limits = setting.limits
    action = setting.action
    mode = in_mode.mode
    if sharpness_faults(setting, mode, ""):
        return "blur"
    largest, most = to_try.largest_mm, limits.build_max
    if largest is not None and most is not None and scale.model_length_mm(largest, ratio) > most * (1 + SAME):
        return "build"
    ideal = frame_rate.ideal_fps(action.scaled, ratio, action.playback_fps, action.heft)
    fps = action.fps or chosen_fps(action, mode, ideal)
    if not runs_at(mode, fps):
        return "rate"
    gravity = None
    if action.scaled:
        gravity = frame_rate.weight_shown(frame_rate.apparent_gravity(ratio, fps / action.playback_fps), action.heft)
        if gravity > limits.gravity * (1 + 10 * SAME):
            return "gravity"
    iso = mode.iso_base if setting.light.iso is None else setting.light.iso
    return RunAt(fps, gravity, light.exposure_s(action.shutter, fps), iso)


def place(to_try: ToTry, lens_at: LensAt, ratio: float) -> LensPlacement | Reason:
    """Return where lens and model stand for a ratio, whatever the camera, or why they cannot."""
    setting = to_try.setting.model_copy(update={"scale": to_try.setting.scale.model_copy(update={"ratio": ratio})})
    any_mode = to_try.modes_at_hand[0]
    kit = Kit(any_mode.camera, any_mode.mode, lens_at.lens, lens_at.focal_mm, to_try.shelves.head)
    try:
        found = lens_placement(setting, kit, "")
    except BadInput:
        return "inside"
    # The size is wrong by more than can be seen, or than can pass where ratio and place are both set.
    allowed = lineup.SIZE_NOTICED if to_try.setting.scale.ratio is None else lineup.SIZE_WRONG
    reads_as = lineup.reads_as_ratio(found.model_mm, found.seems_mm)
    if not math.isinf(found.seems_mm) and abs(reads_as / found.ratio - 1) >= allowed:
        return "match"
    try:
        check_turn(setting, kit, found, "")
    except BadInput:
        return "move"
    if found.on_lens(found.focus_mm) < kit.lens.close_focus * (1 - SAME):
        return "close"
    stop = setting.focus.stop
    if stop is not None and not kit.lens.has_stop(kit.lens.f_number(stop.value, stop.marks)):
        return "stop"
    return found


class FailedWay(NamedTuple):
    """A way that fails, and why."""

    in_mode: CameraMode
    lens_at: LensAt
    ratio: float
    reason: Reason


class Batch(NamedTuple):
    """What became of the ways of one camera with one lens; `misses` only where they were asked for."""

    tried: int
    options: tuple[Option, ...]
    dropped: Mapping[Reason, int]
    misses: tuple[FailedWay, ...] = ()


def search(to_try: ToTry, *, with_misses: bool = False) -> Iterator[Batch]:
    """Yield the ways, a lens and a camera's mode at a time; whoever takes them may stop at any time."""
    runs = [[run(to_try, in_mode, ratio) for ratio in to_try.ratios] for in_mode in to_try.modes_at_hand]
    for lens_at in to_try.lenses_at:
        places = [place(to_try, lens_at, ratio) for ratio in to_try.ratios]
        for in_mode, mode_runs in zip(to_try.modes_at_hand, runs, strict=True):
            options: list[Option] = []
            failed: list[FailedWay] = []
            for ratio, how, where in zip(to_try.ratios, mode_runs, places, strict=True):
                if isinstance(how, str):
                    found: Option | Reason = how
                else:
                    found = where if isinstance(where, str) else _solve(to_try, in_mode, lens_at, how, where)
                if isinstance(found, Option):
                    options.append(found)
                else:
                    failed.append(FailedWay(in_mode, lens_at, ratio, found))
            dropped = Counter(miss.reason for miss in failed)
            yield Batch(len(mode_runs), tuple(options), dropped, tuple(failed) if with_misses else ())


def _solve(to_try: ToTry, in_mode: CameraMode, lens_at: LensAt, how: RunAt, where: LensPlacement) -> Option | Reason:
    """Return the way, or why it fails; contrast, the slow part, is left to those that pass the rest."""
    limits = to_try.setting.limits
    lens = lens_at.lens
    build_mm = share = None
    if to_try.largest_mm is not None:
        build_mm = scale.model_length_mm(to_try.largest_mm, where.ratio)
        share = build_mm / lineup.span_mm(frame_width_mm(in_mode.mode, lens), where.model_mm, where.image_mm)
        if limits.frame_min is not None and share < limits.frame_min * (1 - SAME):
            return "small"
        if limits.frame_max is not None and share > limits.frame_max * (1 + SAME):
            return "large"
    own = where.pupil_magnification
    zone = (where.near_mm, where.far_mm, where.focus_mm)
    needed = focus.stop_for_limits(*zone, lens_at.focal_mm, in_mode.coc_mm, own)
    f_number = shot_f_number(to_try.setting, lens, needed)
    if not holds(f_number, needed):
        return "zone"
    t_working = optics.working_stop(lens.t_stop(f_number), where.magnification, own)
    iso, lux, base_lux, over = _lit(to_try, in_mode, how, t_working)
    if over is not None and over < -limits.short_stops - SAME:
        return "light"
    slip_mm = slip_across_mm(to_try.setting, in_mode.mode, lens)
    return Option(
        to_try,
        in_mode,
        lens_at,
        ratio=where.ratio,
        model_mm=where.tape(where.model_mm),
        build_mm=build_mm,
        frame_share=share,
        fps=how.fps,
        gravity=how.gravity,
        f_number=f_number,
        worst_contrast=contrast.worst_contrast(*zone, lens_at.focal_mm, f_number, in_mode.frequency_lpmm, own),
        drift_tolerance_mm=lineup.drift_tolerance_mm(slip_mm, where.model_mm, where.background_mm, where.image_mm),
        iso=iso,
        lux_with_nd=lux,
        base_lux=base_lux,
        over_stops=over,
    )


def _lit(to_try: ToTry, in_mode: CameraMode, how: RunAt, t_working: float) -> tuple[float, float, float, float | None]:
    """Return the ISO, the light that it needs, the light needed at the set or base ISO, in lux, and the stops over.

    But for that at the set or base ISO they count the filter that is fitted.
    An ISO that is not set is raised as far as the light needs and the mode goes.
    """
    available = lux_there(to_try.setting)
    iso = how.iso
    nd = to_try.setting.light.nd or 0.0
    lux = base_lux = light.lux_needed(t_working, how.exposure_s, iso)
    with_nd = light.lux_with_nd(base_lux, nd)
    if available is not None and to_try.setting.light.iso is None and with_nd > available:
        iso = min(rounded_up(light.iso_needed(iso, available, with_nd)), in_mode.mode.iso_max)
        lux = light.lux_needed(t_working, how.exposure_s, iso)
    over = None if available is None else light.over_stops(available, lux) - nd
    return iso, light.lux_with_nd(lux, nd), base_lux, over
