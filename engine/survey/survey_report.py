"""The survey worked at: a share of the frame as it is typed, what the survey gives, and what goes into the shot."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from forescale.engine import units
from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.parts import build_list
from forescale.engine.shot import edit, rows
from forescale.engine.shot.records import Part, Setting
from forescale.engine.units import UnitSystem, length_text, number_text

PATHS = (
    "survey.frame_share",
    "survey.feature_width",
    "survey.elevation",
    "survey.visibility",
    "place.background",
    "place.lens_height",
)
CLEAR_AIR = 0.98  # from here on no eye tells a difference
_FAR_MM = 3_000.0  # from here on a picture tells no fraction of an inch
_SAME = 0.005  # a new background moves the focus, and the picture's scale by a hair with it
_USUAL_MM = {"survey.visibility": 16_000_000.0}  # a bare visibility is in km or miles


# What is typed


def read_share(text: str, width_px: int) -> float:
    """Return the share of the frame's width that an entry stands for: 0.22, "22 %", "450 px" or "450/2048 px".

    Pixels alone are of the recorded picture's `width_px`. Raises ValueError saying what would be right.
    """
    typed = text.casefold().replace("of", "/")
    if "px" in typed:
        over, _, under = typed.replace("px", "").partition("/")
        share = units.parse_number(over) / (_whole(under) if under else width_px)
    elif typed.rstrip().endswith("%"):
        share = units.parse_number(typed.rstrip().removesuffix("%")) / 100
    else:
        share = units.parse_number(typed)
    if share > 1:
        raise ValueError(f'"{text.strip()}" is more than the whole frame; write 22 %, 0.22 or 450/{width_px} px')
    quantity = edit.quantity_of(Setting, "survey.frame_share")
    assert quantity is not None
    return quantity.check(share)


def _whole(text: str) -> float:
    pixels = units.parse_number(text)
    if pixels <= 0:
        raise ValueError(f"a picture {number_text(pixels)} px wide has no shares; write 450/2048 px")
    return pixels


def share_text(share: float, width_px: int | None = None) -> str:
    """Return a share of the frame's width, "22 %", with the pixels that it is of a picture so wide."""
    percent = f"{number_text(100 * share, 4)} %"
    return percent if width_px is None else f"{percent} of the frame, {number_text(share * width_px, 4)} px"


def entry(answer: Answer, path: str, text: str) -> tuple[Any, str]:
    """Return what a file would hold for an entry at one of `PATHS`, and what was understood; raises ValueError."""
    if path == "survey.frame_share":
        width_px = answer.kit.mode.width_px
        share = read_share(text, width_px)
        return share, share_text(share, width_px)
    held = edit.value_at(answer.setting, path)
    return edit.entry(path, text, answer.setting, answer.system, held or _USUAL_MM.get(path))


def value_text(answer: Answer, path: str) -> str:
    """Return the value at one of `PATHS` as an entry that reads back as the same; empty where none is set."""
    value = edit.value_at(answer.setting, path)
    if value is None:
        return ""
    if path == "survey.frame_share":
        return f"{100 * value:.12g} %"
    return edit.text_of(value, edit.quantity_of(Setting, path), answer.system)


def shown_text(answer: Answer, path: str) -> str:
    """Return the value at one of `PATHS` as people read it; a dash where none is set."""
    value = edit.value_at(answer.setting, path)
    quantity = edit.quantity_of(Setting, path)
    if value is None or quantity is None:
        return "-"
    return share_text(value) if path == "survey.frame_share" else quantity.shown(value, answer.system)


# What it gives


def found(answer: Answer) -> tuple[str, ...]:
    """Return what the survey gives, a sentence each, with the key that puts it into the shot; or what it needs."""
    return (*_size(answer), *_height(answer), *_air(answer))


def _size(answer: Answer) -> Iterator[str]:
    seen = answer.setting.survey
    if seen.frame_share is None:
        yield "Size or distance: enter the share of the frame that the real thing spans"
        return
    if seen.feature_width is not None:
        now = length_text(answer.lineup.background_mm, answer.system)
        there = math.isclose(answer.survey.distance_mm or 0.0, answer.lineup.background_mm, rel_tol=_SAME)
        yield (
            f"Distance {distance_text(answer)}, at which {length_text(seen.feature_width, answer.system)} spans "
            f"{share_text(seen.frame_share)}: "
            + (f"the background stands there, at {now}" if there else f"d makes it the background's, now {now}")
        )
    elif not math.isfinite(answer.lineup.background_mm):
        yield "Width: at infinity no share tells it; enter the width to have the distance, or tape the background"
    else:
        at = length_text(answer.lineup.background_mm, answer.system)
        yield f"Width {width_text(answer)}, for {share_text(seen.frame_share)} of the frame at {at}"
    if width_mm(answer) is not None:
        yield "w puts the width on the build list"


