"""A test strip for one's own sharpness: markers at known distances, photographed at a focus and a stop.

The last marker that still looks sharp tells that the circle of confusion is at least so large, the first that does not
that it is at most so large. Distances in mm from the entrance pupil, blur in mm on the sensor.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from forescale.engine.formulas.contrast import AIRY_FACTOR, WAVELENGTH_MM
from forescale.engine.formulas.focus import far_limit_mm, near_limit_mm

FOCUS_ERROR = 0.01  # of a focus mark, as a share of its distance (common practice, no source)
Limits = tuple[float | None, float | None]


@dataclass(frozen=True)
class Strip:
    """One strip: how it was photographed, and its markers, None where there is none on that side.

    `sharp_near_mm` and `sharp_far_mm` are the last that look sharp, `soft_near_mm` and `soft_far_mm` the first that do
    not; `f_number` is exact.
    """

    focal_mm: float
    focus_mm: float
    f_number: float
    sharp_near_mm: float | None = None
    soft_near_mm: float | None = None
    sharp_far_mm: float | None = None
    soft_far_mm: float | None = None
    pupil_magnification: float = 1.0

    @cached_property
    def _blur_per_nearness(self) -> float:
        """Blur in mm for each 1/mm off the focus: f²·s/(N·(s − f/P))."""
        front = self.focal_mm / self.pupil_magnification
        return self.focal_mm**2 / (self.f_number * (1 - front / self.focus_mm))

    def blur_mm(self, marker_mm: float | None) -> float | None:
        """Return f²·|s − n|/(N·n·(s − f/P)), the blur of a marker; None for none. Source: exact paraxial lens."""
        return None if marker_mm is None else self._blur_per_nearness * abs(1 / marker_mm - 1 / self.focus_mm)

    @cached_property
    def near(self) -> Limits:
        """The least and the greatest c by the near side, None where nothing bounds it."""
        return self.blur_mm(self.sharp_near_mm), self.blur_mm(self.soft_near_mm)

    @cached_property
    def far(self) -> Limits:
        """The least and the greatest c by the far side."""
        return self.blur_mm(self.sharp_far_mm), self.blur_mm(self.soft_far_mm)

    @cached_property
    def focus_blur_mm(self) -> float:
        """What a standard error of the focus mark moves the limits by, those of one side up, of the other down."""
        return self._blur_per_nearness * FOCUS_ERROR / self.focus_mm

    def shows(self, coc_mm: float) -> tuple[float, float]:
        """Return the near and far limits of sharpness that a circle of confusion would give on this strip."""
        lens = (self.focus_mm, self.focal_mm, self.f_number, coc_mm, self.pupil_magnification)
        return near_limit_mm(*lens), far_limit_mm(*lens)


def bounds_mm(strips: Sequence[Strip]) -> Limits:
    """Return the least and the greatest c that all limits of some strips allow, their focus as marked.

    The least above the greatest means that they do not agree; None is no bound.
    """
    sides = [side for strip in strips for side in (strip.near, strip.far)]
    least = max((low for low, _ in sides if low is not None), default=None)
    return least, min((high for _, high in sides if high is not None), default=None)


def diffraction_stop(coc_mm: float) -> float:
    """Return the f-number c/(2.44·λ) past which a strip measures diffraction: the Airy disk is as large as c."""
    return coc_mm / (AIRY_FACTOR * WAVELENGTH_MM)
