"""What may mend the light of two readings, and what moves in the background."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.solve.record import Answer, Finding, Mend
from forescale.engine.units import illuminance_text, number_text


def still_behind(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the ways out where the background moves too slowly."""
    yield Mend("keep all that moves out of the background", price="no people, trees in wind, smoke or water there")
    yield Mend(
        "shoot the model on a locked rig in a pass of its own, and the place at the playback rate",
        price="the two are joined later, not in the camera",
    )
    if of.speed.time_factor > 2:
        yield Mend(f"build larger: at a quarter of 1:{number_text(of.scale.ratio, 3)} all goes half as fast")


def even_light(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield what makes the light on the model as much as at the background."""
    lit = of.light
    if lit.background_stops is None or lit.at_background_lux is None or lit.available_lux is None:
        return
    if lit.background_stops > 0:
        yield Mend(f"add {illuminance_text(lit.at_background_lux - lit.available_lux, of.system)} on the model")
    else:
        yield Mend(f"flag the model, or scrim it by {number_text(-lit.background_stops, 2)} stops")


def same_colour(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the filter that turns the light at the model into that at the background."""
    shift = of.light.shift_mired or 0.0
    sign = "+" if shift > 0 else "-"
    yield Mend(f"put a filter of {sign}{abs(shift):.0f} mireds on what lights the model, not on the lens")


def in_window(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the middle of each window in which the sun stands as in the plate."""
    for first, last in () if of.sun is None else of.sun.windows:
        yield Mend("", {"sun.time": _between(first, last)})


def another_day(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the day of the next thirty on which the sun comes nearest to where it stood."""
    days = () if of.sun is None else of.sun.nearest_on
    known = [day for day in days if day.misses_deg is not None and day.time is not None]
    if known:
        best = min(known, key=lambda day: day.misses_deg or 0.0)
        yield Mend("", {"sun.date": best.date, "sun.time": best.time})


def _between(first: str, last: str) -> str:
    minutes = sum(int(text[:2]) * 60 + int(text[3:]) for text in (first, last)) // 2
    return f"{minutes // 60:02}:{minutes % 60:02}"
