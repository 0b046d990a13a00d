"""Findings on the focus zone, stop and contrast."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from forescale.engine.findings.words import Words
from forescale.engine.formulas import focus, optics
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.solve.split_field import SplitField, split_field
from forescale.engine.units import number_text, parse_length

THIRD_STOP = 2 ** (1 / 6)
NOTHING_LEFT = 0.07  # contrast below which detail is gone, or false: the first spurious lobe reaches so far
AS_TAPED_MM = 1.0  # a mark set to the close focus as it is written, in sixteenths or millimetres, is at it
AS_SET = 1.003  # room for the pupil, which moves with the mark
PUPILS_NOTICED = 0.03  # share of size by which a strongly asymmetrical lens is off that is worth a word
COST_NOTICED = 0.05  # share of contrast whose loss is worth a word


def find(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of the lens's range, the zone and what the stop costs."""
    yield from _range(answer)
    yield from _nearest(answer)
    yield from _zone(answer)
    yield from _past_best(answer)
    yield from _pupils(answer)


def _pupils(answer: Answer) -> Iterator[Finding]:
    """Say where it would matter that the lens's two pupils are taken as equal."""
    sight, focal = answer.sight, answer.kit.focal_mm
    error = optics.asymmetry_error(focal, sight.near_mm)
    if sight.pupil.magnification is None and (error is None or error > PUPILS_NOTICED):
        off = "much" if error is None else f"{number_text(100 * error, 2)} %"
        near = Words(answer).length(sight.tape(sight.near_mm))
        text = (
            f"Whether the two pupils of {answer.kit.lens.name} are of one size is not known; at {near} size and zone "
            f"are off by up to {off} on a strongly asymmetrical lens: look into the lens from behind and in front, "
            "measure how wide its opening looks, and give the first over the second as pupil_magnification"
        )
        short = f"Pupils taken as equal: at {near} size may be off by {off}"
        yield Finding("focus", "note", "pupils-taken-equal", text, "kit.lens", short)


def _range(answer: Answer) -> Iterator[Finding]:
    words, lens, zone = Words(answer), answer.kit.lens, answer.focus
    marks = answer.kit.lens.f_numbers
    if not marks[0] * (1 - 1e-6) <= zone.f_number <= marks[-1] * (1 + 1e-6):
        ends = words.stop(marks[0]), words.stop(marks[-1])
        set_to = _told_apart(words, zone.f_number, ends)
        text = f"{lens.name} runs from {ends[0]} to {ends[1]}, not to {set_to}: set a stop that it has"
        short = f"No {set_to} on this lens: set one from {ends[0]} to {ends[1]}"
        yield Finding("focus", "stop", "stop-beyond-lens", text, "focus.stop", short)
    if zone.focus_mm < lens.close_focus - AS_TAPED_MM:
        closest, mark = words.exactly(lens.close_focus), words.exactly(zone.focus_mm)
        text = (
            f"{lens.name} focuses no nearer than {closest}, and the mark is set at "
            f"{mark}: set it farther off, or take a lens that focuses nearer"
        )
        short = f"Mark nearer than the lens goes: set {closest}, not {mark}"
        yield Finding("focus", "stop", "inside-close-focus", text, "focus.distance", short)


def _nearest(answer: Answer) -> Iterator[Finding]:
    """Say where the part taped as nearest lies behind the place that was worked out for the model."""
    words, near, model = Words(answer), answer.setting.place.model_near, answer.lineup.model_mm
    if near is not None and near > model + AS_TAPED_MM:
        text = (
            f"The nearest part is taped at {words.length(near)}, behind the model itself, which is to stand at "
            f"{words.length(model)}: tape it again where the model will stand, or leave it out"
        )
        short = "Nearest part is behind the model: tape it again, or leave it out"
        yield Finding("focus", "warn", "nearest-behind", text, "place.model_near", short)


def _told_apart(words: Words, f_number: float, ends: Sequence[str]) -> str:
    """Return what the ring reads at an f-number, with as many digits as tell it from the lens's ends.

    An end is a mark that stands for a third of a stop: f/=5.6 lies before the mark f/5.6, which is 5.657.
    """
    lens, text, prefix = words.of.kit.lens, words.stop(f_number), "T" if words.of.kit.lens.marks == "T" else "f/"
    taken = {_reads(end) for end in ends}
    finer = (f"{prefix}{number_text(lens.mark(f_number), digits)}" for digits in (3, 4, 5, 6))
    told = (one for one in (text, *finer) if _reads(one) not in taken)
    return next(told, f"{prefix}={number_text(lens.mark(f_number), 6)}")


