"""In what two states of a shot differ: their fields, their chief answers and what is to be said of them."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from forescale.engine.answer import Answer, Finding
from forescale.engine.bench.bench_entry import as_now
from forescale.engine.field_help import FIELD_HELP, LEFT_OPEN
from forescale.engine.findings.light import light_wanted
from forescale.engine.findings.words import Words, moves
from forescale.engine.moved.kept import survey_as_now
from forescale.engine.moved.to_do import light_text, run_text
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting
from forescale.engine.units import UnitSystem, number_text

NOT_GIVEN = "not given"
_LISTS = {  # the rows of a list: one, several, and what they are together
    "build": ("part", "parts", "build list"),
    "stock": ("stock", "stocks", "stock"),
    "bench": ("reading", "readings", "bench"),
    "survey": ("reading", "readings", "survey"),
    "point": ("point", "points", "points"),
    "outline": ("outline", "outlines", "outlines"),
    "piece": ("piece", "pieces", "pieces"),
    "miss": ("miss", "misses", "misses read"),
    "witness": ("mark", "marks", "witness marks"),
    "lamp": ("lamp", "lamps", "lamps"),
    "cue": ("cue", "cues", "cues"),
}
_AS_NOW: dict[str, Callable[[Any], Any]] = {"bench": as_now, "survey": survey_as_now}


@dataclass(frozen=True, slots=True)
class Difference:
    """What differs, and how each of the two has it; of a field, also its path."""

    what: str
    first: str
    second: str
    path: str = ""


@dataclass(frozen=True, slots=True)
class FindingsChange:
    """What is to be said of a second answer and not of the first, and the other way about."""

    brought: tuple[Finding, ...]
    gone: tuple[Finding, ...]


def fields_that_differ(first: Setting, second: Setting, system: UnitSystem) -> tuple[Difference, ...]:
    """Return the fields that are not set alike, in the order of a shot file."""
    found: list[Difference] = []
    for section in Setting.model_fields:
        one, other = getattr(first, section), getattr(second, section)
        alike = _AS_NOW.get(section, lambda rows: rows)
        if one == other or alike(one) == alike(other):
            continue  # that the readings noted what they were taken with changes nothing of them
        if section in _LISTS:
            found.append(_list_difference(_LISTS[section], one, other))
        else:
            found += _record_differences(section, one, other, system)
    return tuple(found)


def _list_difference(words: tuple[str, str, str], one: Sequence[Any], other: Sequence[Any]) -> Difference:
    counts = [f"{len(rows)} {words[0] if len(rows) == 1 else words[1]}" for rows in (one, other)]
    also = ", otherwise" if len(one) == len(other) else ""
    return Difference(words[2], counts[0], counts[1] + also)


def _record_differences(section: str, one: BaseModel, other: BaseModel, system: UnitSystem) -> list[Difference]:
    found = []
    for name in type(one).model_fields:
        values = getattr(one, name), getattr(other, name)
        if values[0] == values[1]:
            continue
        path = f"{section}.{name}"
        texts = [_field_text(path, value, system) for value in values]
        if texts[0] == texts[1]:
            texts = [_exact_text(path, value, system) for value in values]
        help_on = FIELD_HELP.get(path)
        label = help_on.label if help_on else name.replace("_", " ")
        found.append(Difference(label, texts[0], texts[1], path))
    return found


def _field_text(path: str, value: Any, system: UnitSystem) -> str:
    """Return a field's value as people read it."""
    quantity = edit.quantity_of(Setting, path)
    if isinstance(value, float) and quantity is not None:
        return quantity.shown(value, system)
    return _exact_text(path, value, system)


def _exact_text(path: str, value: Any, system: UnitSystem) -> str:
    if value is None:
        return "left open" if path in LEFT_OPEN else NOT_GIVEN
    if isinstance(value, tuple):
        return ", ".join(f"1:{number_text(one)}" if isinstance(one, float) else str(one) for one in value) or "none"
    return edit.text_of(value, edit.quantity_of(Setting, path), system)


def in_few_words(found: Sequence[Difference], most: int = 2) -> str:
    """Return how the first of two differs from the second: its own values, the first few of them."""
    if not found:
        return "nothing"
    words = [f"{one.what} {one.first}" for one in found[:most]]
    left = len(found) - most
    return ", ".join([*words, *([f"{left} more"] if left > 0 else [])])


def answers_that_differ(first: Answer, second: Answer) -> tuple[Difference, ...]:
    """Return the chief answers that are not alike as they are shown."""
    one, other = chief_answers(first), chief_answers(second)
    names = [*one, *(name for name in other if name not in one)]
    pairs = ((name, one.get(name, "-"), other.get(name, "-")) for name in names)
    return tuple(Difference(*pair) for pair in pairs if pair[1] != pair[2])


def chief_answers(answer: Answer) -> dict[str, str]:
    """Return the answers that a crew sets or looks at, by name."""
    words, lined, zone, slip = Words(answer), answer.lineup, answer.focus, answer.slip
    chief = {
        "scale": words.ratio(answer.scale.ratio),
        "model stands at": words.length(lined.model_mm),
        "reads as": "no ratio" if math.isinf(lined.reads_as_ratio) else words.ratio(lined.reads_as_ratio),
        "exact match at": words.length(lined.match_distance_mm),
        "focus mark": words.length(zone.focus_mm),
        "stop": words.stop(zone.f_number),
        "near limit": words.sharp_from(zone.near_mm),
        "far limit": words.sharp_to(zone.far_mm),
        "frame rate": run_text(answer),
        "light needed": light_wanted(answer),
        "light": light_text(answer),
    }
    if lined.hang_height_mm is not None:
        chief["tie-in at"] = words.length(lined.hang_height_mm)
    if zone.contrast is not None:
        chief["worst contrast"] = words.percent(zone.contrast.worst)
    if slip.slide_best_mm is not None:
        chief["best slide"] = f"{slip.slide_best_mm:.1f} mm"
    if slip.slip_px is not None and moves(answer):
        chief["slip at the end"] = f"{number_text(slip.slip_px, 2)} px"
    return chief


def findings_changed(first: Answer, second: Answer) -> FindingsChange:
    """Return the findings that came and went, by what they are about and how grave they are, not by their numbers."""
    return FindingsChange(_only_in(second, first), _only_in(first, second))


def _only_in(this: Answer, other: Answer) -> tuple[Finding, ...]:
    known = {(finding.code, finding.level) for finding in other.findings}
    return tuple(found for found in this.findings if found.level != "ok" and (found.code, found.level) not in known)
