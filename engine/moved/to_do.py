"""What a crew does once the rig has moved, in order, each thing from old to new; other ways; the price of keeping."""

import math
from collections.abc import Iterator
from typing import NamedTuple

from forescale.engine.answer import Answer
from forescale.engine.findings.light import light_wanted
from forescale.engine.findings.scale import SURE
from forescale.engine.findings.slip import goal_text
from forescale.engine.findings.words import Words
from forescale.engine.formulas.light import light_state
from forescale.engine.formulas.lineup import SIZE_NOTICED, camera_to_match_mm, tape_error_mm
from forescale.engine.mends import mends
from forescale.engine.moved.moved import Moved, as_shown
from forescale.engine.solve.record import Level
from forescale.engine.solve.slip_check import slide_goal
from forescale.engine.units import angle_text, filter_text, number_text

TAPE_AGAIN_MM = 3.0  # a slide carries the sensor plane; by more than this the tape distances want taking again
TOLD_ALIKE_MM = 1.0  # two tapes so near one another tell the same
_KEPT = (("the focus", "focus.distance"), ("the stop", "focus.stop"))


class ToDo(NamedTuple):
    """One thing to set or leave: old, new, the order, what else to know; `changed` where old and new show apart."""

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
    """Return every step after a move, so that it holds when the next is done: the slide first, with the camera."""
    before, after = moved.before, moved.after
    return (*_slide(moved), _place(moved), *_height(before, after), *_camera(before, after))


def gainsaid(moved: Moved) -> tuple[Level, str] | None:
    """Return that the two tapes tell unlike moves of the camera, graver by more than SURE errors; None if alike."""
    words = Words(moved.before)
    told = moved.forward_each
    tapes = [mm for of in (moved.before, moved.taped) for mm in (of.lineup.model_mm, of.lineup.background_mm)]
    error = math.hypot(*(tape_error_mm(mm, moved.before.setting.limits.tape_error) for mm in tapes))
    if len(told) < 2 or abs(told[0] - told[1]) <= TOLD_ALIKE_MM:
        return None
    went = [f"{words.length(abs(mm))} {'forward' if mm > 0 else 'back'}" if mm else "not at all" for mm in told]
    says = f"By the model's tape the camera went {went[0]}, by the background's {went[1]}"
    if abs(told[0] - told[1]) <= SURE * error:
        return "note", f"{says}, as tapes so long may differ: all else that it was carried past goes by the model's"
    mend = "tape both again; where the model moved too, give the background alone first, then the model's move"
    return "warn", f"{says}: {mend}"


def _camera(before: Answer, after: Answer) -> Iterator[ToDo]:
    """Yield what is set on lens and camera, and the light."""
    words = Words(after)
    old, new = words.length(before.focus.focus_mm), words.length(after.focus.focus_mm)
    yield _step("focus", old, new, f"Refocus from {old} to {new}")
    old, new = words.stop(before.focus.f_number), words.stop(after.focus.f_number)
    by = 2 * math.log2(after.focus.f_number / before.focus.f_number)
    yield _step("stop", old, new, f"{'Close down' if by > 0 else 'Open'} {_thirds(by)}, from {old} to {new}")
    yield _light(before, after)
    said = {None: "not checked", True: "steady", False: "will flicker"}
    if after.light.mains_hz is not None:
        old, new = said[before.light.flicker_safe], said[after.light.flicker_safe]
        yield _step("lamps", old, new, f"The lamps: {new}")
    old, new = run_text(before), run_text(after)
    yield _step("rate", old, new, f"Change the rate from {old} to {new}")


