"""A scale rule: full size at the shot's ratio along one edge, true inches or millimetres along the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from forescale.engine.sheet.drawing.ink import Ink
from forescale.engine.units import UnitSystem, length_text
from forescale.engine.units.lengths import INCH_MM

LONG_MM: dict[UnitSystem, float] = {"imperial": 8.5 * INCH_MM, "metric": 220.0}
RULE_MM = 46.0  # how wide the strip is
FINEST_MM, WORD_MM = 0.9, 9.0  # the least between two ticks, between two words
_INCHES = (1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 3, 6, 12, 60, 120, 600, 1200, 6000, 12000, 60000, 120000)
_STEPS: dict[UnitSystem, tuple[float, ...]] = {
    "imperial": tuple(step * INCH_MM for step in _INCHES),
    "metric": (1, 5, 10, 50, 100, 500, 1000, 5000, 10_000, 50_000, 100_000, 500_000, 1_000_000, 5_000_000),
}


def draw_rule(ink: Ink, left: float, top: float, ratio: float, system: UnitSystem) -> None:
    """Draw a rule downwards from its upper left corner, zero at its foot."""
    long = LONG_MM[system]
    ink.box(left, top, RULE_MM, long, "line")
    for at, words in _ticks(long, ratio, system):
        _tick(ink, left, top + long - at, 1, words)
    for at, words in _ticks(long, 1.0, system):
        _tick(ink, left + RULE_MM, top + long - at, -1, words)


def _tick(ink: Ink, x: float, y: float, inward: int, words: str) -> None:
    ink.line(x, y, x + inward * (3.5 if words else 1.8), y, "tick")
    if words:
        ink.text(x + inward * 4.2, y + 1.2, words, anchor="start" if inward > 0 else "end")


def _ticks(long_mm: float, ratio: float, system: UnitSystem) -> Iterator[tuple[float, str]]:
    """Yield the places of the ticks in true mm, and what stands at those that have words."""
    steps = _STEPS[system]
    fine = _first(steps, FINEST_MM * ratio)
    word = _first([step for step in steps if step >= fine], WORD_MM * ratio)
    every = round(word / fine)
    for number in range(int(long_mm * ratio / fine + 1e-6) + 1):
        real = number * fine
        worded = number % every == 0 and number > 0 and real / ratio <= long_mm - 3
        yield real / ratio, length_text(real, system) if worded else ""


def _first(steps: Sequence[float], least: float) -> float:
    """Return the first step that is no less, the last where none is."""
    return next((step for step in steps if step >= least), steps[-1])
