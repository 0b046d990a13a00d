"""What may mend stop, focus mark and zone."""

import math
from collections.abc import Iterator

from forescale.engine.findings.focus import tape_to_hold
from forescale.engine.findings.words import Words
from forescale.engine.formulas import focus
from forescale.engine.mends.taking import Offers
from forescale.engine.solve.focus_zone import split_field
from forescale.engine.solve.record import Answer, Finding, Mend
from forescale.engine.solve.soft import soft_things
from forescale.engine.units import parse_length

AS_SET = 1.003  # room for the pupil, which moves with the mark


def stop_on_lens(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the stop nearest to the one set that the lens has, and the program's own choice."""
    marks = of.kit.lens.f_numbers
    for stop in (Words(of).stop(marks[-1] if of.focus.f_number > marks[-1] else marks[0]), None):
        yield Mend("", {"focus.stop": stop})


def mark_on_lens(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the nearest mark of the lens, and the one that splits the zone."""
    yield from (Mend("", {"focus.distance": mark}) for mark in (Words(of).length(of.kit.lens.close_focus), None))


def hold_zone(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the marks and stops that hold the zone, a lens for part of the frame, or less to hold."""
    stop, better, words = of.kit.lens.first_past(of.focus.stop_needed), refocused(of), Words(of)
    if better is not None and (stop is None or better[1] < stop * 0.95):
        yield Mend("", {"focus.distance": better[0], "focus.stop": words.stop(better[1])})
    if stop is not None:
        yield Mend("", {"focus.stop": words.stop(stop)})
    yield Mend("", {"focus.distance": None, "focus.stop": None})
    if of.setting.place.background_far is not None:
        soft = "what lies beyond the background is soft"
        yield Mend("", {"place.background_far": None}, soft)
        yield Mend("", {"place.background_far": None, "focus.distance": None, "focus.stop": None}, soft)
    yield from _split(of)


def held_too(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the end of the zone that holds what is soft, with what is set, and with a stop and a mark that follow."""
    soft, focus_set = soft_things(of)[0], of.setting.focus
    field, end = ("place.model_near", "nearest") if soft.is_near else ("place.background_far", "farthest")
    tape, follow = tape_to_hold(of, soft), dict[str, str | None]()
    text = f"set the {end} part to {tape}"
    yield Mend(text, {field: tape})
    for path, value, then in (
        ("focus.stop", focus_set.stop, " and let the stop follow"),
        ("focus.distance", focus_set.distance, " and let the focus be split evenly"),
    ):
        if value is not None:
            follow[path], text = None, text + then
            yield Mend(text, {field: tape} | follow)


def refocused(of: Answer) -> tuple[str, float] | None:
    """Return the mark that splits the zone evenly, and the f-number that holds it from there, where the lens can."""
    setup = of.setup
    far = max(setup.near_mm, setup.far_mm)  # a rounding may have put the far end nearer
    even = focus.zone_focus_mm(setup.near_mm, far)
    if setup.on_lens(even) < of.kit.lens.close_focus:
        return None
    mark = Words(of).length(setup.on_lens(even))
    zone = setup.near_mm, far, parse_length(mark) - setup.pupil.ahead_mm
    needed = focus.stop_for_limits(*zone, of.kit.focal_mm, setup.coc_mm, setup.pupil_magnification)
    holds = of.kit.lens.first_past(needed * AS_SET)
    return None if holds is None else (mark, holds)


def with_room(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the stops from the one set on, then the mark that splits the zone with each of them."""
    words, better = Words(of), refocused(of)
    smaller = [mark for mark in of.kit.lens.f_numbers if mark > of.focus.f_number * 1.01][:3]
    yield from (Mend("", {"focus.stop": words.stop(mark)}) for mark in smaller)
    if better is not None:
        for mark in (better[1], *smaller):
            yield Mend("", {"focus.distance": better[0], "focus.stop": words.stop(mark)})


def _split(of: Answer) -> Iterator[Mend]:
    """Yield a split-field close-up lens that holds the model while the lens holds the background."""
    split, words = split_field(of), Words(of)
    if split is None or not split.holds_background:
        return
    if split.holds_model:
        sharp = f", sharp there from {words.length(split.near_mm)} to {words.length(split.far_mm)}"
        power, proviso = split.dioptres, sharp
    elif split.wanted_dioptres is not None:
        power, proviso = split.wanted_dioptres, ", where one of that power can be had"
    else:
        return
    text = (
        f"set the focus mark at {words.length(split.focus_mm)}, for the background, and {words.stop(split.f_number)}, "
        f"with a split-field close-up lens of +{power:g} over the model's part of the frame{proviso}"
    )
    yield Mend(text, {}, "the join must be hidden in the picture")


def best_stop(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the stop that serves the zone best, from the mark set and from one that splits the zone."""
    contrast, words, better = of.focus.contrast, Words(of), refocused(of)
    if contrast is None:
        return
    yield Mend("", {"focus.stop": words.stop(contrast.best_f_number)})
    if better is not None and math.isfinite(of.focus.focus_mm):
        yield Mend("", {"focus.distance": better[0], "focus.stop": words.stop(better[1])})


OFFERS: tuple[tuple[Offers, str], ...] = (
    (stop_on_lens, "stop-beyond-lens"),
    (mark_on_lens, "inside-close-focus"),
    (hold_zone, "zone-short"),
    (with_room, "zone-hair soft-at-edge"),
    (held_too, "soft-in-picture"),
    (best_stop, "past-best-stop"),
)
