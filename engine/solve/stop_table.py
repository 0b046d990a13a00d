"""Every stop of the lens beside the next: what each holds, what contrast it leaves, and the light it takes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from forescale.engine.solve.focus_zone import focus_group, holds
from forescale.engine.solve.record import Answer
from forescale.engine.solve.speed_light import light_group

SAME_STOP = 1e-6  # two f-numbers that stand for one mark
BEYOND = 2  # steps that a shortened table goes past what stands out in it
_STEPS = (2, 3, 6, 12, 24, 48)  # thirds of a stop; the last leaves two stops at most beside those that stand out


@dataclass(frozen=True, slots=True)
class StopRow:
    """One stop, all else as the shot has it: distances on the tape, contrasts from 0 to 1, the f-number exact.

    `first_to_hold` is the widest mark that holds the zone, `best` the one with the best worst contrast.
    `over_stops` is None where no light is given.
    """

    stop_mark: float
    f_number: float
    near_mm: float
    far_mm: float
    covers: bool
    near: float
    focus: float
    far: float
    worst: float
    over_stops: float | None
    lux_needed: float
    as_set: bool
    first_to_hold: bool
    best: bool


@dataclass(frozen=True, slots=True)
class StopTable:
    """The stops in the lens's range, widest first, and the stop as shot, which may lie outside it."""

    rows: tuple[StopRow, ...]
    as_shot: StopRow


def stop_table(answer: Answer) -> StopTable:
    """Return every third-stop mark of the lens, and among them the stop as shot where it lies between two."""
    marks, used = answer.kit.lens.f_numbers, answer.focus.f_number
    first = next((mark for mark in marks if holds(mark, answer.focus.stop_needed)), None)
    between = marks[0] < used < marks[-1] and not any(_same(mark, used) for mark in marks)
    f_numbers = sorted((*marks, used)) if between else marks
    return StopTable(tuple(_row(answer, f_number, first) for f_number in f_numbers), _row(answer, used, first))


def _row(answer: Answer, f_number: float, first: float | None) -> StopRow:
    """Return a stop as the groups of the answer would have it, were it set."""
    kit = answer.kit
    setup = replace(answer.setup, f_number=f_number, t_stop=kit.lens.t_stop(f_number))
    zone, lit = focus_group(kit, setup, with_contrast=True), light_group(answer.setting, kit, setup, answer.speed)
    contrast = zone.contrast
    assert contrast is not None
    return StopRow(
        stop_mark=zone.stop_mark,
        f_number=f_number,
        near_mm=zone.near_mm,
        far_mm=zone.far_mm,
        covers=zone.covers,
        near=contrast.near,
        focus=contrast.focus,
        far=contrast.far,
        worst=contrast.worst,
        over_stops=lit.over_stops,
        lux_needed=lit.lux_needed,
        as_set=_same(f_number, answer.focus.f_number),
        first_to_hold=f_number == first,
        best=f_number == contrast.best_f_number,
    )


def _same(one: float, other: float) -> bool:
    return math.isclose(one, other, rel_tol=SAME_STOP)


def around(table: StopTable, most: int) -> tuple[StopRow, ...]:
    """Return at most so many rows (7 or more): the set, the first to hold, the best, and even steps around them.

    The steps go by two thirds of a stop, a whole one, or more where those lie far apart.
    """
    anchor = min(table.rows, key=lambda row: abs(math.log(row.f_number / table.as_shot.f_number)))
    thirds = [round(6 * math.log2(row.f_number / anchor.f_number)) for row in table.rows]
    shortened = (_in_steps(table.rows, thirds, step) for step in _STEPS)
    return next(rows for rows in shortened if len(rows) <= most)


def _in_steps(rows: Sequence[StopRow], thirds: Sequence[int], step: int) -> tuple[StopRow, ...]:
    """Return what stands out, and what lies in even steps between and a little beyond."""
    stands_out = [row.as_set or row.first_to_hold or row.best for row in rows]
    places = [third for third, out in zip(thirds, stands_out, strict=True) if out]
    low, high = min(places) - BEYOND * step, max(places) + BEYOND * step
    return tuple(
        row
        for row, third, out in zip(rows, thirds, stands_out, strict=True)
        if out or (third % step == 0 and low <= third <= high)
    )
