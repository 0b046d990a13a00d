"""The answer's focus group; and, when they are asked for, every stop, a close-up lens, what is so along a line."""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import compress
from typing import Literal, NamedTuple

from forescale.engine.formulas import contrast, focus, frame_rate, optics
from forescale.engine.formulas.head import poses
from forescale.engine.formulas.misses import signed_slips_px
from forescale.engine.kit.kit import Kit
from forescale.engine.solve.groups import ContrastAnswer, FocusAnswer
from forescale.engine.solve.lens_setup import LensSetup
from forescale.engine.solve.record import Answer
from forescale.engine.solve.speed_light import light_group
from forescale.engine.solve.view import view_of

HOLDS = 1 - 1e-9  # a zone solved exactly and tested exactly may differ in the last digit
SAME_STOP = 1e-6  # two f-numbers that stand for one mark
BEYOND = 2  # steps that a shortened table goes past what stands out in it
_STEPS = (2, 3, 6, 12, 24, 48)  # thirds of a stop; the last leaves two stops at most beside those that stand out
_DECIMALS = (1, 2, 3)  # to which a power may be asked for, the coarsest that holds the model first
Looks = Literal["toy", "small", "right", "slow"]

MARGIN = 1.15  # how far past the zone, to either side, its picture goes
FOLLOWED = 3.0  # how far past everything finite a zone without an end is followed before infinity itself


def focus_group(kit: Kit, setup: LensSetup, with_contrast: bool, *, moves: bool = False) -> FocusAnswer:
    """Return focus mark, stop and the zone they hold; contrast may be left out, as the slow part.

    A split-field lens serves no picture that `moves`: its join would sweep over what is seen.
    """
    lens_and_stop = (kit.focal_mm, setup.f_number, setup.coc_mm, setup.pupil_magnification)
    no_stop = setup.stop_needed > kit.lens.f_numbers[-1] * (1 + 1e-9)
    split = no_stop and not moves and setup.near_mm < setup.background_mm
    return FocusAnswer(
        coc_mm=setup.coc_mm,
        focal_length_mm=kit.focal_mm,
        f_number=setup.f_number,
        stop_mark=kit.lens.mark(setup.f_number),
        near_needed_mm=setup.tape(setup.near_mm),
        far_needed_mm=setup.tape(setup.far_mm),
        focus_mm=setup.on_lens(setup.focus_mm),
        stop_needed=setup.stop_needed,
        near_mm=setup.tape(focus.near_limit_mm(setup.focus_mm, *lens_and_stop)),
        far_mm=setup.tape(focus.far_limit_mm(setup.focus_mm, *lens_and_stop)),
        hyperfocal_mm=setup.on_lens(focus.hyperfocal_mm(*lens_and_stop)),
        covers=holds(setup.f_number, setup.stop_needed),
        contrast=_contrast(kit, setup) if with_contrast else None,
        airy_mm=contrast.airy_mm(optics.working_stop(setup.f_number, setup.magnification, setup.pupil_magnification)),
        split_dioptres=focus.split_dioptres(setup.near_mm, setup.background_mm) if split else None,
    )


def holds(f_number: float, stop_needed: float) -> bool:
    """Return whether a stop holds the zone that needs `stop_needed`; both are exact f-numbers."""
    return f_number >= stop_needed * HOLDS


def _contrast(kit: Kit, setup: LensSetup) -> ContrastAnswer:
    frequency, own = contrast.frequency_lpmm(setup.coc_mm), setup.pupil_magnification

    def at(distance_mm: float) -> float:
        return contrast.contrast(distance_mm, setup.focus_mm, kit.focal_mm, setup.f_number, frequency, own)

    near, sharp, far = at(setup.near_mm), at(setup.focus_mm), at(setup.far_mm)
    zone = (setup.near_mm, setup.far_mm, setup.focus_mm)
    best = contrast.best_stop(kit.lens.f_numbers, *zone, kit.focal_mm, frequency, own)
    return ContrastAnswer(frequency, near, sharp, far, min(near, sharp, far), *best)


class StopRow(NamedTuple):
    """One stop, all else as the shot has it: distances on the tape, contrasts from 0 to 1, the f-number exact."""

    stop_mark: float
    f_number: float
    near_mm: float
    far_mm: float
    covers: bool
    near: float
    focus: float
    far: float
    worst: float
    over_stops: float | None
    lux_needed: float
    lux_with_nd: float
    as_set: bool
    first_to_hold: bool  # the widest mark that holds the zone
    best: bool  # the one with the best worst contrast


class StopTable(NamedTuple):
    """The stops in the lens's range, widest first, and the stop as shot, which may lie outside it."""

    rows: tuple[StopRow, ...]
    as_shot: StopRow


def stop_table(answer: Answer) -> StopTable:
    """Return every third-stop mark of the lens, and among them the stop as shot where it lies between two."""
    marks, used = answer.kit.lens.f_numbers, answer.focus.f_number
    first = answer.kit.lens.first_past(answer.focus.stop_needed)
    between = marks[0] < used < marks[-1] and not any(math.isclose(mark, used, rel_tol=SAME_STOP) for mark in marks)
    f_numbers = sorted((*marks, used)) if between else marks
    return StopTable(tuple(_row(answer, f_number, first) for f_number in f_numbers), _row(answer, used, first))


