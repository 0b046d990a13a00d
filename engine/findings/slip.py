"""Findings on slip, the entrance pupil and the bench."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from forescale.engine.findings.words import Words
from forescale.engine.kit.kit import taken_with
from forescale.engine.kit.profiles import Head
from forescale.engine.shot.records import PANS, BenchRow
from forescale.engine.solve.groups import BenchAnswer
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.solve.slide_goal import SlideGoal, slide_goal
from forescale.engine.solve.turn_geometry import slide_on_axis_mm
from forescale.engine.units import angle_text, number_text

ONE_LINE = 70  # columns that a finding has to say itself shortly
END_MM = 0.05  # a slide that stands so near to its end cannot be told to go there


def slip_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of the pupil, the slide and the bench."""
    yield from _pupil(answer)
    yield from _slide(answer)
    if answer.slip.bench is not None:
        yield from _leaves_frame(answer)
        yield from _left_out(answer)
        yield from _bench(answer, answer.slip.bench)


def _turns(answer: Answer) -> bool:
    return answer.slip.axis != "none" and answer.slip.sweep_deg + answer.slip.start_deg > 0


def _pupil(answer: Answer) -> Iterator[Finding]:
    checked = answer.slip
    lens = answer.kit.lens.name
    if not checked.pupil_known:
        text = f"Where the entrance pupil of {lens} stands is not known, so distances count from the sensor plane" + (
            " and the slip of the move cannot be told: find the pupil on the bench" if _turns(answer) else ""
        )
        mend = "find it on the bench to know the slip" if _turns(answer) else "distances count from the sensor plane"
        short = f"Entrance pupil not known: {mend}"
        yield Finding("slip", "warn" if _turns(answer) else "note", "pupil-unknown", text, "bench", short)
    elif checked.pupil_outside:
        rows = " and ".join(f"{row.focal_length:g} mm" for row in checked.pupil_rows)
        text = (
            f"The pupil of {lens} was not measured at this focal length and focus; the nearest reading, "
            f"at {rows} focused at {Words(answer).length(checked.pupil_rows[0].focus)}, serves"
        )
        short = f"Pupil not measured here: the reading at {rows} serves"
        yield Finding("slip", "note", "pupil-outside", text, "bench", short)


def _slide(answer: Answer) -> Iterator[Finding]:
    checked, head = answer.slip, answer.kit.head
    yield from _carried(answer)
    if not _turns(answer):
        return
    if head is None:
        text = "No head is named, so the slip of the move, and where the slide should stand, cannot be told"
        short = "No head is named: name it to know the slip and the slide"
        yield Finding("slip", "warn", "head-missing", text, "kit.head", short)
    elif checked.slide_best_mm is not None and checked.best_within_mm != math.inf:
        yield from _place(answer, head)
        yield from _coarse(answer, head)


def _carried(answer: Answer) -> Iterator[Finding]:
    """Say how much of a travel passes, where not all of it does."""
    checked, words = answer.slip, Words(answer)
    allowed, most = checked.travel_allowed_mm, checked.largest_slip_px
    if checked.travel_mm is None or allowed is None or most is None or allowed >= checked.travel_mm * (1 - 1e-9):
        return
    does = "outruns" if most > 0 else "lags"
    by = f"{number_text(abs(most), 2)} px"
    text = (
        f"Carried {words.length(checked.travel_mm)}, the model {does} the background by {by}, "
        f"whatever the slide; {number_text(checked.tolerance_px)} px passes up to {words.no_more(allowed)} of it"
    )
    yield Finding("slip", "warn", "travel-over", text, "move.travel", f"Only {words.no_more(allowed)} of travel passes")


