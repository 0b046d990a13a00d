"""What the bench found, in sentences: the zero and its error, the pupil, whether that will do, what to read next."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
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
    bench = answer.slip.bench
    if bench is None:
        return ("No readings yet", *_next(answer))
    found = (*_zero(bench, Words(answer).on_slide), *_enough(answer, bench), *_pupil(answer, bench), *_next(answer))
    return tuple(found) or ("No zero yet",)


def doubts(answer: Answer) -> tuple[str, ...]:
    """Return what is suspicious about the readings, the gravest first, as the findings say it."""
    told = {"bench-try-next", "bench-no-error"}
    return tuple(
        finding.text for finding in answer.findings if finding.code.startswith("bench-") and finding.code not in told
    )


def _zero(bench: BenchAnswer, scale: SlideScale) -> Iterator[str]:
    zero = bench.slide_for_zero_mm
    if bench.bracket_mm is not None:
        yield from _by_eye(bench.bracket_mm, zero, scale)
    elif zero is not None:
        if bench.std_error_mm is None or bench.band_mm is None:
            count = "one reading gives" if bench.slope_px_per_mm is None else "two readings give"
            yield f"Zero at {scale.told(zero)}; {count} no error"
        else:
            yield f"Zero at {scale.told(zero)} ± {scale.about(bench.std_error_mm)} (one standard error)"


def _by_eye(bracket: tuple[float | None, float | None], locked: float | None, scale: SlideScale) -> Iterator[str]:
    low, high = bracket
    if locked is not None:
        yield f"By eye, locked at {scale.told(locked)}"
    if low is not None and high is not None:
        yield f"By eye, the zero lies between {scale.mark(low)} and {scale.mark(high)}"
    elif low is not None or high is not None:
        side, bound = ("above", low) if high is None else ("below", high)
        yield f"By eye, the zero lies {side} {scale.mark(bound or 0.0)}"
    elif locked is None:
        yield "By eye, the zero may lie anywhere yet"


def _pupil(answer: Answer, bench: BenchAnswer) -> Iterator[str]:
    if bench.slide_for_zero_mm is None:
        return
    if bench.pupil_ahead_mm is None:
        yield "Where the pupil stands takes the head: name it in the kit to store the pupil"
        return
    held, scale = answer.slip, Words(answer).on_slide
    known = "the profile has none"
    if held.pupil_known:
        known = f"the profile has {scale.told(held.pupil_ahead_mm)}, {rows_text(held.pupil_rows, answer.system)}"
    yield f"Entrance pupil {place_text(bench.pupil_ahead_mm, scale)} the sensor plane; {known}"


def _enough(answer: Answer, bench: BenchAnswer) -> Iterator[str]:
    """Set the error beside what may pass."""
    band, passes = _band_mm(bench), passes_mm(answer)
    if not band or passes is None:
        return
    px, scale = number_text(answer.slip.tolerance_px), Words(answer).on_slide
    sure = "by eye" if bench.bracket_mm is not None else "95 times of 100"
    compared = f"the zero is {sure} within ± {scale.at_least(band)}, and ± {scale.at_most(passes)} may pass for {px} px"
    if band <= passes:
        yield f"Good enough: {compared}"
    elif bench.std_error_mm is not None and bench.std_error_mm <= passes:
        yield f"Nearly good enough: {compared}"
    else:
        yield f"Not good enough yet: {compared}"


def passes_mm(answer: Answer) -> float | None:
    """Return how far off the zero the slide may be, mm; None where all may pass, or nothing in a tilt that strays."""
    passes = answer.slip.tolerance_mm
    return passes if passes is not None and 0 < passes < math.inf else None


def _band_mm(bench: BenchAnswer) -> float | None:
    """Return how far off the zero may be: the 95 % band, or by eye the farther end of the bracket."""
    if bench.bracket_mm is None:
        return bench.band_mm
    low, high = bench.bracket_mm
    if bench.slide_for_zero_mm is None or low is None or high is None:
        return None
    return max(bench.slide_for_zero_mm - low, high - bench.slide_for_zero_mm)


def _next(answer: Answer) -> Iterator[str]:
    places = next_places(answer)
    if not places:
        return
    named = " and ".join(map(Words(answer).on_slide.mark, places))
    if answer.slip.bench is None:
        yield f"Read at {named} first, then between" if len(places) > 1 else f"Read at {named} first"
    else:
        yield f"Read next at {named}"


def next_places(answer: Answer) -> tuple[float, ...]:
    """Return where to set the slide for the next readings, mm; none where the bench is good enough, or stuck.

    By number, one place to either side of the zero, as far apart as the slide goes: the error of the zero falls
    with the spread of the readings.
    """
    bench, head = answer.slip.bench, answer.kit.head
    if bench is None:
        return _halves(head.slide_min, head.slide_max) if head else ()
    if bench.bracket_mm is not None:
        return () if bench.try_next_mm is None else (round(bench.try_next_mm, 1),)
    zero, passes = bench.slide_for_zero_mm, passes_mm(answer)
    if zero is None or (bench.band_mm is not None and passes is not None and bench.band_mm <= passes):
        return ()
    low, high = (head.slide_min, head.slide_max) if head else (_round(zero - REACH_MM), _round(zero + REACH_MM))
    if not low <= zero <= high:
        return ()
    sides = (_tidy(low, low, high), _tidy(high, low, high))
    taken = [row.slide for row in answer.setting.bench if taken_with(row, answer.setting, answer.kit)]
    untaken = tuple(side for side in sides if all(abs(side - slide) >= STEP_MM for slide in taken))
    return untaken or sides


def _halves(low: float, high: float) -> tuple[float, ...]:
    """Return a place in either half of a slide, where the first two readings tell most."""
    return tuple(_tidy(low + share * (high - low), low, high) for share in (0.25, 0.75))


def _tidy(place: float, low: float, high: float) -> float:
    """Return a place that is easy to set, within the slide."""
    return min(max(_round(place), low), high)


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