def _place(moved: Moved) -> ToDo:
    words = Words(moved.after)
    stands = moved.slid.lineup
    match = stands.match_distance_mm
    here = words.length(stands.model_mm)
    reads = f"it reads as {words.ratio(stands.reads_as_ratio)}, {Words(moved.slid).too(stands.size_error - 1)}"

    def shift(to_mm: float) -> str:
        by = as_shown(to_mm, moved.after.system) - as_shown(stands.model_mm, moved.after.system)
        return f"{words.length(abs(by))} {'farther' if by > 0 else 'nearer'}"

    if moved.model_moves:
        to_mm = moved.after.lineup.model_mm
        order = f"Move the model {shift(to_mm)}, from {here} to {words.length(to_mm)}"
        return _step("model", here, words.length(to_mm), order, f"left at {here} {reads}")
    if math.isinf(match):
        return ToDo("model", here, here, f"Leave the model at {here}: there is no size to match", changed=False)
    also = "" if words.length(match) == here else f"its match is at {words.length(match)}, {shift(match)}"
    if moved.hindrance:
        also = f"it cannot be moved to its match: {moved.hindrance}"
    return ToDo("model", here, here, f"Leave the model at {here}: {reads}", changed=False, also=also)


def _height(before: Answer, after: Answer) -> Iterator[ToDo]:
    words = Words(after)
    was, now = before.lineup.hang_height_mm, after.lineup.hang_height_mm
    old_lens, new_lens = before.setting.place.lens_height, after.setting.place.lens_height
    if was is not None and now is not None:
        old, new = words.length(was), words.length(now)
        text = f"{_up(now - was)} the tie-in point by {words.length(abs(now - was))}, from {old} to {new}"
        if new_lens is not None:
            off = f"{words.length(abs(now - new_lens))} {'above' if now > new_lens else 'below'} the lens"
            text += f" above the background's ground, {off}"
        also = ""
        found = after.lineup
        off_match = math.isfinite(found.reads_as_ratio) and abs(found.size_error - 1) >= SIZE_NOTICED
        if found.scaled_height_mm is not None and off_match:
            scaled = words.length(found.scaled_height_mm)
            also = f"there it meets the real point in the picture; to scale it belongs at {scaled}"
        yield _step("height", old, new, text, also)
    elif old_lens is not None and new_lens is not None:
        rise = (new_lens - old_lens) * (1 - 1 / after.scale.ratio)
        way = "higher" if new_lens > old_lens else "lower"
        text = f"{_up(rise)} the whole model by {words.length(abs(rise))}, as the lens stands {way}"
        yield _step("height", f"{words.length(old_lens)} of the lens", f"{words.length(new_lens)} of the lens", text)


def _up(rise_mm: float) -> str:
    return "Raise" if rise_mm > 0 else "Lower"


def _slide(moved: Moved) -> Iterator[ToDo]:
    before, after = moved.taped, moved.after
    goal = slide_goal(after)
    if after.slip.axis == "none" or goal is None:
        return
    was, now = before.setting.move.slide, after.setting.move.slide
    passes = goal_text(goal).removeprefix(goal.to_set_text) if goal.within_mm < math.inf else ""
    if was is None or now is None:
        old = slide_goal(before)
        old_text = "not known" if old is None else old.to_set_text
        yield _step("slide", old_text, goal.to_set_text, f"Set the slide at {goal.to_set_text}{passes}")
        return
    way = "forward" if now > was else "back"
    mark = goal.scale.mark
    text = f"Slide the camera {way} {mark(abs(now - was))}, from {mark(was)} to {mark(now)}{passes}"
    also, forward, up = "", before.setup.level(now - was), before.setup.rise(now - was)
    if abs(now - was) > TAPE_AGAIN_MM:
        by = goal.scale.told(abs(forward)) if up else "that much"
        lens = f", and the lens {goal.scale.told(abs(up))} {'higher' if up > 0 else 'lower'}" if up else ""
        nearer = f"{by} {'nearer' if now > was else 'farther'} below"
        also = f"the camera goes with its slide, so all stands {nearer}{lens}"
    yield _step("slide", mark(was), mark(now), text, also)


def _thirds(stops: float) -> str:
    """Return a number of stops in thirds, as a ring is turned: "1 2/3 stops"; in decimals between them."""
    thirds = round(abs(stops) * 3)
    if abs(abs(stops) * 3 - thirds) > 0.05:
        return Words.stops(stops)
    whole, rest = divmod(thirds, 3)
    words = " ".join([*([str(whole)] if whole else []), *([f"{rest}/3"] if rest else [])])
    return f"{words} stop{'s' if thirds > 3 else ''}"


