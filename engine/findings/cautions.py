"""The usual cautions, where the work can hurt someone; each defers to local codes and licensed practice."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.solve.record import Answer, Finding, Pane
from forescale.engine.units import wind_text

DEFER = "follow local codes and the licensed person on set"
BRIGHT_LUX = 30_000  # light of daylight's order from lamps takes lamps of high power
NEAR_SUN_DEG = 30.0
SUNLIT_LUX = 10_000  # where that much is there already, lamps are not what gives it

_BY_KIND: dict[str, tuple[str, str]] = {
    "fire": (
        "caution-fire",
        "Fire: clear the ground, keep extinguishers and a fire watch by, and a way out open",
    ),
    "smoke": (
        "caution-smoke",
        "Smoke: keep the air moving, keep people out of the plume, warn whoever may see it",
    ),
    "falling": (
        "caution-falling",
        "Falling and collapsing things: mark the fall zone, clear it, one person calls the drop",
    ),
    "water": (
        "caution-water",
        "Water near power: keep it off lamps, cables and batteries, and feed them through a breaker",
    ),
    "driven": (
        "caution-driven",
        "Machinery and roads: keep hands and hair out of moving parts, and traffic off the track",
    ),
}


def caution_findings(answer: Answer) -> Iterator[Finding]:
    """Yield the cautions that this shot calls for."""
    for kind in answer.setting.action.kinds:
        if kind in _BY_KIND:
            yield _caution("speed", *_BY_KIND[kind])
    if "smoke" in answer.setting.action.kinds:
        yield _caution(
            "speed", "caution-fog", "Dry-ice fog is carbon dioxide: it lies where people kneel; air it, no pits"
        )
    if answer.stand is not None:
        yield _caution("scale", "caution-stand", _standing(answer))
    lens_height, hang = answer.setting.place.lens_height, answer.lineup.hang_height_mm
    if hang is not None and lens_height is not None and hang > 1800:
        yield _caution(
            "scale", "caution-overhead", "If anything hangs overhead: rated rigging, a second line, nobody under it"
        )
    if lens_height is not None and lens_height > 2000:
        yield _caution("scale", "caution-height", "The camera stands high: guard the platform, tie off what can fall")
    sun = answer.sun
    if sun is not None and sun.up and sun.nearest_to_axis_deg is not None and sun.nearest_to_axis_deg <= NEAR_SUN_DEG:
        yield _caution(
            "speed",
            "caution-sun",
            f"Sun within {sun.nearest_to_axis_deg:.0f}° of the lens axis: never look at it through the lens, "
            "which burns eyes, and as a burning glass shutter and sensor; cap it between takes",
        )
    lit = answer.light
    if lit.lamps or (lit.lux_needed > BRIGHT_LUX and (lit.available_lux is None or lit.available_lux < SUNLIT_LUX)):
        yield _caution(
            "speed",
            "caution-lamps",
            "Lamps of high power: heat, ultraviolet and heavy current near the model",
        )


def _standing(answer: Answer) -> str:
    """Return the caution on what may fall, with the wind to stop at where it is known."""
    text = "Wind and falling weight: hold the model by a second restraint, nobody under it or downwind"
    stops = None if answer.stand is None else answer.stand.stop_gust_mm_s
    if stops is None or math.isinf(stops):
        return text
    return f"{text}; stop and clear people at a gust of {wind_text(stops, answer.system)}"


def _caution(pane: Pane, code: str, text: str) -> Finding:
    return Finding(pane, "note", code, f"{text}; {DEFER}")
