"""How the bench is set up: its own sticks and sweep, in a workshop or where the shot is made."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from forescale.engine.answer import Answer
from forescale.engine.kit.kit import taken_with
from forescale.engine.shot.records import Axis

USUAL_SWEEP_DEG = 10.0


@dataclass(frozen=True, slots=True)
class BenchSetup:
    """Over which move the bench is read, and how far from the sensor-plane mark its two sticks stand, mm."""

    axis: Axis
    sweep_deg: float
    near_mm: float
    far_mm: float


def of_shot(answer: Answer) -> BenchSetup:
    """Return the bench as the shot has it: its move, or a pan where it has none, and sticks at model and background."""
    move, line = answer.setting.move, answer.lineup
    if move.axis == "none" or move.sweep == 0:
        return BenchSetup("pan", USUAL_SWEEP_DEG, line.model_mm, answer.setting.place.background)
    return BenchSetup(move.axis, move.sweep, line.model_mm, answer.setting.place.background)


def as_left(answer: Answer) -> BenchSetup:
    """Return the bench as it was for the last reading that counts, else as the shot has it."""
    shot = of_shot(answer)
    for row in reversed(answer.setting.bench):
        if taken_with(row, answer.setting, answer.kit):
            return BenchSetup(
                row.axis or shot.axis,
                shot.sweep_deg if row.sweep is None else row.sweep,
                row.model or shot.near_mm,
                row.background or shot.far_mm,
            )
    return shot


def of_its_own(bench_setup: BenchSetup, answer: Answer) -> dict[str, Any]:
    """Return what a reading must say of itself because the shot has it otherwise, as fields of its row."""
    move, place = answer.setting.move, answer.setting.place
    held = {
        "axis": (bench_setup.axis, move.axis),
        "sweep": (bench_setup.sweep_deg, move.sweep),
        "model": (bench_setup.near_mm, answer.lineup.model_mm),
        "background": (bench_setup.far_mm, place.background),
    }
    return {name: own for name, (own, shot) in held.items() if own != shot}
