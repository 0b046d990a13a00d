"""The circle of confusion that test strips have in common, with its band, and the strips that contradict.

Each limit is the true c times e^ε, ε normal with a spread that is fitted; that it lies between the last sharp and the
first soft marker is all that is known of it. The focus error is common to a strip. Blur in mm on the sensor.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from forescale.engine.formulas.strip import Limits, Strip, bounds_mm
from forescale.engine.formulas.zero_crossing import student_95

SPREAD = 0.05  # of a limit judged by eye, as a share of c (common practice, no source)
FEW = 3  # with fewer strips that is taken, and no spread is fitted
CHI_SQUARED_95, CHI_SQUARED_99 = 3.841459, 6.634897  # one degree of freedom
_KNOWN_TO = 0.5  # how well the spread is known before strips tell, in its logarithm
_SPREADS = (0.02, 0.03, 0.04, SPREAD, 0.07, 0.1, 0.14, 0.2)
_REACH, _STEPS = 0.5, 60  # of ln c to either side of a first guess, and steps over it
_FOCUS_SPAN = 3.5  # standard errors of the focus to either side that are summed over
_NOTHING = -700.0  # the logarithm of no likelihood
Curve = list[float]


class StripFit(NamedTuple):
    """The common c with its 95 % band, the spread that goes with it, and the places of strips that contradict."""

    coc_mm: float
    low_mm: float
    high_mm: float
    spread: float
    contradicting: tuple[int, ...]


def fit(strips: Sequence[Strip]) -> StripFit:
    """Return the circle of confusion that the strips have in common; ValueError where none is bounded on both sides.

    Where one c agrees with every limit it is the middle of those that do, else the most likely. The band is where the
    profile likelihood falls by half of χ² at 95 %, or by Student's t where the spread had to be fitted, near what is
    usual; the focus errors are summed over. Source: maximum likelihood with interval censoring.
    """
    least, greatest = bounds_mm(strips)
    if least is None or greatest is None:
        raise ValueError("a marker that looks sharp and one that does not are needed, on either side of a focus")
    guess = math.log(max(least, 1e-5) * max(greatest, 1e-5)) / 2
    grid = [guess + _REACH * (2 * step / _STEPS - 1) for step in range(_STEPS + 1)]
    spreads = (SPREAD,) if len(strips) < FEW else _SPREADS
    curves = [[[_log_likelihood(strip, x, spread) for x in grid] for spread in spreads] for strip in strips]
    levels = _levels(curves, spreads)
    profile = [max(column) for column in zip(*levels, strict=True)]
    top = profile.index(max(profile))
    agreed = math.sqrt(least * greatest) if 0 < least <= greatest else None
    value = math.exp(_peak(grid, profile, top)) if agreed is None else agreed
    fall = CHI_SQUARED_95 / 2 if len(strips) < FEW else _fall(strips)
    low, high = (math.exp(_edge(grid, profile, top, step, fall)) for step in (-1, 1))
    spread = spreads[max(range(len(spreads)), key=lambda level: max(levels[level]))]
    return StripFit(value, min(low, value), max(high, value), spread, tuple(_contradicting(curves, spreads)))


def _levels(curves: Sequence[Sequence[Curve]], spreads: Sequence[float]) -> list[Curve]:
    """Return the log likelihood of all strips over the grid, for each spread less what makes it unusual."""
    return [
        [sum(column) - _unusual(spread) for column in zip(*(curve[level] for curve in curves), strict=True)]
        for level, spread in enumerate(spreads)
    ]


def _unusual(spread: float) -> float:
    return (math.log(spread / SPREAD) / _KNOWN_TO) ** 2 / 2


def _log_likelihood(strip: Strip, log_coc: float, spread: float) -> float:
    """Return the log likelihood of a strip's limits, summed over its focus error."""
    step = min(0.5, 0.7 * spread * math.exp(log_coc) / strip.focus_blur_mm)
    count = math.ceil(_FOCUS_SPAN / step)
    total = 0.0
    for number in range(-count, count + 1):
        off = number * step
        shift = off * strip.focus_blur_mm
        near = _share(strip.near, -shift, log_coc, spread)
        if near:
            total += near * _share(strip.far, shift, log_coc, spread) * math.exp(-off * off / 2)
    return math.log(total * step) if total * step > 0 else _NOTHING


def _share(limits: Limits, shift_mm: float, log_coc: float, spread: float) -> float:
    """Return the probability that a limit judged by eye falls between its two markers; 1 without markers."""
    low, high = limits
    if low is None and high is None:
        return 1.0
    return _below(high, shift_mm, log_coc, spread, 1.0) - _below(low, shift_mm, log_coc, spread, 0.0)


def _below(limit_mm: float | None, shift_mm: float, log_coc: float, spread: float, without: float) -> float:
    if limit_mm is None:
        return without
    blur = limit_mm + shift_mm
    return 0.5 * math.erfc((log_coc - math.log(blur)) / (spread * math.sqrt(2))) if blur > 0 else 0.0


def _peak(grid: Sequence[float], profile: Sequence[float], top: int) -> float:
    """Return where a parabola through the highest point and its neighbours is highest."""
    if not 0 < top < len(grid) - 1:
        return grid[top]
    before, at, after = profile[top - 1 : top + 2]
    bend = before - 2 * at + after
    return grid[top] + (grid[1] - grid[0]) * ((before - after) / (2 * bend) if bend < 0 else 0.0)


def _fall(strips: Sequence[Strip]) -> float:
    """Return how far the profile falls at the band's edge, where so many limits had to tell the spread as well.

    (n + 1)/2·ln(1 + t²/n), what the profile of a mean falls by at Student's t with n degrees of freedom: one from each
    limit, and as many again from what is known of the spread.
    """
    freedom = 2 * sum(side != (None, None) for strip in strips for side in (strip.near, strip.far))
    return (freedom + 1) / 2 * math.log1p(student_95(freedom) ** 2 / freedom)


def _edge(grid: Sequence[float], profile: Sequence[float], top: int, step: int, fall: float) -> float:
    """Return where the profile has fallen so far, going up or down; the grid's end where it has not."""
    wanted, place = profile[top] - fall, top
    while 0 <= place + step < len(grid):
        here, there = profile[place], profile[place + step]
        if there < wanted:
            return grid[place] + (grid[place + step] - grid[place]) * (here - wanted) / (here - there)
        place += step
    return grid[place]


def _contradicting(curves: Sequence[Sequence[Curve]], spreads: Sequence[float]) -> Iterator[int]:
    """Yield the strips whose own c and that of all others are farther apart than noise puts one in a hundred.

    With the usual spread, or the others' own where that is larger; of two strips that contradict both are named.
    """
    for place, curve in enumerate(curves):
        others = [other for number, other in enumerate(curves) if number != place]
        if not others:
            return
        levels = _levels(others, spreads)
        best = max(range(len(spreads)), key=lambda level: max(levels[level]))
        level = max(best, spreads.index(SPREAD))
        theirs, own = levels[level], curve[level]
        together = max(one + other for one, other in zip(theirs, own, strict=True))
        if 2 * (max(theirs) + max(own) - together) > CHI_SQUARED_99:
            yield place
