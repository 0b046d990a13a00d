"""What a ratio 1:S makes of a size, which ratios are customary, setting out what repeats, and what does not shrink."""

import math
from bisect import bisect_right

MM_PER_FOOT = 304.8

# Architect's scales, inches to the foot 3 to 1/16 (common practice, no source); ISO 5455:1979 preferred ratios
# 1:1 to 1:1000; NMRA and NEM modelling scales; figure and vehicle scales of the model trade (from memory).
_ARCHITECT = (4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192)
_ISO_5455 = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
_MODELLING = (3, 6, 9, 18, 25, 35, 43.5, 72, 76.2, MM_PER_FOOT / 3.5, 120, 144, 160, 220)
STANDARD_RATIOS: tuple[float, ...] = tuple(sorted({float(s) for s in (*_ARCHITECT, *_ISO_5455, *_MODELLING)}))
# Capillary length of water at 20 °C, √(σ / ρg) with σ = 0.0728 N/m (IAPWS R1-76), ρ = 998.2 kg/m³
CAPILLARY_MM = 1000 * math.sqrt(0.0728 / (998.2 * 9.80665))


def model_length_mm(real_mm: float, ratio: float) -> float:
    """Return the model's length for a real one: real / S, both in mm."""
    return real_mm / ratio


def real_length_mm(model_mm: float, ratio: float) -> float:
    """Return what a length on the model stands for at full size: model · S, both in mm."""
    return model_mm * ratio


def inches_per_foot(ratio: float) -> float:
    """Return how many inches on the model stand for a foot: 12 / S."""
    return 12.0 / ratio


def nearest_standard(ratio: float) -> float:
    """Return the customary ratio nearest to S, nearness taken as a proportion."""
    return min(STANDARD_RATIOS, key=lambda standard: abs(math.log(standard / ratio)))


def largest_standard(limit: float) -> float:
    """Return the largest customary S that does not pass `limit`; 1 where none is so small."""
    return STANDARD_RATIOS[max(bisect_right(STANDARD_RATIOS, limit * (1 + 1e-9)) - 1, 0)]


def running_mm(place: int, pitch_mm: float, ratio: float) -> float:
    """Return where the part of this place (0, 1, 2 …) begins on the model, from one datum: i·pitch/S, never summed."""
    return place * pitch_mm / ratio


def summed_error_mm(quantity: int, pitch_model_mm: float, cut_pitch_mm: float) -> float:
    """Return how far off the last of so many parts would stand, each set one rounded pitch from the last."""
    return (quantity - 1) * (cut_pitch_mm - pitch_model_mm)


def cutout_size_mm(real_mm: float, held_at_mm: float, distance_mm: float) -> float:
    """Return how large a card covers a real thing: size·distance/D, both from the eye at the lens; 0 at infinity."""
    return real_mm * held_at_mm / distance_mm


def drop_reads_as_mm(ratio: float) -> float:
    """Return how large the finest drop or crest of water reads at full size, in mm: the capillary length · S."""
    return CAPILLARY_MM * ratio


def heat_share(ratio: float) -> float:
    """Return the model fire's heat release over the real one's: S^-2.5 (Froude similarity of a plume)."""
    return math.pow(ratio, -2.5)


def exit_speed_share(ratio: float) -> float:
    """Return how fast a model's plume leaves its mouth over the real one: 1/√S, where it is as light against the air.

    By the densimetric Froude number v/√(g·Δρ/ρ·L) (Turner, Buoyancy Effects in Fluids, 1973, from memory).
    """
    return 1 / math.sqrt(ratio)
