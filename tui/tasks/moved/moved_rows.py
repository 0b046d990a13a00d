"""What the form of a moved rig shows: a row a tape distance, was and now, and what is to be kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from forescale.engine.answer import Answer
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.findings.words import Words
from forescale.engine.moved.moved import DISTANCES, MovedChoice, distances, distances_now
from forescale.engine.shot import edit
from forescale.engine.units import tape_text

FOCUS, STOP, WHO, WORK_OUT = "focus.distance", "focus.stop", "who moved", "work out"
ROWS = (*DISTANCES, WHO, FOCUS, STOP, WORK_OUT)
_WHOLE = {"place.model_near": "model", "place.background_far": "background"}


@dataclass(frozen=True, slots=True)
class FormRow:
    """A row: what it is, what it was, what it is now (empty where it stays), and what to know of it.

    `followed` marks a distance that was not taped but moved along with one that was.
    """

    label: str
    was: str
    now: str = ""
    remark: str = ""
    followed: bool = False


def form_rows(before: Answer, typed: Mapping[str, float], choice: MovedChoice) -> tuple[FormRow, ...]:
    """Return the rows of the form in the order of `ROWS`."""
    words, was, now = Words(before), distances(before), distances_now(before, typed, choice.camera_moved)
    taped = [_distance_row(path, was[path], now[path], path in typed, words) for path in DISTANCES]
    carried = "what was not taped goes along" if choice.camera_moved else "the rest stands as it did"
    return (
        *taped,
        FormRow("moved", "", "the camera" if choice.camera_moved else "the model", f"{carried}; Enter changes it"),
        _kept_row(FOCUS, words.length(before.focus.focus_mm), choice.keep_focus),
        _kept_row(STOP, words.stop(before.focus.f_number), choice.keep_stop),
        FormRow("Solve", "what to do now"),
    )


def _distance_row(path: str, was: float | None, now: float | None, typed: bool, words: Words) -> FormRow:
    whole = _WHOLE.get(path, "")
    nothing = f"as {whole}" if whole else "-"
    quantity = edit.quantity_of(type(words.of.setting), path)
    assert quantity is not None
    system, chosen = words.of.system, _chosen(words.of, path)
    old = nothing if was is None else words.length(was) if chosen else quantity.shown(was, system)
    new = nothing if now is None else quantity.shown(now, system)
    followed = now != was and not typed
    anew = "re-measured" if path.startswith("place.") else "as it is now"
    remark = f"moved with {whole or 'the camera'}" if followed else anew if typed else ""
    return FormRow(FIELD_HELP[path].label, old, new if typed or now != was else "", remark, followed)


def _chosen(before: Answer, path: str) -> bool:
    """Tell whether nobody has taped a distance, so that the program chose it."""
    return edit.value_at(before.setting, path) is None


def _kept_row(path: str, in_force: str, keep: bool) -> FormRow:
    return FormRow(FIELD_HELP[path].label, in_force, "keep" if keep else "recalculate", "Enter changes it")


def entry_text(before: Answer, typed: Mapping[str, float], choice: MovedChoice, path: str) -> str:
    """Return the text that an entry for a distance begins with: as taped, or as a tape shows it where none has been."""
    value = distances_now(before, typed, choice.camera_moved)[path]
    if value is not None and path not in typed and path == "place.model" and _chosen(before, path):
        return tape_text(value, before.system)
    return edit.text_of(value, edit.quantity_of(type(before.setting), path), before.system)
