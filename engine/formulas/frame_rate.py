"""How fast to run the camera, the action and the move so that a model looks as heavy as the real thing."""

from __future__ import annotations

import math
from collections.abc import Sequence

LIGHT_GRAVITY = 0.85  # slower than real by more than this looks like slow motion (common practice, no source)
HEAVY_GRAVITY = 1.15  # quicker than real by more than this begins to look small (common practice, no source)
TOY_GRAVITY = 2.6  # reads as a toy (common practice, no source)
SCALED_KINDS = frozenset({"falling", "water", "smoke", "fire"})


def ideal_fps(kind: str, ratio: float, playback_fps: float, heft: float) -> float:
    """Return the frame rate that makes the action weigh what it should, frames a second.

    Falling, water, smoke and fire follow Froude's law, time shrinking by the root of S, times `heft`, a matter of
    taste; driven and still things take the playback rate. Source: Froude similarity; Transactions of the SMPE,
    May 1924.
    """
    return playback_fps * math.sqrt(ratio) * heft if kind in SCALED_KINDS else playback_fps


def apparent_gravity(ratio: float, time_factor: float) -> float:
    """Return how strong gravity looks on the screen, S / k²: 1 is right, 2.6 reads as a toy."""
    return ratio / time_factor**2


def largest_ratio(time_factor: float, heft: float) -> float:
    """Return the largest S that a time factor k = fps / playback serves at this heft: (k / heft)²."""
    return (time_factor / heft) ** 2


def lowest_rate_at_or_above(rates: Sequence[float], ideal: float) -> float:
    """Return the lowest of `rates` at or above the ideal, or the highest where all are below; frames a second."""
    enough = [rate for rate in rates if rate >= ideal * (1 - 1e-9)]
    return min(enough) if enough else max(rates)


def whole_rate_between(low: float, high: float, ideal: float) -> float:
    """Return the lowest whole rate at or above the ideal that lies from `low` to `high`, frames a second."""
    return min(max(float(math.ceil(ideal * (1 - 1e-9))), low), high)


def set_time_s(screen_time_s: float, time_factor: float) -> float:
    """Return how long a thing lasts on set for its time on the screen: screen time / k, in s."""
    return screen_time_s / time_factor


def model_speed_mm_s(real_speed_mm_s: float, ratio: float, time_factor: float) -> float:
    """Return how fast a driven model must go: real speed · k / S, in mm/s."""
    return real_speed_mm_s * time_factor / ratio


def crossing_s(screen_time_s: float, field_deg: float, sweep_deg: float) -> float:
    """Return the screen time in which a thing crosses the frame in a move, in s; infinite without a sweep.

    Under about seven seconds a move judders at 24 fps and 180° (common practice, no source).
    """
    return screen_time_s * field_deg / sweep_deg if sweep_deg > 0 else math.inf


def readout_skew_px(turn_deg_s: float, readout_s: float, image_mm: float, pixel_mm: float) -> float:
    """Return how far a turn carries the picture while a rolling shutter reads out, in pixels at the frame's middle.

    v·ω·t / p, with the turn in degrees a second of set time, the readout in s, lengths in mm.
    """
    return image_mm * math.radians(turn_deg_s) * readout_s / pixel_mm
