"""A distance axis in equal steps of the logarithm, with its far end for all that lies beyond."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from forescale.engine.units import UnitSystem, length_text

END_COLUMNS = 5  # a break mark with a blank of line to either side, and the end itself
ROOM = 1.1  # how far the axis goes past its first and last mark
FOOT_MM, MILE_MM = 304.8, 1_609_344.0


@dataclass(frozen=True, slots=True)
class LogAxis:
    """Columns `left` to `right` for values `low` to `high`; with `endless` the last column is for any beyond."""

    low: float
    high: float
    left: int
    right: int
    endless: bool = False

    @property
    def last(self) -> int:
        """The column of `high`, the largest value that is to scale."""
        return self.right - END_COLUMNS if self.endless else self.right

    @property
    def break_column(self) -> int:
        """Where the break mark starts on an endless axis."""
        return self.right - END_COLUMNS + 2

    def column(self, value: float) -> int:
        """Return the column of a value; one past the scale at either end gets the column of that end."""
        if value > self.high:
            return self.right
        share = math.log(max(value, self.low) / self.low) / math.log(self.high / self.low)
        return self.left + round(share * (self.last - self.left))

    def value(self, column: int) -> float:
        """Return the value in the middle of a column; infinity in the last of an endless axis."""
        if self.endless and column > self.last:
            return math.inf
        share = (column - self.left) / max(self.last - self.left, 1)
        return self.low * math.pow(self.high / self.low, share)


def distance_axis(needed_mm: Iterable[float], also_mm: Iterable[float], left: int, right: int) -> LogAxis:
    """Return an axis on which every finite one of `needed_mm` is to scale, and of `also_mm` those not far from them.

    One of `needed_mm` at least is positive and finite.
    """
    needed, also = list(needed_mm), list(also_mm)
    finite = [mm for mm in needed if 0 < mm < math.inf]
    finite += [mm for mm in also if min(finite) / 4 <= mm <= max(finite) * 4]
    low, high = min(finite) / ROOM, max(finite) * ROOM
    return LogAxis(low, high, left, right, endless=max(*needed, *also) > high)


def round_distances(axis: LogAxis, system: UnitSystem) -> list[tuple[int, str]]:
    """Return the columns and texts of the round distances on an axis: 1, 2 and 5 times powers of ten.

    In metres, or in feet from one foot on and in miles from one mile on.
    """
    if system == "metric":
        steps = _round_numbers(axis.low, axis.high)
    else:
        feet = _round_numbers(max(axis.low / FOOT_MM, 1), min(axis.high, MILE_MM) / FOOT_MM)
        miles = _round_numbers(max(axis.low / MILE_MM, 1), axis.high / MILE_MM)
        steps = [FOOT_MM * number for number in feet] + [MILE_MM * number for number in miles]
    return [(axis.column(mm), length_text(mm, system)) for mm in steps]


def _round_numbers(low: float, high: float) -> list[float]:
    """Return 1, 2 and 5 times powers of ten from `low` to `high`, none where they lie the other way round."""
    if low > high:
        return []
    powers = range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)
    numbers = [leading * 10.0**power for power in powers for leading in (1, 2, 5)]
    return [number for number in numbers if low <= number <= high]
