"""What is given, and where everything stands: the answer worked out again from tape and profile numbers.

Nothing here comes from the program. The formulas stand as a textbook writes them; where the program has a closed
form, an equation is solved by SciPy instead. mm, s, degrees, lux. Sources: thin lens (Gauss), Froude similarity,
Hopkins (1955), Koschmieder, ISO 2720.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from scipy.optimize import brentq

CUSTOMARY = (4, 8, 12, 16, 24, 32, 48, 64, 96, 1, 2, 5, 10, 20, 50, 100, 72, 25, 35, 144, 160, 220, 304.8 / 3.5)


@dataclass(frozen=True)
class Head:
    """The slide head: sensor ahead of the pan axis at 0, tilt axis below the lens axis and ahead of the pan axis."""

    sensor_at_zero: float
    drop: float = 0.0
    ahead: float = 0.0


@dataclass(frozen=True)
class Given:
    """What is read off the tape, the profiles and the shot; None is left open."""

    width: float
    height: float
    pixels: int
    lines: int
    rates: tuple[float, ...]
    iso: float
    focal: float
    marks: str
    stops: tuple[float, ...]  # as marked, exact
    close_focus: float
    background: float
    kind: str
    playback: float = 24.0
    whole_rates: bool = False
    readout: float | None = None
    data_rate: float | None = None
    loss: float = 0.0
    squeeze: float = 1.0
    pupils: tuple[tuple[float, float, float], ...] = ()  # focal length, focus, ahead
    head: Head | None = None
    ratio: float | None = None
    compare: float | None = None
    model: float | None = None
    near: float | None = None
    far: float | None = None
    lens_height: float | None = None
    feature_height: float | None = None
    fps: float | None = None
    heft: float = 1.0
    screen_time: float = 5.0
    shutter: float = 180.0
    real_speed: float | None = None
    focus: float | None = None
    f_number: float | None = None
    coc: float | None = None
    available: float | None = None
    mains: float | None = None
    axis: str = "none"
    sweep: float = 0.0
    move_time: float | None = None
    slide: float | None = None
    passing: float = 1.0
    bench: tuple[tuple[float, float], ...] = ()  # slide, slip in px
    share: float | None = None
    feature_width: float | None = None
    elevation: float | None = None
    visibility: float | None = None
    lens_stops: tuple[float, ...] = field(init=False)

    def __post_init__(self) -> None:
        factor = 2 ** (self.loss / 2) if self.marks == "T" else 1.0
        object.__setattr__(self, "lens_stops", tuple(stop / factor for stop in self.stops))


class Sighted:
    """Ratio, places, focus and stop, which hang together by the pupil."""

    def __init__(self, given: Given) -> None:
        self.g = given

    def pupil_if_focused_at(self, tape: float) -> float:
        """Linear in 1/focus at each focal length, then in focal length; the ends serve beyond them."""
        focals = sorted({row[0] for row in self.g.pupils})
        at_focus = []
        for focal in focals:
            rows = sorted((1 / focus, ahead) for length, focus, ahead in self.g.pupils if length == focal)
            at_focus.append(np.interp(1 / tape, [row[0] for row in rows], [row[1] for row in rows]))
        return float(np.interp(self.g.focal, focals, at_focus))

    @cached_property
    def ahead(self) -> float:
        """The pupil that agrees with the focus mark that it leads to."""
        if not self.g.pupils:
            return 0.0
        if self.g.focus is not None:
            return self.pupil_if_focused_at(self.g.focus)
        reach = max(abs(row[2]) for row in self.g.pupils) + 1
        off = lambda ahead: self.pupil_if_focused_at(self.focus_mark(ahead)) - ahead  # noqa: E731
        return brentq(off, -reach, reach, xtol=1e-13, rtol=1e-15)

    def focus_mark(self, ahead: float) -> float:
        if self.g.focus is not None:
            return self.g.focus
        near, far = self.near_at(ahead), self.far_at(ahead)
        even = 2 * near if math.isinf(far) else 2 * near * far / (near + far)
        return max(even + ahead, self.g.close_focus)

    def ratio_at(self, ahead: float) -> float:
        given = self.g
        if given.ratio is not None:
            return given.ratio
        if given.model is not None and math.isfinite(given.background):
            wanted = (given.background - ahead) / (given.model - ahead)
            return min(CUSTOMARY, key=lambda ratio: abs(math.log(ratio / wanted)))
        top = (max(given.rates) / given.playback / given.heft) ** 2
        closest = (given.background - ahead) / (given.close_focus - ahead)
        return max(ratio for ratio in CUSTOMARY if ratio <= min(top, closest))

    def model_at(self, ahead: float) -> float:
        if self.g.model is None:
            return (self.g.background - ahead) / self.ratio_at(ahead)
        return self.g.model - ahead

    def near_at(self, ahead: float) -> float:
        return self.model_at(ahead) if self.g.near is None else self.g.near - ahead

    def far_at(self, ahead: float) -> float:
        return (self.g.background if self.g.far is None else self.g.far) - ahead

    @cached_property
    def ratio(self) -> float:
        return self.ratio_at(self.ahead)

    @cached_property
    def d(self) -> float:
        return self.model_at(self.ahead)

    @cached_property
    def D(self) -> float:
        return self.g.background - self.ahead

    @cached_property
    def n(self) -> float:
        return self.near_at(self.ahead)

    @cached_property
    def F(self) -> float:
        return self.far_at(self.ahead)

    @cached_property
    def s(self) -> float:
        return self.focus_mark(self.ahead) - self.ahead

    @cached_property
    def v(self) -> float:
        return self.g.focal if math.isinf(self.s) else self.g.focal * self.s / (self.s - self.g.focal)

    @cached_property
    def w(self) -> float:
        return self.g.width * self.g.squeeze

    @cached_property
    def p(self) -> float:
        return self.g.width / self.g.pixels

    @cached_property
    def c(self) -> float:
        return self.g.coc or math.hypot(self.g.width, self.g.height) / 1500

    @cached_property
    def stop_needed(self) -> float:
        f, s, c = self.g.focal, self.s, self.c
        near_side = f**2 * (1 - self.n / s) / (self.n * c * (1 - f / s))
        far_side = f**2 * (1 / s - 1 / self.F) / (c * (1 - f / s))
        return max(near_side, far_side)

    @cached_property
    def N(self) -> float:
        if self.g.f_number is not None:
            return self.g.f_number
        holding = [stop for stop in self.g.lens_stops if stop >= self.stop_needed * (1 - 1e-9)]
        return holding[0] if holding else self.g.lens_stops[-1]

    @cached_property
    def m(self) -> float:
        return self.v / self.s

    def along(self) -> float:
        """What a pixel is along the move, on a sensor that is not squeezed."""
        return self.g.height / self.g.lines if self.g.axis.startswith("tilt") else self.p * self.g.squeeze
