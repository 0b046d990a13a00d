"""Which readings of a bench cannot be true with the rest.

A reading in pixels is doubted on two grounds alone. Either its sign was lost: counted the other way it falls in line
with the rest. Or it lies so far off the line of the rest that noise puts none of a set there once in two hundred
sets. Two readings a millimetre apart about the zero may well change places, and taking one out would only hide that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from forescale.engine.formulas.bench_fit import BenchFit, Reading, bracket, fit
from forescale.engine.formulas.slip import Turn
from forescale.engine.formulas.zero_crossing import student_tail

FEWEST = 4  # with three readings each is as far off the line through the other two as any other
BY_CHANCE = 0.005  # of sets of pure noise, in which one lies too far off the line

# A sign counts as lost where the reading, turned over, lies MANY_ERRORS of a reading from no slip, its two places lie
# TURNED errors apart as the line can tell them (four readings tell less), and the slope is what the geometry foretells
# within a factor of two. Found by trials: under one set in a hundred of pure noise is accused, and a sign lost six
# errors from no slip is found in 99 of 100 sets of five.
MANY_ERRORS = 3.5
TURNED, TURNED_OF_FOUR = 5.0, 8.0
SLOPE_FACTOR = 2.0
MANY_STEPS = 4.0  # times a reading's noise from which on the eye sees which way a slip goes
NUMBERS = 3  # so many readings in pixels make a line that readings by eye are held against


def contradicting(readings: Sequence[Reading], found: BenchFit, turn: Turn, pixel_mm: float) -> tuple[int, ...]:
    """Return the indices of readings that contradict the rest; `found` is the fit of those in pixels over `turn`."""
    measured = [number for number, reading in enumerate(readings) if reading.slip_px is not None]
    taken = [readings[number] for number in measured]
    doubted = set()
    if len(taken) >= FEWEST:
        doubted = _lost_sign(taken, found, turn, pixel_mm) or _too_far(taken, found)
    by_eye = set(range(len(readings))) - set(measured)
    wrong = _against_line(readings, found) if len(taken) >= NUMBERS else set(bracket(readings).contradicting)
    return tuple(sorted({measured[number] for number in doubted} | (by_eye & wrong)))


def _lost_sign(taken: Sequence[Reading], found: BenchFit, turn: Turn, pixel_mm: float) -> set[int]:
    """Return the one reading, if any, whose sign was lost: the one that, turned over, leaves least off the line.

    A reading y that lies r off the line and is turned over adds 4·y²·(1 − h) − 4·y·r to the squares.
    """
    free, slope = _free(taken), found.slope_px_per_mm or 0.0
    slips = [slope * (one.slide_mm - found.slide_for_zero_mm) for one in taken]
    slips = [slip + off for slip, off in zip(slips, found.residuals, strict=True)]
    added = [4 * y * (y * loose - off) for y, loose, off in zip(slips, free, found.residuals, strict=True)]
    number = min(range(len(taken)), key=added.__getitem__)
    if added[number] >= 0:
        return set()
    over = [*taken[:number], replace(taken[number], slip_px=-(taken[number].slip_px or 0.0)), *taken[number + 1 :]]
    try:
        turned = fit(over, turn, pixel_mm)
    except ValueError:  # a slip that no place of the pupil gives
        return set()
    error = max(turned.noise_px, math.sqrt(_squares(turned) / (len(taken) - 2)))
    away = abs(taken[number].slip_px or 0.0) / error
    foretold = (turned.slope_px_per_mm or 0.0) / turned.slope_predicted_px_per_mm
    apart = TURNED_OF_FOUR if len(taken) == FEWEST else TURNED
    lost = away > MANY_ERRORS and 2 * away * math.sqrt(free[number]) > apart
    return {number} if lost and 1 / SLOPE_FACTOR < foretold < SLOPE_FACTOR else set()


def _too_far(taken: Sequence[Reading], found: BenchFit) -> set[int]:
    """Return the one reading, if any, that lies farther off the line through the others than noise puts it.

    The deleted residual over its error by the scatter of the others follows Student's t (Cook and Weisberg, Residuals
    and Influence in Regression, 1982, 2.2); the worst of n is tested at 1/n of the chance (Bonferroni).
    """
    squares, freedom = _squares(found), len(taken) - 3
    misses = [abs(off) / math.sqrt(free) for off, free in zip(found.residuals, _free(taken), strict=True)]
    worst = max(range(len(taken)), key=misses.__getitem__)
    scatter = math.sqrt(max(squares - misses[worst] ** 2, 0.0) / freedom)
    by_chance = len(taken) * student_tail(misses[worst] / max(scatter, found.noise_px), freedom)
    return {worst} if by_chance < BY_CHANCE else set()


def _squares(found: BenchFit) -> float:
    return sum(residual**2 for residual in found.residuals)


def _free(taken: Sequence[Reading]) -> list[float]:
    """Return for each reading 1 − h, h its leverage: the share of its error that the line leaves to be seen."""
    slides = [reading.slide_mm for reading in taken]
    middle = sum(slides) / len(slides)
    spread = sum((slide - middle) ** 2 for slide in slides)
    return [max(1 - 1 / len(slides) - (slide - middle) ** 2 / spread, 1e-9) for slide in slides]


def _against_line(readings: Sequence[Reading], found: BenchFit) -> set[int]:
    """Return the readings by eye that saw another way than the line says that the slip plainly goes."""
    noise = max(found.noise_px, math.sqrt(_squares(found) / max(found.readings - 2, 1)))
    slope = found.slope_px_per_mm or found.slope_predicted_px_per_mm
    wrong = set()
    for number, reading in enumerate(readings):
        slip = slope * (reading.slide_mm - found.slide_for_zero_mm)
        plain = 0 if abs(slip) <= MANY_STEPS * noise else math.copysign(1, slip)
        seen = {"outruns": 1, "lags": -1, "locked": 0, None: plain}[reading.seen]
        if plain and seen != plain:
            wrong.add(number)
    return wrong
