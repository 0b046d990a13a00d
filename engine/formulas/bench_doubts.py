"""Which readings of a bench cannot be true with the rest.

A reading in pixels is doubted only where it lies farther off the line than noise would put it: two readings a
millimetre apart about the zero may well change places, and taking one out would only hide that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from forescale.engine.formulas.bench_fit import BenchFit, Reading, bracket
from forescale.engine.formulas.zero_crossing import student_95

MANY_STEPS = 4.0  # times the noise that the step alone gives a reading
MANY_SCATTERS = 1.5  # times Student's 95 % of the scatter of the other readings
FEWEST = 4  # with three readings each is as far off the line through the other two as any other


def contradicting(readings: Sequence[Reading], fit: BenchFit) -> tuple[int, ...]:
    """Return the indices of readings that contradict the rest; `fit` is of those in pixels.

    Of those, the one that is far off the line through the others; where none stands out so, all whose sign is wrong.
    """
    measured = [number for number, reading in enumerate(readings) if reading.slip_px is not None]
    wrong_side = set(bracket(readings).contradicting)
    far_off = {measured[number] for number in _far_off(readings, fit)}
    astray = {measured[number] for number in _astray(readings, fit)}
    return tuple(sorted(wrong_side - set(measured) | (astray or wrong_side & far_off)))


def _far_off(readings: Sequence[Reading], fit: BenchFit) -> set[int]:
    """Return which readings in pixels lie off the line by more than the step that they were read to explains."""
    misses = enumerate(_misses(readings, fit))
    return {number for number, (miss, _) in misses if miss > MANY_STEPS * fit.noise_px}


def _astray(readings: Sequence[Reading], fit: BenchFit) -> set[int]:
    """Return the one reading in pixels, if any, that is far off the line that the others make."""
    misses = _misses(readings, fit)
    if len(misses) < FEWEST:
        return set()
    worst = max(range(len(misses)), key=lambda number: misses[number][0])
    miss, scatter = misses[worst]
    allowed = MANY_SCATTERS * student_95(len(misses) - 3) * scatter
    return {worst} if worst in _far_off(readings, fit) and miss > allowed else set()


def _misses(readings: Sequence[Reading], fit: BenchFit) -> list[tuple[float, float]]:
    """Return for each reading in pixels how far off the line it lies and the scatter of the others about theirs.

    The miss is made as large as it would be at the middle of the readings, where the line bends least towards it:
    residual/√(1 − h), h the reading's leverage. What is left of the squares without it is exact (Cook and Weisberg,
    *Residuals and Influence in Regression*, 1982, from memory).
    """
    slides = [reading.slide_mm for reading in readings if reading.slip_px is not None]
    count, middle = len(slides), sum(slides) / len(slides)
    spread = sum((slide - middle) ** 2 for slide in slides)
    if count < 3 or spread == 0:
        return [(0.0, 0.0)] * count
    squares = sum(residual**2 for residual in fit.residuals)
    found = []
    for slide, residual in zip(slides, fit.residuals, strict=True):
        free = 1 - 1 / count - (slide - middle) ** 2 / spread
        miss = abs(residual) / math.sqrt(free) if free > 1e-9 else 0.0
        left = max(squares - miss**2, 0.0)
        found.append((miss, math.sqrt(left / (count - 3)) if count > 3 else 0.0))
    return found