def _place(answer: Answer, head: Head) -> Iterator[Finding]:
    checked, goal = answer.slip, slide_goal(answer)
    passes = f"{number_text(checked.tolerance_px)} px"
    if goal is None:
        text = f"No place of the slide keeps the slip within {passes} over the whole {checked.axis}"
        short = f"No slide place holds {passes}"
        yield Finding("slip", "warn", "slide-none-holds", text, "move.sweep", short)
        return
    slips, left = checked.largest_slip_px, goal.left_px
    too_far = goal.end_mm is not None and (left is None or abs(left) > checked.tolerance_px)
    if too_far and (slips is None or abs(slips) > checked.tolerance_px):
        text = (
            f"The slide would have to stand at {goal.place_text} for the pupil to be on the axis, and {head.name} "
            f"runs from {goal.scale.range(head)}"
        )
        short = f"Slide does not reach {goal.place_text}"
        yield Finding("slip", "warn", "slide-out-of-reach", text, "kit.head", short)
    if checked.slide_mm is None and not too_far:
        text = f"It is not said where the slide stands; it holds at {goal_text(goal)}"
        yield Finding("slip", "warn", "slide-to-set", text, "move.slide", "Slide not set")
    if checked.slide_mm is not None and slips is not None and abs(slips) > checked.tolerance_px:
        yield _over(answer, slips, checked.slide_mm, goal)
    elif checked.slide_mm is not None and slips is not None:
        yield from _uncertain(answer, checked.slide_mm, goal)


def _uncertain(answer: Answer, slide_mm: float, goal: SlideGoal) -> Iterator[Finding]:
    """Say where the slip passes, but would not with the pupil as far off as it may be."""
    known, off = answer.slip.pupil_uncertainty_mm or 0.0, abs(slide_mm - goal.place_mm)
    if known <= 0 or off + known <= goal.within_mm:
        return
    nearer = off > END_MM and goal.end_mm is None
    text = (
        f"The slip passes, but the pupil is known to ± {goal.scale.about(known)} and may be off no more than "
        f"{goal.scale.at_most(max(goal.within_mm - off, 0.0))} where the slide stands"
    )
    short = f"Pupil known to ± {goal.scale.about(known)} only"
    yield Finding("slip", "warn", "slip-uncertain", text, "move.slide" if nearer else "bench", short)


def goal_text(goal: SlideGoal) -> str:
    """Return where to set the slide: "62.1 mm ± 2.6 mm", or the end that it reaches and what slip is left there."""
    if goal.end_mm is None:
        return f"{goal.place_text} ± {goal.within_text}"
    left = "" if goal.left_px is None else f", where {number_text(abs(goal.left_px), 2)} px is left"
    return f"{goal.to_set_text}, the end of its slide{left}"


def _over(answer: Answer, slip_px: float, slide_mm: float, goal: SlideGoal) -> Finding:
    checked, gap = answer.slip, goal.to_set_mm - slide_mm
    slips = "outruns" if slip_px > 0 else "lags"
    by = f"by {number_text(abs(slip_px), 2)} px"
    at_end = abs(gap) < END_MM and goal.end_mm is not None
    does = "comes nearest" if goal.left_px is not None and abs(goal.left_px) > checked.tolerance_px else "holds"
    stands = "the slide stands at its end" if at_end else f"the slide {does} at {goal_text(goal)}"
    passes = f"{number_text(checked.tolerance_px)} px may pass"
    over = "Over the move" if checked.axis == "none" else f"Over the {checked.axis}"
    text = f"{over} the model {slips} the background {by}, and {passes}{_for_level(answer, slide_mm)}; {stands}"
    return Finding("slip", "warn", "slip-over", text, "move.slide", f"Model {slips} {by}")


def _for_level(answer: Answer, slide_mm: float) -> str:
    """Say where the slide would be right for a level lens, and only the aim carries the pupil off the axis."""
    within = answer.slip.tolerance_mm
    if not answer.setup.aim_deg or answer.slip.axis not in PANS or within is None:
        return ""
    if abs(slide_mm - slide_on_axis_mm(answer.kit, answer.setup, 0.0)) > within:
        return ""
    off = Words(answer).on_slide.told(abs(answer.slip.offset_mm or 0.0))
    aim = angle_text(abs(answer.setup.aim_deg))
    way = "up" if answer.setup.aim_deg > 0 else "down"
    return f"; the slide is right for a level lens, but aimed {aim} {way} the pupil is {off} off the axis"


def _coarse(answer: Answer, head: Head) -> Iterator[Finding]:
    within, scale = answer.slip.best_within_mm, Words(answer).on_slide
    if answer.slip.slide_mm is not None and within is not None and 0 < within < head.slide_step / 2:
        text = (
            f"The slide of {head.name} is marked every {scale.mark(head.slide_step)}, and the pupil must be within "
            f"{scale.at_most(within)} of the axis: set it by eye on the picture"
        )
        short = "Slide marked too coarsely: set it by eye on the picture"
        yield Finding("slip", "note", "slide-too-coarse", text, "move.slide", short)