def _light(before: Answer, after: Answer) -> ToDo:
    old, new = light_text(before), light_text(after)
    fitted, wanted = before.light.nd_fitted or 0, after.light.nd_fitted or 0
    text = f"Light: from {old} to {new}"
    if wanted != fitted:
        text = f"Change the filter from {filter_text(fitted)} to {filter_text(wanted)}"
        if not wanted or not fitted:
            text = f"Put in {filter_text(wanted)}" if wanted else f"Take out the {filter_text(fitted)}"
    if old == new:
        return _step("light", old, new, text)
    needs = f"{'with that ' * (wanted != fitted)}the shot needs {light_wanted(after)}; before, {light_wanted(before)}"
    short = next((found for found in after.findings if found.code == "light-short"), None)
    return _step("light", old, new, text, needs if short is None else f"{needs}; {mends(after, short)[0].text}")


def light_text(of: Answer) -> str:
    """Return film speed and filter, and whether the light suffices; what is needed where that is not known."""
    lit = of.light
    speed = f"ISO {number_text(lit.iso, 5)}"
    if lit.over_stops is None:
        return f"{speed}, {light_wanted(of)}"
    told = {"short": f"{Words.stops(lit.over_stops)} short", "nearly": "light nearly enough", "enough": "light enough"}
    through = f" through {filter_text(lit.nd_fitted)}" if lit.nd_fitted else ""
    state = told.get(light_state(lit.over_stops))
    return f"{speed}, {state}{through}" if state else f"{speed}, fit {filter_text(lit.nd_stops or 0)}"


def run_text(of: Answer) -> str:
    """Return rate and shutter."""
    return f"{Words.rate(of.speed.fps)} at {angle_text(of.setting.action.shutter)}"


def other_ways(moved: Moved) -> tuple[str, ...]:
    """Return the ways beside moving the model in which the sizes agree again; none where they agree as it stands."""
    stands = moved.slid
    if abs(stands.lineup.size_error - 1) < SIZE_NOTICED or math.isinf(stands.lineup.match_distance_mm):
        return ()
    words = Words(stands)
    setup = stands.setup
    ratio = stands.scale.ratio
    reads_as = stands.lineup.reads_as_ratio
    forward = camera_to_match_mm(setup.level(setup.model_mm), setup.level(setup.seems_mm), ratio)
    ways = []
    if forward is not None and stands.focus.near_needed_mm - forward > stands.kit.lens.close_focus:
        ways.append(f"move the camera {words.length(abs(forward))} {'forward' if forward > 0 else 'back'}")
    if reads_as >= 1:
        ways.append(f"where it stands {words.ratio(reads_as)} fits")
    return (*ways, f"this model fits a real thing at {words.length(setup.tape(setup.model_mm * ratio))}")


def price_of_keeping(moved: Moved) -> str:
    """Return what is lost by keeping focus or stop as they were; empty where both were solved again."""
    after, solved = moved.after, moved.solved
    words = Words(after)
    kept = [name for name, field in _KEPT if field not in after.auto]
    if not kept:
        return ""
    what = f"Keeping {' and '.join(kept)}"
    again = f"{words.length(solved.focus.focus_mm)} at {words.stop(solved.focus.f_number)}"
    if again == f"{words.length(after.focus.focus_mm)} at {words.stop(after.focus.f_number)}":
        return f"{what} costs nothing: solved again it would be the same"
    zone = after.focus
    lost = []
    if zone.near_mm > zone.near_needed_mm:
        nearest = words.length(zone.near_needed_mm)
        lost.append(f"what is nearer than {words.sharp_from(zone.near_mm)}, and the nearest part stands at {nearest}")
    if zone.far_mm < zone.far_needed_mm:
        farthest = words.length(zone.far_needed_mm)
        lost.append(f"what is beyond {words.sharp_to(zone.far_mm)}, and the farthest stands at {farthest}")
    costs = "still holds the zone" if zone.covers else f"loses {'; '.join(lost)}"
    holds = "holds it all" if solved.focus.covers else "would not hold it all either"
    return f"{what} {costs}{_contrast(after)}; solved again, {again}, {holds}{_contrast(solved)}"


def _contrast(of: Answer) -> str:
    contrast = of.focus.contrast
    return "" if contrast is None else f" (worst contrast {Words(of).percent(contrast.worst)})"
