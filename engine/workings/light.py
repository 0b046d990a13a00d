"""The workings of the light group."""

from __future__ import annotations

from typing import TYPE_CHECKING

from forescale.engine.formulas import light
from forescale.engine.units import illuminance_text
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import DEFINITION, PRACTICE, Working

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

_NEEDS_LIGHT = "enter the light that there is"
_NEEDS_MAINS = "enter the frequency of the mains that the lamps hang on"
_incident = on.always("Incident light, read at the model with the meter's dome towards the camera.")
_lamps = on.always("Lamps on the mains pulse at twice its frequency M; those on electronic ballasts may differ.")


def _iso(of: Answer) -> str:
    speed = value_text("light.iso", of)
    return f"the mode's base: {speed}" if "light.iso" in of.auto else f"set to {speed}"


def _t_working(of: Answer) -> str:
    say = Figures(of)
    opened = f"{say.number(of.sight.t_stop)} × {say.bellows()}"
    return f"{opened} = {value_text('light.t_stop_working', of)}"


def _needed(of: Answer) -> str:
    say = Figures(of)
    meter = f"{light.METER_CONSTANT:g} × {say.number(of.light.t_stop_working)}²"
    film = f"({say.seconds(of.speed.exposure_s)} × {say.number(of.light.iso)})"
    return f"{meter} / {film} = {value_text('light.lux_needed', of)}"


def _footcandles(of: Answer) -> str:
    say = Figures(of)
    lux = f"{say.number(of.light.lux_needed)} lx / {say.number(light.LUX_PER_FOOTCANDLE)}"
    return f"{lux} = {value_text('light.footcandles_needed', of)}"


def _lights(of: Answer) -> tuple[str, str]:
    """Return the light that there is and the light needed, both in lux."""
    say = Figures(of)
    return f"{say.number(of.light.available_lux or 0.0)} lx", f"{say.number(of.light.lux_needed)} lx"


def _available(of: Answer) -> str:
    return f"as entered: {illuminance_text(of.light.available_lux or 0.0, of.system)}"


def _over(of: Answer) -> str:
    available, needed = _lights(of)
    return f"log2({available} / {needed}) = {value_text('light.over_stops', of)}"


def _filter(of: Answer) -> str:
    return f"{value_text('light.over_stops', of)}, so the nearest filter: {value_text('light.nd_stops', of)}"


def _iso_needed(of: Answer) -> str:
    available, needed = _lights(of)
    speed = Figures(of).number(of.light.iso)
    return f"{speed} × {needed} / {available} = {value_text('light.iso_needed', of)}"


def _pulses(of: Answer) -> str:
    return f"2 × {Figures(of).number(of.light.mains_hz or 0.0)} Hz"


def _flicker(of: Answer) -> str:
    say, pulses_hz = Figures(of), 2 * (of.light.mains_hz or 0.0)
    exposed = f"{_pulses(of)} × {say.seconds(of.speed.exposure_s)} = {say.number(pulses_hz * of.speed.exposure_s)}"
    framed = f"{_pulses(of)} / {say.number(of.speed.fps)} fps = {say.number(pulses_hz / of.speed.fps)}"
    whole = "one of them is whole" if of.light.flicker_safe else "neither is whole"
    verdict = value_text("light.flicker_safe", of)
    return f"pulses in an exposure: {exposed}; pulses in a frame: {framed}; {whole}, so {verdict}"


def _safe_fps(of: Answer) -> str:
    whole = round(2 * (of.light.mains_hz or 0.0) / (of.light.safe_fps or 1.0))
    return f"{_pulses(of)} / {whole} = {value_text('light.safe_fps', of)}"


def _safe_shutter(of: Answer) -> str:
    say, lit, fps = Figures(of), of.light, of.speed.fps
    whole = round((lit.safe_shutter_deg or 0.0) * 2 * (lit.mains_hz or 0.0) / (360 * fps))
    cycle = f"{whole} × 360° × {say.number(fps)} fps / ({_pulses(of)})"
    return f"{cycle} = {value_text('light.safe_shutter_deg', of)}"


