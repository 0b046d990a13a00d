"""What the bench found, in sentences: the zero and its error, the pupil, whether that will do, what to read next."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words, with_advice
from forescale.engine.kit.kit import taken_with
from forescale.engine.kit.pupil import rows_text
from forescale.engine.kit.slide_scale import SlideScale
from forescale.engine.solve.groups import BenchAnswer
from forescale.engine.units import number_text, tape_text

STEP_MM = 5.0  # places to read at are named to this, being easy to set
REACH_MM = 40.0  # how far to either side of the zero to read where no head tells how far the slide goes


def place_text(ahead_mm: float, scale: SlideScale) -> str:
    """Return where a pupil stands, "24.1 mm ahead of", for a place to follow."""
    return f"{scale.told(abs(ahead_mm))} {'ahead of' if ahead_mm >= 0 else 'behind'}"


def report(answer: Answer) -> tuple[str, ...]:
    """Return what the bench found, a sentence each, the most wanted first; a line for no readings too."""
    bench, places = answer.slip.bench, next_places(answer)
    named = " and ".join(map(Words(answer).on_slide.mark, places))
    if bench is None:
        more = f"Read at {named} first{', then between' if len(places) > 1 else ''}"
        return ("No readings yet", *((more,) if places else ()))
    found = (*_zero(bench, Words(answer).on_slide), *_enough(answer, bench), *_pupil(answer, bench))
    return (*found, *((f"Read next at {named}",) if places else ())) or ("No zero yet",)


def doubts(answer: Answer) -> tuple[str, ...]:
    """Return what is suspicious about the readings, the gravest first, with what to do about it."""
    told = {"bench-try-next", "bench-no-error"}
    doubted = (one for one in answer.findings if one.code.startswith("bench-") and one.code not in told)
    return tuple(with_advice(one.text, one.by_hand) for one in doubted)


def _zero(bench: BenchAnswer, scale: SlideScale) -> Iterator[str]:
    zero = bench.slide_for_zero_mm
    if bench.bracket_mm is None:
        if zero is not None and (bench.std_error_mm is None or bench.band_mm is None):
            count = "one reading gives" if bench.slope_px_per_mm is None else "two readings give"
            yield f"Zero at {scale.told(zero)}; {count} no error"
        elif zero is not None and bench.std_error_mm is not None:
            yield f"Zero at {scale.told(zero)} ± {scale.about(bench.std_error_mm)} (one standard error)"
        return
    low, high = bench.bracket_mm
    if zero is not None:
        yield f"By eye, locked at {scale.told(zero)}"
    if low is not None and high is not None:
        yield f"By eye, the zero lies between {scale.mark(low)} and {scale.mark(high)}"
    elif low is not None or high is not None:
        side, bound = ("above", low) if high is None else ("below", high)
        yield f"By eye, the zero lies {side} {scale.mark(bound or 0.0)}"
    elif zero is None:
        yield "By eye, the zero may lie anywhere yet"


def _enough(answer: Answer, bench: BenchAnswer) -> Iterator[str]:
    """Set how far off the zero may be beside what may pass: the 95 % band, or by eye the bracket's farther end."""
    band, passes, zero = bench.band_mm, passes_mm(answer), bench.slide_for_zero_mm
    if bench.bracket_mm is not None:
        ends = [end for end in bench.bracket_mm if end is not None]
        band = max(abs(end - zero) for end in ends) if zero is not None and len(ends) > 1 else None
    if not band or passes is None:
        return
    px, scale = number_text(answer.slip.tolerance_px), Words(answer).on_slide
    sure = "by eye" if bench.bracket_mm is not None else "95 times of 100"
    good = "Not good enough yet"
    if band <= passes:
        good = "Good enough"
    elif bench.std_error_mm is not None and bench.std_error_mm <= passes:
        good = "Nearly good enough"
    within = f"the zero is {sure} within ± {scale.at_least(band)}"
    yield f"{good}: {within}, and ± {scale.at_most(passes)} may pass for {px} px"


def passes_mm(answer: Answer) -> float | None:
    """Return how far off the zero the slide may be, mm; None where all may pass, or nothing in a tilt that strays."""
    passes = answer.slip.tolerance_mm
    return passes if passes is not None and 0 < passes < math.inf else None


def _pupil(answer: Answer, bench: BenchAnswer) -> Iterator[str]:
    if bench.slide_for_zero_mm is None:
        return
    if bench.pupil_ahead_mm is None:
        yield "Where the pupil stands takes the head: name it in the kit to store the pupil"
        return
    slip, scale, known = answer.slip, Words(answer).on_slide, "the profile has none"
    if slip.pupil_known:
        known = f"the profile has {scale.told(slip.pupil_ahead_mm)}, {rows_text(slip.pupil_rows, answer.system)}"
    yield f"Entrance pupil {place_text(bench.pupil_ahead_mm, scale)} the sensor plane; {known}"


def next_places(answer: Answer) -> tuple[float, ...]:
    """Return where to set the slide for the next readings, mm; none where the bench is good enough, or stuck.

    By number, one place to either side of the zero, as far apart as the slide goes: the error of the zero falls
    with the spread of the readings. The first two stand in either half of the slide.
    """
    bench, head = answer.slip.bench, answer.kit.head

    def tidy(place: float, low: float, high: float) -> float:
        """Return a place that is easy to set, within the slide."""
        return min(max(_round(place), low), high)

    if bench is None:
        if head is None:
            return ()
        low, high = head.slide_min, head.slide_max
        return tuple(tidy(low + share * (high - low), low, high) for share in (0.25, 0.75))
    if bench.bracket_mm is not None:
        return () if bench.try_next_mm is None else (round(bench.try_next_mm, 1),)
    zero, passes = bench.slide_for_zero_mm, passes_mm(answer)
    if zero is None or (bench.band_mm is not None and passes is not None and bench.band_mm <= passes):
        return ()
    low, high = (head.slide_min, head.slide_max) if head else (_round(zero - REACH_MM), _round(zero + REACH_MM))
    if not low <= zero <= high:
        return ()
    sides = (tidy(low, low, high), tidy(high, low, high))
    taken = [row.slide for row in answer.setting.bench if taken_with(row, answer.setting, answer.kit)]
    return tuple(side for side in sides if all(abs(side - slide) >= STEP_MM for slide in taken)) or sides


def _round(place: float) -> float:
    return round(place / STEP_MM) * STEP_MM


def stored_text(before: Answer, after: Answer) -> str:
    """Return what a stored pupil has changed: the pupil in force, the slide for no slip and the slip."""
    was, now, scale = before.slip, after.slip, Words(after).on_slide
    told = [f"the pupil is now taken at {scale.told(now.pupil_ahead_mm)}"]
    told[0] += f", it was {scale.told(was.pupil_ahead_mm)}" if was.pupil_known else ", it was not known"
    if now.slide_for_zero_mm is not None:
        told.append(f"slide {scale.told(now.slide_for_zero_mm)} for no slip")
        if was.slide_for_zero_mm is not None:
            told[-1] += f", was {scale.told(was.slide_for_zero_mm)}"
    if now.slip_px is not None and now.slide_mm is not None:
        told.append(f"slip {number_text(now.slip_px, 2)} px")
        if was.slip_px is not None:
            told[-1] += f", was {number_text(was.slip_px, 2)} px"
    mark = tape_text(after.focus.focus_mm, after.system)
    return f"At {after.kit.focal_mm:g} mm focused at {mark}: {'; '.join(told)}"
