"""Setting out what repeats: running dimensions from one datum, and what one rounded pitch would add up to."""

from __future__ import annotations


def running_mm(place: int, pitch_mm: float, ratio: float) -> float:
    """Return where the part of this place (0, 1, 2 …) begins on the model: i·pitch/S, never summed."""
    return place * pitch_mm / ratio


def summed_error_mm(quantity: int, pitch_model_mm: float, cut_pitch_mm: float) -> float:
    """Return how far off the last of so many parts would stand, each set one rounded pitch from the last."""
    return (quantity - 1) * (cut_pitch_mm - pitch_model_mm)


def cutout_size_mm(real_mm: float, held_at_mm: float, distance_mm: float) -> float:
    """Return how large a card covers a real thing: size · distance / D, both distances from the eye at the lens.

    Nothing covers a thing at infinity but by its angle: 0.
    """
    return real_mm * held_at_mm / distance_mm
