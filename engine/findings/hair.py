"""What holds by a hair: as taped and set, but not with tape, mark and slide as far off as they usually are."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words, said
from forescale.engine.formulas import lineup
from forescale.engine.formulas.lineup import SIZE_NOTICED
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.solve.slip_check import best_place
from forescale.engine.units.lengths import INCH_MM

CODES = frozenset({"size-hair", "zone-hair", "slip-hair"})


def hair_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what holds, but fails within the margin."""
    yield from _size(answer)
    if answer.focus.covers:
        yield from _zone(answer)
    slip, best, head = answer.slip, best_place(answer), answer.kit.head
    if slip.slide_mm is None or slip.largest_slip_px is None or best is None or head is None:
        return
    room = best[1] - abs(slip.slide_mm - best[0])
    if 0 <= room < head.slide_step:
        yield said(answer, "slip-hair", room=room)


def _tape(answer: Answer, distance_mm: float) -> float:
    return lineup.tape_error_mm(distance_mm, answer.setting.limits.tape_error)


def _size(answer: Answer) -> Iterator[Finding]:
    setup, words, wrong = answer.setup, Words(answer), abs(answer.lineup.size_error - 1)
    if math.isinf(setup.seems_mm) or wrong >= SIZE_NOTICED:
        return
    errors = _tape(answer, setup.model_mm), _tape(answer, setup.seems_mm)
    may = lineup.size_margin(setup.model_mm, setup.seems_mm, *errors)
    if wrong + may < SIZE_NOTICED:
        return
    step = INCH_MM if answer.system == "imperial" else 5.0  # nobody knows an error closer
    usual = " and ".join(f"± {words.length(max(round(error / step), 1) * step)}" for error in errors)
    yield said(answer, "size-hair", wrong=wrong, may=may, usual=usual, shows=SIZE_NOTICED)


def _zone(answer: Answer) -> Iterator[Finding]:
    setup, words, mark = answer.setup, Words(answer), answer.setup.focus_mm
    reach, mark_error = 1 / setup.along(answer.focus.near_mm) - 1 / mark, _tape(answer, mark)
    ends = (("nearest", setup.near_mm, min(setup.near_mm, mark), mark), ("farthest", setup.far_mm, mark, setup.far_mm))
    lost = [
        f"the {name} part at {words.length(setup.tape(end))}"
        for name, end, near, far in ends
        if lineup.end_room(near, far, reach) < lineup.end_margin(end, mark, _tape(answer, end), mark_error)
    ]
    if lost:
        yield said(answer, "zone-hair", lost=" and ".join(lost))
