"""Slip and bench by hand, from `by_hand`: the formula as it stands, its zero and its limits found by SciPy."""

from __future__ import annotations

import math
from functools import cached_property
from typing import Any

import numpy as np
from by_hand import Sighted
from scipy import stats
from scipy.optimize import brentq, minimize_scalar


class Turned(Sighted):
    """The slip of what is given, and what its bench says."""

    @cached_property
    def sensor(self) -> float:
        """The sensor ahead of the axis that turns; with the pupil on the axis where nothing says."""
        head = self.g.head
        axis = head.ahead if head and self.g.axis.startswith("tilt") else 0.0
        if head is None or self.g.slide is None:
            return -self.ahead - axis
        return self.g.slide + head.sensor_at_zero - axis

    @property
    def way(self) -> int:
        """Which way the lens turns, up or down; outrunning counts as positive either way."""
        return -1 if self.g.axis == "tilt down" else 1

    def y(self, z: float, e: complex, turned: float) -> complex:
        angle = math.radians(turned) * self.way
        h = self.g.head.drop if self.g.head and self.g.axis.startswith("tilt") else 0.0
        if math.isinf(z):
            return self.v * math.tan(angle)
        return (
            self.v * (z * math.sin(angle) + h * (1 - math.cos(angle))) / (z * math.cos(angle) + h * math.sin(angle) - e)
        )

    def slip_at(self, e: Any, turned: float) -> Any:
        to_axis = self.sensor + self.ahead
        return (self.y(self.d + to_axis, e, turned) - self.y(self.D + to_axis, e, turned)) * self.way

    @cached_property
    def zero(self) -> float:
        reach = (self.d + self.sensor + self.ahead) / 3
        return brentq(lambda e: self.slip_at(e, self.g.sweep), -reach, reach, xtol=1e-13, rtol=1e-15)

    def largest(self, e: float) -> float:
        """The signed slip where it is largest over the move."""
        ends = np.linspace(0, self.g.sweep, 41)
        top = max(ends, key=lambda turned: abs(self.slip_at(e, turned)))
        step = self.g.sweep / 40
        peak = minimize_scalar(
            lambda turned: -abs(self.slip_at(e, turned)),
            bounds=(max(top - step, 0), min(top + step, self.g.sweep)),
            method="bounded",
            options={"xatol": 1e-9},
        ).x
        return max((self.slip_at(e, peak), self.slip_at(e, self.g.sweep)), key=abs)

    def tolerance(self, place: float) -> float:
        """How far from a place the pupil may stand, to the side where less is allowed."""
        passing = self.g.passing * self.along()
        if abs(self.largest(place)) > passing:
            return 0.0
        over = lambda off: abs(self.largest(place + off)) - passing  # noqa: E731
        limit = min(self.d / 3, 900.0)
        sides = [brentq(over, 0, side * limit, xtol=1e-12) for side in (-1, 1) if over(side * limit) > 0]
        return min(abs(side) for side in sides)

    @cached_property
    def best(self) -> float:
        """Where the largest slip over the move is least."""
        reach = min(self.d / 3, 200.0)
        found = minimize_scalar(
            lambda e: abs(self.largest(e)),
            bounds=(self.zero - reach, self.zero + reach),
            method="bounded",
            options={"xatol": 1e-7},
        )
        return found.x

    def slip(self) -> dict[str, float | None]:
        given, moves = self.g, self.g.axis != "none" and self.g.sweep > 0
        told = moves and given.head is not None and bool(given.pupils)
        e = self.sensor + self.ahead if told and given.slide is not None else None
        side = given.height if given.axis.startswith("tilt") else self.w
        axis = given.head.ahead if given.head and given.axis.startswith("tilt") else 0.0
        slip = None if e is None else self.slip_at(e, given.sweep)
        return {
            "sweep_deg": given.sweep,
            "start_deg": 0.0,
            "pupil_ahead_mm": self.ahead,
            "slide_mm": given.slide,
            "offset_mm": e,
            "slip_mm": slip if moves else 0.0,
            "slip_px": 0.0 if not moves else None if slip is None else slip / self.along(),
            "largest_slip_px": 0.0 if not moves else None if e is None else self.largest(e) / self.along(),
            "leaves_frame_deg": None if given.axis == "none" else math.degrees(math.atan(side / 2 / self.v)),
            "tolerance_px": given.passing,
            "tolerance_mm": self.tolerance(self.zero) if moves else None,
            "slide_for_zero_mm": self.zero + axis - given.head.sensor_at_zero - self.ahead if told else None,
            "slide_best_mm": self.best + axis - given.head.sensor_at_zero - self.ahead if told else None,
            "best_within_mm": self.tolerance(self.best) if told else None,
            "travel_mm": None,
            "travel_allowed_mm": None,
            "model_from_axis_mm": self.d + self.sensor + self.ahead if moves else None,
            "background_from_axis_mm": self.D + self.sensor + self.ahead if moves else None,
        }

    def bench(self) -> dict[str, float | None]:
        """A line through the slips, each first laid out as straight as the geometry is not."""
        slope = self.slip_at(complex(self.zero, 1e-20), self.g.sweep).imag / 1e-20 / self.along()
        slides = np.array([slide for slide, _ in self.g.bench])
        straight = np.array([(self.offset_for(px * self.along()) - self.zero) * slope for _, px in self.g.bench])
        fitted, constant = np.polyfit(slides, straight, 1)
        zero, freedom = -constant / fitted, len(slides) - 2
        scatter = math.sqrt(sum((straight - fitted * slides - constant) ** 2) / freedom)
        spread = sum((slides - slides.mean()) ** 2)
        leverage = math.sqrt(1 / len(slides) + (zero - slides.mean()) ** 2 / spread) / fitted
        read_to = 1 / math.sqrt(3)  # whole pixels, good to one either way: a rectangle's standard deviation
        return {
            "slide_for_zero_mm": zero,
            "std_error_mm": leverage * max(read_to, stats.t.ppf(0.84134475, freedom) * scatter),
            "band_mm": leverage * max(stats.norm.ppf(0.975) * read_to, stats.t.ppf(0.975, freedom) * scatter),
            "pupil_ahead_mm": self.zero - zero - self.g.head.sensor_at_zero,
            "slope_px_per_mm": fitted,
            "slope_predicted_px_per_mm": slope,
        }

    def offset_for(self, slip: float) -> float:
        return brentq(lambda e: self.slip_at(e, self.g.sweep) - slip, -self.d / 3, self.d / 3, xtol=1e-13)
