"""Findings on slip, the entrance pupil and the bench."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from forescale.engine.findings.words import Words
from forescale.engine.kit.kit import taken_with
from forescale.engine.kit.profiles import Head
from forescale.engine.kit.pupil import not_measured_at
from forescale.engine.shot.sections import PANS
from forescale.engine.solve.groups import BenchAnswer
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.solve.slip_check import SlideGoal, slide_goal
from forescale.engine.solve.turn_geometry import slide_on_axis_mm
from forescale.engine.units import angle_text, number_text

ONE_LINE = 70  # columns that a finding has to say itself shortly
END_MM = 0.05  # a slide that stands so near to its end cannot be told to go there


def slip_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of the pupil, the slide and the bench."""
    slip, head = answer.slip, answer.kit.head
    turns = slip.axis != "none" and slip.sweep_deg + slip.start_deg > 0
    yield from _pupil(answer, turns)
    yield from _carried(answer)
    if turns and head is None:
        text = "No head is named, so the slip of the move, and where the slide should stand, cannot be told"
        short, by_hand = "No head is named", "name it in the kit to know the slip and the slide"
        yield Finding("slip", "warn", "head-missing", text, "kit.head", short, by_hand)
    elif turns and head is not None and slip.slide_best_mm is not None and slip.best_within_mm != math.inf:
        yield from _place(answer, head)
        within, scale = slip.best_within_mm, Words(answer).on_slide
        if slip.slide_mm is not None and within is not None and 0 < within < head.slide_step / 2:
            text = (
                f"The slide of {head.name} is marked every {scale.mark(head.slide_step)}, and the pupil must be within "
                f"{scale.at_most(within)} of the axis"
            )
            short, by_hand = "Slide marked too coarsely", "set it by eye on the picture"
            yield Finding("slip", "note", "slide-too-coarse", text, "move.slide", short, by_hand)
    if slip.bench is not None:
        yield from _read_with(answer, turns)
        yield from _bench(answer, slip.bench)


def _pupil(answer: Answer, turns: bool) -> Iterator[Finding]:
    slip, lens = answer.slip, answer.kit.lens.name
    if not slip.pupil_known:
        text = f"Where the entrance pupil of {lens} stands is not known, so distances count from the sensor plane"
        if turns:
            text += " and the slip of the move cannot be told"
        level: Level = "warn" if turns else "note"
        by_hand = f"find it on the bench{' to know the slip' if turns else ''}"
        yield Finding("slip", level, "pupil-unknown", text, "bench", "Entrance pupil not known", by_hand)
    elif slip.pupil_outside:
        off = not_measured_at(slip.pupil_rows, answer.kit.focal_mm, answer.focus.focus_mm)
        read = " and ".join(
            f"{row.focal_length:g} mm focused at {Words(answer).length(row.focus)}" for row in slip.pupil_rows
        )
        serves = f"what lies between the readings at {read} serves"
        if len(slip.pupil_rows) == 1:
            serves = f"the nearest reading, at {read}, serves"
        text = f"The pupil of {lens} was not measured at this {off}; {serves}"
        short, by_hand = f"Pupil not measured at this {off}", "find it here too, on the bench"
        yield Finding("slip", "note", "pupil-outside", text, "bench", short, by_hand)


def _carried(answer: Answer) -> Iterator[Finding]:
    """Say how much of a travel passes, where not all of it does."""
    slip, words = answer.slip, Words(answer)
    allowed, most = slip.travel_allowed_mm, slip.largest_slip_px
    if slip.travel_mm is None or allowed is None or most is None or allowed >= slip.travel_mm * (1 - 1e-9):
        return
    text = (
        f"Carried {words.length(slip.travel_mm)}, the model {'outruns' if most > 0 else 'lags'} the background by "
        f"{number_text(abs(most), 2)} px, whatever the slide; {number_text(slip.tolerance_px)} px passes up to "
        f"{words.no_more(allowed)} of it"
    )
    yield Finding("slip", "warn", "travel-over", text, "move.travel", f"Only {words.no_more(allowed)} of travel passes")


