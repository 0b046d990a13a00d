"""What may mend the light and the flicker of lamps."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.light import light_wanted, steady_rates
from forescale.engine.findings.words import Words
from forescale.engine.formulas import light
from forescale.engine.mends.focus import refocused
from forescale.engine.solve.record import Answer, Finding, Mend
from forescale.engine.units import number_text

LEFT_NOTICED = 1 / 3  # stops over that a whole filter leaves and that are worth a word


def top_iso(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the nearest film speed of the mode, and its base."""
    mode = of.kit.mode
    yield Mend("", {"light.iso": number_text(min(max(of.light.iso, mode.lowest_iso), mode.iso_max), 5)})
    yield Mend("", {"light.iso": None})


def more(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the film speed and the stop that the light there is suffices for, then light to bring."""
    lit, words = of.light, Words(of)
    if lit.iso_needed is not None and lit.iso_needed <= of.kit.mode.iso_max:
        iso = min(light.speed_to_set(lit.iso_needed), of.kit.mode.iso_max)
        yield Mend("", {"light.iso": number_text(iso, 5)})
    fitted = of.setting.light.nd or 0.0
    if fitted > 0:
        yield Mend("", {"light.nd": number_text(min(lit.nd_stops or 0.0, fitted))})
    better = refocused(of)
    if better is not None and better[1] < of.focus.f_number:
        yield Mend("", {"focus.distance": better[0], "focus.stop": words.stop(better[1])})
    wide = of.focus.f_number * 2 ** ((lit.over_stops or 0) / 2)
    opened = max((mark for mark in of.kit.lens.f_numbers if mark <= wide * (1 + 1e-6)), default=None)
    if opened is not None and math.isfinite(wide):
        yield Mend("", {"focus.stop": words.stop(opened)})
    yield Mend(f"bring {light_wanted(of)}")


def less(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the filter that leaves enough, then a lower film speed."""
    stops = of.light.nd_stops or 0
    left = (of.light.over_stops or 0.0) + (of.light.nd_fitted or 0.0) - stops
    price = (
        f"{Words(of).stops(left)} over are left: close down, or let a grade take it" if left > LEFT_NOTICED else None
    )
    yield Mend("", {"light.nd": number_text(stops)}, price)
    if of.light.iso > of.kit.mode.lowest_iso and of.light.iso_needed is not None:
        iso = light.speed_to_set(max(of.light.iso_needed, of.kit.mode.lowest_iso))
        yield Mend("", {"light.iso": number_text(iso, 5)})


def steady_shutter(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the shutter at which the lamps are steady however the sensor reads out."""
    if of.light.safe_shutter_deg is not None:
        yield Mend("", {"action.shutter": f"{number_text(of.light.safe_shutter_deg, 4)} deg"})


def steady(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the shutter and the rates at which the lamps are steady, and lamps that do not pulse."""
    yield from steady_shutter(of, finding)
    price = "holds while the mains hold: on a generator no rate is safe"
    for fps in steady_rates(of):
        yield Mend("", {"action.fps": number_text(fps, 5)}, price)
    yield Mend("take lamps that do not pulse")
