"""What is set by hand, in the order of setting it: one list for the board, the sheet and the crew's page."""

import math
from collections.abc import Iterator
from itertools import chain
from typing import NamedTuple

from forescale.engine.findings.words import Words
from forescale.engine.shot.sections import WAYS
from forescale.engine.solve.record import Answer
from forescale.engine.solve.slip_check import slide_decimals
from forescale.engine.units import WEIGHT, angle_text, filter_text, measure_text, number_text, time_text, wind_text
from forescale.engine.units.compass import clock_text, offset_text


class ToSet(NamedTuple):
    """One thing to set: its label, its value as a text, the unit behind it, and what else to know."""

    label: str
    value: str  # a length has its units in it
    path: str  # its field in the shot, or the number of the answer where the shot has none
    unit: str = ""
    remark: str = ""
    chosen: bool = False  # by the program

    @property
    def text(self) -> str:
        """The value with its unit."""
        return f"{self.value} {self.unit}".rstrip()


def to_set(answer: Answer) -> tuple[ToSet, ...]:
    """Return everything that is set by hand: the camera, the lens, the rig, the move, the model."""
    words, auto = Words(answer), answer.auto
    rows = chain(_day(answer, words), _camera(answer, words), _rig(answer, words), _move(answer), _model(answer, words))
    return tuple(one._replace(chosen=True) if one.path in auto else one for one in rows)


def _day(answer: Answer, words: Words) -> Iterator[ToSet]:
    """Yield when to shoot, which way the lens looks, and the light that all else is worked out for."""
    sun, light, lamps = answer.setting.sun, answer.setting.light, answer.setting.lamp
    zone = "" if sun.utc_offset is None else f"UTC {offset_text(sun.utc_offset)}"
    if sun.time is not None:
        day = "" if sun.date is None else f"{sun.date} "
        yield ToSet("Time of day", f"{day}{clock_text(sun.time)}", "sun.time", remark=zone)
    elif sun.date is not None:
        yield ToSet("Day", f"{sun.date}", "sun.date")
    facing = sun.facing if answer.sun is None or sun.facing is not None else answer.sun.facing_deg
    if facing is not None:
        by = "by compass" if sun.facing is not None and sun.declination is not None else "true bearing"
        yield ToSet("Facing", angle_text(facing), "sun.facing", remark=f"of the lens, {by}")
    if light.available is not None:
        without = "metered without the lamps" if any(lamp.stands for lamp in lamps) else "as metered"
        yield ToSet("Model light", words.lux(light.available), "light.available", remark=without)
    for place, lamp in enumerate(lamps, start=1):
        if lamp.stands is not None:
            many = f"{lamp.number} of " if lamp.number > 1 else ""
            stands, name = words.length(lamp.stands), f"{many}{lamp.name}, from the model"
            yield ToSet("Lamp stands", stands, f"lamp.{place}.stands", remark=name)
    if light.mains is not None:
        yield ToSet("Mains", number_text(light.mains), "light.mains", "Hz")


def _camera(answer: Answer, words: Words) -> Iterator[ToSet]:
    kit, speed, light, focus = answer.kit, answer.speed, answer.light, answer.focus
    yield ToSet("Mode", kit.mode.name, "kit.mode", remark=kit.camera.title or kit.camera.name)
    yield ToSet("Frame rate", number_text(speed.fps, 4), "action.fps", "fps")
    value, _, unit = angle_text(answer.setting.action.shutter).partition(" ")
    yield ToSet("Shutter", value, "action.shutter", unit, words.exposure(speed.exposure_s))
    base = "the mode's base" if light.iso == kit.mode.iso_base else ""
    yield ToSet("ISO", number_text(light.iso, 5), "light.iso", "", base)
    advice = f"fit {filter_text(light.fit_stops)}" if light.fit_stops else ""  # not set yet
    yield ToSet("ND filter", filter_text(light.nd_fitted) if light.nd_fitted else "none", "light.nd", remark=advice)
    yield ToSet("Action lasts", time_text(speed.set_time_s), "speed.set_time_s", remark="on set")
    yield ToSet("Lens", kit.lens.title or kit.lens.name, "kit.lens")
    yield ToSet("Focal length", number_text(kit.focal_mm, 4), "kit.focal_length", "mm")
    yield ToSet("Stop", words.stop(focus.f_number), "focus.stop")
    yield ToSet("Focus mark", words.length(focus.focus_mm), "focus.distance")


