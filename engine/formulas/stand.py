"""Whether a model stands, in wind too, and what a copy has of strength: first estimates for a licensed person to check.

Lengths in mm, speeds in mm/s, weights as masses in kg, areas in m², forces in N.
"""

import math

from forescale.engine.formulas.timing import GRAVITY_MM_S2

GRAVITY_M_S2 = GRAVITY_MM_S2 / 1000
AIR_KG_M3 = 1.25  # EN 1991-1-4, 4.5 (from memory)
BOARD = 1.8  # force coefficient of a board, EN 1991-1-4, 7.4.3 (from memory)
GUST_OVER_MEAN = 1.7  # the strongest 3 s gust over a mean reading, near the ground over open land (from memory)
SAFETY = 1.5  # what holds must be so many times what pushes (common practice, no source)
FRICTION = 0.4  # of a foot on dry ground, unless it was measured (common practice, no source)


def strength_factor(ratio: float, specific_strength: float = 1.0) -> float:
    """Return how many times too strong a copy at 1:S is against its own weight (Galileo, Two New Sciences, 1638).

    `specific_strength` is strength over density of the model's material, over that of the real one.
    """
    return ratio * specific_strength


def crack_factor(ratio: float, specific_strength: float = 1.0) -> float:
    """Return the same where a crack that is copied with the rest decides: S^1.5, as it shrinks too (Griffith 1921)."""
    return float(ratio**1.5) * specific_strength


def weight_kg(wide_mm: float, deep_mm: float, tall_mm: float, density_kg_m3: float, solid: float = 1.0) -> float:
    """Return the weight of a block; `solid` is the share of its volume that is material, 0 to 1."""
    return wide_mm * deep_mm * tall_mm * 1e-9 * density_kg_m3 * solid


def real_weight_kg(model_kg: float, ratio: float) -> float:
    """Return what a model of the same material stands for: its weight times S³."""
    return model_kg * ratio**3


def wind_force_n(gust_mm_s: float, area_m2: float) -> float:
    """Return the wind's push on a board across it: 1.8·½·1.25·v²·A, v the strongest 3 s gust (EN 1991-1-4, 7.4.3)."""
    return BOARD * 0.5 * AIR_KG_M3 * (gust_mm_s / 1000) ** 2 * area_m2


def gust_mm_s(force_n: float, area_m2: float) -> float:
    """Return the gust that pushes so hard: the inverse of `wind_force_n`; infinite for an infinite force."""
    return 1000 * math.sqrt(force_n / (BOARD * 0.5 * AIR_KG_M3 * area_m2))


def tipping_force_n(held_kg: float, lee_mm: float, push_height_mm: float) -> float:
    """Return the push that tips it, a margin of 1.5 kept: W·b/(1.5·z); infinite where it pushes at the foot.

    b is level from the centre of gravity to the lee edge of the foot, z the middle of the area above that edge.
    """
    return math.inf if push_height_mm == 0 else held_kg * GRAVITY_M_S2 * lee_mm / (SAFETY * push_height_mm)


def swing_deg(force_n: float, weight_kg: float) -> float:
    """Return how far off plumb a push holds a weight that hangs by one line: atan(F/W). Source: statics."""
    return math.degrees(math.atan2(force_n, weight_kg * GRAVITY_M_S2))


def sliding_force_n(held_kg: float, friction: float = FRICTION) -> float:
    """Return the push that slides it, a margin of 1.5 kept: μ·W/1.5."""
    return friction * held_kg * GRAVITY_M_S2 / SAFETY


def held_kg_needed(force_n: float, lee_mm: float, push_height_mm: float, friction: float = FRICTION) -> float:
    """Return the weight of model and ballast that neither tips nor slides; infinite where the foot has no depth."""
    tipping = math.inf if lee_mm == 0 else SAFETY * force_n * push_height_mm / lee_mm
    return max(tipping, SAFETY * force_n / friction) / GRAVITY_M_S2


def sway_mm(moves_mm: float, pull_n: float, force_n: float) -> float:
    """Return how far the top sways in a steady wind, ½·moves·F/pull, from how far it went when pulled with `pull_n`.

    The wind takes hold at half the height; a sudden gust doubles it (S. Timoshenko, Vibration Problems in Engineering,
    1928, from memory).
    """
    return 0.5 * moves_mm * force_n / pull_n


def reads_as_wind_mm_s(wind_on_set_mm_s: float, ratio: float, time_factor: float) -> float:
    """Return what wind at full size the wind on the set looks like on the screen: v·S/k, at the ideal rate v·√S."""
    return wind_on_set_mm_s * ratio / time_factor
