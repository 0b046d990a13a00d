"""Test strips for one's own sharpness: markers at known distances, photographed at a focus and a stop.

The last marker that still looks sharp tells that the circle of confusion is at least so large, the first that does not
that it is at most so large. `fit` finds the one that strips have in common: each limit is the true c times e^ε, ε
normal with a spread that is fitted; that it lies between the two markers is all that is known of it. The focus error
is common to a strip. Distances in mm from the entrance pupil, blur in mm on the sensor.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from forescale.engine.formulas.chances import student_95
from forescale.engine.formulas.contrast import AIRY_FACTOR, WAVELENGTH_MM
from forescale.engine.formulas.focus import far_limit_mm, near_limit_mm

FOCUS_ERROR = 0.01  # of a focus mark, as a share of its distance (common practice, no source)
Bounds = tuple[float | None, float | None]
SPREAD = 0.05  # of a limit judged by eye, as a share of c (common practice, no source)
FEW = 3  # with fewer strips that is taken, and no spread is fitted
CHI_SQUARED_95, CHI_SQUARED_99 = 3.841459, 6.634897  # one degree of freedom
_KNOWN_TO = 0.5  # how well the spread is known before strips tell, in its logarithm
_SPREADS = (0.02, 0.03, 0.04, SPREAD, 0.07, 0.1, 0.14, 0.2)
_REACH, _STEP = 0.5, 1 / 60  # of ln c: how far beyond what the limits say is looked, and how finely
_FOCUS_SPAN = 3.5  # standard errors of the focus to either side that are summed over
_NOTHING = -700.0  # the logarithm of no likelihood
Curve = list[float]


@dataclass(frozen=True)
class Strip:
    """One strip: how it was photographed, and its markers, None where there is none on that side."""

    focal_mm: float
    focus_mm: float
    f_number: float  # exact
    sharp_near_mm: float | None = None  # the last that looks sharp
    soft_near_mm: float | None = None  # the first that does not
    sharp_far_mm: float | None = None
    soft_far_mm: float | None = None
    pupil_magnification: float = 1.0

    @cached_property
    def _blur_per_nearness(self) -> float:
        """Blur in mm for each 1/mm off the focus: f²·s/(N·(s − f/P))."""
        front = self.focal_mm / self.pupil_magnification
        return self.focal_mm**2 / (self.f_number * (1 - front / self.focus_mm))

    def blur_mm(self, marker_mm: float | None) -> float | None:
        """Return f²·|s − n|/(N·n·(s − f/P)), the blur of a marker; None for none. Source: exact paraxial lens."""
        return None if marker_mm is None else self._blur_per_nearness * abs(1 / marker_mm - 1 / self.focus_mm)

    @cached_property
    def near(self) -> Bounds:
        """The least and the greatest c by the near side, None where nothing bounds it."""
        return self.blur_mm(self.sharp_near_mm), self.blur_mm(self.soft_near_mm)

    @cached_property
    def far(self) -> Bounds:
        """The least and the greatest c by the far side."""
        return self.blur_mm(self.sharp_far_mm), self.blur_mm(self.soft_far_mm)

    @cached_property
    def focus_blur_mm(self) -> float:
        """What a standard error of the focus mark moves the limits by, those of one side up, of the other down."""
        return self._blur_per_nearness * FOCUS_ERROR / self.focus_mm

    def shows(self, coc_mm: float) -> tuple[float, float]:
        """Return the near and far limits of sharpness that a circle of confusion would give on this strip."""
        lens = (self.focus_mm, self.focal_mm, self.f_number, coc_mm, self.pupil_magnification)
        return near_limit_mm(*lens), far_limit_mm(*lens)


def bounds_mm(strips: Sequence[Strip]) -> Bounds:
    """Return the least and greatest c that all limits allow, None for no bound; crossed where they disagree."""
    sides = [side for strip in strips for side in (strip.near, strip.far)]
    least = max((low for low, _ in sides if low is not None), default=None)
    return least, min((high for _, high in sides if high is not None), default=None)


def diffraction_stop(coc_mm: float) -> float:
    """Return the f-number c/(2.44·λ) past which a strip measures diffraction: the Airy disk is as large as c."""
    return coc_mm / (AIRY_FACTOR * WAVELENGTH_MM)


class StripFit(NamedTuple):
    """The common c with its 95 % band, the spread that goes with it, and the places of strips that contradict."""

    coc_mm: float
    low_mm: float
    high_mm: float
    spread: float
    contradicting: tuple[int, ...]


def fit(strips: Sequence[Strip]) -> StripFit:
    """Return the circle of confusion that the strips have in common.

    The middle of those that agree with every limit, else the most likely. The band is where the profile likelihood
    falls by half of χ² at 95 %, or by Student's t where the spread was fitted, near what is usual; the focus errors are
    summed over. Raises ValueError where none is bounded on both sides, or no c at all agrees with one strip's limits.
    Source: maximum likelihood with interval censoring.
    """
    least, greatest = bounds_mm(strips)
    if least is None or greatest is None:
        raise ValueError("a marker that looks sharp and one that does not are needed, on either side of a focus")
    few, ends = len(strips) < FEW, (math.log(max(least, 1e-5)), math.log(max(greatest, 1e-5)))
    reach = math.ceil((_REACH + abs(ends[1] - ends[0]) / 2) / _STEP)
    grid = [sum(ends) / 2 + _STEP * step for step in range(-reach, reach + 1)]
    spreads = (SPREAD,) if few else _SPREADS
    curves = [[[_log_likelihood(strip, x, spread) for x in grid] for spread in spreads] for strip in strips]
    for number, by_spread in enumerate(curves, start=1):
        if max(map(max, by_spread)) == _NOTHING:
            raise ValueError(f"the limits of strip {number} contradict each other: look at its markers again")
    levels = _levels(curves, spreads)
    profile = [max(column) for column in zip(*levels, strict=True)]
    top, value = profile.index(max(profile)), math.sqrt(least * greatest)
    if not 0 < least <= greatest:  # where a parabola through the highest and its neighbours peaks; none lies at an end
        before, at, after = profile[top - 1 : top + 2]
        bend = before - 2 * at + after
        value = math.exp(grid[top] + (grid[1] - grid[0]) * ((before - after) / (2 * bend) if bend < 0 else 0.0))
    fall = CHI_SQUARED_95 / 2 if few else _fall(strips)
    low, high = (math.exp(_edge(grid, profile, top, step, fall)) for step in (-1, 1))
    spread = spreads[max(range(len(spreads)), key=lambda level: max(levels[level]))]
    return StripFit(value, min(low, value), max(high, value), spread, tuple(_contradicting(curves, spreads)))


def _levels(curves: Sequence[Sequence[Curve]], spreads: Sequence[float]) -> list[Curve]:
    """Return the log likelihood of all strips over the grid, for each spread less what makes it unusual."""
    unusual = [(math.log(spread / SPREAD) / _KNOWN_TO) ** 2 / 2 for spread in spreads]
    return [
        [sum(column) - less for column in zip(*(curve[level] for curve in curves), strict=True)]
        for level, less in enumerate(unusual)
    ]


def _log_likelihood(strip: Strip, log_coc: float, spread: float) -> float:
    step = min(0.5, 0.7 * spread * math.exp(log_coc) / strip.focus_blur_mm)
    count, total = math.ceil(_FOCUS_SPAN / step), 0.0
    for off in (number * step for number in range(-count, count + 1)):
        shift = off * strip.focus_blur_mm
        near = _share(strip.near, -shift, log_coc, spread)
        if near:
            total += near * _share(strip.far, shift, log_coc, spread) * math.exp(-off * off / 2)
    return math.log(total * step) if total * step > 0 else _NOTHING


def _share(limits: Bounds, shift_mm: float, log_coc: float, spread: float) -> float:
    """Return the probability that a limit judged by eye falls between its two markers; 1 without markers."""

    def below(limit_mm: float | None, without: float) -> float:
        if limit_mm is None:
            return without
        blur = limit_mm + shift_mm
        return 0.5 * math.erfc((log_coc - math.log(blur)) / (spread * math.sqrt(2))) if blur > 0 else 0.0

    low, high = limits
    return 1.0 if low is None and high is None else below(high, 1.0) - below(low, 0.0)


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


def _contradicting(curves: Sequence[Sequence[Curve]], spreads: Sequence[float]) -> list[int]:
    """Return the strips whose own c and that of the others lie farther apart than noise puts one in a hundred."""
    left = list(range(len(curves)))
    while len(left) > 1:
        worst, apart = max(((place, _apart(place, left, curves, spreads)) for place in left), key=lambda one: one[1])
        if apart <= CHI_SQUARED_99:
            break
        left = [place for place in left if place != worst] if len(left) > 2 else []
    return [place for place in range(len(curves)) if place not in left]


def _apart(place: int, left: Sequence[int], curves: Sequence[Sequence[Curve]], spreads: Sequence[float]) -> float:
    """Return twice what the likelihood of a strip and that of the others lose where they have one c in common."""
    levels = _levels([curves[other] for other in left if other != place], spreads)
    best = max(range(len(spreads)), key=lambda level: max(levels[level]))
    level = max(best, spreads.index(SPREAD))
    theirs, own = levels[level], curves[place][level]
    return 2 * (max(theirs) + max(own) - max(one + other for one, other in zip(theirs, own, strict=True)))
