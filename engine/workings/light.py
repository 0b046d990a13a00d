"""The workings of the light group."""

from __future__ import annotations

from typing import TYPE_CHECKING

from forescale.engine.formulas import lamp_ripple, light
from forescale.engine.formulas.flicker import meets_alike
from forescale.engine.solve.speed_light import pulse_of
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
    fitted = of.light.nd_fitted
    less = "" if fitted is None else f" − {Figures(of).number(fitted)}"
    return f"log2({available} / {needed}){less} = {value_text('light.over_stops', of)}"


def _filter(of: Answer) -> str:
    say, lit = Figures(of), of.light
    over = say.number((lit.over_stops or 0.0) + (lit.nd_fitted or 0.0))
    return f"floor({over} + {light.ENOUGH_STOPS:g}), 0 at least: {value_text('light.nd_stops', of)}"


def _iso_needed(of: Answer) -> str:
    available, needed = _lights(of)
    speed, fitted = Figures(of).number(of.light.iso), of.light.nd_fitted
    more = "" if fitted is None else f" × 2^{Figures(of).number(fitted)}"
    return f"{speed} × {needed} / {available}{more} = {value_text('light.iso_needed', of)}"


def _hz(of: Answer) -> float:
    pulse = pulse_of(of.setting, of.kit.mode)
    return 0.0 if pulse is None else pulse.hz


def _pulses(of: Answer) -> str:
    hz, mains = _hz(of), of.light.mains_hz
    on_mains = mains is not None and hz == 2 * mains
    return f"2 × {Figures(of).number(mains or 0.0)} Hz" if on_mains else f"{Figures(of).number(hz)} Hz"


def _flicker(of: Answer) -> str:
    told, safe = value_text("light.flicker_stops", of), f"{lamp_ripple.SAFE_STOPS:g}"
    return f"{told}, safe under {safe}: {value_text('light.flicker_safe', of)}"


def _swing(of: Answer) -> str:
    pulse, fps = pulse_of(of.setting, of.kit.mode), of.speed.fps
    if pulse is None:
        return ""
    told, say = value_text("light.flicker_stops", of), Figures(of)
    left = say.number(pulse.depth * lamp_ripple.share_left(pulse.hz, of.speed.exposure_s))
    if not meets_alike(pulse.hz, fps):
        return f"log2((1 + {left}) / (1 − {left})) = {told}"
    read = f"read in {say.seconds(pulse.readout_s)}" if pulse.readout_s else "read all at once"
    return f"{left} of the mean is left; every frame meets the pulse alike, its rows {read}: {told}"


def _safe_fps(of: Answer) -> str:
    rate, shutter = of.light.safe_fps or 1.0, of.setting.action.shutter
    whole = _hz(of) / rate
    if abs(whole - round(whole)) < 1e-6:
        return f"{_pulses(of)} / {round(whole)} = {value_text('light.safe_fps', of)}"
    exposed = f"{_pulses(of)} × {Figures(of).number(shutter)}° / (360° × {round(whole * shutter / 360)})"
    return f"{exposed} = {value_text('light.safe_fps', of)}"


def _safe_shutter(of: Answer) -> str:
    say, lit, fps = Figures(of), of.light, of.speed.fps
    whole = round((lit.safe_shutter_deg or 0.0) * _hz(of) / (360 * fps))
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
        formula="log2(available / needed) − stops of ND fitted",
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
        formula="floor(stops over without a filter + 0.1), in whole stops of 0.3 density",
        put_in=_filter,
        conventions=on.always("The picture is never left more than a tenth of a stop short."),
        leads_to=(),
        source=PRACTICE,
        needs=_NEEDS_LIGHT,
    ),
    Working(
        key="light.nd_fitted",
        name="ND fitted",
        meaning="The filter that is in front of the lens.",
        formula="as entered",
        put_in=lambda of: f"as entered: {value_text('light.nd_fitted', of)}",
        conventions=on.always("0.3 of density is a stop."),
        leads_to=("light.over_stops",),
        source=DEFINITION,
        needs="enter the stops of ND that are fitted",
    ),
    Working(
        key="light.iso_needed",
        name="speed needed",
        meaning="The film speed at which the light that there is would just do.",
        formula="ISO · needed / available · 2^ND fitted",
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
        meaning="Whether every row of every frame gets the same light from lamps on the mains.",
        formula="under 0.03 stops between two rows",
        put_in=_flicker,
        conventions=_lamps,
        leads_to=(),
        source=PRACTICE,
        needs=_NEEDS_MAINS,
    ),
    Working(
        key="light.flicker_stops",
        name="lamp ripple",
        meaning="The most that two rows of the picture differ by, within a frame and from one to the next.",
        formula="log2((1 + a) / (1 − a)), a what the exposure leaves of the pulse over its mean; where 2·M / fps is "
        "whole, only as far as the rows are read at other times",
        put_in=_swing,
        conventions=on.both(_lamps, on.always("Of several lamps the one that pulses strongest counts.")),
        leads_to=("light.flicker_safe",),
        source="mean of a cosine over the exposure",
        needs=_NEEDS_MAINS,
    ),
    Working(
        key="light.safe_fps",
        name="safe rate",
        meaning="The nearest rate at which lamps cannot flicker at this shutter, whatever the mode and the weight.",
        formula="2·M / n where the rows agree, or 2·M·angle / (360°·n), n a whole number",
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
