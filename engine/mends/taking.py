"""A remedy's changes: as an edit of the shot, as the answer to the shot with them, and as a sentence."""

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from forescale.engine.answer import answer
from forescale.engine.answer.readings import kept, kept_in
from forescale.engine.field_help import FIELD_HELP
from forescale.engine.files.faults import BadInput
from forescale.engine.findings.words import Words, listed
from forescale.engine.kit.kit import assemble
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting
from forescale.engine.shot.sections import WAYS
from forescale.engine.solve.record import Answer, Finding, Mend
from forescale.engine.units import filter_text, number_text, parse_length, rounded_down

Offers = Callable[[Answer, Finding], Iterator[Mend]]
Changes = dict[str, str | None]
HALVINGS = 8
_ROW = re.compile(r"(\w+)\.(\d+)(?:\.(\w+))?")


def as_changes(setting: Setting, set_to: Mapping[str, str | None]) -> dict[str, Any]:
    """Return a remedy's changes as `edit.changed` takes them, those of a list's rows as the whole list anew."""
    changes: dict[str, Any] = {}
    by_row = {path: _ROW.fullmatch(path) for path in set_to}
    last_first = sorted(set_to, key=lambda path: int(row[2]) if (row := by_row[path]) else 0, reverse=True)
    for path in last_first:  # lest the rest move up
        row = by_row[path]
        if row is None:
            changes[path] = set_to[path]
            continue
        section, place, name = row[1], int(row[2]) - 1, row[3]
        rows = changes.setdefault(section, [edit.opened(held, path) for held in getattr(setting, section)])
        if name is None:
            del rows[place]
        else:
            edit.put(rows[place], name, set_to[path])
    return changes


def taken(of: Answer, set_to: Mapping[str, str | None]) -> Answer | None:
    """Return the answer once a remedy is taken, None where the shot or its kit refuses it."""
    try:
        setting, kit = edit.changed(of.setting, as_changes(of.setting, set_to)), of.kit
        if setting.kit != of.setting.kit:
            kit = assemble(setting.kit, kit.camera, kit.lens, kit.head)
        return answer(setting, kit, of.system)
    except BadInput:
        return None


def taken_alone(of: Answer, set_to: Mapping[str, str | None]) -> tuple[Mapping[str, str | None], Answer | None]:
    """Return a remedy with what readings must say themselves, lest it be taken for theirs as well, and its answer."""
    after, more = taken(of, set_to), dict[str, str | None]()
    if after is None:
        return set_to, None
    for name in kept_in(after.setting, of):
        for place, rows in enumerate(zip(kept(of)[name], kept(after)[name], strict=True), start=1):
            was, will = (edit.opened(row, name) for row in rows)
            more |= {f"{name}.{place}.{key}": held for key, held in was.items() if held != will.get(key)}
    whole = {**set_to, **more}
    return whole, taken(of, whole) if more else after


def gone(before: Answer, finding: Finding, after: Answer) -> bool:
    """Return whether a finding is gone: fewer are left of its kind, of which a shot may have several."""
    left, had = (sum(one.code == finding.code for one in of.findings) for of in (after, before))
    return left < had


def less_turn(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the largest turn, of two digits, at which a finding is gone; found by halves."""
    low, high = 0.0, of.setting.move.sweep
    for _ in range(HALVINGS if high > 0 else 0):
        middle = (low + high) / 2
        after = taken(of, turned(of, f"{middle!r} deg"))
        low, high = (middle, high) if after is not None and gone(of, finding, after) else (low, middle)
    if (less := rounded_down(low)) > 0:
        yield Mend("", turned(of, f"{number_text(less)} deg"), "a smaller turn")


def turned(of: Answer, sweep: str) -> Changes:
    """Return the change to another sweep; a move that goes as far to either side of the line-up goes on doing so."""
    move = of.setting.move
    return dict.fromkeys(("move.sweep", "move.start") if move.start == move.sweep else ("move.sweep",), sweep)


def stood_at(of: Answer, tape_mm: float, ratio: float | None = None) -> Changes:
    """Return the changes that stand the model at a tape distance, its nearest part coming along; `ratio` if another."""
    words, near = Words(of), of.setting.place.model_near
    changes: Changes = {"place.model": words.length(tape_mm)}
    if near is not None:
        deep = max(of.lineup.model_mm - near, 0.0) * (1.0 if ratio is None else of.scale.ratio / ratio)
        changes["place.model_near"] = words.length(tape_mm - deep) if deep < tape_mm else None
    return changes


def sentence(of: Answer, set_to: Mapping[str, str | None]) -> str:
    """Return a remedy's changes as one would say them: "focus at 17 ft 6 in and set f/14"."""
    return listed([_part(of, path, text) for path, text in set_to.items()])


def _part(of: Answer, path: str, text: str | None) -> str:
    name, row = "", _ROW.fullmatch(path)
    if row is not None:
        if row[3] is None:
            return f"take reading {row[2]} out"
        path, name = f"{row[1]}.{row[3]}", getattr(getattr(of.setting, row[1])[int(row[2]) - 1], "name", "")
    field = FIELD_HELP[path]
    if text is None:
        return field.opened.format(name=name) or f"leave out {field.label.lower()}"
    if path == "light.nd":
        return "take the ND out (0)" if text == "0" else f"fit a filter of {filter_text(float(text))}"
    if path == "move.slide" and (stands := of.setting.move.slide) is not None:
        by = parse_length(text) - stands
        way, far = "forward" if by > 0 else "back", Words(of).on_slide.mark(abs(by))
        return f"slide the camera {way} {far}, to {text}, then tape anew"
    if path in {"action.shutter", "move.sweep", "move.start"}:
        ends, begins = WAYS[of.setting.move.axis]
        if path == "move.sweep" and of.setting.move.start:  # a crew reads the head's scale at either end
            text = f"to {text} {ends} from the line-up"
        elif path == "move.start":
            text += f" {begins}"
    return (field.to or f"set {field.label.lower()} to {{}}").format(text, name=name)
