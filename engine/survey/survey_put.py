"""What a reading of the survey puts into the shot, as it is shown, and what that has changed."""

from __future__ import annotations

from typing import Any

from forescale.engine import units
from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.parts import build_list
from forescale.engine.shot import rows
from forescale.engine.shot.records import Part
from forescale.engine.survey.survey_report import distance_text, height_text, result_of, width_text
from forescale.engine.units import length_text


def distance_change(answer: Answer, number: int = 1) -> dict[str, Any]:
    """Return the change that makes the distance found the background's; ValueError where none is found.

    The farthest thing to be sharp goes with it where it would be left nearer. Nothing has moved, so the readings go on
    counting as they do.
    """
    if result_of(answer, number).distance_by == "tape":
        raise ValueError("no distance is found yet: enter the share it spans with its size, or two elevations")
    text = distance_text(answer, number)
    far = answer.setting.place.background_far
    with_it = {"place.background_far": None} if far is not None and far < units.parse_length(text) else {}
    return {"place.background": text, **with_it}


def height_change(answer: Answer, number: int = 1) -> dict[str, str]:
    """Return the change that makes the height found the one to meet; ValueError where none is found."""
    if result_of(answer, number).feature_height_mm is None:
        raise ValueError("no height is found yet: enter the elevation of the top, and the lens height")
    return {"place.feature_height": height_text(answer, number)}


def part_change(answer: Answer, name: str, number: int = 1) -> tuple[dict[str, tuple[Part, ...]], str]:
    """Return the change that puts the width on the build list under a name, and what it does in words.

    A part of that name is given the new size. Raises ValueError where no width is found, or no name given.
    """
    called = build_list.read_name(name)
    if result_of(answer, number).feature_width_mm is None:
        raise ValueError("no width is found yet: enter the share of the frame it spans, or the width itself")
    size = width_text(answer, number)
    part = build_list.new_part(called, units.parse_length(size))
    parts = answer.setting.build
    place = next((number for number, one in enumerate(parts) if one.part.casefold() == called.casefold()), None)
    if place is None:
        return {"build": (*parts, part)}, f"{called} goes on the build list at {size}"
    old = parts[place]
    resized = old.model_copy(update={"real": part.real})
    was = length_text(old.real, answer.system)
    return {"build": rows.replaced(parts, place, resized)}, f"{old.part} on the build list becomes {size}, was {was}"


def told_distance(before: Answer, after: Answer) -> str:
    """Return what a new distance of the background has changed."""
    system = after.system
    was, now = (length_text(one.lineup.background_mm, system) for one in (before, after))
    match = length_text(after.lineup.match_distance_mm, system)
    ratio = Words.ratio(after.scale.ratio)
    told = f"The background is now at {now}, was {was}; {ratio} matches it from {match}"
    far = before.setting.place.background_far
    if far is None or after.setting.place.background_far is not None:
        return told
    return f"{told}. The far side was {length_text(far, system)}, nearer than that, and now goes with it"


def told_height(before: Answer, after: Answer) -> str:
    """Return what a new height to meet has changed."""
    was = before.setting.place.feature_height
    stood = "" if was is None else f", was {length_text(was, after.system)}"
    told = f"The height to meet is now {length_text(after.setting.place.feature_height or 0.0, after.system)}{stood}"
    hang = after.lineup.hang_height_mm
    return told if hang is None else f"{told}; on the model it is built at {length_text(hang, after.system)}"