def _place(answer: Answer, head: Head) -> Iterator[Finding]:
    slip, goal = answer.slip, slide_goal(answer)
    passes, slips, stands = f"{number_text(slip.tolerance_px)} px", slip.largest_slip_px, slip.slide_mm
    if goal is None:
        text, short = f"No place of the slide keeps the slip within {passes} over the whole", "No slide place holds"
        yield Finding("slip", "warn", "slide-none-holds", f"{text} {slip.axis}", "move.sweep", f"{short} {passes}")
        return
    too_far = goal.end_mm is not None and (goal.left_px is None or abs(goal.left_px) > slip.tolerance_px)
    if too_far and (slips is None or abs(slips) > slip.tolerance_px):
        text = (
            f"The slide would have to stand at {goal.place_text} for the pupil to be on the axis, and {head.name} "
            f"runs from {goal.scale.range(head)}"
        )
        yield Finding("slip", "warn", "slide-out-of-reach", text, "kit.head", f"Slide does not reach {goal.place_text}")
    if stands is None and not too_far:
        text = f"It is not said where the slide stands; it holds at {goal_text(goal)}"
        yield Finding("slip", "warn", "slide-to-set", text, "move.slide", "Slide not set")
    if stands is not None and slips is not None and abs(slips) > slip.tolerance_px:
        yield _over(answer, slips, stands, goal)
    elif stands is not None and slips is not None:
        yield from _uncertain(answer, stands, goal)


def _uncertain(answer: Answer, slide_mm: float, goal: SlideGoal) -> Iterator[Finding]:
    """Say where the slip passes, but would not with the pupil as far off as it may be."""
    known, off = answer.slip.pupil_uncertainty_mm or 0.0, abs(slide_mm - goal.place_mm)
    if known <= 0 or off + known <= goal.within_mm:
        return
    text = (
        f"The slip passes, but the pupil is known to ± {goal.scale.about(known)} and may be off no more than "
        f"{goal.scale.at_most(max(goal.within_mm - off, 0.0))} where the slide stands"
    )
    field, short = (
        "move.slide" if off > END_MM and goal.end_mm is None else "bench",
        f"Pupil known to ± {goal.scale.about(known)} only",
    )
    by_hand = "find the pupil more firmly on the bench, or watch the picture"
    yield Finding("slip", "warn", "slip-uncertain", text, field, short, by_hand)


def goal_text(goal: SlideGoal) -> str:
    """Return where to set the slide: "62.1 mm ± 2.6 mm", or the end that it reaches and what slip is left there."""
    if goal.end_mm is None:
        return f"{goal.place_text} ± {goal.within_text}"
    left = "" if goal.left_px is None else f", where {number_text(abs(goal.left_px), 2)} px is left"
    return f"{goal.to_set_text}, the end of its slide{left}"


def _over(answer: Answer, slip_px: float, slide_mm: float, goal: SlideGoal) -> Finding:
    slip = answer.slip
    slips, by = "outruns" if slip_px > 0 else "lags", f"by {number_text(abs(slip_px), 2)} px"
    does = "comes nearest" if goal.left_px is not None and abs(goal.left_px) > slip.tolerance_px else "holds"
    stands = f"the slide {does} at {goal_text(goal)}"
    if abs(goal.to_set_mm - slide_mm) < END_MM and goal.end_mm is not None:
        stands = "the slide stands at its end"
    over = f"Over the {'move' if slip.axis == 'none' else slip.axis} the model {slips} the background {by}"
    text = f"{over}, and {number_text(slip.tolerance_px)} px may pass{_for_level(answer, slide_mm)}; {stands}"
    return Finding("slip", "warn", "slip-over", text, "move.slide", f"Model {slips} {by}")


def _for_level(answer: Answer, slide_mm: float) -> str:
    """Say where the slide would be right for a level lens, and only the aim carries the pupil off the axis."""
    within, aim = answer.slip.tolerance_mm, answer.setup.aim_deg
    if not aim or answer.slip.axis not in PANS or within is None:
        return ""
    if abs(slide_mm - slide_on_axis_mm(answer.kit, answer.setup, 0.0)) > within:
        return ""
    off = Words(answer).on_slide.told(abs(answer.slip.offset_mm or 0.0))
    aimed = f"aimed {angle_text(abs(aim))} {'up' if aim > 0 else 'down'}"
    return f"; the slide is right for a level lens, but {aimed} the pupil is {off} off the axis"


