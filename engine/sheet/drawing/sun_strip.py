"""The day of the sun on paper: how high it stands by the hour, when the light is the same, when it faces the lens."""

from __future__ import annotations

from itertools import pairwise

from forescale.engine.answer import Answer
from forescale.engine.sheet.drawing.ink import Ink
from forescale.engine.units.compass import DAY_S, clock_text

WIDE_MM, HIGH_MM = 190.0, 42.0
LEFT_MM, LONG_MM = 9.0, 176.0  # the day, from midnight to midnight
HORIZON_MM, UP_MM = 36.0, 30.0  # where nothing rises over the ground, and how far over it the zenith is
STEPS = 288
SAYS = "Line: how high the sun stands, by the hour; grey: the same light; dot: {}"
FACES = "; dashes: ahead of the lens, or behind it"


def sun_strip(answer: Answer) -> tuple[str, str]:
    """Return the day from midnight to midnight as a drawing, and what it shows; a shot whose sun is known."""
    from forescale.engine.formulas.sun import from_bearing_deg  # loaded only where the shot asks for the sun
    from forescale.engine.solve.sun_group import path_of_day

    ink, found, there = Ink(), answer.sun, answer.setting.sun
    assert found is not None
    top = HORIZON_MM - UP_MM
    for first, last in found.windows:
        start, end = (_x(int(text[:2]) * 3600 + int(text[3:]) * 60) for text in (first, last))
        ink.box(start, top, end - start, UP_MM, "grey")
    for up in (0, 30, 60, 90):
        ink.line(LEFT_MM, _y(up), LEFT_MM + LONG_MM, _y(up), "line" if up == 0 else "faint")
        ink.text(LEFT_MM - 1, _y(up) + 1.2, f"{up}°", anchor="end")
    for hour in range(0, 25, 3):
        ink.line(_x(hour * 3600), HORIZON_MM, _x(hour * 3600), HORIZON_MM + 1.5)
        ink.text(_x(hour * 3600), HIGH_MM - 0.9, f"{hour:02}", anchor="middle")
    path = path_of_day(there, STEPS)
    ink.clip("day", LEFT_MM, top, LONG_MM, UP_MM)
    ink.shape([(_x(at), _y(seen.elevation_deg)) for at, seen in path], "bold", closed=False)
    if found.facing_deg is not None:
        aside = [(at, seen.elevation_deg, from_bearing_deg(seen.azimuth_deg, found.facing_deg)) for at, seen in path]
        for (_, _, before), (at, elevation, after) in pairwise(aside):
            if before * after <= 0 and elevation > 0:
                ink.line(_x(at), top, _x(at), HORIZON_MM, "dash")
                ink.label(_x(at), top + 2.5, "ahead" if abs(after) < 90 else "behind")
    ink.end()
    if found.up:
        ink.circle(_x(there.time or 0.0), _y(found.elevation_deg), 1.4, "solid")
    says = SAYS.format(clock_text(there.time or 0.0)) + ("" if found.facing_deg is None else FACES)
    return ink.svg(WIDE_MM, HIGH_MM, "The day of the sun"), says


def _x(seconds: float) -> float:
    return LEFT_MM + seconds / DAY_S * LONG_MM


def _y(elevation_deg: float) -> float:
    return HORIZON_MM - elevation_deg / 90 * UP_MM