def _reads(stop: str) -> float:
    """Return the number that a stop is written with, so that f/2.0 is f/2."""
    return float(stop.lstrip("Tf/="))


def _zone(answer: Answer) -> Iterator[Finding]:
    zone, words = answer.focus, Words(answer)
    if zone.covers:
        return
    lost = []
    if zone.near_mm > zone.near_needed_mm:
        lost.append(f"the nearest part at {words.length(zone.near_needed_mm)}")
    if zone.far_mm < zone.far_needed_mm:
        lost.append(f"the farthest at {words.length(zone.far_needed_mm)}")
    mend, short = _mend(answer)
    sharp = f"sharp from {words.length(zone.near_mm)} to {words.length(zone.far_mm)}"
    text = f"At {words.stop(zone.f_number)} it is {sharp}, which leaves out {' and '.join(lost)}; {mend}"
    gone = zone.contrast is not None and zone.contrast.worst < NOTHING_LEFT
    yield Finding("focus", "stop" if gone else "warn", "zone-short", text, "focus.stop", short)


def _mend(answer: Answer) -> tuple[str, str]:
    """Return what would hold the zone, and the whole in short: a stop it has, another focus, or a split-field lens."""
    zone, words, marks = answer.focus, Words(answer), answer.kit.lens.f_numbers
    if holds := _first_holding(answer, zone.stop_needed):
        mend = f"{words.stop(holds)} holds it"
        return f"{mend} all{_softer(answer, holds)}", f"Not all sharp at {words.stop(zone.f_number)}: {mend}"
    none = f"no stop to {words.stop(marks[-1])} holds it"
    if refocused := _refocused(answer):
        return f"{none} from this focus: {refocused}", f"Not all sharp: {refocused.removesuffix(' all')}"
    if split := split_field(answer):
        return _split(words, none, split)
    mend = "let the far end go, or move all farther off"
    return f"{none}: {mend}", f"No{none[2:]}: {mend}"


def _split(words: Words, none: str, split: SplitField) -> tuple[str, str]:
    """Return what a split-field lens does, and what it does not."""
    power = f"+{split.dioptres:g}"
    if not split.holds_background:
        end = "let the far end go, or move all farther off"
        return f"{none}, nor the background's own zone: {end}", f"No{none[2:]}: {end}"
    text = (
        f"{none}: set the focus on the background at {words.length(split.focus_mm)}, with a split-field close-up lens "
        f"of {power} over the model's part of the frame, sharp there from {words.length(split.near_mm)} to "
        f"{words.length(split.far_mm)} at {words.stop(split.f_number)}"
    )
    does = f"focus on the background, split-field {power}"
    if not split.holds_model:
        ends = dict.fromkeys(words.length(mm) for mm in (words.of.focus.near_needed_mm, words.of.lineup.model_mm))
        text += f", which misses the model at {' to '.join(ends)}"
        wanted = split.wanted_dioptres
        text += ", too deep for any power" if wanted is None else f"; +{wanted:g}, where one can be had, would hold it"
        does = "model too deep for a split-field lens" if wanted is None else does.replace(power, f"+{wanted:g}")
    short = f"No{none[2:]}: {does}"
    return f"{text}; hide the join in the picture, or stand the model farther off", short


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
    far_mm = max(sight.near_mm, sight.far_mm)  # a rounding may have put the far end nearer
    even = focus.zone_focus_mm(sight.near_mm, far_mm)
    mark = words.exactly(sight.tape(even))
    written = parse_length(mark) - sight.pupil.ahead_mm
    needed = focus.stop_for_limits(
        sight.near_mm, far_mm, written, answer.kit.focal_mm, sight.coc_mm, sight.pupil_magnification
    )
    holds = _first_holding(answer, needed * AS_SET)
    if "focus.distance" in answer.auto or holds is None or sight.tape(even) < answer.kit.lens.close_focus:
        return None
    return f"focused at {mark}, {words.stop(holds)} holds it all"


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
        f"{words.length(zone.far_needed_mm)}, but diffraction is past its best: the worst contrast is "
        f"{worst} (at {number_text(contrast.frequency_lpmm, 2)} line pairs/mm), and {best} gives {gives}"
    )
    short = f"Past best at {stop}: contrast {worst}, {best} gives {gives}"
    if contrast.best_f_number < zone.stop_needed:
        text += ", with the ends of the zone softer than the geometry asks"
        short += ", ends softer"
    yield Finding("focus", "warn", "past-best-stop", text, "focus.stop", short)
