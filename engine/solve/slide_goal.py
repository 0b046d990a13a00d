"""Where to set the slide so that the whole move holds, told as finely as it must be set."""

from __future__ import annotations

import math
from dataclasses import dataclass

from forescale.engine.kit.slide_scale import SlideScale, scale_of
from forescale.engine.solve.record import Answer
from forescale.engine.solve.slip_check import largest_at_px
from forescale.engine.solve.view import view_of

_FINEST = 6  # decimals of a mm


@dataclass(frozen=True, slots=True)
class SlideGoal:
    """Where to set the slide, mm: at `place_mm`, or at `end_mm` where the head ends short of that.

    `within_mm` is how far off the place it may be. `left_px` is the largest slip over the move at the head's end, None
    where the place is in reach, or where no camera could stand at the end.
    """

    place_mm: float
    within_mm: float
    end_mm: float | None
    left_px: float | None
    scale: SlideScale

    @property
    def place_text(self) -> str:
        """The place, rounded by no more than a tenth of what it may be off."""
        return self.scale.told(self.place_mm, slide_decimals(self.within_mm))

    @property
    def within_text(self) -> str:
        """How far off the place it may be, no more than it is."""
        return self.scale.at_most(self.within_mm)

    @property
    def to_set_mm(self) -> float:
        """The reading to set: the place as it is told, or the end."""
        if self.end_mm is not None:
            return self.end_mm
        return self.scale.told_mm(self.place_mm, slide_decimals(self.within_mm))

    @property
    def to_set_text(self) -> str:
        """The reading to set, as it is told."""
        return self.place_text if self.end_mm is None else self.scale.mark(self.end_mm)


def slide_decimals(within_mm: float | None) -> int:
    """Return to how many decimals of a mm a reading is to be told that may be off so far: one at the least."""
    if within_mm is None or math.isinf(within_mm):
        return 1
    return min(max(math.ceil(math.log10(5 / within_mm) - 1e-9), 1), _FINEST) if within_mm > 0 else _FINEST


def best_place(answer: Answer) -> tuple[float, float] | None:
    """Return the slide reading to set and how far off it may be, in mm; None where no place holds the whole move.

    It is where the largest slip over the move is least.
    """
    best, within = answer.slip.slide_best_mm, answer.slip.best_within_mm
    return None if best is None or not within else (best, within)


def slide_goal(answer: Answer) -> SlideGoal | None:
    """Return where to set the slide; None where no place holds the whole move, or pupil or head is not known."""
    best, head = best_place(answer), answer.kit.head
    if best is None or head is None:
        return None
    end = min(max(best[0], head.slide_min), head.slide_max)
    scale = scale_of(head, answer.system)
    if end == best[0]:
        return SlideGoal(*best, None, None, scale)
    return SlideGoal(*best, end, _slip_px_at(answer, end), scale)


def _slip_px_at(answer: Answer, slide_mm: float) -> float | None:
    """Return the largest slip over the move with the slide elsewhere; model and background stay where they stand."""
    view = view_of(answer.setting, answer.kit, answer.setup)
    return largest_at_px(answer.setting, answer.kit, answer.setup, view, slide_mm)
