"""Light: what the speed and the stop need, filters, and lamps that pulse with the mains.

Illuminance is incident light in lux, times are in seconds, rates in frames a second, shutter angles in degrees.
"""

import math
from typing import Literal

LightState = Literal["short", "enough", "over"]
SHORT_STOPS = 1 / 3  # light short by less is within what a grade takes up (common practice, no source)
METER_CONSTANT = 250.0  # C of an incident-light meter with a flat receptor, ISO 2720; meters differ by 0.1 stop
LUX_PER_FOOTCANDLE = 1 / 0.3048**2  # a lumen on the square foot: 10.764 lx

# Film speeds as cameras have them, a third of a stop apart: the arithmetic scale of ISO 5800 (from memory).
SPEEDS = (
    6, 8, 10, 12, 16, 20, 25, 32, 40, 50, 64, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000, 1250, 1600,
    2000, 2500, 3200, 4000, 5000, 6400, 8000, 10000, 12800, 16000, 20000, 25600, 32000, 40000, 51200, 64000, 80000,
    102400,
)  # fmt: skip

# How far a whole number of pulses may be missed. In an exposure a thousandth changes the light by a
# thousandth, a seven-hundredth of a stop, which allows for an angle read to a tenth of a degree. A frame rate
# that misses walks through the pulse during the take: at a ten-thousandth once in 80 s, longer than a take.
_EXPOSURE_TOLERANCE = 1e-3
_RATE_TOLERANCE = 1e-4


def lux_needed(t_working: float, exposure_s: float, iso: float) -> float:
    """Return the incident light in lux for a normal exposure, E = C·T_w²/(t·ISO).

    `t_working` is the T-stop as it works at the focus, T·(1 + m); all three are positive.
    Source: incident-meter equation of ISO 2720 with C = 250.
    """
    return METER_CONSTANT * t_working**2 / (exposure_s * iso)


def footcandles(lux: float) -> float:
    """Return an illuminance in footcandles; 1 fc is 1 lm/ft², 10.764 lx."""
    return lux / LUX_PER_FOOTCANDLE


def over_stops(available_lux: float, needed_lux: float) -> float:
    """Return log2(available / needed) in stops: positive is too much light, negative too little.

    −inf where nothing is available; what is needed is positive.
    """
    return math.log2(available_lux / needed_lux) if available_lux > 0 else -math.inf


def nd_stops(over: float) -> int:
    """Return the neutral-density filter to use, in whole stops (0.3 density each), nearest to `over` stops.

    0 where there is no light to lose. Of two equally near the lighter, which keeps the shot over, not under.
    """
    return max(0, math.ceil(over - 0.5)) if over > 0 else 0


def light_state(over: float) -> LightState:
    """Return whether light is short, enough or too much at `over` stops: short by over a third, over from a filter on.

    Everything that speaks of the light goes by this, so that no two places call the same light by two names.
    """
    if over < -SHORT_STOPS:
        return "short"
    return "over" if nd_stops(over) else "enough"


def speed_to_set(iso: float) -> float:
    """Return the film speed to set where at least `iso` is needed: the next that cameras have, `iso` beyond them."""
    return next((float(speed) for speed in SPEEDS if speed >= iso * (1 - 1e-6)), iso)


def iso_needed(iso: float, available: float, needed: float) -> float:
    """Return the ISO speed at which the available light suffices, given what is needed at `iso`.

    Both lights in the same unit; infinite where none is available.
    """
    return iso * needed / available if available > 0 else math.inf


def exposure_s(shutter_deg: float, fps: float) -> float:
    """Return the time each frame is exposed, in seconds: angle / (360 · fps), the angle within (0, 360]."""
    return shutter_deg / (360 * fps)


def flicker_safe(fps: float, exposure_s: float, mains_hz: float) -> bool:
    """Return whether every frame gets the same light from lamps on the mains, which pulse at twice its frequency.

    True where the exposure is a whole number of pulses, to a thousandth of it (a seven-hundredth of a stop), or
    the rate divides twice the mains frequency, to a ten-thousandth (80 s to walk through one pulse).
    Holds for lamps that follow the mains; electronic ballasts and dimmers may differ. Source: common practice.
    """
    pulses_hz = 2 * mains_hz
    return _is_whole(pulses_hz * exposure_s, _EXPOSURE_TOLERANCE) or _is_whole(pulses_hz / fps, _RATE_TOLERANCE)


def safe_fps(fps: float, mains_hz: float) -> float:
    """Return the frame rate nearest to `fps` that divides 2M, safe at any shutter angle; the lower of equals.

    2M itself where `fps` is faster than the lamps pulse. Source: common practice, 120/n and 100/n.
    """
    pulses_hz = 2 * mains_hz
    divisor = max(1, math.floor(pulses_hz / fps))
    return min(pulses_hz / (divisor + 1), pulses_hz / divisor, key=lambda rate: abs(rate - fps))


def safe_shutter_deg(fps: float, mains_hz: float, shutter_deg: float) -> float | None:
    """Return the shutter angle in (0, 360] nearest to `shutter_deg` that passes a whole number of pulses at `fps`.

    The smaller of equals; None where a frame is too short for one pulse, so that only another rate can help.
    Source: common practice (144° at 24 fps on 60 Hz, 172.8° on 50 Hz).
    """
    pulses_hz = 2 * mains_hz
    most = math.floor(pulses_hz / fps * (1 + _RATE_TOLERANCE))
    if most < 1:
        return None
    pulse_deg = 360 * fps / pulses_hz
    pulses = min(max(1, math.ceil(shutter_deg / pulse_deg - 0.5)), most)
    return min(pulses * pulse_deg, 360.0)


def _is_whole(pulses: float, tolerance: float) -> bool:
    return pulses > 0 and abs(pulses - round(pulses)) <= tolerance * pulses
