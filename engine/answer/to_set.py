"""What is set by hand, in the order of setting it: one list for the board, the sheet and the crew's page."""

import math
from collections.abc import Iterator
from typing import NamedTuple

from forescale.engine.findings.words import Words
from forescale.engine.kit.profiles import Profile
from forescale.engine.shot.sections import PANS
from forescale.engine.solve.groups import LightAnswer
from forescale.engine.solve.record import Answer
from forescale.engine.solve.slip_check import slide_decimals
from forescale.engine.units import angle_text, filter_text, number_text, time_text, wind_text


class ToSet(NamedTuple):
    """One thing to set: its label, its value as a text, the unit behind it, and what else to know.

    `path` is its field in the shot, or the number of the answer where the shot has none; `chosen` where the program
    chose it. A length's text has its units in it.
    """

    label: str
    value: str
    path: str
    unit: str = ""
    remark: str = ""
    chosen: bool = False

    @property
    def text(self) -> str:
        """The value with its unit."""
        return f"{self.value} {self.unit}".rstrip()


def to_set(answer: Answer) -> tuple[ToSet, ...]:
    """Return everything that is set by hand: the camera, the lens, the rig, the move, the model."""
    words = Words(answer)
    return (*_camera(answer, words), *_lens(answer, words), *_rig(answer, words), *_model(answer, words))


def _titled(profile: Profile) -> str:
    return profile.title or profile.name


def _camera(answer: Answer, words: Words) -> Iterator[ToSet]:
    speed, light, action = answer.speed, answer.light, answer.setting.action
    yield ToSet("Mode", answer.kit.mode.name, "kit.mode", remark=_titled(answer.kit.camera))
    rate = number_text(speed.fps, 4)
    yield ToSet("Frame rate", rate, "action.fps", "fps", chosen="action.fps" in answer.auto)
    value, _, unit = angle_text(action.shutter).partition(" ")
    yield ToSet("Shutter", value, "action.shutter", unit, words.exposure(speed.exposure_s))
    base = "the mode's base" if light.iso == answer.kit.mode.iso_base else ""
    yield ToSet("ISO", number_text(light.iso, 5), "light.iso", "", base, "light.iso" in answer.auto)
    yield _filter(light)
    yield _time("Action lasts", speed.set_time_s, "speed.set_time_s")


def _filter(light: LightAnswer) -> ToSet:
    """Return the filter that is fitted; what is to be fitted beside it, as that is not set yet."""
    if light.nd_fitted:
        return ToSet("ND filter", filter_text(light.nd_fitted), "light.nd")
    advice = f"fit {filter_text(light.fit_stops)}" if light.fit_stops else ""
    return ToSet("ND filter", "none", "light.nd", remark=advice)


def _time(label: str, seconds: float, path: str) -> ToSet:
    return ToSet(label, time_text(seconds), path, remark="on set")


def _lens(answer: Answer, words: Words) -> Iterator[ToSet]:
    kit, focus = answer.kit, answer.focus
    yield ToSet("Lens", _titled(kit.lens), "kit.lens")
    yield ToSet("Focal length", number_text(kit.focal_mm, 4), "kit.focal_length", "mm")
    yield ToSet("Stop", words.stop(focus.f_number), "focus.stop", chosen="focus.stop" in answer.auto)
    mark = words.length(focus.focus_mm)
    yield ToSet("Focus mark", mark, "focus.distance", chosen="focus.distance" in answer.auto)


def _rig(answer: Answer, words: Words) -> Iterator[ToSet]:
    place, slip, move_s = answer.setting.place, answer.slip, answer.speed.move_set_time_s
    if place.lens_height is not None:
        yield ToSet("Lens height", words.length(place.lens_height), "place.lens_height")
    if place.aim or answer.picture is not None:
        yield ToSet("Aim", _tilted(place.aim), "place.aim", remark="of the lens, at the line-up")
    if slip.slide_mm is not None:
        yield ToSet("Slide", words.reading(slip.slide_mm), "move.slide", remark="as set")
    zero, label = slip.slide_for_zero_mm, "Slide for no slip"
    if zero is None:
        zero, label = slip.slide_best_mm, "Best slide"
    if zero is not None:
        millimetres = f"{zero:.{slide_decimals(slip.tolerance_mm or None)}f}"
        yield ToSet(label, words.slide_text(millimetres, zero), "slip.slide_for_zero_mm")
    yield from _move(answer)
    if move_s is not None:
        yield _time("Move takes", move_s, "speed.move_set_time_s")


def _move(answer: Answer) -> Iterator[ToSet]:
    move, system = answer.setting.move, answer.system
    if move.start:
        other = "left" if move.axis == "pan" else "right"
        to = other if move.axis in PANS else "to the other side"
        yield ToSet("Move starts", f"{angle_text(move.start)} {to}", "move.start", remark="of the line-up")
    if move.axis != "none" and move.sweep:
        yield ToSet("Move", f"{move.axis} {angle_text(move.sweep)}", "move.sweep", remark="from the line-up")
    if move.tilt_sweep:
        yield ToSet("Tilt on the way", _tilted(move.tilt_sweep), "move.tilt_sweep", remark="by its end")
    if move.travel is not None:
        yield ToSet("Travel", move.travel.text(system), "move.travel", remark="by its end")


def _tilted(degrees: float) -> str:
    return "level" if degrees == 0 else f"{angle_text(abs(degrees))} {'up' if degrees > 0 else 'down'}"


def _model(answer: Answer, words: Words) -> Iterator[ToSet]:
    lined = answer.lineup
    chosen = "place.model" in answer.auto
    yield ToSet("Model at", words.length(lined.model_mm), "place.model", chosen=chosen)
    if lined.foot_height_mm is not None and answer.setting.place.mount != "hangs":
        table = words.length(lined.foot_height_mm)
        yield ToSet("Table height", table, "lineup.foot_height_mm", remark="the model's table")
    if lined.hang_height_mm is not None:
        meets = words.length(lined.hang_height_mm)
        yield ToSet("Tie-in at", meets, "lineup.hang_height_mm", remark="over the background's ground")
    for number, point in enumerate(answer.picture.points if answer.picture else (), start=1):
        if point.sight_height_mm is not None:
            height, aside = words.length(point.sight_height_mm), _aside(point.sight_aside_mm, words)
            yield ToSet(point.name, height, f"point.{number}.height", remark=f"over the ground, {aside}")
    stops = answer.stand.stop_gust_mm_s if answer.stand else None
    if stops is not None and math.isfinite(stops):
        gust = wind_text(stops, answer.system)
        yield ToSet("Stop at a gust", gust, "stand.stop_gust_mm_s", remark="and clear people")


def _aside(mm: float, words: Words) -> str:
    return f"{words.length(abs(mm))} {'left' if mm < 0 else 'right'}" if abs(mm) >= 0.5 else "on the axis"