def _row(answer: Answer, f_number: float, first: float | None) -> StopRow:
    """Return a stop as the groups of the answer would have it, were it set."""
    kit = answer.kit
    setup = replace(answer.setup, f_number=f_number, t_stop=kit.lens.t_stop(f_number))
    zone = focus_group(kit, setup, with_contrast=True)
    lit = light_group(answer.setting, kit, setup, answer.speed)
    seen = zone.contrast
    assert seen is not None
    told = zone._asdict() | seen._asdict() | lit._asdict()
    told["as_set"] = math.isclose(f_number, answer.focus.f_number, rel_tol=SAME_STOP)
    told |= {"first_to_hold": f_number == first, "best": f_number == seen.best_f_number}
    return StopRow(**{name: told[name] for name in StopRow._fields})


def around(table: StopTable, most: int) -> tuple[StopRow, ...]:
    """Return at most so many rows (7 or more): the set, the first to hold, the best, and even steps around them."""
    anchor = min(table.rows, key=lambda row: abs(math.log(row.f_number / table.as_shot.f_number)))
    thirds = [round(6 * math.log2(row.f_number / anchor.f_number)) for row in table.rows]
    outs = [row.as_set or row.first_to_hold or row.best for row in table.rows]
    places = [third for third, out in zip(thirds, outs, strict=True) if out]
    for step in _STEPS:  # what stands out, and what lies in even steps between and a little beyond
        low, high = min(places) - BEYOND * step, max(places) + BEYOND * step
        kept = [out or (third % step == 0 and low <= third <= high) for third, out in zip(thirds, outs, strict=True)]
        if sum(kept) <= most:
            break
    return tuple(compress(table.rows, kept))


class SplitField(NamedTuple):
    """A split-field close-up lens, and what is sharp through it at the lens's smallest stop; distances on the tape."""

    dioptres: float
    focus_mm: float  # of the lens behind it, which splits the background's own zone
    f_number: float
    near_mm: float
    far_mm: float
    holds_background: bool  # whether that is then sharp
    holds_model: bool  # from its nearest part to its plane
    wanted_dioptres: float | None  # the power that holds the model, None where it is too deep for any


def split_field(answer: Answer) -> SplitField | None:
    """Return the split-field lens that the answer asks for, and what it does; None where it asks for none."""
    setup, lens, power = answer.setup, answer.kit.lens, answer.focus.split_dioptres
    if power is None:
        return None
    back, far = setup.background_mm, setup.far_mm
    even = math.inf if math.isinf(back) else focus.zone_focus_mm(back, far)
    mark, f_number = max(even, lens.close_focus - setup.pupil.ahead_mm), lens.f_numbers[-1]
    focal, own = answer.kit.focal_mm, setup.pupil_magnification

    def zone(dioptres: float) -> tuple[float, float]:
        return focus.zone_through_close_up_mm(dioptres, mark, focal, f_number, setup.coc_mm, own)

    def holds_model(dioptres: float) -> bool:
        nearest, farthest = zone(dioptres)
        return dioptres > 0 and nearest <= setup.near_mm and setup.model_mm <= farthest

    middle = 500 / setup.near_mm + 500 / setup.model_mm - 1000 / mark
    powers, sharp = (round(middle, decimals) for decimals in _DECIMALS), zone(power)
    return SplitField(
        dioptres=power,
        focus_mm=setup.on_lens(mark),
        f_number=f_number,
        near_mm=setup.tape(sharp[0]),
        far_mm=setup.tape(sharp[1]),
        holds_background=holds(f_number, focus.stop_for_limits(back, far, mark, focal, setup.coc_mm, own)),
        holds_model=holds_model(power),
        wanted_dioptres=next(filter(holds_model, powers), None),
    )


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
        high, finite = FOLLOWED * max(filter(math.isfinite, reached)), count - 1
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
    taken = poses(view.move, steps)
    slips = signed_slips_px(view.aimed, taken, view.line_up, view.frame)
    return tuple((turn * view.degrees, px) for (turn, _), px in zip(taken, slips, strict=True) if px is not None)


def weight_at(answer: Answer, fps: float) -> float | None:
    """Return how strong gravity looks at a rate beside what is wanted, heft counted: more is a toy; None if free."""
    action = answer.setting.action
    if not action.scaled:
        return None
    gravity = frame_rate.apparent_gravity(answer.scale.ratio, fps / action.playback_fps)
    return frame_rate.weight_shown(gravity, action.heft)


def reads_as(answer: Answer, fps: float) -> Looks | None:
    """Return in a word how the action would look at a rate; None for an action whose rate is free."""
    weight = weight_at(answer, fps)
    if weight is None:
        return None
    if weight >= frame_rate.TOY_GRAVITY:
        return "toy"
    if weight > frame_rate.HEAVY_GRAVITY:
        return "small"
    return "right" if weight >= frame_rate.LIGHT_GRAVITY else "slow"
