"""Findings on slip, the entrance pupil and the bench."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from engine.answer.turning import turning_of
from engine.findings.finding import Finding, Words
from engine.kit import read_with
from engine.profiles import Head
from engine.slip import offsets_within_mm, zero_offset_mm
from engine.units import number_text

if TYPE_CHECKING:
    from engine.answer import Answer
    from engine.answer.groups import BenchAnswer
    from engine.shot import BenchRow


def find(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of the pupil, the slide and the bench."""
    yield from _pupil(answer)
    yield from _slide(answer)
    if answer.slip.bench is not None:
        yield from _leaves_frame(answer)
        yield from _left_out(answer)
        yield from _bench(answer.slip.bench)


def _turns(answer: Answer) -> bool:
    return answer.slip.axis != "none" and answer.slip.sweep_deg > 0


def _pupil(answer: Answer) -> Iterator[Finding]:
    checked = answer.slip
    lens = answer.kit.lens.name
    if not checked.pupil_known:
        text = f"Where the entrance pupil of {lens} stands is not known, so distances count from the sensor plane" + (
            " and the slip of the move cannot be told: find the pupil on the bench" if _turns(answer) else ""
        )
        yield Finding("slip", "warn" if _turns(answer) else "note", "pupil-unknown", text, "bench")
    elif checked.pupil_outside:
        rows = " and ".join(f"{row.focal_length:g} mm" for row in checked.pupil_rows)
        text = (
            f"The pupil of {lens} was not measured at this focal length and focus; the nearest reading, "
            f"at {rows} focused at {Words(answer).length(checked.pupil_rows[0].focus)}, serves"
        )
        yield Finding("slip", "note", "pupil-outside", text, "bench")


def _slide(answer: Answer) -> Iterator[Finding]:
    checked, head = answer.slip, answer.kit.head
    if not _turns(answer):
        return
    if head is None:
        text = "No head is named, so the slip of the move, and where the slide should stand, cannot be told"
        yield Finding("slip", "warn", "head-missing", text, "kit.head")
    elif checked.slide_for_zero_mm is not None and checked.tolerance_mm != math.inf:
        yield from _place(answer, head)
        yield from _coarse(answer, head)


def _place(answer: Answer, head: Head) -> Iterator[Finding]:
    checked = answer.slip
    best = best_place(answer)
    if best is None:
        text = (
            f"No place of the slide keeps the slip within {number_text(checked.tolerance_px)} px over the whole "
            f"{checked.axis}: turn less, or bring the tilt axis nearer to the lens axis"
        )
        yield Finding("slip", "warn", "slide-none-holds", text, "move.sweep")
        return
    place, within = best
    reachable = head.slide_min <= place <= head.slide_max
    slips = checked.largest_slip_px
    if not reachable and (slips is None or abs(slips) > checked.tolerance_px):
        text = (
            f"The slide would have to stand at {place:.1f} mm for the pupil to be on the axis, and {head.name} "
            f"runs from {head.slide_min:g} mm to {head.slide_max:g} mm: take another head, or turn less"
        )
        yield Finding("slip", "warn", "slide-out-of-reach", text, "kit.head")
    to = f"{place:.1f} mm ± {Words.at_most(within)} mm"
    if checked.slide_mm is None and reachable:
        yield Finding("slip", "note", "slide-to-set", f"Set the slide at {to}", "move.slide")
    if checked.slide_mm is not None and checked.largest_slip_px is not None:
        yield from _over(answer, checked.largest_slip_px, place - checked.slide_mm, to)


def _over(answer: Answer, slip_px: float, gap_mm: float, to: str) -> Iterator[Finding]:
    checked = answer.slip
    if abs(slip_px) > checked.tolerance_px:
        text = (
            f"Over the {checked.axis} the model {'outruns' if slip_px > 0 else 'lags'} the background by "
            f"{number_text(abs(slip_px), 2)} px, and {number_text(checked.tolerance_px)} px may pass: "
            f"slide the camera {'forward' if gap_mm > 0 else 'back'} {abs(gap_mm):.1f} mm, to {to}"
        )
        yield Finding("slip", "warn", "slip-over", text, "move.slide")


