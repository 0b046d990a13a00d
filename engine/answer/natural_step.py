"""One natural step up or down of a field: a third of a stop, the mode's next rate, an inch or 5 cm."""

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
from forescale.engine.units import Stop, UnitSystem, third_stops

FOOT, INCH = 304.8, 25.4
FAR_MM = 30_000.0


def stepped(of: Answer, path: str, direction: int, *, large: bool) -> Any:
    """Return what a file would hold at `path` after one step up (+1) or down (-1), or None where no step is."""
    value = in_force(path, of)
    if value is not None and (options := choices_of(path)):
        return options[(options.index(value) + direction if value in options else 0) % len(options)]
    if isinstance(value, Stop):
        return _next_stop(of, value, direction * (LARGE if large else 1))
    if isinstance(value, Sharpness):
        return _next_sharpness(value, direction, large)
    quantity = edit.quantity_of(Setting, path)
    if quantity is None:
        return None
    if value is None:
        first = FIELD_HELP[path].first
        return None if first is None else quantity.held(first, of.system)
    step = FIELD_HELP[path].step
    if path == "move.slide" and of.kit.head is not None:  # the head's own, from mark to mark
        step = By(of.kit.head.slide_step, 10 * of.kit.head.slide_step)
    stepped = _stepped(of, step, value, direction * (LARGE if large else 1))
    held = min(max(round(stepped, 9), quantity.low), quantity.high)
    return quantity.held(held, of.system)


def _stepped(of: Answer, step: Step, value: float, steps: int) -> float:
    direction, large = (1 if steps > 0 else -1), abs(steps) == LARGE
    match step:
        case By():
            return value + direction * (step.large if large else step.small)
        case Rungs():
            return _along(step.values, value, steps)
        case "mode's rates":
            return _next_rate(of, value, steps)
        case "third of a stop":
            return float(f"{value * 2 ** (steps / 3):.3g}")
        case _:
            return _length(value, direction, large, of.system)


def _length(value: float, direction: int, large: bool, system: UnitSystem) -> float:
    """Step a tape distance by an inch or 5 cm, by a foot or 50 cm; ten times as much far away."""
    far = value >= FAR_MM
    if system == "imperial":
        step = (FOOT if large else INCH) if not far else (10 * FOOT if large else FOOT)
    else:
        step = (500.0 if large else 50.0) * (10 if far else 1)
    return value + direction * step


def _along(ladder: Sequence[float], value: float, steps: int) -> float:
    """Return the rung that lies `steps` rungs on from `value`, which may stand between two."""
    near = 1e-6 * abs(value)
    if steps > 0:
        above = [rung for rung in ladder if rung > value + near]
        return above[min(steps, len(above)) - 1] if above else ladder[-1]
    below = [rung for rung in ladder if rung < value - near]
    return below[max(len(below) + steps, 0)] if below else ladder[0]


def _next_rate(of: Answer, value: float, steps: int) -> float:
    rates = of.kit.mode.fps
    if isinstance(rates, Rates):  # whole rates, from between two to the next
        whole = math.floor(value + 1e-9) if steps > 0 else math.ceil(value - 1e-9)
        return min(max(whole + steps, rates.min), rates.max)
    return _along(sorted(rates), value, steps)


def _next_stop(of: Answer, stop: Stop, steps: int) -> str:
    """Step along the lens's own marks; a stop written in the other kind is first brought to them."""
    lens = of.kit.lens
    mark = lens.mark(lens.f_number(stop.value, stop.marks))
    marks = third_stops(lens.widest.value, lens.smallest.value)
    return edit.text_of(Stop(_along(marks, mark, steps), lens.marks, marked=True), None, of.system)


def _next_sharpness(value: Sharpness, direction: int, large: bool) -> str:
    match value.by:
        case "diagonal":
            parts = value.value + direction * (500 if large else 100)
            return str(Sharpness("diagonal", min(max(parts, 500), 5000)))
        case "measured":
            return str(value)
        case "pixels":
            return str(Sharpness("pixels", min(max(value.value + direction * (1 if large else 0.25), 0.25), 20)))
        case _:
            mm = value.value + direction * (0.005 if large else 0.001)
            return str(Sharpness("length", min(max(round(mm, 6), 0.001), 0.2)))
