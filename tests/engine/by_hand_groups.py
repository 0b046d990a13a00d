"""The groups of the answer by hand, from `by_hand`: scale, line-up, speed, light, focus, contrast and survey."""

from __future__ import annotations

import math
from functools import cached_property

import numpy as np
from by_hand import Sighted
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.spatial.transform import Rotation

WAVELENGTH = 550e-6


class Worked(Sighted):
    """Every number of the answer to what is given, but for slip and bench."""

    def scale(self) -> dict[str, float | None]:
        given, detail = self.g, self.p * self.d / self.v
        other = given.compare
        scaled = 1.0 if given.kind in {"still", "driven"} or other is None else math.sqrt(other) * given.heft
        return {
            "ratio": self.ratio,
            "inches_per_foot": 12 / self.ratio,
            "detail_model_mm": detail,
            "detail_real_mm": detail * self.ratio,
            "finest_model_mm": self.finest(),
            "finest_real_mm": self.finest() * self.ratio,
            "compare_ratio": other,
            "compare_match_distance_mm": None if other is None else self.D / other + self.ahead,
            "compare_ideal_fps": None if other is None else given.playback * scaled,
        }

    def lineup(self) -> dict[str, float | None]:
        given, d, passing = self.g, self.d, self.g.passing * self.p * self.g.squeeze
        lens = given.lens_height
        height = lambda real, of: None if None in (lens, real) else lens + (real - lens) * of  # noqa: E731
        wide, high = self.cover()
        return {
            "model_mm": d + self.ahead,
            "background_mm": given.background,
            "match_distance_mm": self.D / self.ratio + self.ahead,
            "reads_as_ratio": self.D / d,
            "size_error": self.D / d / self.ratio,
            "seems_mm": given.background,
            "hang_height_mm": height(given.feature_height, d / self.D),
            "scaled_height_mm": height(given.feature_height, 1 / self.ratio),
            "foot_height_mm": height(0.0, d / self.D),
            "scaled_foot_height_mm": height(0.0, 1 / self.ratio),
            "frame_width_model_mm": self.w * d / self.v,
            "frame_height_model_mm": given.height * d / self.v,
            "cover_width_mm": wide,
            "cover_height_mm": high,
            "drift_tolerance_mm": math.inf if d == self.D else passing / (self.v * (1 / d - 1 / self.D)),
            "place_tolerance_mm": passing * d / (self.w / 2),
        }

    def cover(self) -> tuple[float, float]:
        """What the corners of the frame meet on the model's plane, turned by SciPy, at a hundred places of the move."""
        given, met = self.g, []
        axis = {"pan": "y", "tilt": "x", "tilt down": "x"}.get(given.axis, "y")
        way = -1 if given.axis == "tilt" else 1
        for turned in np.linspace(0, given.sweep if given.axis != "none" else 0, 100):
            turn = Rotation.from_euler(axis, way * turned, degrees=True)
            for x in (-self.w / 2, self.w / 2):
                for y in (-given.height / 2, given.height / 2):
                    aside, up, away = turn.apply([x, y, self.v])
                    met.append((aside / away * self.d, up / away * self.d))
        asides, heights = zip(*met, strict=True)
        return max(asides) - min(asides), max(heights) - min(heights)

    # Speed and light

    @cached_property
    def ideal(self) -> float:
        still = self.g.kind in {"still", "driven"}
        return self.g.playback * (1.0 if still else math.sqrt(self.ratio) * self.g.heft)

    @cached_property
    def fps(self) -> float:
        given = self.g
        if given.fps is not None:
            return given.fps
        if given.whole_rates:
            return min(max(math.ceil(self.ideal - 1e-9), min(given.rates)), max(given.rates))
        return min((rate for rate in given.rates if rate >= self.ideal - 1e-9), default=max(given.rates))

    @cached_property
    def k(self) -> float:
        return self.fps / self.g.playback

    def speed(self) -> dict[str, float | None]:
        given, k, frames = self.g, self.k, self.g.screen_time * self.g.playback
        moves = given.axis != "none" and given.sweep > 0
        screen = given.move_time or given.screen_time
        field_deg = 2 * math.degrees(math.atan((self.w if given.axis == "pan" else given.height) / 2 / self.v))
        return {
            "time_factor": k,
            "ideal_fps": self.ideal,
            "fps": self.fps,
            "top_fps": max(given.rates),
            "apparent_gravity": self.ratio / k**2,
            "gravity_as_read": None if math.isinf(self.D) else self.D / self.d / k**2,
            "largest_ratio": (max(given.rates) / given.playback / given.heft) ** 2,
            "screen_time_s": given.screen_time,
            "set_time_s": given.screen_time / k,
            "frames": frames,
            "exposure_s": given.shutter / 360 / self.fps,
            "model_speed_mm_s": None if given.real_speed is None else given.real_speed * k / self.ratio,
            "move_set_time_s": screen / k if moves else None,
            "crossing_s": screen * field_deg / given.sweep if moves else None,
            "readout_skew_px": self.skew(screen / k) if moves and given.readout else None,
            "data_mb": None if given.data_rate is None else frames * given.data_rate / max(given.rates),
        }

    def skew(self, set_time: float) -> float:
        return self.v * math.radians(self.g.sweep) / set_time * self.g.readout / self.along()

    def light(self) -> dict[str, float | bool | None]:
        given = self.g
        t_working = self.N * 2 ** (given.loss / 2) * (1 + self.m)
        lux = 250 * t_working**2 / (given.shutter / 360 / self.fps * given.iso)
        over = None if given.available is None else math.log2(given.available / lux)
        return {
            "iso": given.iso,
            "t_stop_working": t_working,
            "lux_needed": lux,
            "footcandles_needed": lux * 0.3048**2,
            "lux_with_nd": lux,
            "available_lux": given.available,
            "over_stops": over,
            "nd_stops": None if over is None else max(0, math.floor(over + 0.1)),
            "nd_fitted": None,
            "iso_needed": None if given.available is None else given.iso * lux / given.available,
            "at_background_lux": None,
            "background_stops": None,
            "shift_mired": None,
            "pulse_depth": 0.5,
            "mains_hz": given.mains,
        } | self.lamps()

    def lamps(self) -> dict[str, float | bool | None]:
        given = self.g
        if given.mains is None:
            return dict.fromkeys(("flicker_safe", "flicker_stops", "safe_fps", "safe_shutter_deg"))
        pulses = 2 * given.mains
        whole = [n * 360 * self.fps / pulses for n in range(1, 5000) if n * self.fps / pulses <= 1 + 1e-9]
        rates = [rate / n for n in range(1, 2000) for rate in (pulses, pulses * given.shutter / 360)]
        nearest_first = sorted(rates, key=lambda rate: abs(rate - self.fps))
        ripple = self.ripple(self.fps)
        return {
            "flicker_safe": ripple < 0.03,
            "flicker_stops": ripple,
            "safe_fps": next(rate for rate in nearest_first if self.ripple(rate) < 0.03),
            "safe_shutter_deg": min(whole, key=lambda angle: abs(angle - given.shutter), default=None),
        }

    def ripple(self, fps: float) -> float:
        """The stops between the lightest and the darkest row: 1 + a·cos over the phases that rows can have."""
        pulses, turns = 2 * self.g.mains, 2 * self.g.mains * self.g.shutter / 360 / fps
        swing = 0.5 * abs(np.sinc(turns))
        alike = abs(pulses / fps - round(pulses / fps)) < 1e-9 and pulses > fps / 2
        apart = min(pulses * (self.g.readout or 0.0), 0.5) if alike else 0.5
        first = np.linspace(0, 1, 20_001)
        rows = [1 + swing * np.cos(2 * math.pi * phase) for phase in (first, first + apart)]
        return float(np.abs(np.log2(rows[1] / rows[0])).max())

    # Focus and contrast

    def focus(self) -> dict[str, float | bool | None]:
        f, s, N, c, a = self.g.focal, self.s, self.N, self.c, self.ahead
        lens, reach = f**2 / s, N * c * (1 - f / s)  # over s, to hold at infinity
        no_stop = self.stop_needed > self.g.lens_stops[-1] * (1 + 1e-9)
        return {
            "coc_mm": c,
            "focal_length_mm": f,
            "f_number": N,
            "stop_mark": N * 2 ** (self.g.loss / 2) if self.g.marks == "T" else N,
            "near_needed_mm": self.n + a,
            "far_needed_mm": self.F + a,
            "focus_mm": s + a,
            "stop_needed": self.stop_needed,
            "near_mm": f**2 / (lens + reach) + a,
            "far_mm": f**2 / (lens - reach) + a if lens > reach else math.inf,
            "hyperfocal_mm": f**2 / (N * c) + f + a,
            "covers": self.stop_needed * (1 - 1e-9) <= self.N,
            "airy_mm": 2 * 3.8317059702075125 / math.pi * WAVELENGTH * N * (1 + self.m),  # first zero of J1
            "split_dioptres": max(1, round(2000 * (1 / self.n - 1 / self.D))) / 2 if no_stop else None,
        }

    def finest(self) -> float:
        """Half a line pair at the first frequency with a tenth of contrast, looked for in 400 steps."""
        limit = 1 / (2 * self.p)

        def left(frequency: float) -> float:
            return self.contrast_at(self.d, self.N, frequency) * float(np.sinc(frequency * self.p)) - 0.1

        steps = np.linspace(0, limit, 401)[1:]
        above = next((place for place, step in enumerate(steps) if left(step) <= 0), None)
        shown = limit if above is None else brentq(left, steps[above] - limit / 400, steps[above], xtol=1e-12)
        return self.d / (2 * shown * self.v)

    def contrast_at(self, distance: float, stop: float, frequency: float | None = None) -> float:
        """Hopkins's integral by SciPy's quadrature."""
        working = stop * (1 + self.m)
        sigma = WAVELENGTH * working * (frequency or 1 / (2 * self.c))
        image = self.g.focal if math.isinf(distance) else self.g.focal * distance / (distance - self.g.focal)
        waves = self.g.focal / stop * abs(self.v - image) / image / (8 * working * WAVELENGTH)
        curve = lambda x: math.sqrt(1 - (x + sigma) ** 2) * math.cos(8 * math.pi * waves * sigma * x)  # noqa: E731
        return max(0.0, 4 / math.pi * quad(curve, 0, 1 - sigma, limit=500, epsabs=1e-10)[0]) if sigma < 1 else 0.0

    def contrast(self) -> dict[str, float]:
        zone = (self.n, self.s, self.F)
        near, focus, far = (self.contrast_at(distance, self.N) for distance in zone)
        worst = {stop: min(self.contrast_at(distance, stop) for distance in zone) for stop in self.g.lens_stops}
        best = max(worst, key=lambda stop: worst[stop])
        return {
            "frequency_lpmm": 1 / (2 * self.c),
            "near": near,
            "focus": focus,
            "far": far,
            "worst": min(near, focus, far),
            "best_f_number": best,
            "best_worst": worst[best],
        }

    def survey(self) -> dict[str, float | None]:
        given, distance, wide = self.g, self.D, self.g.feature_width
        if given.share is not None and wide is not None:
            distance = wide * self.v / (given.share * self.w)
        elif given.share is not None:
            wide = given.share * self.w * distance / self.v
        rise = None if given.elevation is None else distance * math.tan(math.radians(given.elevation))
        return {
            "feature_width_mm": wide,
            "distance_mm": distance + self.ahead,
            "rise_above_lens_mm": rise,
            "feature_height_mm": None if rise is None or given.lens_height is None else given.lens_height + rise,
            "air_contrast": None if given.visibility is None else math.exp(-2.996 * distance / given.visibility),
        }