def _height(answer: Answer) -> Iterator[str]:
    surveyed, place = answer.survey, answer.setting.place
    if answer.setting.survey.elevation is None:
        yield "Height: enter the elevation of its top"
    elif surveyed.rise_above_lens_mm is None:
        yield "Height: at infinity no elevation tells it; give the background a distance"
    elif surveyed.feature_height_mm is None:
        rise = _text(surveyed.rise_above_lens_mm, answer.system)
        yield f"The top is {rise} above the lens; enter the lens height to have it above the ground"
    else:
        now = "" if place.feature_height is None else f", now {length_text(place.feature_height, answer.system)}"
        yield f"Height {height_text(answer)} above the ground: h makes it the height to meet{now}"


def _air(answer: Answer) -> Iterator[str]:
    left = answer.survey.air_contrast
    if answer.setting.survey.visibility is None:
        yield "Air: enter the visibility"
    elif left is None:
        yield "Air: give the background a distance to know what the air leaves of it"
    elif left >= CLEAR_AIR:
        yield f"The air leaves {Words.percent(left)} of the background's contrast: leave the model's paint as it is"
    else:
        yield (
            f"The air leaves {Words.percent(left)} of the background's contrast: lift the model's paint "
            f"{Words.percent(1 - left)} of the way to the colour of the haze"
        )


def width_mm(answer: Answer) -> float | None:
    """Return how wide the real thing is, as read off the picture or as known, mm; None where it is neither."""
    return answer.survey.feature_width_mm


def _text(mm: float, system: UnitSystem) -> str:
    return length_text(mm, system, fraction=1 if abs(mm) >= _FAR_MM else 16)


def width_text(answer: Answer) -> str:
    """Return the width of the real thing; a known one to its last fraction."""
    known = answer.setting.survey.feature_width
    return length_text(known, answer.system) if known is not None else _text(width_mm(answer) or 0.0, answer.system)


def distance_text(answer: Answer) -> str:
    """Return the distance that width and share give, on the tape."""
    return _text(answer.survey.distance_mm or 0.0, answer.system)


def height_text(answer: Answer) -> str:
    """Return the height of the real thing's top above the ground."""
    return _text(answer.survey.feature_height_mm or 0.0, answer.system)


# What goes into the shot, as it is shown


def distance_change(answer: Answer) -> dict[str, str | None]:
    """Return the change that makes the distance found the background's; ValueError where none is found.

    The farthest thing to be sharp goes with it where it would be left nearer.
    """
    seen = answer.setting.survey
    if seen.frame_share is None or seen.feature_width is None:
        raise ValueError("no distance is found yet: enter the feature's width and the share of the frame it spans")
    text = distance_text(answer)
    far = answer.setting.place.background_far
    with_it = {"place.background_far": None} if far is not None and far < units.parse_length(text) else {}
    return {"place.background": text, **with_it}


def height_change(answer: Answer) -> dict[str, str]:
    """Return the change that makes the height found the one to meet; ValueError where none is found."""
    if answer.survey.feature_height_mm is None:
        raise ValueError("no height is found yet: enter the elevation of the top, and the lens height")
    return {"place.feature_height": height_text(answer)}


def part_change(answer: Answer, name: str) -> tuple[dict[str, tuple[Part, ...]], str]:
    """Return the change that puts the width on the build list under a name, and what it does in words.

    A part of that name is given the new size. Raises ValueError where no width is found, or no name given.
    """
    called = build_list.read_name(name)
    if width_mm(answer) is None:
        raise ValueError("no width is found yet: enter the share of the frame it spans, or the width itself")
    size = width_text(answer)
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
    told = f"The height to meet is now {height_text(after)}{stood}"
    hang = after.lineup.hang_height_mm
    return told if hang is None else f"{told}; on the model it is built at {length_text(hang, after.system)}"
