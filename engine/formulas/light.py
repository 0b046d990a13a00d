"""Light: what the speed and the stop need; lamps, their fall and colour, a flame; lamps that pulse, and the camera.

Incident light in lux, distances in mm, losses and differences in stops, rates in Hz or frames a second, times in s,
angles in degrees. A pulsing lamp's light is taken as its mean and the first harmonic of its pulse, E·(1 + m·cos 2πPt):
m, the depth, is the harmonic over the mean, 0 (daylight) to 1. Symbols: P pulses a second (twice the mains' hertz for
lamps that follow it), T exposure, R readout, s share left of the pulse, a = m·s the swing over the mean.
"""

import math
from collections.abc import Iterable, Iterator
from typing import Literal, NamedTuple

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
UNKNOWN_DEPTH = 0.5  # taken where nothing is known of a lamp (common practice, no source)
SAFE_STOPS = 0.03  # less is not seen (common practice, no source)
BLACK_BANDS_FROM = 0.98  # swing over the mean from which the darkest row holds next to nothing
RATE_TOLERANCE = 1e-4  # a rate so far off a whole number of pulses walks through one in 80 s, longer than a take


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


def share_left(pulse_hz: float, exposure_s: float) -> float:
    """Return s = |sin(π·P·T)/(π·P·T)|, 0 to 1: what an exposure leaves of a pulse. Source: mean of a cosine."""
    turns = math.pi * pulse_hz * exposure_s
    return abs(math.sin(turns) / turns) if turns > 0 else 1.0


def mean_depth(lights: Iterable[tuple[float, float]]) -> float:
    """Return the depth of lights together, Σmᵢ·Eᵢ/ΣE of pairs of lux and depth, as if in step, the worst; 0 of none."""
    pairs = tuple(lights)
    lux = sum(light for light, _ in pairs)
    return sum(light * depth for light, depth in pairs) / lux if lux > 0 else 0.0


def swing_stops(swing: float) -> float:
    """Return log2((1 + a)/(1 − a)) stops between the brightest and the darkest row; infinite from a = 1, black, on."""
    return math.log2((1 + swing) / (1 - swing)) if swing < 1 else math.inf


def rows_stops(swing: float, pulse_hz: float, readout_s: float) -> float:
    """Return the stops between two rows at most, where every frame meets the pulse alike and rows are read in turn.

    Only phases P·R of a turn apart can then differ: with h = π·P·R up to a quarter of a turn, the worst window has
    a·sin h/√(1 − a²·cos²h) in the place of a. 0 for a global shutter (R = 0), all of it from P·R = ½ on. Source: the
    greatest ratio of 1 + a·cos φ over a window of phases, in closed form.
    """
    half = math.pi * min(pulse_hz * readout_s, 0.5)
    if swing >= 1:
        return math.inf if half > 0 else 0.0
    return swing_stops(swing * math.sin(half) / math.sqrt(1 - (swing * math.cos(half)) ** 2))


class Pulse(NamedTuple):
    """Light that pulses at `hz` with a `depth`, and how long the sensor reads out, 0 for all rows at once."""

    hz: float
    depth: float
    readout_s: float

    def stops(self, fps: float, exposure: float) -> float:
        """Return the stops between two rows at most, in a frame and from one to another. Source: first principles."""
        swing = self.depth * share_left(self.hz, exposure)
        return rows_stops(swing, self.hz, self.readout_s) if meets_alike(self.hz, fps) else swing_stops(swing)

    def is_safe(self, fps: float, shutter_deg: float) -> bool:
        """Return whether nobody sees the pulse: under 0.03 stops (common practice, no source)."""
        return self.stops(fps, exposure_s(shutter_deg, fps)) < SAFE_STOPS

    def safe_rates(self, low: float, high: float, shutter_deg: float) -> Iterator[float]:
        """Yield the safe rates from `low` to `high`: whole pulses a frame, where rows agree, or an exposure."""
        for step in (self.hz, self.hz * shutter_deg / 360):  # a pulse a frame, a pulse an exposure
            for count in range(max(math.ceil(step / high * (1 - RATE_TOLERANCE)), 1), math.floor(step / low) + 1):
                if self.is_safe(step / count, shutter_deg):
                    yield step / count

    def safe_fps(self, fps: float, shutter_deg: float) -> float:
        """Return the safe rate nearest to `fps`, the lower of equals; whole pulses an exposure always are one."""
        slowest = min(fps, self.hz * shutter_deg / 360) / 2
        found = self.safe_rates(slowest, max(2 * fps, 2 * self.hz), shutter_deg)
        return min(found, key=lambda rate: (abs(rate - fps), rate))


def meets_alike(pulse_hz: float, fps: float) -> bool:
    """Return whether every frame meets the pulses at the same phase: a whole number of them goes into one."""
    pulses = pulse_hz / fps
    return pulses > 0.5 and abs(pulses - round(pulses)) <= RATE_TOLERANCE * pulses


def safe_shutter_deg(fps: float, pulse_hz: float, shutter_deg: float) -> float | None:
    """Return the nearest angle that passes whole pulses, or None: 144° at 24 fps on 60 Hz (common practice)."""
    most = math.floor(pulse_hz / fps * (1 + RATE_TOLERANCE))
    if most < 1:
        return None
    pulse_deg = 360 * fps / pulse_hz
    pulses = min(max(1, math.ceil(shutter_deg / pulse_deg - 0.5)), most)
    return min(pulses * pulse_deg, 360.0)
