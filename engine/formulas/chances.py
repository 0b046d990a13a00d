"""How often chance alone does so much: the chi-squared and Student's distributions."""

import math

# Student's t, two-sided 95 %, for 1 to 10 degrees of freedom (NIST/SEMATECH e-Handbook, 1.3.6.7.2).
STUDENT_95 = (12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228)
NORMAL_95 = 1.959964


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


def student_68(freedom: int) -> float:
    """Student's t that holds what one standard deviation of a normal does (68.27 %), to 2 %; 1 without freedom."""
    return _expanded(1.0, freedom) if freedom > 0 else 1.0


def student_95(freedom: int) -> float:
    """Student's t, two-sided 95 %, for 1 or more degrees of freedom, to 0.001; tabled up to ten."""
    return STUDENT_95[freedom - 1] if freedom <= len(STUDENT_95) else _expanded(NORMAL_95, freedom)


def _expanded(z: float, freedom: int) -> float:
    """Student's t from the normal quantile z."""
    first, second = (z**3 + z) / 4, (5 * z**5 + 16 * z**3 + 3 * z) / 96
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
