"""What may mend the slip: where the slide goes, a smaller turn, a reading less."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.mends.taking import taken
from forescale.engine.mends.trial import gone
from forescale.engine.shot.records import TILTS
from forescale.engine.solve.record import Answer, Finding, Mend
from forescale.engine.solve.slide_goal import slide_goal
from forescale.engine.units import number_text, rounded_down

HALVINGS = 8


def slide(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield where to set the slide, and a smaller turn."""
    goal = slide_goal(of)
    if goal is not None:
        yield Mend("", {"move.slide": goal.scale.mark(goal.to_set_mm, 9)})
    if finding.code != "slide-to-set":
        yield from turn_less(of, finding)


def slide_or_bench(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield where to set the slide, a smaller turn, and the bench."""
    yield from slide(of, finding)
    yield Mend("find the pupil more firmly on the bench, or watch the picture")


def turn_less(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the largest sweep, of two digits, at which the finding is gone; found by halves."""
    low, high = 0.0, of.setting.move.sweep
    for _ in range(HALVINGS if high > 0 else 0):
        middle = (low + high) / 2
        after = taken(of, {"move.sweep": f"{middle!r} deg"})
        low, high = (middle, high) if after is not None and gone(of, finding, after) else (low, middle)
    less = rounded_down(low)
    if less > 0:
        yield Mend("", {"move.sweep": f"{number_text(less)} deg"}, "a smaller turn")
    if of.setting.move.axis in TILTS:
        yield Mend("bring the tilt axis nearer to the lens axis")
    elif finding.code == "slide-out-of-reach":
        yield Mend("take another head")


def reading_out(_of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the bench without the reading."""
    row = finding.text.split(" ")[1]
    yield Mend(f"look again at reading {row}")
    yield Mend("", {f"bench.{row}": None}, "one reading less")
