"""In what two states of a shot differ, in words: fields, answers, findings, what undo, redo or another kit change."""

import math
from collections.abc import Iterator, Sequence
from typing import Any, Literal, NamedTuple

from forescale.engine.answer import Answer, Finding
from forescale.engine.answer.readings import as_now
from forescale.engine.field_help import FIELD_HELP, LEFT_OPEN
from forescale.engine.findings.light import light_wanted
from forescale.engine.findings.words import Words, moves
from forescale.engine.moved.to_do import light_text, run_text
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting, Shot
from forescale.engine.solve.record import Level
from forescale.engine.solve.slip_check import slide_decimals
from forescale.engine.units import INCH_MM, UnitSystem, illuminance_text, length_text, number_text, tape_text

NOT_GIVEN = "not given"
UndoWord = Literal["Undone", "Redone"]
OUT = "left out"
_ONE_OF = {"saved states": "saved state", "takes": "take"}
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
_READ = {"bench", "survey"}


class Difference(NamedTuple):
    """What differs, and how each of the two has it; of a field, also its path."""

    what: str
    first: str
    second: str
    path: str = ""


class FindingsChange(NamedTuple):
    """What is to be said of a second answer and not of the first, and the other way about."""

    brought: tuple[Finding, ...]
    gone: tuple[Finding, ...]


def fields_that_differ(first: Setting, second: Setting, system: UnitSystem) -> tuple[Difference, ...]:
    """Return the fields that are not set alike, in the order of a shot file."""
    found: list[Difference] = []
    for section in Setting.model_fields:
        one, other = getattr(first, section), getattr(second, section)
        if one == other or (section in _READ and as_now(one) == as_now(other)):
            continue  # that the readings noted what they were taken with changes nothing of them
        if section in _LISTS:
            single, several, together = _LISTS[section]
            of_them = ("", "") if several in together else (f" {single}", f" {several}")
            counts = [f"{len(rows)}{of_them[len(rows) != 1]}" for rows in (one, other)]
            found.append(Difference(together, counts[0], counts[1] + (", changed" if len(one) == len(other) else "")))
            continue
        for name in type(one).model_fields:
            values = getattr(one, name), getattr(other, name)
            if values[0] == values[1]:
                continue
            path = f"{section}.{name}"
            help_on = FIELD_HELP.get(path)
            label = help_on.label if help_on else name.replace("_", " ")
            found.append(Difference(label, *_told_apart(path, values, system), path))
    return tuple(found)


def _told_apart(path: str, values: tuple[Any, Any], system: UnitSystem) -> tuple[str, str]:
    """Return two values as a pane has them; if they look alike so, finer, a length with what it is more, else exact."""
    quantity, exact = edit.quantity_of(Setting, path), [_exact_text(path, value, system) for value in values]
    taped = quantity is not None and quantity.kind == "length" and not quantity.in_mm
    for write in (tape_text, length_text) if taped else () if quantity is None else (quantity.shown,):
        pairs = zip(values, exact, strict=True)
        one, other = (write(value, system) if isinstance(value, float) else text for value, text in pairs)
        if one != other:
            return one, other
    if not taped:
        return exact[0], exact[1]
    unit, more = ("mm", values[1] - values[0]) if system == "metric" else ("in", (values[1] - values[0]) / INCH_MM)
    return one, f"{other}, {number_text(abs(more), 2)} {unit} {'more' if more > 0 else 'less'}"


def _exact_text(path: str, value: Any, system: UnitSystem) -> str:
    if value is None:
        return "left open" if path in LEFT_OPEN else NOT_GIVEN
    if isinstance(value, tuple):
        return ", ".join(f"1:{number_text(one)}" if isinstance(one, float) else str(one) for one in value) or "none"
    return edit.text_of(value, edit.quantity_of(Setting, path), system)


def in_few_words(found: Sequence[Difference]) -> str:
    """Return how the first of two differs from the second: its own values, the first two of them."""
    more = [f"{len(found) - 2} more"] if len(found) > 2 else []
    return ", ".join([*(f"{one.what} {one.first}" for one in found[:2]), *more]) or "nothing"


def answers_that_differ(first: Answer, second: Answer) -> tuple[Difference, ...]:
    """Return the chief answers that are not alike as they are shown."""
    one, other = chief_answers(first), chief_answers(second)
    names = [*one, *(name for name in other if name not in one)]
    pairs = ((name, one.get(name, "-"), other.get(name, "-")) for name in names)
    return tuple(Difference(*pair) for pair in pairs if pair[1] != pair[2])


