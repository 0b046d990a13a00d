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
from forescale.engine.workings.working import told

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

_incident = on.always("Incident light, read at the model with the meter's dome towards the camera.")
_lamps = on.always("Lamps on the mains pulse at twice its frequency M; those on electronic ballasts may differ.")


def _iso(of: Answer) -> str:
    speed = value_text("light.iso", of)
    return f"the mode's base: {speed}" if "light.iso" in of.auto else f"set to {speed}"


def _t_working(of: Answer) -> str:
    say = Figures(of)
    opened = f"{say.number(of.setup.t_stop)} × {say.bellows()}"
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
    found, read = illuminance_text(of.light.available_lux or 0.0, of.system), of.setting.light.available
    if all(lamp.lux is None for lamp in of.light.lamps):
        return f"as entered: {found}"
    lamps = illuminance_text(sum(lamp.lux or 0.0 for lamp in of.light.lamps), of.system)
    return f"{illuminance_text(read or 0.0, of.system)} read and {lamps} by the lamps' inverse square: {found}"


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
    told("light.iso", _iso, on.always("An arithmetic ISO speed: twice the number needs half the light.")),
    told("light.t_stop_working", _t_working, on.t_stop),
    told("light.lux_needed", _needed, on.both(_incident, on.t_stop)),
    told("light.footcandles_needed", _footcandles, _incident),
    told("light.available_lux", _available, _incident),
    told("light.over_stops", _over, on.both(_incident, on.always("A stop is twice the light."))),
    told("light.nd_stops", _filter, on.always("The picture is never left more than a tenth of a stop short.")),
    told(
        "light.nd_fitted",
        lambda of: f"as entered: {value_text('light.nd_fitted', of)}",
        on.always("0.3 of density is a stop."),
    ),
    told("light.iso_needed", _iso_needed, on.always("At the same rate, shutter and stop.")),
    told("light.mains_hz", lambda of: f"as entered: {value_text('light.mains_hz', of)}", _lamps),
    told("light.flicker_safe", _flicker, _lamps),
    told(
        "light.flicker_stops",
        _swing,
        on.both(_lamps, on.always("Of several lamps the one that pulses strongest counts.")),
    ),
    told("light.safe_fps", _safe_fps, _lamps),
    told("light.safe_shutter_deg", _safe_shutter, _lamps),
)
