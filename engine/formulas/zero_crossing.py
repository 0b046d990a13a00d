"""Where a straight line through readings, by least squares, crosses zero, and how firmly they hold it."""

import math
from collections.abc import Sequence
from typing import NamedTuple

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
        return math.sqrt(sum(one**2 for one in self.residuals) / self.freedom) if self.freedom > 0 else 0.0

    def zero_error(self, noise: float) -> float:
        """Error of the zero for readings off by `noise`, by the delta method; too small for an uncertain slope."""
        leverage = 1 / len(self.residuals) + (self.zero - self.middle) ** 2 / self.spread
        return noise / abs(self.slope) * math.sqrt(leverage)

    def slope_error(self, noise: float) -> float:
        """Error of the slope for readings off by `noise`."""
        return noise / math.sqrt(self.spread)


def fitted_line(x: Sequence[float], y: Sequence[float]) -> FittedLine:
    """Return the line of least squares of y against x, for two or more places; CannotBe where they give no zero."""
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
    """Return the line of a known slope, not 0, through one reading; nothing is known of its error."""
    return FittedLine(slope, x - y / slope, x, 0.0, (0.0,))
