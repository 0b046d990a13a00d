"""How a stop is said beside the others: the cells of its row, and what it gains and loses against the one set."""

import math
from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.solve.focus_zone import StopRow, StopTable
from forescale.engine.units import UnitSystem, illuminance_text, length_text
from forescale.engine.units.lengths import INCH_MM

# From where on a quarter of an inch, an inch, a foot and, in metric, a centimetre is fine enough.
QUARTERS_FROM_MM, INCHES_FROM_MM, FEET_FROM_MM, CENTIMETRES_FROM_MM = 76.2, 914.4, 30_000.0, 10_000.0
TOLD_STOPS = 0.05  # a difference in light that shows in a decimal


def stop_heads(answer: Answer) -> tuple[str, ...]:
    """Return the heads of `stop_cells`: contrasts in %, light in stops over (+) or short (-), or what is needed."""
    light = "needs" if answer.light.over_stops is None else "light"
    return "stop", "sharp from", "to", "holds", "near", "focus", "far", "worst %", light


def stop_cells(answer: Answer, row: StopRow) -> tuple[str, ...]:
    """Return a stop's cells, the set, the first to hold the zone and the best marked with those words."""
    system, over = answer.system, row.over_stops
    lit = illuminance_text(row.lux_with_nd, system) if over is None else f"{round(over, 1) + 0.0:+.1f}"
    return (
        f"{Words(answer).stop(row.f_number)}{' set' if row.as_set else ''}",
        no_nearer(row.near_mm, system),
        no_farther(row.far_mm, system),
        "first" if row.first_to_hold else "yes" if row.covers else "no",
        *map(_percent, (row.near, row.focus, row.far)),
        f"{_percent(row.worst)}{' best' if row.best else ''}",
        lit,
    )


def _percent(share: float) -> str:
    return f"{100 * share:.0f}"


def no_nearer(mm: float, system: UnitSystem) -> str:
    """Return a distance in coarse steps, no less than it is: from there on it is sharp."""
    step, fraction = _coarse(mm, system)
    return length_text(math.ceil(mm / step - 1e-6) * step, system, fraction=fraction)


def no_farther(mm: float, system: UnitSystem) -> str:
    """Return a distance in coarse steps, no more than it is; it may be infinite."""
    if math.isinf(mm):
        return length_text(mm, system)
    step, fraction = _coarse(mm, system)
    return length_text(math.floor(mm / step + 1e-6) * step, system, fraction=fraction)


def _coarse(mm: float, system: UnitSystem) -> tuple[float, int]:
    """Return the step in mm to which a length is said, and the part of an inch."""
    if system == "metric":
        return (1.0 if mm < CENTIMETRES_FROM_MM else 10.0), 1
    if mm < INCHES_FROM_MM:
        parts = 16 if mm < QUARTERS_FROM_MM else 4
        return INCH_MM / parts, parts
    return (INCH_MM if mm < FEET_FROM_MM else 12 * INCH_MM), 1


def against_set(answer: Answer, table: StopTable, row: StopRow) -> str:
    """Return in a sentence what a stop gains and loses against the one set; of that one, how it stands."""
    words = Words(answer)
    if row.as_set:
        first = next((words.stop(one.f_number) for one in table.rows if one.first_to_hold), None)
        best = next(one for one in table.rows if one.best)
        who = ", the program's choice" if "focus.stop" in answer.auto else ""
        holds = "no stop holds the zone" if first is None else f"the first that holds the zone is {first}"
        gives = f"{words.stop(best.f_number)}, {_percent(best.worst)} % at the worst place"
        return f"{words.stop(row.f_number)} is set{who}; {holds}; best for contrast is {gives}"
    changes = [*_changes(answer, row, table.as_shot)]
    gains = ", ".join(text for gain, text in changes if gain)
    losses = " and ".join(text for gain, text in changes if not gain)
    told = f"{gains}, but {losses}" if gains and losses else gains or losses or "as good as the stop set"
    return f"{words.stop(row.f_number)}: {told}"


def _changes(answer: Answer, row: StopRow, now: StopRow) -> Iterator[tuple[bool, str]]:
    """Yield what changes from the stop set, where it shows, and whether it is a gain: contrast, light, zone."""
    before, after = _percent(now.worst), _percent(row.worst)
    if before != after:
        gain = row.worst > now.worst
        yield gain, f"worst contrast {'up' if gain else 'down'} from {before} % to {after} %"
    more = math.log2(now.lux_with_nd / row.lux_with_nd)
    if abs(more) >= TOLD_STOPS:
        yield more > 0, f"{Words.stops(more)} {'more' if more > 0 else 'less'} light"
    if not row.covers:
        gain = not now.covers and row.f_number > now.f_number
        short = "is short" if now.covers else "is less short," if gain else "is shorter still,"
        yield gain, f"the zone {short} {_missing(answer, row)}"
    elif not now.covers:
        yield True, "all of the zone sharp"


def _missing(answer: Answer, row: StopRow) -> str:
    """Return how much of the zone a stop leaves out, at either end."""
    zone, system = answer.focus, answer.system
    near, far = row.near_mm - zone.near_needed_mm, zone.far_needed_mm - row.far_mm
    at_near = f"by {no_nearer(near, system)}"
    if not far > 0:  # nor is it where both ends are infinite
        return f"{at_near} at the near end"
    beyond = f"beyond {no_farther(row.far_mm, system)}" if math.isinf(far) else ""
    at_far = "" if beyond else no_nearer(far, system)
    if near <= 0:
        return beyond or f"by {at_far} at the far end"
    return f"{at_near} near and {beyond or f'{at_far} far'}"
