"""Findings on two readings of the light, on lamps and flames, and on what moves in the background."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas import lamps
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.units import number_text

SLOWER_NOTICED = 1.5  # times too slow from which people and trees look wrong (common practice, no source)
PEOPLE_TOP = 2  # times as fast as they would, at which people can still move (common practice, no source)
SOFTER = 1.5  # times the sun's own width at which a lamp's shadow edges show as soft


def day_light_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of the light over model and background, and of what moves behind."""
    yield from _two_readings(answer)
    yield from _colour(answer)
    yield from _lamps(answer)
    yield from _flame(answer)
    yield from _background(answer)


def _two_readings(answer: Answer) -> Iterator[Finding]:
    lit = answer.light
    if lit.background_stops is None:
        return
    off = f"{number_text(abs(lit.background_stops), 2)} stops"
    if lit.background_stops >= lamps.STOPS_SEEN:
        text = f"The background gets {off} more light than the model"
        yield Finding("speed", "warn", "light-differs", text, "light.available", f"Model {off} too dark")
    elif lit.background_stops <= -lamps.STOPS_SEEN:
        text = f"The model gets {off} more light than the background"
        yield Finding("speed", "warn", "light-differs", text, "light.available", f"Model {off} too bright")


def _colour(answer: Answer) -> Iterator[Finding]:
    shift, light = answer.light.shift_mired, answer.setting.light
    if shift is None or abs(shift) < lamps.MIREDS_SEEN or light.kelvin is None or light.kelvin_at_background is None:
        return
    off = f"{abs(shift):.0f} mireds"
    warmer = "warmer" if shift > 0 else "cooler"
    text = (
        f"The light at the background, {number_text(light.kelvin_at_background, 5)} K, is {off} {warmer} than the "
        f"{number_text(light.kelvin, 5)} K at the model"
    )
    yield Finding("speed", "warn", "colour-differs", text, "light.kelvin", f"Background is {off} {warmer}")


def _lamps(answer: Answer) -> Iterator[Finding]:
    words = Words(answer)
    for number, (lamp, found) in enumerate(zip(answer.setting.lamp, answer.light.lamps, strict=True), start=1):
        nearest = min((one for one in (lamp.at, lamp.stands) if one is not None), default=math.inf)
        if found.point_from_mm is not None and nearest < found.point_from_mm * (1 - 1e-9):
            text = (
                f"{lamp.name}: nearer than {words.length(found.point_from_mm)}, five times its size, a lamp gives less "
                "than the inverse square says: meter it at the model"
            )
            short = "Lamp too near to reckon: meter it"
            yield Finding("speed", "note", "lamp-near", text, f"lamp.{number}.stands", short)
        if found.fall_stops is not None and found.fall_stops >= lamps.STOPS_SEEN:
            off = f"{number_text(found.fall_stops, 2)} stops"
            text = f"{lamp.name}: its light falls by {off} over the depth of the model, where the sun's does not"
            yield Finding(
                "speed", "note", "lamp-falls-off", text, f"lamp.{number}.stands", f"Lamp falls {off} in depth"
            )
        wide = found.sun_width_mm
        if wide is not None and lamp.size is not None and lamp.size > wide * SOFTER:
            size, may = words.length(lamp.size), words.length(wide)
            text = f"{lamp.name}: at {size} wide its shadows are softer than the sun's, as which it reads at {may}"
            yield Finding("speed", "note", "lamp-soft", text, f"lamp.{number}.size", "Lamp is softer than the sun")


def _flame(answer: Answer) -> Iterator[Finding]:
    width = answer.setting.action.fire_width
    if width is None:
        return
    real, model = lamps.flame_share(width), lamps.flame_share(width / answer.scale.ratio)
    stops = math.log2(real / model)
    if stops < 0.1:
        return
    dimmer = number_text(stops, 2)
    text = (
        f"A flame {Words(answer).length(width)} deep has {Words.percent(real)} of a full flame's luminance and its "
        f"model {Words.percent(model)}, {dimmer} stops dimmer; a flame adds to what is behind it: "
        "compare it with that"
    )
    yield Finding("speed", "note", "flame-dim", text, "action.fire_width", f"Model flame is {dimmer} stops dimmer")


def _background(answer: Answer) -> Iterator[Finding]:
    factor = answer.speed.time_factor
    if factor < SLOWER_NOTICED:
        return
    times = number_text(factor, 3)
    people = (
        f"people would have to move {times} times as fast"
        if factor <= PEOPLE_TOP
        else f"people would have to move {times} times as fast, and none can beyond about {PEOPLE_TOP}"
    )
    text = (
        f"All that moves at the background looks {times} times too slow, people, trees, smoke, water and traffic; "
        f"{people}"
    )
    yield Finding("speed", "note", "background-slow", text, "action.fps", f"Background {times} times too slow")