def _leaves_frame(answer: Answer) -> Iterator[Finding]:
    leaves = answer.slip.leaves_frame_deg
    sweeps = [row.sweep or answer.slip.sweep_deg for row in _counting(answer) if row.slip_px is not None]
    if _turns(answer) and leaves is not None and leaves < max(sweeps, default=0.0):
        text = (
            f"The point aimed at leaves the frame after {leaves:.1f}°, before the move ends: read the bench at a "
            f"smaller sweep, {number_text(leaves * 0.9, 2)}° or less, or off a tape hung at the background"
        )
        short = f"Point leaves the frame at {leaves:.1f}°: read the bench at {number_text(leaves * 0.9, 2)}° or less"
        yield Finding("slip", "note", "bench-out-of-frame", text, "move.sweep", short)


def _counting(answer: Answer) -> Iterator[BenchRow]:
    return (row for row in answer.setting.bench if taken_with(row, answer.setting, answer.kit))


def _left_out(answer: Answer) -> Iterator[Finding]:
    rows = answer.setting.bench
    others = [
        f"{number}" for number, row in enumerate(rows, start=1) if not taken_with(row, answer.setting, answer.kit)
    ]
    if others and len(others) < len(rows):
        which = f"Reading {others[0]} was" if len(others) == 1 else f"Readings {_list(others, 'and')} were"
        text = f"{which} taken with another lens, focal length, head or axis, and left out"
        short = f"{which.removesuffix(' was').removesuffix(' were')} left out: taken with another kit or axis"
        yield Finding("slip", "note", "bench-other-kit", text, "bench", short)


def _bench(answer: Answer, found: BenchAnswer) -> Iterator[Finding]:
    if found.fault is not None:
        yield Finding("slip", "warn", "bench-fault", f"The bench: {found.fault}", "bench", _fault_short(found.mend))
    for index in found.contradicting:
        text = f"Reading {index + 1} contradicts the others"
        short = f"Reading {index + 1} contradicts the others"
        yield Finding("slip", "warn", "bench-contradicts", text, "bench", short)
    if found.suspects:
        read, foreseen = (number_text(slope or 0) for slope in (found.slope_px_per_mm, found.slope_predicted_px_per_mm))
        check = _check(found.suspects)
        text = f"The readings change by {read} px a mm of slide where {foreseen} was to be expected: {check}"
        if any(row.model is not None for row in _counting(answer)):
            text += "; they keep the places that they were taken at"
        short = f"Bench reads wrong, {_check_short(found.suspects)}: {read} px a mm, {foreseen} expected"
        yield Finding("slip", "warn", "bench-slope", text, "bench", short)
    if found.outside and not found.contradicting:  # a wrong reading draws the zero out of the others
        text = "The readings all lie to one side of the place without slip: read on beyond it, where the sign changes"
        short = "Readings do not span the zero: read on beyond it"
        yield Finding("slip", "warn", "bench-outside", text, "bench", short)
    if found.slide_for_zero_mm is not None and found.slope_predicted_px_per_mm is not None and found.band_mm is None:
        text = "Two readings give a line but no error: read the slip at a third place of the slide"
        if found.slope_px_per_mm is None:
            text = "One reading gives a place to go to but no error: read on, to either side of it"
        short = "Bench has no error yet: read the slip at one place more"
        yield Finding("slip", "note", "bench-no-error", text, "bench", short)
    if found.try_next_mm is not None:
        text = f"Try the slide at {Words(answer).on_slide.told(found.try_next_mm)} next, by eye"
        yield Finding("slip", "note", "bench-try-next", text, "bench")


def _fault_short(mend: str | None) -> str:
    """Return a fault of the bench on one line: what comes of it, and what would mend it, or else where to look."""
    short = f"No zero from the bench: {mend}"
    return short if mend and len(short) <= ONE_LINE else "No zero from the bench: see the readings"


def _check_short(suspects: tuple[str, ...]) -> str:
    return "check signs" if suspects == ("direction",) else "check distances"


def _check(suspects: tuple[str, ...]) -> str:
    if suspects == ("direction",):
        return "the sign is wrong, so the slips or the slide are counted backwards"
    return f"check {_list([f'the {suspect}' for suspect in suspects], 'or')}"


def _list(words: Sequence[str], last: str) -> str:
    """Return 'a, b or c'."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"
