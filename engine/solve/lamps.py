"""What the lamps of a shot give at the model, and what two readings of the light say."""

from __future__ import annotations

from forescale.engine.formulas import lamps
from forescale.engine.shot.day_records import Lamp
from forescale.engine.shot.records import Setting
from forescale.engine.solve.groups import LampLight
from forescale.engine.solve.lens_setup import LensPlacement


def lamp_lux(lamp: Lamp) -> float | None:
    """Return what a kind of lamp gives at the model; None where it is not said where it stands."""
    if lamp.stands is None:
        return None
    return lamps.lux_at(lamp.gives, lamp.at, lamp.stands, lamp.number, lamp.loss)


def lux_there(setting: Setting) -> float | None:
    """Return the light at the model, what was read there with what the lamps give; None where neither is known."""
    given = [lux for lamp in setting.lamp if (lux := lamp_lux(lamp)) is not None]
    if setting.light.available is not None:
        given.append(setting.light.available)
    return sum(given) if given else None


def pulse_depth(setting: Setting) -> float:
    """Return how deep the light at the model pulses, 0 to 1: that of all lamps with the daylight between them.

    A lamp of unknown depth counts as `UNKNOWN_DEPTH`; without lamps all the light is taken to be of such a one.
    """
    if not setting.lamp:
        return lamps.UNKNOWN_DEPTH
    lights = [(lamp_lux(lamp) or 0.0, _depth(lamp)) for lamp in setting.lamp]
    if not any(lux for lux, _ in lights):
        return max(map(_depth, setting.lamp))
    return lamps.mean_depth([*lights, (setting.light.available or 0.0, 0.0)])


def pulse_hz(setting: Setting) -> float | None:
    """Return at what rate the light pulses: that of the lamp that pulses strongest, else twice that of the mains."""
    strongest = max(setting.lamp, key=lambda lamp: (lamp_lux(lamp) or 0.0) * _depth(lamp), default=None)
    if strongest is not None and strongest.pulse is not None:
        return strongest.pulse
    return None if setting.light.mains is None else 2 * setting.light.mains


def _depth(lamp: Lamp) -> float:
    return lamps.UNKNOWN_DEPTH if lamp.depth is None else lamp.depth


def lamp_answers(setting: Setting, setup: LensPlacement, needed_lux: float) -> tuple[LampLight, ...]:
    """Return what each kind of lamp gives and where it would give what is short; distances are from the model."""
    return tuple(_answer(setting, setup, lamp, needed_lux) for lamp in setting.lamp)


def _answer(setting: Setting, setup: LensPlacement, lamp: Lamp, needed_lux: float) -> LampLight:
    lux = lamp_lux(lamp)
    short = needed_lux - (lux_there(setting) or 0.0) + (lux or 0.0)
    deep = setup.model_mm - setup.near_mm
    falls = lamp.stands is not None and deep > 0
    return LampLight(
        name=lamp.name,
        lux=lux,
        stands_mm=None if short <= 0 else lamps.stands_for_mm(short, lamp.gives, lamp.at, lamp.number, lamp.loss),
        fall_stops=lamps.fall_stops(lamp.stands, lamp.stands + deep) if falls and lamp.stands else None,
        point_from_mm=None if lamp.size is None else lamps.POINT_FROM_SIZES * lamp.size,
        sun_width_mm=None if lamp.stands is None else lamp.stands * lamps.SUN_WIDTH_SHARE,
    )
