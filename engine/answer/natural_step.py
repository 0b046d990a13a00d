"""One natural step up or down of a field's value: a third of a stop, 5 cm."""

import math
from collections.abc import Sequence
from typing import Any

from forescale.engine.answer.in_force import in_force
from forescale.engine.field_help import FIELD_HELP, LARGE, By, Rungs, Step, choices_of
from forescale.engine.fields.kinds import Sharpness
from forescale.engine.kit.profiles import Rates
from forescale.engine.shot import edit
from forescale.engine.shot.records import Setting
from forescale.engine.solve.record import Answer
from forescale.engine.units import Stop, third_stops

FAR_MM = 30_000.0
TAPE = {"imperial": (25.4, 304.8, 3048.0), "metric": (50.0, 500.0, 5000.0)}  # a step, a large one or one far away, both
SHARPNESS = {"diagonal": (100, 500, 500, 5000), "pixels": (0.25, 1, 0.25, 20), "length": (0.001, 0.005, 0.001, 0.2)}


def stepped(of: Answer, path: str, direction: int, *, large: bool) -> Any:
    """Return what a file would hold at `path` after one step up (+1) or down (-1), or None where no step is."""
    value, steps = in_force(path, of), direction * (LARGE if large else 1)
    if value is not None and (options := choices_of(path)):
        return options[(options.index(value) + direction if value in options else 0) % len(options)]
    if isinstance(value, Stop):  # along the lens's own marks; one written in the other kind is first brought to them
        lens = of.kit.lens
        mark = lens.mark(lens.f_number(value.value, value.marks))
        marks = third_stops(lens.widest.value, lens.smallest.value)
        return edit.text_of(Stop(_along(marks, mark, steps), lens.marks, marked=True), None, of.system)
    if isinstance(value, Sharpness):
        if value.by == "measured":
            return str(value)
        small, great, least, most = SHARPNESS[value.by]
        there = round(value.value + direction * (great if large else small), 6)
        return str(Sharpness(value.by, min(max(there, least), most)))
    quantity = edit.quantity_of(Setting, path)
    if quantity is None:
        return None
    if value is None:
        first = FIELD_HELP[path].first
        return None if first is None else quantity.held(first, of.system)
    step = FIELD_HELP[path].step
    if path == "move.slide" and of.kit.head is not None:  # the head's own, from mark to mark
        step = By(of.kit.head.slide_step, 10 * of.kit.head.slide_step)
    there = _stepped(of, step, value, steps)
    if there < quantity.low:  # a large step past the least there can be is a small one
        there = _stepped(of, step, value, -1)
    return quantity.held(min(max(round(there, 9), quantity.low), quantity.high), of.system)


def _stepped(of: Answer, step: Step, value: float, steps: int) -> float:
    direction, large = (1 if steps > 0 else -1), abs(steps) == LARGE
    match step:
        case By():
            return value + direction * (step.large if large else step.small)
        case Rungs():
            return _along(step.values, value, steps)
        case "mode's rates":
            rates = of.kit.mode.fps
            if not isinstance(rates, Rates):
                return _along(sorted(rates), value, steps)
            whole = math.floor(value + 1e-9) if steps > 0 else math.ceil(value - 1e-9)  # from between two to the next
            return min(max(whole + steps, rates.min), rates.max)
        case "third of a stop":
            return float(f"{value * 2 ** (steps / 3):.3g}")
    return value + direction * TAPE[of.system][large + (value >= FAR_MM)]


def _along(ladder: Sequence[float], value: float, steps: int) -> float:
    """Return the rung that lies `steps` rungs on from `value`, which may stand between two."""
    near = 1e-6 * abs(value)
    if steps > 0:
        above = [rung for rung in ladder if rung > value + near]
        return above[min(steps, len(above)) - 1] if above else ladder[-1]
    below = [rung for rung in ladder if rung < value - near]
    return below[max(len(below) + steps, 0)] if below else ladder[0]
