"""The head of the sheet: the kit, and the few things that are set on the day."""

from __future__ import annotations

from forescale.engine.answer import Answer
from forescale.engine.answer.to_set import to_set
from forescale.engine.kit.profiles import Profile
from forescale.engine.mends import joined
from forescale.engine.sheet.blocks import Row, Section
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.voice import Voice
from forescale.engine.units import number_text

CHOSEN = "What is marked (auto) was left open and chosen by the program."


def kit_rows(answer: Answer) -> tuple[Row, ...]:
    """Return what the shot is made with, by title where a profile has one."""
    kit, mode = answer.kit, answer.kit.mode
    size = f"{number_text(mode.width, 5)} × {number_text(mode.height, 5)} mm, {mode.width_px} × {mode.height_px} px"
    at = f", at {number_text(kit.focal_mm, 5)} mm" if kit.lens.is_zoom else ""
    return (
        Row("Camera", _titled(kit.camera)),
        Row("Mode", f"{clean(mode.name)}, {size}"),
        Row("Lens", _titled(kit.lens) + at),
        Row("Head", "none named" if kit.head is None else _titled(kit.head)),
    )


def _titled(profile: Profile) -> str:
    return clean(profile.title or profile.name)


def verdict(answer: Answer) -> tuple[Row, ...]:
    """Return whether it can be shot as set, and the gravest finding in full."""
    levels = [finding.level for finding in answer.findings]
    words = {"stop": "fault", "warn": "warning"}
    counts = [_counted(levels.count(level), word) for level, word in words.items() if level in levels]
    if not counts:
        return (Row("Verdict", "good to shoot"),)
    word = "CANNOT BE SHOT AS SET" if answer.stopped else "can be shot, at a price"
    first = answer.findings[0]
    return Row("Verdict", word, f"{', '.join(counts)}: see Findings"), Row("First", clean(joined(answer, first)))


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"


def section(voice: Voice) -> Section:
    """Return what to set, in the order of setting it."""
    rows = (Row(item.label, clean(item.text), clean(item.remark), item.chosen) for item in to_set(voice.of))
    return Section("Set", tuple(rows), "what to set on the day; the reasons follow")
