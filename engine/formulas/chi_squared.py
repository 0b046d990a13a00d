"""How often chance alone makes a sum of squares so large."""

from __future__ import annotations

import math


def chance_above(value: float, freedom: int) -> float:
    """Return how often, 0 to 1, a sum of `freedom` squared standard normal errors exceeds `value`.

    The upper tail of the chi-squared distribution, which for a whole number of degrees of freedom has a closed form
    (Abramowitz and Stegun, 26.4.4 and 26.4.5). `freedom` is 0 or more: of no errors only 0 can come.
    """
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
