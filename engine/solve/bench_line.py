"""The line that the bench fits, for those who look at it reading by reading."""

from __future__ import annotations

from dataclasses import dataclass

from forescale.engine.formulas import bench_fit
from forescale.engine.solve.bench_group import bench_move, readings_of
from forescale.engine.solve.record import Answer
from forescale.engine.solve.turn_geometry import turn_geometry


@dataclass(frozen=True, slots=True)
class BenchPoint:
    """One reading of slip: its row in the shot, where the slide stood, and what it adds to the line there.

    `slip_px` is the slip as read, a length on the tape turned into pixels; `straight_px` is the slip laid out
    straight, as it is fitted; `residual_px` is that less the line.
    """

    row: int
    slide_mm: float
    slip_px: float
    straight_px: float
    residual_px: float


@dataclass(frozen=True, slots=True)
class BenchLine:
    """The fitted line: slip = slope · (slide − zero), with the readings that it is fitted to."""

    slope_px_per_mm: float
    zero_mm: float
    points: tuple[BenchPoint, ...]

    def at(self, slide_mm: float) -> float:
        """Return the slip in pixels that the line has at a place of the slide."""
        return self.slope_px_per_mm * (slide_mm - self.zero_mm)


def bench_line(answer: Answer) -> BenchLine | None:
    """Return the line through the readings in pixels; None where none can be fitted."""
    setting, kit, setup = answer.setting, answer.kit, answer.setup
    setting, turning = bench_move(setting, kit, setup, turn_geometry(setting, kit, setup))
    found = answer.slip.bench
    if turning is None or found is None or found.slope_predicted_px_per_mm is None:
        return None
    measured = readings_of(setting, kit, setup, turning).measured
    fit = bench_fit.fit(measured.taken, turning.turn, turning.pixel_mm)
    line = BenchLine(fit.slope_px_per_mm or fit.slope_predicted_px_per_mm, fit.slide_for_zero_mm, ())
    points = tuple(
        BenchPoint(row, reading.slide_mm, reading.slip_px or 0.0, line.at(reading.slide_mm) + residual, residual)
        for row, reading, residual in zip(measured.rows, measured.taken, fit.residuals, strict=True)
    )
    return BenchLine(line.slope_px_per_mm, line.zero_mm, points)