def chief_answers(answer: Answer) -> dict[str, str]:
    """Return the answers that a crew sets or looks at, by name."""
    words = Words(answer)
    lined, zone, slip = answer.lineup, answer.focus, answer.slip
    chief = {
        "scale": words.ratio(answer.scale.ratio),
        "model at": words.length(lined.model_mm),
        "reads as": "no ratio" if math.isinf(lined.reads_as_ratio) else words.ratio(lined.reads_as_ratio),
        "match at": words.length(lined.match_distance_mm),
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
        chief["best slide"] = words.on_slide.told(slip.slide_best_mm, slide_decimals(slip.best_within_mm or None))
    if slip.slip_px is not None and moves(answer):
        chief["slip at the end"] = f"{number_text(slip.slip_px, 2)} px"
    return chief


def findings_changed(first: Answer, second: Answer) -> FindingsChange:
    """Return the findings that came and went, by what they are about and how grave they are, not by their numbers."""

    def only_in(this: Answer, other: Answer) -> tuple[Finding, ...]:
        known = {(finding.code, finding.level) for finding in other.findings}
        return tuple(one for one in this.findings if one.level != "ok" and (one.code, one.level) not in known)

    return FindingsChange(only_in(second, first), only_in(first, second))


def changed_by_step(before: Shot, after: Shot) -> tuple[Difference, ...]:
    """Return what a step changed: the fields that are set, and then what else the file holds."""
    found = [*fields_that_differ(before, after, after.units)]
    for what, one, other, texts in (
        ("title", before.title, after.title, (before.title, after.title)),
        ("notes", before.notes, after.notes, ("", "")),
        ("units", before.units, after.units, (before.units, after.units)),
        ("saved states", before.mark, after.mark, (str(len(before.mark)), str(len(after.mark)))),
        ("takes", before.take, after.take, (str(len(before.take)), str(len(after.take)))),
    ):
        if one != other:
            found.append(Difference(what, *texts))
    if not found and before.bench != after.bench:  # its readings noted, or no longer, what they were taken with
        found.append(Difference("bench", "", ""))
    return tuple(found)


def step_words(step: UndoWord, changes: Sequence[Difference]) -> tuple[str, ...]:
    """Return what a step did in words, "Undone: meet height 20 ft again, was 18 ft", and then more briefly."""
    if not changes:
        return (step,)
    more = f", and {len(changes) - 1} more" if len(changes) > 1 else ""
    first = changes[0]
    if first.what in _ONE_OF and first.first != first.second:
        count = int(first.second) - int(first.first)
        which = f"a {_ONE_OF[first.what]} is" if abs(count) == 1 else f"{abs(count)} {first.what} are"
        return (f"{step}: {which} {'back' if count > 0 else 'gone'}{more}",)
    if first.second in {first.first, f"{first.first}, changed"}:  # long texts, and lists of as many rows
        return (f"{step}: a change of the {first.what}{more}",)
    was, is_now = (OUT if text == NOT_GIVEN else text for text in (first.first, first.second))
    now = f"{step}: {first.what} {is_now}{' again' if step == 'Undone' else ''}"
    return f"{now}, was {was}{more}", f"{now}{more}"


class EffectLine(NamedTuple):
    """One sentence after how grave it is; "" for plain numbers."""

    level: Level | Literal[""]
    text: str


def effect(before: Answer, after: Answer) -> tuple[EffectLine, ...]:
    """Return what is so `after` and was not `before`: numbers, scale and place ahead, then what comes and what goes."""
    rows = [row for row in _numbers(before, after) if row[1] != row[2]]
    numbers = "; ".join(f"{name} {old} → {new}{f' ({by})' if by else ''}" for name, old, new, by in rows)
    first = EffectLine("", numbers[:1].upper() + numbers[1:] if numbers else "No chief number changes")
    said = findings_changed(before, after)
    comes = [EffectLine(finding.level, finding.text) for finding in said.brought]
    return (first, *comes, *(EffectLine("ok", f"No longer: {clause(finding.text)}") for finding in said.gone))


def clause(text: str) -> str:
    """Return a sentence up to its first pause, which names what it is about."""
    return min((text.split(mark, 1)[0] for mark in (": ", "; ")), key=len)


def _numbers(before: Answer, after: Answer) -> Iterator[tuple[str, str, str, str]]:
    """Yield each chief number: its name, how it was and is told, and how far it went; stops as the lens has them."""
    old, new, system = Words(before), Words(after), after.system
    yield "scale", old.ratio(before.scale.ratio), new.ratio(after.scale.ratio), ""
    yield "model at", new.length(before.lineup.model_mm), new.length(after.lineup.model_mm), ""
    was, now = before.lineup.frame_width_model_mm, after.lineup.frame_width_model_mm
    yield "frame width", new.length(was), new.length(now), _times(was, now)
    was, now = before.focus.stop_needed, after.focus.stop_needed
    if min(was, now) > 0 and math.isfinite(was) and math.isfinite(now):
        stops = 2 * math.log2(now / was)
        more = f"{Words.stops(stops)} {'more' if stops > 0 else 'less'}" if abs(stops) >= 0.05 else ""
        yield "stop needed", old.stop(was), new.stop(now), more
    yield "stop", old.stop(before.focus.f_number), new.stop(after.focus.f_number), ""
    was, now = before.speed.fps, after.speed.fps
    yield "frame rate", new.rate(was), new.rate(now), _times(was, now)
    yield "ISO", number_text(before.light.iso, 7), number_text(after.light.iso, 7), ""
    was, now = before.light.lux_with_nd, after.light.lux_with_nd
    yield "light needed", illuminance_text(was, system), illuminance_text(now, system), _times(was, now)
    yield "worst contrast", _contrast(before), _contrast(after), ""
    yield "slip at the end", _slip(before), _slip(after), ""


def _contrast(answer: Answer) -> str:
    contrast = answer.focus.contrast
    return "not known" if contrast is None else Words.percent(contrast.worst)


def _slip(answer: Answer) -> str:
    slip = answer.slip.slip_px
    return "not known" if slip is None else f"{number_text(slip, 2)} px"


def _times(old: float, new: float) -> str:
    times = number_text(new / old, 3)
    return "" if times == "1" else f"× {times}"
