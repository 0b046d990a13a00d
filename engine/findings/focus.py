"""Findings on zone, stop and contrast; and on what would fail with tape, mark or slide as far off as usual: a hair."""

import math
from collections.abc import Iterator, Sequence

from forescale.engine.findings.picture import short_of
from forescale.engine.findings.words import Words, said
from forescale.engine.formulas import lineup, optics
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.solve.slip_check import best_place
from forescale.engine.solve.soft import Soft, soft_at_edge, soft_things
from forescale.engine.units import INCH_MM, number_text, tape_at_least, tape_at_most

THIRD_STOP = 2 ** (1 / 6)
NOTHING_LEFT = 0.07  # contrast below which detail is gone, or false: the first spurious lobe reaches so far
AS_TAPED_MM = 1.0  # a mark set to the close focus as it is written, in sixteenths or millimetres, is at it
PUPILS_NOTICED = 0.03  # share of size by which a strongly asymmetrical lens is off that is worth a word
COST_NOTICED = 0.05  # share of contrast whose loss is worth a word
CODES = frozenset({"size-hair", "zone-hair", "slip-hair", "soft-at-edge"})


def focus_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of the lens's range, the zone and what the stop costs."""
    words, near, zone, lens = Words(answer), answer.setting.place.model_near, answer.focus, answer.kit.lens
    marks, contrast, setup = lens.f_numbers, zone.contrast, answer.setup
    if not lens.has_stop(zone.f_number):
        contrast = None  # what a stop costs that cannot be set is nothing to anyone
        ends = words.stop(marks[0]), words.stop(marks[-1])
        set_to = _told_apart(words, zone.f_number, ends)
        yield said(answer, "stop-beyond-lens", widest=ends[0], smallest=ends[1], set_to=set_to)
    if zone.focus_mm < lens.close_focus - AS_TAPED_MM:
        yield said(answer, "inside-close-focus")
    if near is not None and near > answer.lineup.model_mm + AS_TAPED_MM:
        yield said(answer, "nearest-behind")
    if zone.covers:
        yield from _soft(answer)
    if not zone.covers:
        yield _zone_short(answer)
    elif contrast is not None and contrast.focus < NOTHING_LEFT:  # where nothing but diffraction takes it
        yield said(answer, "past-best-stop", better="no detail is left even at the focus mark")
    elif contrast is not None and zone.f_number > contrast.best_f_number * math.sqrt(THIRD_STOP):
        best, lost = contrast.best_worst, contrast.best_worst - contrast.worst
        if best >= NOTHING_LEFT and lost >= COST_NOTICED * best:  # what is less is false detail, and comes and goes
            gives = f"{words.stop(contrast.best_f_number)} gives {words.percent(best)}"
            yield said(answer, "past-best-stop", better=gives)
    error = optics.asymmetry_error(answer.kit.focal_mm, setup.near_mm)
    if setup.pupil.magnification is None and (error is None or error > PUPILS_NOTICED):  # taken as equal
        off = "much" if error is None else f"{number_text(100 * error, 2)} %"
        yield said(answer, "pupils-taken-equal", near=setup.tape(setup.near_mm), off=off)


def _told_apart(words: Words, f_number: float, ends: Sequence[str]) -> str:
    """Return what the ring reads, told apart from the lens's ends: f/=5.6 lies before the mark f/5.6, 5.657."""
    lens, text = words.of.kit.lens, words.stop(f_number)
    prefix = "T" if lens.marks == "T" else "f/"
    taken = {float(end.lstrip("Tf/=")) for end in ends}  # so that f/2.0 is f/2
    finer = (f"{prefix}{number_text(lens.mark(f_number), digits)}" for digits in (3, 4, 5, 6))
    told = (one for one in (text, *finer) if float(one.lstrip("Tf/=")) not in taken)
    return next(told, f"{prefix}={number_text(lens.mark(f_number), 6)}")


def _zone_short(answer: Answer) -> Finding:
    zone, words, smallest, lost = answer.focus, Words(answer), answer.kit.lens.f_numbers[-1], []
    if zone.near_mm > zone.near_needed_mm:
        lost.append(f"the nearest part at {words.length(zone.near_needed_mm)}")
    if zone.far_mm < zone.far_needed_mm:
        lost.append(f"the farthest at {words.length(zone.far_needed_mm)}")
    none, short, by_hand = "", f"Not all sharp at {words.stop(zone.f_number)}", ""
    if zone.stop_needed > smallest * (1 + 1e-9):
        stop = f"o stop to {words.stop(smallest)} holds it from"
        none, short = f", and n{stop} this focus", f"N{stop} here"
        by_hand = "let the far end go (it is soft), or move all farther off (line up anew)"
    level: Level = "stop" if (zone.contrast is not None and zone.contrast.worst < NOTHING_LEFT) else "warn"
    return said(answer, "zone-short", level=level, lost=" and ".join(lost), none=none, short=short, by_hand=by_hand)


def _soft(answer: Answer) -> Iterator[Finding]:
    """Yield what the picture has nearer or farther along the lens than the zone that was taped."""
    passes, things = answer.setup.coc_mm / answer.kit.mode.pixel_mm, soft_things(answer)
    if things:
        soft, more = things[0], len(things) - 1
        yield said(
            answer,
            "soft-in-picture",
            field="place.model_near" if soft.is_near else "place.background_far",
            soft=soft,
            passes=passes,
            name=f"{soft.name[:1].upper()}{soft.name[1:]}",
            short=short_of(soft.name, "is soft"),
            end="nearest" if soft.is_near else "farthest",
            tape=tape_to_hold(answer, soft),
            others=f"; {more} more {'is' if more == 1 else 'are'} soft" if more else "",
        )
    elif edge := soft_at_edge(answer):
        aimed, tape = Words.tilted(answer.setup.aim_deg), tape_to_hold(answer, edge)
        yield said(answer, "soft-at-edge", soft=edge, passes=passes, aimed=aimed, tape=tape)


def tape_to_hold(answer: Answer, soft: Soft) -> str:
    """Return what to tape for the zone's end so that it holds what is soft."""
    return (tape_at_most if soft.is_near else tape_at_least)(soft.tape_mm, answer.system)


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
    if math.isinf(setup.seems_mm) or wrong >= lineup.SIZE_NOTICED:
        return
    errors = _tape(answer, setup.model_mm), _tape(answer, setup.seems_mm)
    may = lineup.size_margin(setup.model_mm, setup.seems_mm, *errors)
    if wrong + may < lineup.SIZE_NOTICED:
        return
    step = INCH_MM if answer.system == "imperial" else 5.0  # nobody knows an error closer
    usual = " and ".join(f"± {words.length(max(round(error / step), 1) * step)}" for error in errors)
    yield said(answer, "size-hair", wrong=wrong, may=may, usual=usual, shows=lineup.SIZE_NOTICED)


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
