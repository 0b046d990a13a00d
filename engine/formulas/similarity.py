"""What does not shrink with the model: water's skin, a flame's heat. Advice, with its sources."""

from __future__ import annotations

import math

# Capillary length of water at 20 °C, √(σ / ρg) with σ = 0.0728 N/m (IAPWS R1-76), ρ = 998.2 kg/m³
CAPILLARY_MM = 1000 * math.sqrt(0.0728 / (998.2 * 9.80665))


def drop_reads_as_mm(ratio: float) -> float:
    """Return how large the finest drop or crest of water reads at full size, in mm: the capillary length · S."""
    return CAPILLARY_MM * ratio


def heat_share(ratio: float) -> float:
    """Return the model fire's heat release over the real one's: S^-2.5 (Froude similarity of a plume)."""
    return math.pow(ratio, -2.5)


def exit_speed_share(ratio: float) -> float:
    """Return how fast a model's plume leaves its mouth over the real one: 1/√S, where it is as light against the air.

    That keeps the densimetric Froude number v/√(g·Δρ/ρ·L), by which two plumes rise alike (Turner, Buoyancy Effects in
    Fluids, 1973, from memory).
    """
    return 1 / math.sqrt(ratio)
