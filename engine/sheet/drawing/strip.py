"""Distances along the lens axis on a strip of paper.

A background hundreds of feet behind a model a few feet away leaves no room for the model, so the strip may be
broken: up to the break all is drawn at one scale, beyond it at a smaller one. Each part is the place shrunk about
the entrance pupil, so that a line of sight stays one straight line across the break.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from forescale.engine.units import number_text

NICE = (1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10)  # steps of a third at most
FRONT_SHARE = 0.6  # of the strip's length, up to the break
GAP_SHARE = 0.035
BACKGROUND_SHARE = 0.9
WHOLE_TO = 3.0  # a background nearer than so many times the foreground's reach needs no break


def paper_scale(smallest: float) -> float:
    """Return the handy n of a drawing at 1:n that is at or above `smallest`."""
    power = 10.0 ** math.floor(math.log10(smallest))
    return power * next(step for step in NICE if step >= smallest / power * (1 - 1e-12))


def scale_text(scale: float) -> str:
    """Return a drawing's scale, "1:40", or "5:1" where it is larger than life."""
    return f"1:{number_text(scale, 6)}" if scale >= 1 else f"{number_text(1 / scale, 6)}:1"


@dataclass(frozen=True, slots=True)
class AxisStrip:
    """Paper from the entrance pupil at `start_mm` to `end_mm`; 1:front up to the break, 1:back beyond it.

    `break_mm` is the paper on either side of which the scales hold, None where one scale holds throughout.
    """

    start_mm: float
    end_mm: float
    front: float
    back: float
    break_mm: tuple[float, float] | None

    def at(self, distance_mm: float) -> float:
        """Return the paper place of a distance from the pupil; what falls between the two parts is put on the break."""
        if math.isinf(distance_mm):
            return self.end_mm
        near, far = self.start_mm + distance_mm / self.front, self.start_mm + distance_mm / self.back
        if self.break_mm is None or near <= self.break_mm[0]:
            return min(near, self.end_mm)
        return min(max(far, sum(self.break_mm) / 2), self.end_mm)

    def shows(self, distance_mm: float) -> bool:
        """Return whether a distance has a place of its own on the paper."""
        if math.isinf(distance_mm) or self.start_mm + distance_mm / self.back > self.end_mm:
            return False
        return self.break_mm is None or not self.break_mm[0] < self.at(distance_mm) < self.break_mm[1]

    def scale_at(self, distance_mm: float) -> float:
        """Return the n of the 1:n that holds at a distance."""
        front = self.break_mm is None or self.start_mm + distance_mm / self.front <= self.break_mm[0]
        return self.front if front else self.back

    @property
    def words(self) -> str:
        """Say to which scale the strip is drawn."""
        if self.break_mm is None:
            return f"to scale, {scale_text(self.front)}"
        beyond = "not to scale" if math.isinf(self.back) else scale_text(self.back)
        return f"to scale {scale_text(self.front)} up to the break; beyond it {beyond}, sight lines straight"


def strip(start_mm: float, end_mm: float, reach_mm: float, background_mm: float, least_scale: float) -> AxisStrip:
    """Return the strip that shows the foreground out to `reach_mm`, and the background, as large as it can.

    `least_scale` is the n of the largest 1:n that leaves room across the strip.
    """
    length = end_mm - start_mm
    if background_mm <= WHOLE_TO * reach_mm:
        whole = paper_scale(max(background_mm / (length * BACKGROUND_SHARE), least_scale))
        return AxisStrip(start_mm, end_mm, whole, whole, None)
    front = paper_scale(max(reach_mm / (length * FRONT_SHARE), least_scale))
    back = paper_scale(background_mm / (length * BACKGROUND_SHARE)) if math.isfinite(background_mm) else math.inf
    if back <= front:
        return AxisStrip(start_mm, end_mm, front, front, None)
    edge = start_mm + length * FRONT_SHARE * 1.02
    return AxisStrip(start_mm, end_mm, front, back, (edge, edge + length * GAP_SHARE))
