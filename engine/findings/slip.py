"""Findings on slip, the entrance pupil and the bench."""

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words, listed, said
from forescale.engine.formulas.chances import NORMAL_95
from forescale.engine.kit.kit import taken_with
from forescale.engine.kit.profiles import Head
from forescale.engine.kit.pupil import not_measured_at
from forescale.engine.shot.sections import PANS
from forescale.engine.solve.groups import BenchAnswer
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.solve.slip_check import SlideGoal, head_turns, slide_goal
from forescale.engine.solve.turning import slide_on_axis_mm
from forescale.engine.units import angle_text, number_text

ONE_LINE = 70  # columns that a finding has to say itself shortly
END_MM = 0.05  # a slide that stands so near to its end cannot be told to go there


def slip_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of the pupil, the slide and the bench."""
    slip, head, turning = answer.slip, answer.kit.head, head_turns(answer)
    yield from _pupil(answer, turning)
    allowed, most = slip.travel_allowed_mm, slip.largest_slip_px
    if slip.travel_mm and allowed is not None and most is not None and allowed < slip.travel_mm * (1 - 1e-9):
        yield said(answer, "travel-over", slips="outruns" if most > 0 else "lags", most=abs(most))
    if turning and head is None:
        yield said(answer, "head-missing")
    elif turning and head is not None and slip.slide_best_mm is not None and slip.best_within_mm != math.inf:
        yield from _place(answer, head)
        within, scale = slip.best_within_mm, Words(answer).on_slide
        if slip.slide_mm is not None and within is not None and 0 < within < head.slide_step / 2:
            yield said(answer, "slide-too-coarse", step=scale.mark(head.slide_step), within=scale.at_most(within))
    if slip.bench is not None:
        yield from _read_with(answer, turning)
        yield from _bench(answer, slip.bench)


def _pupil(answer: Answer, turns: bool) -> Iterator[Finding]:
    slip, words = answer.slip, Words(answer)
    if not slip.pupil_known and turns:
        untold = " and the slip of the move cannot be told"
        yield said(answer, "pupil-unknown", level="warn", untold=untold, to_know=" to know the slip")
    elif not slip.pupil_known:
        yield said(answer, "pupil-unknown", untold="", to_know="")
    elif slip.pupil_outside:
        off = not_measured_at(slip.pupil_rows, answer.kit.focal_mm, answer.focus.focus_mm)
        read = [f"{words.focal(row.focal_length)} focused at {words.length(row.focus)}" for row in slip.pupil_rows]
        serves = f"what lies between the readings at {' and '.join(read)}"
        if len(read) == 1:
            serves = f"the nearest reading, at {read[0]},"
        yield said(answer, "pupil-outside", off=off, serves=serves)


def _place(answer: Answer, head: Head) -> Iterator[Finding]:
    slip, goal = answer.slip, slide_goal(answer)
    slips, stands = slip.largest_slip_px, slip.slide_mm
    if goal is None:
        yield said(answer, "slide-none-holds")
        return
    too_far = goal.end_mm is not None and (goal.left_px is None or abs(goal.left_px) > slip.tolerance_px)
    if too_far and (slips is None or abs(slips) > slip.tolerance_px):
        yield said(answer, "slide-out-of-reach", place=goal.place_text, range=goal.scale.range(head))
    if stands is None and not too_far:
        yield said(answer, "slide-to-set", goal=goal_text(goal))
    if stands is not None and slips is not None and abs(slips) > slip.tolerance_px:
        yield _over(answer, slips, stands, goal)
    elif stands is not None and slips is not None:
        known, off = NORMAL_95 * (slip.pupil_uncertainty_mm or 0.0), abs(stands - goal.place_mm)
        if known > 0 and off + known > goal.within_mm:  # it passes, but not with the pupil as far off as it may be
            field = "move.slide" if off > END_MM and goal.end_mm is None else "bench"
            may = goal.scale.at_most(max(goal.within_mm - off, 0.0))
            yield said(answer, "slip-uncertain", field=field, known=goal.scale.about(known), may=may)


def goal_text(goal: SlideGoal) -> str:
    """Return where to set the slide: "62.1 mm ± 2.6 mm", or the end that it reaches and what slip is left there."""
    if goal.end_mm is None:
        return f"{goal.place_text} ± {goal.scale.at_most(goal.within_mm)}"
    left = "" if goal.left_px is None else f", where {number_text(abs(goal.left_px), 2)} px is left"
    return f"{goal.to_set_text}, the end of its slide{left}"


def _over(answer: Answer, slip_px: float, slide_mm: float, goal: SlideGoal) -> Finding:
    slip = answer.slip
    slips, move = "outruns" if slip_px > 0 else "lags", "move" if slip.axis == "none" else slip.axis
    does = "comes nearest" if goal.left_px is not None and abs(goal.left_px) > slip.tolerance_px else "holds"
    stands = f"the slide {'makes up for the travel' if slip.travel_mm else does} at {goal_text(goal)}"
    if abs(goal.to_set_mm - slide_mm) < END_MM and goal.end_mm is not None:
        stands = "the slide stands at its end"
    within, aim, level_lens = slip.tolerance_mm, answer.setup.aim_deg, ""
    pans = aim and slip.axis in PANS and within is not None and not slip.travel_mm  # which would be to blame
    if pans and abs(slide_mm - slide_on_axis_mm(answer.kit, answer.setup, 0.0)) <= (within or 0.0):
        off = Words(answer).on_slide.told(abs(slip.offset_mm or 0.0))
        aimed = f"aimed {Words.tilted(aim)}"
        level_lens = f"; the slide is right for a level lens, but {aimed} the pupil is {off} off the axis"
    return said(answer, "slip-over", slips=slips, px=abs(slip_px), move=move, level_lens=level_lens, stands=stands)


def _read_with(answer: Answer, turns: bool) -> Iterator[Finding]:
    rows, leaves = answer.setting.bench, answer.slip.leaves_frame_deg
    counts = [taken_with(row, answer.setting, answer.kit) for row in rows]
    told = [row for row, does in zip(rows, counts, strict=True) if does and row.slip_px is not None]
    sweeps = [row.sweep or answer.slip.sweep_deg for row in told]
    if turns and leaves is not None and leaves < max(sweeps, default=0.0):
        yield said(answer, "bench-out-of-frame", leaves=angle_text(leaves), less=leaves * 0.9)
    others = [str(number) for number, does in enumerate(counts, start=1) if not does]
    if others and len(others) < len(rows):
        which, were = f"Reading{'s'[: len(others) - 1]} {listed(others)}", "was" if len(others) == 1 else "were"
        yield said(answer, "bench-other-kit", which=which, were=were)


def _bench(answer: Answer, found: BenchAnswer) -> Iterator[Finding]:
    if found.fault is not None:
        fits = found.mend and len(f"No zero from the bench: {found.mend}") <= ONE_LINE
        yield said(answer, "bench-fault", mend=found.mend if fits else "see the readings")
    yield from (said(answer, "bench-contradicts", reading=index + 1) for index in found.contradicting)
    if found.suspects:
        yield _slope(answer, found)
    if found.outside and not found.contradicting:  # a wrong reading draws the zero out of the others
        yield said(answer, "bench-outside")
    if found.slide_for_zero_mm is not None and found.slope_predicted_px_per_mm is not None and found.band_mm is None:
        gives, more = "Two readings give a line", "read the slip at a third place of the slide"
        if found.slope_px_per_mm is None:
            gives, more = "One reading gives a place to go to", "read on, to either side of it"
        yield said(answer, "bench-no-error", gives=gives, more=more)
    if found.try_next_mm is not None:
        yield said(answer, "bench-try-next", place=Words(answer).on_slide.told(found.try_next_mm))


def _slope(answer: Answer, found: BenchAnswer) -> Finding:
    check, short = f"check {listed([f'the {suspect}' for suspect in found.suspects], 'or')}", "distances"
    if found.suspects == ("direction",):
        check, short = "the sign is wrong, so the slips or the slide are counted backwards", "signs"
    rows = (row for row in answer.setting.bench if taken_with(row, answer.setting, answer.kit))
    if any(row.model is not None for row in rows):
        check += "; they keep the places that they were taken at"
    read, foreseen = (Words(answer).slope(one or 0) for one in (found.slope_px_per_mm, found.slope_predicted_px_per_mm))
    return said(answer, "bench-slope", short=short, check=check, read=read, foreseen=foreseen.split(" ")[0])
