"""A few unknown lengths from readings that depend on them, and where a straight line through readings crosses zero.

By least squares, with how well each is known and what the readings cannot tell. Readings of unknowns and what is
predicted of them are counted in the readings' own standard errors, unknowns in mm, so that the inverse of a singular
value is the standard error, in mm, along its direction (Golub and Van Loan, *Matrix Computations*, 5.5: the
rank-deficient least squares problem by SVD).
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    import numpy

Predict = Callable[[Sequence[float]], Sequence[float] | None]

SETTLED_MM = 0.01
NUDGE_MM = 0.1
ROUNDS = 25
HALVINGS = 8
BLIND = 0.1  # an unknown with more of its unit vector than this in directions left out is not told
HOLDS = 0.01  # readings hold together unless chance makes so large a misfit more rarely than this
# Student's t, two-sided 95 %, for 1 to 10 degrees of freedom (NIST/SEMATECH e-Handbook, 1.3.6.7.2).
STUDENT_95 = (12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228)
NORMAL_95 = 1.959964
SAME_PLACE = 1e-6  # readings nearer to one another than a nanometre, in mm, tell no slope that a float could hold


@dataclass(frozen=True, slots=True)
class Fit:
    """The unknowns found and their standard errors, both in mm, None where the readings cannot tell one."""

    values: tuple[float | None, ...]
    errors: tuple[float | None, ...]
    held: tuple[float, ...]  # the unknowns as they were fitted, in every case
    residuals: tuple[float, ...]  # read less predicted, in standard errors
    freedom: int  # readings beyond what was found
    pull: Any = field(repr=False, compare=False)  # the kept left singular vectors: how each reading pulls at the fit

    @property
    def misfit(self) -> float:
        """The sum of the squared residuals."""
        return sum(one * one for one in self.residuals)

    @property
    def holds(self) -> bool:
        """Whether errors of reading alone explain what is left, 99 times of 100."""
        return self.freedom == 0 or chance_above(self.misfit, self.freedom) >= HOLDS


def fit(predict: Predict, readings: Sequence[float], unknowns: int, largest_error_mm: float) -> Fit | None:
    """Return the unknowns, near 0, that predict the readings best; None where no such place is found.

    `predict` returns one number a reading, or None where nothing can be predicted from such unknowns. A direction
    in which the error would pass `largest_error_mm` is left out: the unknowns stay 0 along it.
    """
    import numpy as np

    wanted = np.asarray(readings)

    def slopes(at: "numpy.ndarray") -> "numpy.ndarray | None":
        """Return how each prediction changes with each unknown, a column an unknown, by central differences."""
        ends = [(predict(list(at + shift)), predict(list(at - shift))) for shift in NUDGE_MM * np.eye(unknowns)]
        if any(on is None or back is None for on, back in ends):
            return None
        return np.column_stack([(np.asarray(on) - back) / (2 * NUDGE_MM) for on, back in ends])

    at, told = np.zeros(unknowns), predict([0.0] * unknowns)
    for _ in range(ROUNDS):
        tangent = None if told is None else slopes(at)
        if told is None or tangent is None:
            return None
        left, sizes, right = np.linalg.svd(tangent, full_matrices=False)
        kept = sizes * largest_error_mm > 1
        left, sizes, right = left[:, kept], sizes[kept], right[kept]
        wrong = wanted - told
        step = right.T @ ((left.T @ wrong) / sizes)
        if float(np.linalg.norm(step)) < SETTLED_MM:
            dropped = np.sqrt(np.clip(1 - (right**2).sum(axis=0), 0, None))
            errors = np.sqrt(((right / sizes[:, None]) ** 2).sum(axis=0))
            told_apart = [bool(share <= BLIND) for share in dropped]
            values, known = (
                tuple(float(one) if tells else None for one, tells in zip(of, told_apart, strict=True))
                for of in (at, errors)
            )
            return Fit(values, known, tuple(map(float, at)), tuple(map(float, wrong)), len(wrong) - len(sizes), left)
        for _ in range(HALVINGS):  # a step that leads where the misfit grows is halved
            told = predict(list(at + step))
            if told is not None and np.linalg.norm(wanted - told) <= np.linalg.norm(wrong) * (1 + 1e-9):
                break
            step = step / 2
        else:
            told = predict(list(at + step))
        at = at + step
    return None


def doubtful(found: Fit, rows_each: int, least: int) -> tuple[int, ...]:
    """Return the readings (from 0, each of so many rows) that the others gainsay, where there are `least` or more.

    One is doubtful where, foretold from the rest, it lies outside the ellipse that holds 1 − 0.01/n of such readings,
    while the rest holds together at 99 %. Leaving out is worked from the fit to all (Cook and Weisberg, *Residuals and
    Influence in Regression*, 1982, 2.2), which is exact where predictions are straight lines.
    """
    count = len(found.residuals) // rows_each
    if count < least:
        return ()
    import numpy as np

    named = []
    for place in range(count):
        rows = slice(place * rows_each, (place + 1) * rows_each)
        own, pull = np.asarray(found.residuals[rows]), found.pull[rows]
        free = np.eye(rows_each) - pull @ pull.T
        if float(np.linalg.det(free)) < 1e-9:  # nothing else tells what this one does
            continue
        outside = float(own @ np.linalg.solve(free, own))
        rest = chance_above(found.misfit - outside, found.freedom - rows_each)
        if chance_above(outside, rows_each) < HOLDS / count and rest >= HOLDS:
            named.append(place)
    return tuple(named)


def chance_above(value: float, freedom: int) -> float:
    """Return how often `freedom` squared normal errors sum to more than `value` (Abramowitz and Stegun, 26.4.4-5)."""
    if value <= 0:
        return 1.0
    if freedom == 0:
        return 0.0
    half, odd = value / 2, freedom % 2
    term = math.sqrt(half / math.pi) * 2 if odd else 1.0
    total, power = (0.0, 1.5) if odd else (1.0, 1.0)
    for _ in range((freedom - 1) // 2):
        if odd:
            total, term = total + term, term * half / power
        else:
            term *= half / power
            total += term
        power += 1
    return (math.erfc(math.sqrt(half)) if odd else 0.0) + math.exp(-half) * total


class CannotBe(ValueError):
    """Numbers that have no answer: what is `wrong`, and what would be `right`, in words that may stand alone."""

    def __init__(self, wrong: str, right: str = "") -> None:
        self.wrong, self.right = wrong, right
        super().__init__(f"{wrong}; {right}" if right else wrong)


class FittedLine(NamedTuple):
    """A straight line, and how firmly its readings hold it."""

    slope: float
    zero: float
    middle: float  # the mean x
    spread: float  # the sum of squares of x about it
    residuals: tuple[float, ...]  # reading minus line

    @property
    def freedom(self) -> int:
        """Readings beyond the two that any line goes through."""
        return len(self.residuals) - 2

    @property
    def scatter(self) -> float:
        """Standard deviation of a reading about the line; 0 where too few readings show it."""
        squares = sum(residual**2 for residual in self.residuals)
        return math.sqrt(squares / self.freedom) if self.freedom > 0 else 0.0

    def zero_error(self, noise: float) -> float:
        """Error of the zero for readings off by `noise`, by the delta method; too small for an uncertain slope."""
        leverage = 1 / len(self.residuals) + (self.zero - self.middle) ** 2 / self.spread
        return noise / abs(self.slope) * math.sqrt(leverage)

    def slope_error(self, noise: float) -> float:
        """Error of the slope for readings off by `noise`."""
        return noise / math.sqrt(self.spread)


def fitted_line(x: Sequence[float], y: Sequence[float]) -> FittedLine:
    """Least squares of y against x, for two or more places; ValueError where they give no zero."""
    if max(x) - min(x) < SAME_PLACE:
        raise CannotBe("all readings stand at one place of the slide", "read at two or more places")
    middle, height = sum(x) / len(x), sum(y) / len(y)
    spread = sum((at - middle) ** 2 for at in x)
    slope = sum((at - middle) * (value - height) for at, value in zip(x, y, strict=True)) / spread
    if slope == 0:
        raise CannotBe("the slips do not change along the slide", "read at places farther apart")
    residuals = tuple(value - height - slope * (at - middle) for at, value in zip(x, y, strict=True))
    return FittedLine(slope, middle - height / slope, middle, spread, residuals)


def line_through(x: float, y: float, slope: float) -> FittedLine:
    """The line of a known slope through one reading."""
    return FittedLine(slope, x - y / slope, x, 0.0, (0.0,))


def student_68(freedom: int) -> float:
    """Student's t that holds what one standard deviation of a normal does (68.27 %), to 2 %; 1 without freedom."""
    return _expanded(1.0, freedom) if freedom > 0 else 1.0


def student_95(freedom: int) -> float:
    """Student's t, two-sided 95 %, for 1 or more degrees of freedom, to 0.001; tabled up to ten."""
    return STUDENT_95[freedom - 1] if freedom <= len(STUDENT_95) else _expanded(NORMAL_95, freedom)


def _expanded(z: float, freedom: int) -> float:
    """Student's t from the normal quantile z."""
    first = (z**3 + z) / 4
    second = (5 * z**5 + 16 * z**3 + 3 * z) / 96
    third = (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384
    return z + first / freedom + second / freedom**2 + third / freedom**3


def student_tail(t: float, freedom: int) -> float:
    """Return the chance that |t| of Student's distribution is greater (Abramowitz and Stegun, 26.7.3 and 26.7.4)."""
    angle = math.atan(t / math.sqrt(freedom))
    term, total, cos = 1.0, 0.0, math.cos(angle)
    for step in range(2 + freedom % 2, freedom + 1, 2):
        total += term
        term *= (step - 1) / step * cos**2
    if freedom % 2 == 0:
        return 1 - math.sin(angle) * total
    return 1 - 2 / math.pi * (angle + math.sin(angle) * cos * total)