WORKINGS = (
    Working(
        key="light.iso",
        name="film speed",
        meaning="The speed that the camera is set to.",
        formula="as entered; left open, the mode's base",
        put_in=_iso,
        conventions=on.always("An arithmetic ISO speed: twice the number needs half the light."),
        leads_to=("light.lux_needed", "light.iso_needed"),
        source=DEFINITION,
    ),
    Working(
        key="light.t_stop_working",
        name="working T-stop",
        meaning="The stop that light sees: a lens focused close passes a little less than its mark says.",
        formula="T·(1 + m/P)",
        put_in=_t_working,
        conventions=on.t_stop,
        leads_to=("light.lux_needed",),
        source="the bellows factor, common to every text on close-up photography",
    ),
    Working(
        key="light.lux_needed",
        name="light needed",
        meaning="The light that must fall on the model for a normal exposure at this rate, shutter, stop and speed.",
        formula="E = C·T² / (t·ISO), C = 250, T the working stop, t the shutter time",
        put_in=_needed,
        conventions=on.both(_incident, on.t_stop),
        leads_to=("light.footcandles_needed", "light.over_stops", "light.iso_needed"),
        source="incident-meter equation of ISO 2720, C = 250",
    ),
    Working(
        key="light.footcandles_needed",
        name="needed, in fc",
        meaning="The same light in footcandles.",
        formula="lux / 10.764",
        put_in=_footcandles,
        conventions=_incident,
        leads_to=(),
        source="definition: a lumen on the square foot",
    ),
    Working(
        key="light.available_lux",
        name="light there is",
        meaning="What the meter reads at the model.",
        formula="as entered",
        put_in=_available,
        conventions=_incident,
        leads_to=("light.over_stops", "light.iso_needed"),
        source=DEFINITION,
        needs=_NEEDS_LIGHT,
    ),
    Working(
        key="light.over_stops",
        name="over or short",
        meaning="How many stops more or less light there is than needed.",
        formula="log2(available / needed)",
        put_in=_over,
        conventions=on.both(_incident, on.always("A stop is twice the light.")),
        leads_to=("light.nd_stops",),
        source=DEFINITION,
        needs=_NEEDS_LIGHT,
    ),
    Working(
        key="light.nd_stops",
        name="ND filter",
        meaning="The neutral-density filter that takes away what is too much.",
        formula="stops over, to the nearest whole stop of 0.3 density; none where the light is short",
        put_in=_filter,
        conventions=on.always("Of two filters equally near, the lighter."),
        leads_to=(),
        source=PRACTICE,
        needs=_NEEDS_LIGHT,
    ),
    Working(
        key="light.iso_needed",
        name="speed needed",
        meaning="The film speed at which the light that there is would just do.",
        formula="ISO · needed / available",
        put_in=_iso_needed,
        conventions=on.always("At the same rate, shutter and stop."),
        leads_to=(),
        source=DEFINITION,
        needs=_NEEDS_LIGHT,
    ),
    Working(
        key="light.mains_hz",
        name="mains",
        meaning="The frequency of the mains that the lamps hang on.",
        formula="M, as entered",
        put_in=lambda of: f"as entered: {value_text('light.mains_hz', of)}",
        conventions=_lamps,
        leads_to=("light.flicker_safe", "light.safe_fps", "light.safe_shutter_deg"),
        source=DEFINITION,
        needs=_NEEDS_MAINS,
    ),
    Working(
        key="light.flicker_safe",
        name="lamp check",
        meaning="Whether every frame gets the same light from lamps on the mains.",
        formula="2·M·t whole, or 2·M / fps whole",
        put_in=_flicker,
        conventions=_lamps,
        leads_to=(),
        source=PRACTICE,
        needs=_NEEDS_MAINS,
    ),
    Working(
        key="light.safe_fps",
        name="safe rate",
        meaning="The nearest frame rate at which lamps cannot flicker, whatever the shutter, the mode and the weight.",
        formula="2·M / n, n a whole number",
        put_in=_safe_fps,
        conventions=_lamps,
        leads_to=(),
        source=PRACTICE,
        needs=_NEEDS_MAINS,
    ),
    Working(
        key="light.safe_shutter_deg",
        name="safe shutter",
        meaning="The nearest shutter angle at which lamps cannot flicker at this rate.",
        formula="n · 360° · fps / (2·M), n a whole number",
        put_in=_safe_shutter,
        conventions=_lamps,
        leads_to=(),
        source=PRACTICE,
        needs=f"{_NEEDS_MAINS}; where a frame is shorter than a pulse no angle is safe",
    ),
)
