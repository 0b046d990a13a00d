"""The rig has moved: new tape distances in, the shot as taped and the shot once all is put right out.

What is not taped anew is taken to be as it was, except that the nearest part moves with the model that it belongs
to, and the farthest thing to be sharp with the background. Where the camera moved, what could not be taped went by as
much as what was: background and model, what the model seems to stand at, points and marks. A ratio and a place that the
program chose count as set from here on, since the model is built and stands.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from forescale.engine.answer import Answer, answer
from forescale.engine.answer.readings import kept
from forescale.engine.field_help import in_words
from forescale.engine.files.faults import BadInput
from forescale.engine.findings.words import Words
from forescale.engine.formulas.lineup import SIZE_NOTICED
from forescale.engine.moved.carried import camera_gone, carried, carried_by
from forescale.engine.shot import edit
from forescale.engine.solve.slip_check import slide_goal
from forescale.engine.units import UnitSystem, exact_length, exact_ratio, length_text, parse_length, stop_text

DISTANCES = (
    *("place.model", "place.model_near", "place.background", "place.background_far"),
    *("place.lens_height", "place.feature_height", "light.available", "move.slide"),
)
TRIES = 4
_BOTH = {"place.model": "place.background", "place.background": "place.model"}  # go together where the camera moved
MOVES_WITH = {"place.model_near": "place.model", "place.background_far": "place.background"}


@dataclass(frozen=True, slots=True)
class MovedChoice:
    """What is kept as it was in force; whether the model moves to its match (None: where a miss shows), who moved."""

    keep_focus: bool
    keep_stop: bool
    move_model: bool | None = None
    camera_moved: bool = False


class Moved(NamedTuple):
    """A moved rig: `before` it, `taped` with the model where it stands now, `after` all is done that is to be done.

    `slid` is `taped` once the slide is set, from where the model is then seen, since the camera goes with its slide.
    `solved` is `after` with focus and stop both chosen anew, and `hindrance` says why the model was not moved to
    its match where it should have been. `forward_each` is as the function has it, empty where the model moved.
    """

    before: Answer
    taped: Answer
    slid: Answer
    after: Answer
    solved: Answer
    hindrance: str = ""
    forward_each: tuple[float, ...] = ()

    @property
    def model_moves(self) -> bool:
        """Whether the model is to be moved from where it stands."""
        return self.after.setting.place.model != self.slid.setting.place.model


def usual_choice(before: Answer) -> MovedChoice:
    """Return the choice that keeps what was set and solves again what was left open."""
    return MovedChoice("focus.distance" not in before.auto, "focus.stop" not in before.auto)


def distances(before: Answer) -> dict[str, float | None]:
    """Return the tape distances in force by path, in mm; None where one was never given."""
    return {path: edit.value_at(before.setting, path) for path in DISTANCES} | {"place.model": before.lineup.model_mm}


def distances_now(before: Answer, typed: Mapping[str, float], camera_moved: bool = False) -> dict[str, float | None]:
    """Return the distances after those in `typed` (mm, by path) were taped anew, what moves with one moved along."""
    was = distances(before)
    now = was | dict(typed)
    for part, whole in ((_BOTH | MOVES_WITH) if camera_moved else MOVES_WITH).items():
        old_part, old_whole, new_whole = was[part], was[whole], now[whole]
        if part in typed or old_part is None or old_whole is None or new_whole is None or new_whole == old_whole:
            continue
        if part not in _BOTH or (whole in typed and math.isfinite(old_part + new_whole)):
            now[part] = _moved_along(old_part, old_whole, new_whole)
    return now


def forward_each(before: Answer, typed: Mapping[str, float]) -> tuple[float, ...]:
    """Return how far the camera went forward, in mm, as the model's tape tells and the background's, if taken anew."""
    tapes = [(old, typed[path]) for path in _BOTH if path in typed and (old := distances(before)[path]) is not None]
    return tuple(old - new for old, new in tapes if math.isfinite(old + new))


def _moved_along(part_mm: float, whole_mm: float, new_whole_mm: float) -> float:
    if math.isinf(part_mm) or math.isinf(whole_mm) or math.isinf(new_whole_mm):
        return max(part_mm, new_whole_mm)
    return round(new_whole_mm + part_mm - whole_mm, 6)


def work_out(before: Answer, typed: Mapping[str, float], choice: MovedChoice) -> Moved:
    """Return what the new distances (mm, by path) lead to; raises BadInput where they cannot be."""
    start, slide_now = before, typed.get("move.slide")
    if slide_now is not None and slide_now != before.setting.move.slide:  # what is not taped anew goes with it
        start = _slid(_solved(before, kept(before)), slide_now)
    taped = _solved(start, _as_taped(start, typed, choice))
    slide = slide_to_set(taped)
    for _ in range(TRIES):  # the pupil goes with the focus, and that with the place: once more until the slide stays
        slid = _slid(taped, slide)
        after, hindrance = _placed(slid, choice)
        goal = None if slide is None else slide_goal(after)
        wanted = slide_to_set(after) if goal is None else goal.to_set_mm
        if wanted is None or wanted == slide:
            break
        slide = wanted
    wanted = after.light.nd_stops
    if wanted not in {None, before.light.nd_fitted or 0, before.light.fit_stops}:  # nor one that was only advised
        after = _solved(after, {"light.nd": wanted})
    solved = _solved(after, {"focus.distance": None, "focus.stop": None})
    return Moved(before, taped, slid, after, solved, hindrance, forward_each(before, typed) * choice.camera_moved)


def _placed(slid: Answer, choice: MovedChoice) -> tuple[Answer, str]:
    """Return the answer with the model at its match, where it is to be moved there, and what hinders that."""
    moves = choice.move_model
    if moves is None:
        misses = any(finding.code == "points-miss" for finding in slid.findings)
        moves = misses or abs(slid.lineup.size_error - 1) >= SIZE_NOTICED
    if not moves or math.isinf(slid.lineup.match_distance_mm):
        return slid, ""
    after = slid
    try:
        for _ in range(TRIES):
            place = after.setting.place
            match = as_shown(after.lineup.match_distance_mm, after.system)
            changes: dict[str, Any] = {"place.model": exact_length(match, after.system)}
            if place.model_near is not None:
                near = _moved_along(place.model_near, after.lineup.model_mm, match)
                changes["place.model_near"] = exact_length(near, after.system)
            was = after
            after = _solved(was, changes)
            if after.setting.place == was.setting.place:
                return was, ""
        return after, ""
    except BadInput as fault:
        return slid, "; ".join(map(in_words, fault.faults))


def _slid(taped: Answer, slide: float | None) -> Answer:
    """Return the answer with the slide set there: it carries the camera along the lens, which may look up or down."""
    was = taped.setting.move.slide
    if slide is None:
        return taped
    changes: dict[str, Any] = {"move.slide": exact_length(slide, "metric")}
    if was is not None:
        changes |= camera_gone(taped, 0.0, taped.setup.level(slide - was), taped.setup.rise(slide - was))
    return _solved(taped, changes)


def _solved(of: Answer, changes: Mapping[str, Any]) -> Answer:
    return answer(edit.changed(of.setting, changes), of.kit, of.system)


def _as_taped(before: Answer, typed: Mapping[str, float], choice: MovedChoice) -> dict[str, Any]:
    """Return the changes that the tape makes, and those that keep what is to be kept."""
    system = before.system
    changes: dict[str, Any] = {
        path: None if value is None else edit.text_of(value, edit.quantity_of(type(before.setting), path), system)
        for path, value in distances_now(before, typed, choice.camera_moved).items()
    }
    forward = next(iter(forward_each(before, typed)), 0.0) if choice.camera_moved else 0.0
    if forward and (seems := before.setting.place.seems_at) is not None:
        changes["place.seems_at"] = exact_length(carried_by(before, seems, -forward), system)
    if any(path.startswith("place.") for path in typed):
        changes |= carried(before, 0.0, forward) if choice.camera_moved else {"miss": ()}
    changes = kept(before) | changes  # readings were taken where things stood before
    if before.setting.scale.ratio is None:
        changes["scale.ratio"] = exact_ratio(before.scale.ratio)
    stop, focus = before.setting.focus.stop, before.setting.focus.distance
    mark = stop_text(stop.value, stop.marks) if stop else stop_text(before.focus.stop_mark, before.kit.lens.marks)
    changes["focus.stop"] = mark if choice.keep_stop else None
    text = Words(before).length(before.focus.focus_mm) if focus is None else exact_length(focus, system)
    changes["focus.distance"] = text if choice.keep_focus else None
    return changes


def as_shown(mm: float, system: UnitSystem) -> float:
    """Return where a model is shown and set, to a sixteenth of an inch or a millimetre, in mm; infinity stays."""
    return mm if math.isinf(mm) else parse_length(length_text(mm, system))


def slide_to_set(of: Answer) -> float | None:
    """Return where the slide must be set, or its end if less slip is left there; None where none shows as it is."""
    slipped = of.slip.largest_slip_px
    goal = slide_goal(of)
    if goal is None or slipped is None or abs(slipped) <= of.slip.tolerance_px:
        return None
    if goal.end_mm is not None and (goal.left_px is None or abs(goal.left_px) >= abs(slipped)):
        return None
    return goal.to_set_mm
