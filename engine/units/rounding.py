"""Rounding to the safe side: what may be off is shown as no more than it is, what is needed as no less."""

import math

_SLACK = 1e-9  # of a step: a value that a float misses by its last digit is still on the step


def rounded_up(value: float, digits: int = 2) -> float:
    """A positive number to so many significant digits that is no less; 0 and infinity stay."""
    step = _step(value, digits)
    return math.ceil(value / step - _SLACK) * step if step else value


def rounded_down(value: float, digits: int = 2) -> float:
    """A positive number to so many significant digits that is no more; 0 and infinity stay."""
    step = _step(value, digits)
    return math.floor(value / step + _SLACK) * step if step else value


def _step(value: float, digits: int) -> float:
    """What one counts for in the last of a number's digits; 0 where it has none."""
    if value == 0 or math.isinf(value):
        return 0.0
    return math.pow(10.0, math.floor(math.log10(value)) - digits + 1)
