"""One natural step up or down of a field: a third of a stop, the mode's next rate, an inch or 5 cm."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, get_args

from forescale.engine.fields.kinds import Sharpness
from forescale.engine.formulas import light, scale
from forescale.engine.kit.profiles import Rates
from forescale.engine.shot import edit
from forescale.engine.shot.records import ActionKind, Axis
from forescale.engine.units import Stop, UnitSystem, third_stops
from forescale.tui.session import State

FOOT, INCH = 304.8, 25.4
FAR_MM = 30_000.0
LARGE = 3
_LADDERS: dict[str, Sequence[float]] = {
    "scale.ratio": scale.STANDARD_RATIOS,
    "scale.compare": scale.STANDARD_RATIOS,
    "action.playback_fps": (24.0, 25.0, 30.0, 48.0, 50.0, 60.0),
    "action.shutter": (11.25, 22.5, 45.0, 72.0, 90.0, 120.0, 144.0, 172.8, 180.0, 216.0, 270.0, 360.0),
    "light.iso": light.SPEEDS,
    "light.mains": (50.0, 60.0),
}
_STEPS: dict[str, tuple[float, float]] = {
    "action.heft": (0.05, 0.25),
    "action.screen_time": (0.5, 5.0),
    "action.real_speed": (447.04, 4470.4),
    "move.sweep": (1.0, 5.0),
    "move.screen_time": (0.5, 5.0),
    "move.tolerance": (0.25, 1.0),
    "move.slide": (1.0, 10.0),
    "kit.focal_length": (1.0, 10.0),
    "survey.frame_share": (0.01, 0.1),
    "survey.elevation": (0.5, 5.0),
    "survey.visibility": (1e6, 5e6),
    "limits.gravity": (0.1, 0.5),
    "limits.short_stops": (0.5, 1.0),
}
_CHOICES: dict[str, Sequence[str]] = {"action.kind": get_args(ActionKind), "move.axis": get_args(Axis)}


def chosen(state: State, path: str) -> Any:
    """Return the value in force at a path: as set, or as the program chose it where the field is left open."""
    value = edit.value_at(state.shot, path)
    if value is not None:
        return value
    answer = state.answer
    match path:
        case "scale.ratio":
            return answer.scale.ratio
        case "action.fps":
            return answer.speed.fps
        case "place.model":
            return answer.lineup.model_mm
        case "place.model_near":
            return answer.focus.near_needed_mm
        case "place.background_far":
            return answer.focus.far_needed_mm
        case "focus.distance":
            return answer.focus.focus_mm
        case "focus.stop":
            return Stop(answer.focus.stop_mark, state.kit.lens.marks, marked=True)
        case "light.iso":
            return answer.light.iso
        case "kit.focal_length":
            return answer.kit.focal_mm
        case "move.screen_time":
            return answer.setting.action.screen_time
        case _:
            return None


def nudged(state: State, path: str, direction: int, *, large: bool) -> Any:
    """Return what a file would hold at `path` after one step up (+1) or down (-1), or None where no step is."""
    value = chosen(state, path)
    if path in _CHOICES:
        options = _CHOICES[path]
        return options[(options.index(value) + direction) % len(options)]
    if isinstance(value, Stop):
        return _next_stop(state, value, direction * (LARGE if large else 1))
    if isinstance(value, Sharpness):
        return _next_sharpness(value, direction, large)
    quantity = edit.quantity_of(type(state.shot), path)
    if quantity is None:
        return None
    if value is None:
        value = _first(path)
        if value is None:
            return None
        return quantity.dump(value, _Info(state.shot.units))
    stepped = _stepped(state, path, value, direction, large)
    held = min(max(round(stepped, 9), quantity.low), quantity.high)
    return quantity.dump(held, _Info(state.shot.units))


class _Info:
    """What a writer of files is told: the units that the file is to be written in."""

    def __init__(self, system: UnitSystem) -> None:
        self.context = {"units": system}


def _first(path: str) -> float | None:
    """Return where a field that nobody has set begins."""
    return {"light.mains": 50.0, "light.available": 10_000.0, "move.slide": 0.0, "survey.elevation": 10.0}.get(path)


def _stepped(state: State, path: str, value: float, direction: int, large: bool) -> float:
    times = LARGE if large else 1
    if path == "action.fps":
        return _next_rate(state, value, direction * times)
    if path in _LADDERS:
        return _along(_LADDERS[path], value, direction * times)
    if path == "light.available":
        return float(f"{value * 2 ** (direction * times / 3):.3g}")
    if path in _STEPS:
        return value + direction * _STEPS[path][large]
    return _length(value, direction, large, state.shot.units)


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


def _next_rate(state: State, value: float, steps: int) -> float:
    rates = state.kit.mode.fps
    if isinstance(rates, Rates):
        return min(max(round(value) + steps, rates.min), rates.max)
    return _along(sorted(rates), value, steps)


def _next_stop(state: State, stop: Stop, steps: int) -> str:
    """Step along the lens's own marks; a stop written in the other kind is first brought to them."""
    lens = state.kit.lens
    mark = lens.mark(lens.f_number(stop.value, stop.marks))
    marks = third_stops(lens.widest.value, lens.smallest.value)
    return edit.text_of(Stop(_along(marks, mark, steps), lens.marks, marked=True), None, state.shot.units)


def _next_sharpness(value: Sharpness, direction: int, large: bool) -> str:
    match value.by:
        case "diagonal":
            parts = value.value + direction * (500 if large else 100)
            return str(Sharpness("diagonal", min(max(parts, 500), 5000)))
        case "pixels":
            return str(Sharpness("pixels", min(max(value.value + direction * (1 if large else 0.25), 0.25), 20)))
        case _:
            return str(Sharpness("length", min(max(round(value.value + direction * 0.001, 6), 0.001), 0.2)))
