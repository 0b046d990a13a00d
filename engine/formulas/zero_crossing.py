"""Where a straight line through noisy readings crosses zero, and how well that is known."""

import math
from collections.abc import Sequence
from typing import NamedTuple

# Student's t, two-sided 95 %, for 1 to 10 degrees of freedom (NIST/SEMATECH e-Handbook, 1.3.6.7.2).
STUDENT_95 = (12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228)
NORMAL_95 = 1.959964
SAME_PLACE = 1e-6  # readings nearer to one another than a nanometre, in mm, tell no slope that a float could hold


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

    def noise_68(self, known: float) -> float:
        """Noise whose standard error holds the truth 68 times of 100: scatter by Student's t, or what is known."""
        return max(known, student_68(self.freedom) * self.scatter)

    def noise_95(self, known: float) -> float:
        """The same for a half-width that holds the truth 95 times of 100."""
        return max(NORMAL_95 * known, student_95(self.freedom) * self.scatter)

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
