"""Findings on the focus zone, stop and contrast."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from engine import focus
from engine.findings.finding import Finding, Words
from engine.units import number_text

if TYPE_CHECKING:
    from engine.answer import Answer

THIRD_STOP = 2 ** (1 / 6)
NOTHING_LEFT = 0.07  # contrast below which detail is gone, or false: the first spurious lobe reaches so far
AS_TAPED_MM = 1.0  # a mark set to the close focus as it is written, in sixteenths or millimetres, is at it
AS_SET = 1.003  # room for a mark that is set as it is written, and for the pupil that moves with it
COST_NOTICED = 0.03  # share of contrast whose loss is worth a word


def find(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of the lens's range, the zone and what the stop costs."""
    yield from _range(answer)
    yield from _zone(answer)
    yield from _past_best(answer)


def _range(answer: Answer) -> Iterator[Finding]:
    words, lens, zone = Words(answer), answer.kit.lens, answer.focus
    marks = answer.kit.lens.f_numbers
    if not marks[0] * (1 - 1e-6) <= zone.f_number <= marks[-1] * (1 + 1e-6):
        reach = f"from {words.stop(marks[0])} to {words.stop(marks[-1])}"
        text = f"{lens.name} runs {reach}, not to {words.stop(zone.f_number)}: set a stop that it has"
        yield Finding("focus", "stop", "stop-beyond-lens", text, "focus.stop")
    if zone.focus_mm < lens.close_focus - AS_TAPED_MM:
        text = (
            f"{lens.name} focuses no nearer than {words.length(lens.close_focus)}, and the mark is set at "
            f"{words.length(zone.focus_mm)}: set it farther off, or take a lens that focuses nearer"
        )
        yield Finding("focus", "stop", "inside-close-focus", text, "focus.distance")


def _zone(answer: Answer) -> Iterator[Finding]:
    zone, words = answer.focus, Words(answer)
    if zone.covers:
        return
    lost = []
    if zone.near_mm > zone.near_needed_mm:
        lost.append(f"the nearest part at {words.length(zone.near_needed_mm)}")
    if zone.far_mm < zone.far_needed_mm:
        lost.append(f"the farthest at {words.length(zone.far_needed_mm)}")
    sharp = f"sharp from {words.length(zone.near_mm)} to {words.length(zone.far_mm)}"
    text = f"At {words.stop(zone.f_number)} it is {sharp}, which leaves out {' and '.join(lost)}; {_mend(answer)}"
    gone = zone.contrast is not None and zone.contrast.worst < NOTHING_LEFT
    yield Finding("focus", "stop" if gone else "warn", "zone-short", text, "focus.stop")


def _mend(answer: Answer) -> str:
    """Return what would hold the zone: a stop the lens has, another focus, or a split-field lens over the model."""
    zone, words, marks = answer.focus, Words(answer), answer.kit.lens.f_numbers
    if holds := _first_holding(answer, zone.stop_needed):
        return f"{words.stop(holds)} holds it all{_softer(answer, holds)}"
    none = f"no stop to {words.stop(marks[-1])} holds it"
    if refocused := _refocused(answer):
        return f"{none} from this focus: {refocused}"
    if zone.split_dioptres is None:
        return f"{none}: let the far end go, or move everything farther off"
    return (
        f"{none}: a split-field close-up lens of +{zone.split_dioptres:g} over the "
        "model's part of the frame would, if the join in the picture can be hidden; or stand the model farther off"
    )


def _first_holding(answer: Answer, needed: float) -> float | None:
    """Return the widest f-number marked on the lens that is at least what is needed."""
    return next((n for n in answer.kit.lens.f_numbers if n >= needed * (1 - 1e-9)), None)


def _softer(answer: Answer, f_number: float) -> str:
    contrast = answer.focus.contrast
    if contrast is None or contrast.best_f_number >= f_number / THIRD_STOP**0.5:
        return ""
    return f", though contrast is best at {Words(answer).stop(contrast.best_f_number)}"


def _refocused(answer: Answer) -> str | None:
    """Return the focus and the stop that hold the zone, where the focus was set and another would do."""
    sight, words = answer.sight, Words(answer)
    even = focus.zone_focus_mm(sight.near_mm, sight.far_mm)
    needed = focus.stop_for_zone(sight.near_mm, even, answer.kit.focal_mm, sight.coc_mm)
    holds = _first_holding(answer, needed * AS_SET)
    if "focus.distance" in answer.auto or holds is None or sight.tape(even) < answer.kit.lens.close_focus:
        return None
    return f"focused at {words.length(sight.tape(even))}, {words.stop(holds)} holds it all"


def _past_best(answer: Answer) -> Iterator[Finding]:
    zone, words, contrast = answer.focus, Words(answer), answer.focus.contrast
    if contrast is None or not zone.covers or zone.f_number <= contrast.best_f_number * math.sqrt(THIRD_STOP):
        return
    if contrast.best_worst - contrast.worst < COST_NOTICED * contrast.best_worst or contrast.best_worst == 0:
        return
    text = (
        f"{words.stop(zone.f_number)} holds {words.length(zone.near_needed_mm)} to "
        f"{words.length(zone.far_needed_mm)}, but diffraction is past its best: the worst contrast is "
        f"{words.percent(contrast.worst)} (at {number_text(contrast.frequency_lpmm, 2)} line pairs/mm), and "
        f"{words.stop(contrast.best_f_number)} gives {words.percent(contrast.best_worst)}"
    )
    if contrast.best_f_number < zone.stop_needed:
        text += ", with the ends of the zone softer than the geometry asks"
    yield Finding("focus", "warn", "past-best-stop", text, "focus.stop")
