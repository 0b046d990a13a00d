"""The day of the sun on paper: the check values of the ephemeris stand where they should on the strip."""

from __future__ import annotations

import re

import pytest
from cases import shot, solve
from shown_day import SUN

from forescale.engine.sheet.drawing.page import DAY_LEFT_MM, DAY_LONG_MM, HORIZON_MM, UP_MM, sun_strip
from forescale.engine.sheet.page import sheet_html

HOUR_MM = DAY_LONG_MM / 24


def number(element: str, name: str) -> float:
    return float(re.search(rf' {name}="([\d.]+)"', element)[1])


def test_sun_and_matching_light_stand_where_the_ephemeris_has_them() -> None:
    """51.2° N, 2.4° W, 2026-06-21 at 10:30 UTC +1: 116.46°, 48.44° up; within 5° from 10:09 to 10:51, whole minutes."""
    drawn, says = sun_strip(solve(SUN))
    (dot,) = re.findall(r"<circle [^>]*>", drawn)
    assert number(dot, "cx") == pytest.approx(DAY_LEFT_MM + 10.5 * HOUR_MM, abs=0.01)
    assert number(dot, "cy") == pytest.approx(HORIZON_MM - 48.44 / 90 * UP_MM, abs=0.02)
    (same,) = re.findall(r'<rect class="grey"[^>]*>', drawn)
    assert number(same, "x") == pytest.approx(DAY_LEFT_MM + (10 + 9 / 60) * HOUR_MM, abs=0.01)
    assert number(same, "width") == pytest.approx(42 / 60 * HOUR_MM, abs=0.02)
    assert "10:30" in says
    assert "ahead" not in drawn


def test_the_strip_tells_when_the_sun_stands_ahead_and_behind() -> None:
    """A lens that looks along 116.46° has the sun ahead at 10:30; along the opposite bearing, behind."""
    for bearing, word in ((116.46, "ahead"), (296.46, "behind")):
        drawn, _ = sun_strip(solve(SUN | {"sun.facing": f"{bearing} deg"}))
        dashes = [number(line, "x1") for line in re.findall(r'<line class="dash"[^>]*>', drawn)]
        assert min(abs(x - (DAY_LEFT_MM + 10.5 * HOUR_MM)) for x in dashes) < 0.1 * HOUR_MM
        assert len(dashes) == 2  # once ahead and once behind, both by day: 296° is passed in the evening
        assert f">{word}<" in drawn


def test_a_night_of_the_pole_has_no_dot_and_no_line_over_the_horizon() -> None:
    drawn, _ = sun_strip(solve(SUN | {"sun.latitude": "80 deg N", "sun.date": "2026-12-21"}))
    assert "<circle" not in drawn
    (path,) = re.findall(r'<polyline class="bold" points="([^"]*)"', drawn)
    assert all(float(place.split(",")[1]) > HORIZON_MM for place in path.split())


def test_only_a_shot_that_asks_for_the_sun_has_the_strip() -> None:
    assert "The day of the sun" in sheet_html(shot(SUN), solve(SUN))
    assert "The day of the sun" not in sheet_html(shot({}), solve({}))


def test_every_third_hour_is_named_under_the_strip() -> None:
    drawn, _ = sun_strip(solve(SUN))
    hours = re.findall(r'<text class="text" x="([\d.]+)"[^>]*>(\d\d)</text>', drawn)
    assert [name for _, name in hours] == ["00", "03", "06", "09", "12", "15", "18", "21", "24"]
    assert [float(x) for x, _ in hours] == pytest.approx(
        [DAY_LEFT_MM + int(name) * HOUR_MM for _, name in hours], abs=0.01
    )