def _read_with(answer: Answer, turns: bool) -> Iterator[Finding]:
    """Say where readings were taken past the frame, or with other kit."""
    rows, leaves = answer.setting.bench, answer.slip.leaves_frame_deg
    counts = [taken_with(row, answer.setting, answer.kit) for row in rows]
    sweeps = [
        row.sweep or answer.slip.sweep_deg
        for row, does in zip(rows, counts, strict=True)
        if does and row.slip_px is not None
    ]
    if turns and leaves is not None and leaves < max(sweeps, default=0.0):
        text = f"The point aimed at leaves the frame after {leaves:.1f}°, before the move ends"
        less = f"read the bench at a smaller sweep, {number_text(leaves * 0.9, 2)}° or less"
        by_hand = f"{less}, or off a tape hung at the background"
        short = f"Point leaves the frame at {leaves:.1f}°"
        yield Finding("slip", "note", "bench-out-of-frame", text, "move.sweep", short, by_hand)
    others = [str(number) for number, does in enumerate(counts, start=1) if not does]
    if others and len(others) < len(rows):
        which, were = (
            (f"Reading {others[0]}", "was") if len(others) == 1 else (f"Readings {_list(others, 'and')}", "were")
        )
        text = f"{which} {were} taken with another lens, focal length, head or axis, and left out"
        short = f"{which} left out: taken with another kit or axis"
        yield Finding("slip", "note", "bench-other-kit", text, "bench", short)


def _bench(answer: Answer, found: BenchAnswer) -> Iterator[Finding]:
    if found.fault is not None:
        short = f"No zero from the bench: {found.mend}"
        short = short if found.mend and len(short) <= ONE_LINE else "No zero from the bench: see the readings"
        yield Finding("slip", "warn", "bench-fault", f"The bench: {found.fault}", "bench", short)
    for index in found.contradicting:
        text, by_hand = f"Reading {index + 1} contradicts the others", f"look again at reading {index + 1}"
        yield Finding("slip", "warn", "bench-contradicts", text, "bench", by_hand=by_hand)
    if found.suspects:
        yield _slope(answer, found)
    if found.outside and not found.contradicting:  # a wrong reading draws the zero out of the others
        text = "The readings all lie to one side of the place without slip"
        short, by_hand = "Readings do not span the zero", "read on beyond it, where the sign changes"
        yield Finding("slip", "warn", "bench-outside", text, "bench", short, by_hand)
    if found.slide_for_zero_mm is not None and found.slope_predicted_px_per_mm is not None and found.band_mm is None:
        text, more = "Two readings give a line but no error", "read the slip at a third place of the slide"
        if found.slope_px_per_mm is None:
            text, more = "One reading gives a place to go to but no error", "read on, to either side of it"
        yield Finding("slip", "note", "bench-no-error", text, "bench", "Bench has no error yet", more)
    if found.try_next_mm is not None:
        text = f"Try the slide at {Words(answer).on_slide.told(found.try_next_mm)} next, by eye"
        yield Finding("slip", "note", "bench-try-next", text, "bench")


def _slope(answer: Answer, found: BenchAnswer) -> Finding:
    read, foreseen = (number_text(slope or 0) for slope in (found.slope_px_per_mm, found.slope_predicted_px_per_mm))
    text = f"The readings change by {read} px a mm of slide where {foreseen} was to be expected"
    if found.suspects == ("direction",):
        check, short = "the sign is wrong, so the slips or the slide are counted backwards", "signs"
    else:
        check, short = f"check {_list([f'the {suspect}' for suspect in found.suspects], 'or')}", "distances"
    rows = (row for row in answer.setting.bench if taken_with(row, answer.setting, answer.kit))
    if any(row.model is not None for row in rows):
        check += "; they keep the places that they were taken at"
    short = f"Bench reads wrong, check {short}: {read} px a mm, {foreseen} expected"
    return Finding("slip", "warn", "bench-slope", text, "bench", short, check)


def _list(words: Sequence[str], last: str) -> str:
    """Return 'a, b or c'."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"
