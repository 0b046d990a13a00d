"""Which readings of a bench cannot be true with the rest.

A reading in pixels is doubted on two grounds alone. Either its sign was lost: counted the other way it falls in line
with the rest. Or it lies so far off the line of the rest that noise puts none of a set there once in two hundred
sets. Two readings a millimetre apart about the zero may well change places, and taking one out would only hide that.
"""

import math
from collections.abc import Sequence
from contextlib import suppress

from forescale.engine.formulas.bench_fit import SIGNS, BenchFit, Reading, bracket, fit
from forescale.engine.formulas.chances import student_tail
from forescale.engine.formulas.slip import Turn

FEWEST = 4  # with three readings each is as far off the line through the other two as any other
BY_CHANCE = 0.005  # of sets of pure noise, in which one lies too far off the line

# A sign counts as lost where the reading, turned over, lies MANY_ERRORS of a reading from no slip, its two places lie
# TURNED errors apart as the line can tell them (four readings tell less), and the slope is what the geometry foretells
# within a factor of two. Found by trials: under one set in a hundred of pure noise is accused, and a sign lost six
# errors from no slip is found in 99 of 100 sets of five.
MANY_ERRORS = 3.5
TURNED = 5.0
TURNED_OF_FOUR = 8.0
SLOPE_FACTOR = 2.0
MANY_STEPS = 4.0  # times a reading's noise from which on the eye sees which way a slip goes
FEW = 12  # readings that are each turned over and fitted anew
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
    """Return the one reading, if any, whose sign was lost: the one that, turned over, leaves least off the line."""
    fits = []
    for index in _likeliest(taken, found):
        reading = taken[index]
        over = [*taken[:index], reading._replace(slip_px=-(reading.slip_px or 0.0)), *taken[index + 1 :]]
        with suppress(ValueError):  # a slip that no place of the pupil gives
            fits.append((fit(over, turn, pixel_mm), index))
    turned, number = min(fits, key=lambda one: _squares(one[0]), default=(found, 0))
    if (best := _squares(turned)) >= _squares(found):
        return set()
    away = abs(taken[number].slip_px or 0.0) / max(turned.noise_px, math.sqrt(best / (len(taken) - 2)))
    free = math.sqrt(_free(taken)[number])
    foretold = (turned.slope_px_per_mm or 0.0) / turned.slope_predicted_px_per_mm
    apart = TURNED_OF_FOUR if len(taken) == FEWEST else TURNED
    lost = away > MANY_ERRORS and 2 * away * free > apart and 1 / SLOPE_FACTOR < foretold < SLOPE_FACTOR
    return {number} if lost else set()


def _likeliest(taken: Sequence[Reading], found: BenchFit) -> Sequence[int]:
    """Return which to turn over: all of a few; of many, those that, turned as if straight, leave least off the line."""
    if len(taken) <= FEW:
        return range(len(taken))
    gains = []
    for number, (off, free) in enumerate(zip(found.residuals, _free(taken), strict=True)):
        turn = -2 * (_foretold_px(taken[number], found) + off)
        gains.append((2 * turn * off + turn * turn * free, number))
    return sorted(number for _, number in sorted(gains)[:FEW])


def _foretold_px(reading: Reading, found: BenchFit) -> float:
    return (found.slope_px_per_mm or found.slope_predicted_px_per_mm) * (reading.slide_mm - found.slide_for_zero_mm)


def _too_far(taken: Sequence[Reading], found: BenchFit) -> set[int]:
    """Return the one reading, if any, that lies farther off the line through the others than noise puts it.

    The deleted residual over its error by the scatter of the others follows Student's t (Cook and Weisberg, Residuals
    and Influence in Regression, 1982, 2.2); the worst of n is tested at 1/n of the chance (Bonferroni).
    """
    freedom = len(taken) - 3
    misses = [abs(off) / math.sqrt(free) for off, free in zip(found.residuals, _free(taken), strict=True)]
    worst = max(range(len(taken)), key=misses.__getitem__)
    scatter = math.sqrt(max(_squares(found) - misses[worst] ** 2, 0.0) / freedom)
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
    slips = enumerate(_foretold_px(reading, found) for reading in readings)
    plain = {number: math.copysign(1, slip) for number, slip in slips if abs(slip) > MANY_STEPS * noise}
    return {number for number, way in plain.items() if SIGNS.get(readings[number].seen, way) != way}
