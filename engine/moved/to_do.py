"""What a crew does once the rig has moved, in the order in which they do it: each thing from old to new."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from forescale.engine.answer import Answer
from forescale.engine.findings.light import light_wanted
from forescale.engine.findings.slip import goal_text
from forescale.engine.findings.words import Words
from forescale.engine.formulas.light import light_state
from forescale.engine.formulas.lineup import SIZE_NOTICED
from forescale.engine.mends import mends
from forescale.engine.moved.moved import Moved, as_shown
from forescale.engine.solve.slip_check import SlideGoal, slide_goal
from forescale.engine.units import angle_text, number_text

TAPE_AGAIN_MM = 3.0  # a slide carries the sensor plane; by more than this the tape distances want taking again


@dataclass(frozen=True, slots=True)
class ToDo:
    """One thing to set or to leave: what it was, what it shall be, the order to the crew, and what else to know.

    It is `changed` where the two can be told apart as they are shown: nobody sets a finer difference.
    """

    subject: str
    before_text: str
    after_text: str
    text: str
    changed: bool
    also: str = ""


def _step(subject: str, old: str, new: str, order: str, also: str = "") -> ToDo:
    changed = old != new
    return ToDo(subject, old, new, order if changed else f"{subject.capitalize()} unchanged: {new}", changed, also)


def what_to_do(moved: Moved) -> tuple[ToDo, ...]:
    """Return every step after a move of the rig, each so that it holds when the next is done.

    The slide first, since it carries the camera; then place, height, focus, stop, light, lamps, rate.
    """
    before, after = moved.before, moved.after
    return (
        *_slide(moved),
        _place(moved),
        *_height(before, after),
        _focus(before, after),
        _stop(before, after),
        _light(before, after),
        *_lamps(before, after),
        _rate(before, after),
    )


def _place(moved: Moved) -> ToDo:
    words, stands = Words(moved.after), moved.slid.lineup
    here, match = words.length(stands.model_mm), stands.match_distance_mm
    if moved.model_moves:
        there = words.length(moved.after.lineup.model_mm)
        order = f"Move the model {_shift(moved, moved.after.lineup.model_mm)}, from {here} to {there}"
        return _step("model", here, there, order, f"left at {here} {_reads(moved.slid)}")
    if math.isinf(match):
        return ToDo("model", here, here, f"Leave the model at {here}: there is no size to match", changed=False)
    also = ""
    if words.length(match) != here:
        also = f"its match is at {words.length(match)}, {_shift(moved, match)}"
    if moved.hindrance:
        also = f"it cannot be moved to its match: {moved.hindrance}"
    return ToDo("model", here, here, f"Leave the model at {here}: {_reads(moved.slid)}", changed=False, also=also)


def _shift(moved: Moved, to_mm: float) -> str:
    system = moved.after.system
    by = as_shown(to_mm, system) - as_shown(moved.slid.lineup.model_mm, system)
    return f"{Words(moved.after).length(abs(by))} {'farther' if by > 0 else 'nearer'}"


def _reads(taped: Answer) -> str:
    words, wrong = Words(taped), taped.lineup.size_error - 1
    reads = f"it reads as {words.ratio(taped.lineup.reads_as_ratio)}"
    return f"{reads}, {words.too(wrong)}"


def _height(before: Answer, after: Answer) -> Iterator[ToDo]:
    was, now, words = before.lineup.hang_height_mm, after.lineup.hang_height_mm, Words(after)
    if was is not None and now is not None:
        old, new = words.length(was), words.length(now)
        up = "Raise" if now > was else "Lower"
        text = f"{up} the tie-in point by {words.length(abs(now - was))}, from {old} to {new}"
        yield _step("height", old, new, f"{text}{_against_lens(after)}", _to_scale(after))
        return
    old_lens, new_lens = before.setting.place.lens_height, after.setting.place.lens_height
    if old_lens is not None and new_lens is not None:
        rise = (new_lens - old_lens) * (1 - 1 / after.scale.ratio)
        up = "Raise" if rise > 0 else "Lower"
        text = f"{up} the whole model by {words.length(abs(rise))}, as the lens stands {_higher(old_lens, new_lens)}"
        yield _step("height", f"lens {words.length(old_lens)}", f"lens {words.length(new_lens)}", text)


def _higher(old_mm: float, new_mm: float) -> str:
    return "higher" if new_mm > old_mm else "lower"


def _against_lens(after: Answer) -> str:
    """Say from where a height counts, and how the point stands against the lens."""
    hang, lens = after.lineup.hang_height_mm, after.setting.place.lens_height
    if hang is None or lens is None:
        return ""
    way = "above" if hang > lens else "below"
    return f" above the background's ground, {Words(after).length(abs(hang - lens))} {way} the lens"


def _to_scale(after: Answer) -> str:
    """Say where the point belongs to scale, over a model that does not stand at its match; else nothing."""
    scaled = after.lineup.scaled_height_mm
    if scaled is None or math.isinf(after.lineup.reads_as_ratio) or abs(after.lineup.size_error - 1) < SIZE_NOTICED:
        return ""
    return f"there it meets the real point in the picture; to scale it belongs at {Words(after).length(scaled)}"


def _slide(moved: Moved) -> Iterator[ToDo]:
    before, after = moved.taped, moved.after
    goal = slide_goal(after)
    if after.slip.axis == "none" or goal is None:
        return
    was, now = before.setting.move.slide, after.setting.move.slide
    passes = goal_text(goal).removeprefix(_to(goal)) if 0 < goal.within_mm < math.inf else ""
    if was is None or now is None:
        old = slide_goal(before)
        old_text = "not known" if old is None else _to(old)
        yield _step("slide", old_text, _to(goal), f"Set the slide at {_to(goal)}{passes}")
        return
    way = "forward" if now > was else "back"
    mark = goal.scale.mark
    text = f"Slide the camera {way} {mark(abs(now - was))}, from {mark(was)} to {mark(now)}{passes}"
    also = ""
    if abs(now - was) > TAPE_AGAIN_MM:
        also = f"the camera goes with its slide, so all stands that much {'nearer' if now > was else 'farther'} below"
    yield _step("slide", mark(was), mark(now), text, also)


def _to(goal: SlideGoal) -> str:
    return goal.to_set_text


def _focus(before: Answer, after: Answer) -> ToDo:
    words = Words(after)
    old, new = words.length(before.focus.focus_mm), words.length(after.focus.focus_mm)
    return _step("focus", old, new, f"Refocus from {old} to {new}")


def _stop(before: Answer, after: Answer) -> ToDo:
    words = Words(after)
    old, new = words.stop(before.focus.f_number), words.stop(after.focus.f_number)
    by = 2 * math.log2(after.focus.f_number / before.focus.f_number)
    way = "Close down" if by > 0 else "Open"
    return _step("stop", old, new, f"{way} {_thirds(by)}, from {old} to {new}")


def _thirds(stops: float) -> str:
    """Return a number of stops in thirds, as a ring is turned: "1 2/3 stops"; in decimals between them."""
    thirds = round(abs(stops) * 3)
    if abs(abs(stops) * 3 - thirds) > 0.05:
        return f"{abs(stops):.1f} stops"
    whole, rest = divmod(thirds, 3)
    words = " ".join([*([str(whole)] if whole else []), *([f"{rest}/3"] if rest else [])])
    return f"{words} stop{'s' if thirds > 3 else ''}"


def _light(before: Answer, after: Answer) -> ToDo:
    old, new = light_text(before), light_text(after)
    text = f"Light: from {old} to {new}"
    fitted, wanted = before.light.nd_fitted or 0, after.light.nd_stops
    if wanted is not None and wanted != fitted:
        text = _filter(fitted, wanted)
    if old == new:
        return _step("light", old, new, text)
    needs = f"the shot needs {light_wanted(after)}; before, {light_wanted(before)}"
    short = next((found for found in after.findings if found.code == "light-short"), None)
    return _step("light", old, new, text, needs if short is None else f"{needs}; {mends(after, short)[0].text}")


def _filter(old: float, new: float) -> str:
    if new == 0:
        return f"Take out the {_density(old)}"
    return f"Put in {_density(new)}" if old == 0 else f"Change the filter from {_density(old)} to {_density(new)}"


def _density(nd_stops: float) -> str:
    return f"ND {nd_stops * 0.3:.1f}"


def light_text(of: Answer) -> str:
    """Return film speed and filter, and whether the light suffices; what is needed where that is not known."""
    lit = of.light
    speed = f"ISO {number_text(lit.iso, 5)}"
    if lit.over_stops is None:
        return f"{speed}, {light_wanted(of)}"
    short = f"{Words.stops(lit.over_stops)} short"
    over = f"fit {_density(lit.nd_stops or 0)}"
    told = {"short": short, "nearly": "light nearly enough", "enough": "light enough", "over": over}
    return f"{speed}, {told[light_state(lit.over_stops)]}"


def _lamps(before: Answer, after: Answer) -> Iterator[ToDo]:
    said = {None: "not checked", True: "steady", False: "will flicker"}
    old, new = said[before.light.flicker_safe], said[after.light.flicker_safe]
    if after.light.mains_hz is not None:
        yield _step("lamps", old, new, f"The lamps: {new}")


def _rate(before: Answer, after: Answer) -> ToDo:
    old, new = run_text(before), run_text(after)
    return _step("rate", old, new, f"Change the rate from {old} to {new}")


def run_text(of: Answer) -> str:
    """Return rate and shutter."""
    return f"{Words.rate(of.speed.fps)} at {angle_text(of.setting.action.shutter)}"
