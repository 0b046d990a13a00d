"""How a stop is said beside the others: the cells of its row, and what it gains and loses against the one set."""

import math
from collections.abc import Iterator

from forescale.engine.answer import Answer
from forescale.engine.findings.focus import NOTHING_LEFT
from forescale.engine.findings.words import Words
from forescale.engine.solve.focus_zone import StopRow, StopTable

TOLD_STOPS = 0.05  # a difference in light that shows in a decimal


def stop_heads(answer: Answer) -> tuple[str, ...]:
    """Return the heads of `stop_cells`: contrasts in %, light in stops over (+) or short (-), or what is needed."""
    light = "needs" if answer.light.over_stops is None else "light"
    return "stop", "sharp from", "to", "holds", "near", "focus", "far", "worst %", light


def stop_cells(answer: Answer, row: StopRow) -> tuple[str, ...]:
    """Return a stop's cells, the set, the first to hold the zone and the best marked with those words."""
    words = Words(answer)
    over = row.over_stops
    return (
        f"{words.stop(row.f_number)}{' set' if row.as_set else ''}",
        words.sharp_from(row.near_mm),
        words.sharp_to(row.far_mm),
        "first" if row.first_to_hold else "yes" if row.covers else "no",
        *map(_seen, (row.near, row.focus, row.far)),
        f"{_seen(row.worst):>3}{' best' if row.best else ''}",
        words.lux(row.lux_with_nd) if over is None else f"{round(over, 1) + 0.0:+.1f}",
    )


def _seen(share: float) -> str:
    """Return a contrast; so little counts as nothing, since what comes back past the first loss is false detail."""
    return "0" if share < NOTHING_LEFT else _percent(share)


def _percent(share: float) -> str:
    return Words.percent(share).removesuffix(" %")


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
    zone = answer.focus
    words = Words(answer)
    near, far = row.near_mm - zone.near_needed_mm, zone.far_needed_mm - row.far_mm
    at_near = f"by {words.sharp_from(near)}" if near > 0 else ""
    if not far > 0:  # nor is it where both ends are infinite
        return f"{at_near} at the near end"
    beyond = f"beyond {words.sharp_to(row.far_mm)}" if math.isinf(far) else ""
    if not at_near:
        return beyond or f"by {words.sharp_from(far)} at the far end"
    return f"{at_near} near and {beyond or f'{words.sharp_from(far)} far'}"
