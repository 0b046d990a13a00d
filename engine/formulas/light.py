"""Light: what the speed and the stop need of it; what lamps give, their fall and colour; a flame.

Incident light in lux, distances in mm, losses and differences in stops, times in s, angles in degrees.
"""

import math
from typing import Literal

LightState = Literal["short", "nearly", "enough", "over"]
SHORT_STOPS = 1 / 3  # light short by less is within what a grade takes up (common practice, no source)
ENOUGH_STOPS = 0.1  # light short by no more is enough: no meter tells it (common practice, no source)
METER_CONSTANT = 250.0  # C of an incident-light meter with a flat receptor, ISO 2720; meters differ by 0.1 stop
LUX_PER_FOOTCANDLE = 1 / 0.3048**2  # a lumen on the square foot: 10.764 lx

# Film speeds as cameras have them, a third of a stop apart: the arithmetic scale of ISO 5800 (from memory).
ISO_STEPS = (
    6, 8, 10, 12, 16, 20, 25, 32, 40, 50, 64, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000, 1250, 1600,
    2000, 2500, 3200, 4000, 5000, 6400, 8000, 10000, 12800, 16000, 20000, 25600, 32000, 40000, 51200, 64000, 80000,
    102400,
)  # fmt: skip
POINT_FROM_SIZES = 5  # from so many sizes of a lamp on it follows the inverse square to 1 % (a disc: 1/(1 + 1/100))
SUN_WIDTH_SHARE = 1 / 108  # of its distance: what the sun's disc spans, 0.53°
FLAME_PER_M = 0.7  # absorption of a luminous flame, κ, in 1/m (NUREG-1805's kβ for gasoline-like fuels, from memory)
MIREDS_SEEN = 10  # a shift of colour that is seen (common practice, no source)
STOPS_SEEN = 1 / 3  # a difference of light that is seen across a join (common practice, no source)


def lux_needed(t_working: float, exposure_s: float, iso: float) -> float:
    """Return the incident lux for a normal exposure, C·T_w²/(t·ISO), T_w the working T-stop. Source: ISO 2720."""
    return METER_CONSTANT * t_working**2 / (exposure_s * iso)


def lux_with_nd(needed_lux: float, nd_stops: float) -> float:
    """Return the light in lux that must fall where a filter of so many stops takes its part: needed · 2^nd."""
    return needed_lux * 2**nd_stops


def footcandles(lux: float) -> float:
    """Return an illuminance in footcandles; 1 fc is 1 lm/ft², 10.764 lx."""
    return lux / LUX_PER_FOOTCANDLE


def over_stops(available_lux: float, needed_lux: float) -> float:
    """Return log2(available / needed) in stops, + too much, −inf where nothing is available; needed is above 0."""
    return math.log2(available_lux / needed_lux) if available_lux > 0 else -math.inf


def nd_stops(over: float) -> int:
    """Return the ND to fit in whole stops, so that the picture is a tenth short at most: floor(over + 0.1)."""
    return max(0, math.floor(over + ENOUGH_STOPS + 1e-9)) if over > 0 else 0


def light_state(over: float) -> LightState:
    """Return whether light is short (by over a third), nearly enough, enough (to a tenth), or too much by a filter."""
    if over < -ENOUGH_STOPS:
        return "short" if over < -SHORT_STOPS else "nearly"
    return "over" if nd_stops(over) else "enough"


def speed_to_set(iso: float) -> float:
    """Return the film speed to set where at least `iso` is needed: the next that cameras have, `iso` beyond them."""
    return next((float(speed) for speed in ISO_STEPS if speed >= iso * (1 - 1e-6)), iso)


def iso_needed(iso: float, available: float, needed: float) -> float:
    """Return the ISO at which the available light suffices, given what is needed at `iso`; infinite without any."""
    return iso * needed / available if available > 0 else math.inf


def exposure_s(shutter_deg: float, fps: float) -> float:
    """Return the time each frame is exposed, in seconds: angle / (360 · fps), the angle within (0, 360]."""
    return shutter_deg / (360 * fps)


def lux_at(gives_lux: float, at_mm: float, stands_mm: float, number: int = 1, loss_stops: float = 0.0) -> float:
    """Return number·gives·2^−loss·(at/stands)² lux, from five sizes of the lamp on. Source: inverse square law."""
    return number * gives_lux * 2**-loss_stops * (at_mm / stands_mm) ** 2


def stands_for_mm(wanted_lux: float, gives_lux: float, at_mm: float, number: int = 1, loss_stops: float = 0.0) -> float:
    """Return where such lamps give the light wanted, at·√(number·gives·2^−loss/wanted); `wanted_lux` is above 0."""
    return at_mm * math.sqrt(number * gives_lux * 2**-loss_stops / wanted_lux)


def fall_stops(near_mm: float, far_mm: float) -> float:
    """Return by how many stops a lamp's light falls from one distance to a farther one, 2·log2(far/near)."""
    return 2 * math.log2(far_mm / near_mm)


def shift_mired(from_kelvin: float, to_kelvin: float) -> float:
    """Return the shift 10⁶/to − 10⁶/from in mireds that turns one colour temperature into another; + is warmer."""
    return 1e6 / to_kelvin - 1e6 / from_kelvin


def flame_share(width_mm: float) -> float:
    """Return the share of its full luminance that a luminous flame of that depth has, 1 − e^(−κ·w), 0 to 1."""
    return -math.expm1(-FLAME_PER_M * width_mm / 1000)
