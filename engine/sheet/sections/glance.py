"""The head of the sheet: the kit, and the few things that are set on the day."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.kit.profiles import Profile
from forescale.engine.sheet.blocks import Row, Section
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.voice import Voice
from forescale.engine.units import angle_text, number_text, time_text

CHOSEN = "What is marked (chosen) was left open and chosen by the program."


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
    return Row("Verdict", word, f"{', '.join(counts)}: see Findings"), Row("First", first.text)


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"


def section(voice: Voice) -> Section:
    """Return what to set, in the order of setting it."""
    return Section("Set", tuple(_rows(voice)), "what to set on the day; the reasons follow")


def _rows(voice: Voice) -> Iterator[Row]:
    answer = voice.of
    action, light, slip = answer.setting.action, answer.light, answer.slip
    yield Row("Model stands at", voice.length(answer.lineup.model_mm), "", voice.chosen("place.model"))
    yield Row("Focus mark", voice.length(answer.focus.focus_mm), "", voice.chosen("focus.distance"))
    yield Row("Stop", voice.stop(answer.focus.f_number), "", voice.chosen("focus.stop"))
    yield Row("Rate", voice.rate(answer.speed.fps), "", voice.chosen("action.fps"))
    yield Row("Shutter", angle_text(action.shutter), voice.exposure(answer.speed.exposure_s))
    base = "the mode's base" if light.iso == answer.kit.mode.iso_base else ""
    yield Row("ISO", number_text(light.iso, 5), base, voice.chosen("light.iso"))
    if light.nd_stops:
        yield Row("ND filter", f"ND {light.nd_stops * 0.3:.1f}", voice.stops(light.nd_stops))
    yield Row("Action lasts", time_text(answer.speed.set_time_s), "on the stopwatch")
    if answer.speed.move_set_time_s is not None:
        turn = f"{answer.setting.move.axis} {angle_text(slip.sweep_deg)}"
        yield Row("Move", f"{turn} in {time_text(answer.speed.move_set_time_s)}", "on the stopwatch")
    if slip.slide_mm is not None:
        yield Row("Slide", voice.reading(slip.slide_mm))
