"""How fast to run the camera, the action and the move so that a model looks as heavy as the real thing."""

import math
from collections.abc import Sequence

LIGHT_GRAVITY = 0.85  # slower than real by more than this looks like slow motion (common practice, no source)
HEAVY_GRAVITY = 1.15  # quicker than real by more than this begins to look small (common practice, no source)
TOY_GRAVITY = 2.6  # reads as a toy (common practice, no source)
SERVED_GRAVITY = 1.05  # a rate on a list serves where gravity is no more (common practice, no source)
SCALED_KINDS = frozenset({"falling", "water", "smoke", "fire"})


def ideal_fps(scaled: bool, ratio: float, playback_fps: float, heft: float) -> float:
    """Return the frames a second that make the action weigh what it should: playback·√S·heft for what is `scaled`.

    That moves by its own weight (falling, water, smoke, fire), time shrinking by √S, `heft` a matter of taste; driven
    and still things take the playback rate. Source: Froude similarity; Transactions of the SMPE, May 1924.
    """
    return playback_fps * math.sqrt(ratio) * heft if scaled else playback_fps


def apparent_gravity(ratio: float, time_factor: float) -> float:
    """Return how strong gravity looks on the screen, S / k², k = fps / playback: 1 is right, 2.6 reads as a toy."""
    return ratio / time_factor**2


def weight_shown(gravity: float, heft: float) -> float:
    """Return how strong apparent gravity looks beside what is wanted, gravity · heft²: 1 is right, more looks small."""
    return gravity * heft**2


def largest_ratio(time_factor: float, heft: float) -> float:
    """Return the largest S that a time factor k = fps / playback serves at this heft: (k / heft)²."""
    return (time_factor / heft) ** 2


def lowest_rate_that_serves(rates: Sequence[float], ideal: float, gravity: float = 1.0) -> float:
    """Return the lowest of `rates` at which (ideal/rate)² is at most `gravity`; the highest where none serves."""
    enough = [rate for rate in rates if (ideal / rate) ** 2 <= gravity * (1 + 2e-9)]
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


def crossing_s(screen_time_s: float, share: float) -> float:
    """Return the screen time, s, in which a thing crosses the frame; `share` is how many moves it takes."""
    return screen_time_s * share


def judder_s(playback_fps: float) -> float:
    """Return the screen time, s, a crossing takes not to judder: 7 at 24 fps and 180° (common practice, no source)."""
    return 7.0 * 24.0 / playback_fps


def readout_skew_px(picture_px_s: float, readout_s: float) -> float:
    """Return how far the picture is carried, px, while a rolling shutter reads out: px a second of set time · s."""
    return picture_px_s * readout_s
