"""Findings on the focus zone, stop and contrast."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from forescale.engine.findings.words import Words
from forescale.engine.formulas import optics
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.units import number_text

THIRD_STOP = 2 ** (1 / 6)
NOTHING_LEFT = 0.07  # contrast below which detail is gone, or false: the first spurious lobe reaches so far
AS_TAPED_MM = 1.0  # a mark set to the close focus as it is written, in sixteenths or millimetres, is at it
PUPILS_NOTICED = 0.03  # share of size by which a strongly asymmetrical lens is off that is worth a word
COST_NOTICED = 0.05  # share of contrast whose loss is worth a word


def focus_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of the lens's range, the zone and what the stop costs."""
    yield from _range(answer)
    words, near, model = Words(answer), answer.setting.place.model_near, answer.lineup.model_mm
    if near is not None and near > model + AS_TAPED_MM:
        text = (
            f"The nearest part is taped at {words.length(near)}, behind the model itself, which is to stand at "
            f"{words.length(model)}"
        )
        short = "Nearest part is behind the model"
        yield Finding("focus", "warn", "nearest-behind", text, "place.model_near", short)
    if not answer.focus.covers:
        yield _zone_short(answer)
    yield from _past_best(answer)
    yield from _pupils(answer)


def _range(answer: Answer) -> Iterator[Finding]:
    words, lens, zone = Words(answer), answer.kit.lens, answer.focus
    marks = lens.f_numbers
    if not marks[0] * (1 - 1e-6) <= zone.f_number <= marks[-1] * (1 + 1e-6):
        ends = words.stop(marks[0]), words.stop(marks[-1])
        set_to = _told_apart(words, zone.f_number, ends)
        text = f"{lens.name} runs from {ends[0]} to {ends[1]}, not to {set_to}"
        yield Finding("focus", "stop", "stop-beyond-lens", text, "focus.stop", f"No {set_to} on this lens")
    if zone.focus_mm < lens.close_focus - AS_TAPED_MM:
        closest, mark = words.exactly(lens.close_focus), words.exactly(zone.focus_mm)
        text = f"{lens.name} focuses no nearer than {closest}, and the mark is set at {mark}"
        short, by_hand = f"Mark at {mark} is inside close focus", "take a lens that focuses nearer"
        yield Finding("focus", "stop", "inside-close-focus", text, "focus.distance", short, by_hand)


def _told_apart(words: Words, f_number: float, ends: Sequence[str]) -> str:
    """Return what the ring reads at an f-number, with as many digits as tell it from the lens's ends.

    An end is a mark that stands for a third of a stop: f/=5.6 lies before the mark f/5.6, which is 5.657.
    """
    lens, text = words.of.kit.lens, words.stop(f_number)
    prefix = "T" if lens.marks == "T" else "f/"
    taken = {float(end.lstrip("Tf/=")) for end in ends}  # so that f/2.0 is f/2
    finer = (f"{prefix}{number_text(lens.mark(f_number), digits)}" for digits in (3, 4, 5, 6))
    told = (one for one in (text, *finer) if float(one.lstrip("Tf/=")) not in taken)
    return next(told, f"{prefix}={number_text(lens.mark(f_number), 6)}")


def _zone_short(answer: Answer) -> Finding:
    zone, words, smallest = answer.focus, Words(answer), answer.kit.lens.f_numbers[-1]
    lost = []
    if zone.near_mm > zone.near_needed_mm:
        lost.append(f"the nearest part at {words.length(zone.near_needed_mm)}")
    if zone.far_mm < zone.far_needed_mm:
        lost.append(f"the farthest at {words.length(zone.far_needed_mm)}")
    at, by_hand = words.stop(zone.f_number), ""
    sharp = f"sharp from {words.sharp_from(zone.near_mm)} to {words.sharp_to(zone.far_mm)}"
    text, short = f"At {at} it is {sharp}, which leaves out {' and '.join(lost)}", f"Not all sharp at {at}"
    if zone.stop_needed > smallest * (1 + 1e-9):
        none = f"o stop to {words.stop(smallest)} holds it from"
        text, short = f"{text}, and n{none} this focus", f"N{none} here"
        by_hand = "let the far end go, or move all farther off"
    gone = zone.contrast is not None and zone.contrast.worst < NOTHING_LEFT
    return Finding("focus", "stop" if gone else "warn", "zone-short", text, "focus.stop", short, by_hand)


def _past_best(answer: Answer) -> Iterator[Finding]:
    zone, words, contrast = answer.focus, Words(answer), answer.focus.contrast
    if contrast is None or not zone.covers or zone.f_number <= contrast.best_f_number * math.sqrt(THIRD_STOP):
        return
    if contrast.best_worst - contrast.worst < COST_NOTICED * contrast.best_worst or contrast.best_worst == 0:
        return
    stop, best = words.stop(zone.f_number), words.stop(contrast.best_f_number)
    worst, gives = words.percent(contrast.worst), words.percent(contrast.best_worst)
    text = (
        f"{stop} holds {words.length(zone.near_needed_mm)} to "
        f"{words.length(zone.far_needed_mm)}, but is softened by diffraction: the worst contrast is "
        f"{worst} (at {number_text(contrast.frequency_lpmm, 2)} line pairs/mm), and {best} gives {gives}"
    )
    short = f"{stop} softened by diffraction, contrast {worst}"
    yield Finding("focus", "warn", "past-best-stop", text, "focus.stop", short)


def _pupils(answer: Answer) -> Iterator[Finding]:
    """Say where it would matter that the lens's two pupils are taken as equal."""
    setup = answer.setup
    error = optics.asymmetry_error(answer.kit.focal_mm, setup.near_mm)
    if setup.pupil.magnification is None and (error is None or error > PUPILS_NOTICED):
        off = "much" if error is None else f"{number_text(100 * error, 2)} %"
        near = Words(answer).length(setup.tape(setup.near_mm))
        text = (
            f"Whether the two pupils of {answer.kit.lens.name} are of one size is not known; at {near} size and zone "
            f"are off by up to {off} on a strongly asymmetrical lens"
        )
        measure = (
            "look into the lens from behind and in front, measure how wide its opening looks, and give the first over "
            "the second as pupil_magnification"
        )
        short = f"Pupils taken as equal: at {near} size may be off by {off}"
        yield Finding("focus", "note", "pupils-taken-equal", text, "kit.lens", short, measure)
