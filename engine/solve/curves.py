"""What an answer says along a line: contrast over distance, slip over the move, weight over the rates."""

import math
from collections.abc import Sequence
from typing import Literal

from forescale.engine.formulas import contrast, frame_rate
from forescale.engine.formulas.head import poses, signed_slip_px
from forescale.engine.solve.record import Answer
from forescale.engine.solve.view import view_of

Weight = Literal["toy", "small", "right", "slow"]

MARGIN = 1.15  # how far past the zone, to either side, its picture goes
BEYOND = 3.0  # how far past everything finite a zone without an end is followed before infinity itself


def zone_distances(answer: Answer, count: int) -> tuple[float, ...]:
    """Return `count` (2 or more) tapes in mm over the zone and a little past it, in equal steps of their logarithm.

    Where the zone has no end the last is infinity. None lies behind the entrance pupil.
    """
    focus = answer.focus
    near = focus.near_needed_mm
    low = max(near / MARGIN, (near + answer.setup.level(answer.slip.pupil_ahead_mm)) / 2)
    if math.isfinite(focus.far_needed_mm):
        high, finite = focus.far_needed_mm * MARGIN, count
    else:
        reached = (near, answer.lineup.model_mm, answer.lineup.background_mm, focus.focus_mm, focus.hyperfocal_mm)
        high, finite = BEYOND * max(filter(math.isfinite, reached)), count - 1
    spaced = (low * (high / low) ** (step / max(finite - 1, 1)) for step in range(finite))
    return (*spaced, *[math.inf] * (count - finite))


def contrast_over_distance(answer: Answer, f_number: float, distances_mm_tape: Sequence[float]) -> tuple[float, ...]:
    """Return the contrast, 0 to 1, that fine detail keeps at each tape distance, focused as the shot is."""
    setup = answer.setup
    frequency, lens = contrast.frequency_lpmm(setup.coc_mm), (setup.focus_mm, answer.kit.focal_mm)
    return tuple(
        contrast.contrast(setup.along(distance), *lens, f_number, frequency, setup.pupil_magnification)
        for distance in distances_mm_tape
    )


def slip_over_move(answer: Answer, steps: int) -> tuple[tuple[float, float], ...]:
    """Return turns from the line-up (degrees) and slips there (px), start to end; none where pupil or slide is open."""
    view = view_of(answer.setting, answer.kit, answer.setup)
    if not view.known or not view.degrees:
        return ()
    seen = ((share, signed_slip_px(view.aimed, at, view.line_up, view.frame)) for share, at in poses(view.move, steps))
    return tuple((share * view.degrees, slip) for share, slip in seen if slip is not None)


def weight_at(answer: Answer, fps: float) -> float | None:
    """Return how strong gravity looks at a rate beside what is wanted, heft counted: more is a toy; None if free."""
    action = answer.setting.action
    if not action.scaled:
        return None
    gravity = frame_rate.apparent_gravity(answer.scale.ratio, fps / action.playback_fps)
    return frame_rate.weight_shown(gravity, action.heft)


def reads_as(answer: Answer, fps: float) -> Weight | None:
    """Return in a word how the action would look at a rate; None for an action whose rate is free."""
    weight = weight_at(answer, fps)
    if weight is None:
        return None
    if weight >= frame_rate.TOY_GRAVITY:
        return "toy"
    if weight > frame_rate.HEAVY_GRAVITY:
        return "small"
    return "right" if weight >= frame_rate.LIGHT_GRAVITY else "slow"