def _rig(answer: Answer, words: Words) -> Iterator[ToSet]:
    place, slip = answer.setting.place, answer.slip
    if place.lens_height is not None:
        yield ToSet("Lens height", words.length(place.lens_height), "place.lens_height")
    if place.aim or answer.picture is not None:
        yield ToSet("Aim", Words.tilted(place.aim), "place.aim", remark="of the lens, at the line-up")
    if slip.slide_mm is not None:
        yield ToSet("Slide", words.reading(slip.slide_mm), "move.slide", remark="as set")
    label = "Best slide" if slip.slide_for_zero_mm is None else "Slide for no slip"
    zero = slip.slide_best_mm if slip.slide_for_zero_mm is None else slip.slide_for_zero_mm
    if zero is not None:
        millimetres = f"{zero:.{slide_decimals(slip.tolerance_mm or None)}f}"
        yield ToSet(label, words.slide_text(millimetres, zero), "slip.slide_for_zero_mm")


def _move(answer: Answer) -> Iterator[ToSet]:
    move, takes_s = answer.setting.move, answer.speed.move_set_time_s
    ends, begins = WAYS[move.axis]
    if move.start:
        yield ToSet("Move starts", f"{angle_text(move.start)} {begins}", "move.start", remark="of the line-up")
    if move.axis != "none" and move.sweep:
        far = f", going {ends}; {angle_text(move.start + move.sweep)} in all" if move.start else ""
        yield ToSet("Move", f"{move.axis} {angle_text(move.sweep)}", "move.sweep", remark=f"from the line-up{far}")
    if move.tilt_sweep:
        yield ToSet("Tilt on the way", Words.tilted(move.tilt_sweep), "move.tilt_sweep", remark="by its end")
    if move.travel is not None:
        yield ToSet("Travel", move.travel.text(answer.system), "move.travel", remark="by its end")
    if takes_s is not None:
        yield ToSet("Move takes", time_text(takes_s), "speed.move_set_time_s", remark="on set")


def _model(answer: Answer, words: Words) -> Iterator[ToSet]:
    lined = answer.lineup
    yield ToSet("Model at", words.length(lined.model_mm), "place.model")
    if lined.foot_height_mm is not None:
        table = words.length(lined.foot_height_mm)
        yield ToSet("Table height", table, "lineup.foot_height_mm", remark="the model's table")
    if lined.hang_height_mm is not None:
        meets = words.length(lined.hang_height_mm)
        yield ToSet("Tie-in at", meets, "lineup.hang_height_mm", remark="over the background's ground")
    places = {row.name: number for number, row in enumerate(answer.setting.point, start=1)}
    for point in answer.picture.points if answer.picture else ():
        if point.sight_height_mm is not None:
            height, off = words.length(point.sight_height_mm), point.sight_aside_mm
            aside = f"{words.length(abs(off))} {'left' if off < 0 else 'right'}" if abs(off) >= 0.5 else "on the axis"
            near = math.isclose(point.stands_mm, lined.model_mm, rel_tol=0.01)  # it stands where the model does
            remark = f"over the ground, {aside}{'' if near else f', {words.length(point.stands_mm)} off'}"
            yield ToSet(point.name, height, f"point.{places[point.name]}.height", remark=remark)
    if (ballast := answer.setting.stand.ballast) > 0 and answer.setting.place.mount != "hangs":
        yield ToSet("Ballast", measure_text(ballast, WEIGHT, answer.system), "stand.ballast", remark="on the foot")
    stops = answer.stand.stop_gust_mm_s if answer.stand else None
    if stops is not None and math.isfinite(stops):
        gust = wind_text(stops, answer.system, limit=True)
        yield ToSet("Stop at a gust", gust, "stand.stop_gust_mm_s", remark="and clear people")