def best_place(answer: Answer) -> tuple[float, float] | None:
    """Return the slide reading to set and how far off it may be, in mm; None where no place holds the whole move.

    It is where the end of the move has no slip, or, where a tilt strays too far on the way to that, the middle of
    what holds.
    """
    checked = answer.slip
    zero, within = checked.slide_for_zero_mm, checked.tolerance_mm
    turning = turning_of(answer.setting, answer.kit, answer.sight)
    if zero is None or within is None or turning is None:
        return None
    if within > 0:
        return zero, within
    low, high = offsets_within_mm(turning.turn, checked.tolerance_px * turning.pixel_mm)
    if low > high:
        return None
    return zero + (low + high) / 2 - zero_offset_mm(turning.turn), (high - low) / 2


def _coarse(answer: Answer, head: Head) -> Iterator[Finding]:
    within = answer.slip.tolerance_mm
    if answer.slip.slide_mm is not None and within is not None and 0 < within < head.slide_step / 2:
        text = (
            f"The slide of {head.name} is marked every {head.slide_step:g} mm, and the pupil must be within "
            f"{within:.2f} mm of the axis: set it by eye on the picture"
        )
        yield Finding("slip", "note", "slide-too-coarse", text, "move.slide")


def _leaves_frame(answer: Answer) -> Iterator[Finding]:
    leaves = answer.slip.leaves_frame_deg
    sweeps = [row.sweep or answer.slip.sweep_deg for row in _counting(answer) if row.slip_px is not None]
    if _turns(answer) and leaves is not None and leaves < max(sweeps, default=0.0):
        text = (
            f"The point aimed at leaves the frame after {leaves:.1f}°, before the move ends: read the bench at a "
            f"smaller sweep, {number_text(leaves * 0.9, 2)}° or less, or off a tape hung at the background"
        )
        yield Finding("slip", "note", "bench-out-of-frame", text, "move.sweep")


def _counting(answer: Answer) -> Iterator[BenchRow]:
    return (row for row in answer.setting.bench if read_with(row, answer.setting, answer.kit))


def _left_out(answer: Answer) -> Iterator[Finding]:
    rows = answer.setting.bench
    others = [f"{number}" for number, row in enumerate(rows, start=1) if not read_with(row, answer.setting, answer.kit)]
    if others and len(others) < len(rows):
        which = f"Reading {others[0]} was" if len(others) == 1 else f"Readings {_list(others, 'and')} were"
        text = f"{which} taken with another lens, focal length, head or axis, and left out"
        yield Finding("slip", "note", "bench-other-kit", text, "bench")


def _bench(found: BenchAnswer) -> Iterator[Finding]:
    if found.fault is not None:
        yield Finding("slip", "warn", "bench-fault", f"The bench: {found.fault}", "bench")
    if found.suspects:
        text = (
            f"The readings change by {number_text(found.slope_px_per_mm or 0)} px a mm of slide where "
            f"{number_text(found.slope_predicted_px_per_mm or 0)} was to be expected: {_check(found.suspects)}"
        )
        yield Finding("slip", "warn", "bench-slope", text, "bench")
    if found.outside:
        text = "The readings all lie to one side of the place without slip: read on beyond it, where the sign changes"
        yield Finding("slip", "warn", "bench-outside", text, "bench")
    for index in found.contradicting:
        text = f"Reading {index + 1} contradicts the others: look again there, or take it out"
        yield Finding("slip", "warn", "bench-contradicts", text, "bench")
    if found.slide_for_zero_mm is not None and found.slope_predicted_px_per_mm is not None and found.band_mm is None:
        text = "Two readings give a line but no error: read the slip at a third place of the slide"
        if found.slope_px_per_mm is None:
            text = "One reading gives a place to go to but no error: read on, to either side of it"
        yield Finding("slip", "note", "bench-no-error", text, "bench")
    if found.try_next_mm is not None:
        text = f"By eye, next try the slide at {found.try_next_mm:.1f} mm"
        yield Finding("slip", "note", "bench-try-next", text, "bench")


def _check(suspects: tuple[str, ...]) -> str:
    if suspects == ("direction",):
        return "the sign is wrong, so the slips or the slide are counted backwards"
    return f"check {_list([f'the {suspect}' for suspect in suspects], 'or')}"


def _list(words: Sequence[str], last: str) -> str:
    """Return 'a, b or c'."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"
