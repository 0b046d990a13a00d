"""The rate: what the mode can run, what the scale asks for, what is set, and how heavy each would look."""

from __future__ import annotations

from itertools import groupby

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.kit.profiles import Rates
from forescale.engine.solve.curves import Weight, reads_as, weight_at
from forescale.engine.units import number_text
from forescale.tui.diagrams.canvas import NARROWEST, Canvas
from forescale.tui.diagrams.log_axis import LogAxis
from forescale.tui.glyphs import Glyphs

ROOM = 1.1  # how far the axis goes past its first and last rate


def draw(answer: Answer, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return the rate bar: heavy where the mode can run, a tick at each rate it has, the ideal and the set rate on it.

    Rows in the order in which they appear as the height grows: the bar, the rates in numbers, how each rate would
    look (for an action that falls or flows), gravity in a number, the mode's lowest and top rate, the legend.
    """
    canvas = Canvas(width, height, glyphs)
    if width < NARROWEST:
        return canvas.lines()
    axis = _axis(answer, width)
    _bar(canvas, 0, axis, answer)
    left_over = _numbers(canvas, 1, axis, answer)
    scaled = _weights(canvas, 2, axis, answer)
    canvas.side_by_side(2 + scaled, [_gravity(answer), *left_over])
    canvas.side_by_side(3 + scaled, _legend(glyphs))
    return canvas.lines()


def _mode_ends(answer: Answer) -> tuple[float, float]:
    rates = answer.kit.mode.fps
    return (rates.min, rates.max) if isinstance(rates, Rates) else (min(rates), max(rates))


def _axis(answer: Answer, width: int) -> LogAxis:
    run = answer.speed
    rates = (*_mode_ends(answer), run.ideal_fps, run.fps)
    return LogAxis(min(rates) / ROOM, max(rates) * ROOM, 0, width - 1)


def _bar(canvas: Canvas, row: int, axis: LogAxis, answer: Answer) -> None:
    glyphs, run = canvas.glyphs, answer.speed
    canvas.across(row, axis.left, axis.right, glyphs.horizontal)
    low, top = _mode_ends(answer)
    canvas.across(row, axis.column(low), axis.column(top), glyphs.heavy)
    for rate in run.rates or (low, top):
        canvas.mark(row, axis.column(rate), glyphs.cross)
    canvas.letter(row, axis.column(run.fps), glyphs.rate)
    canvas.letter(row, axis.column(run.ideal_fps), glyphs.ideal)


def _numbers(canvas: Canvas, row: int, axis: LogAxis, answer: Answer) -> list[str]:
    """Write the rates under their marks, and return those that found no room."""
    glyphs, run, rate = canvas.glyphs, answer.speed, Words(answer).rate
    low, top = _mode_ends(answer)
    numbers = {run.fps: f"{glyphs.rate} {rate(run.fps)}"}
    numbers.setdefault(run.ideal_fps, f"{glyphs.ideal} {rate(run.ideal_fps)}")
    numbers.setdefault(top, f"top {rate(top)}")
    numbers.setdefault(low, f"low {rate(low)}")
    return [
        text
        for value, text in numbers.items()
        if not canvas.place([row], axis.column(value), [text, text.removesuffix(" fps")])
    ]


def _weights(canvas: Canvas, row: int, axis: LogAxis, answer: Answer) -> bool:
    """Draw how the action would look at the rate of each column, each look in its own shade and with its word.

    False, and nothing drawn, for an action whose rate is free.
    """
    glyphs = canvas.glyphs
    shades: dict[Weight | None, str] = {
        "toy": glyphs.shade, "small": glyphs.shade_light, "right": glyphs.heavy, "slow": glyphs.dot,
    }  # fmt: skip
    for look, group in groupby(range(axis.left, axis.right + 1), lambda column: reads_as(answer, axis.value(column))):
        columns = list(group)
        if look is None:
            return False
        canvas.across(row, columns[0], columns[-1], shades[look])
        if len(columns) >= len(look) + 2:
            canvas.write(row, columns[0] + (len(columns) - len(look)) // 2, look)
    return True


def _gravity(answer: Answer) -> str:
    weight, look = weight_at(answer, answer.speed.fps), reads_as(answer, answer.speed.fps)
    if weight is None:
        return "nothing falls or flows: any rate will do"
    heft = answer.setting.action.heft
    if heft != 1:  # gravity itself stands in the pane, and is another number
        return f"falls {number_text(weight, 2)} × as hard as heft {number_text(heft, 3)} wants: {look}"
    return f"gravity looks {number_text(weight, 2)} (1 is right): {look}"


def _legend(glyphs: Glyphs) -> list[str]:
    mode = f"{glyphs.heavy * 2} the mode's rates"
    return [f"{glyphs.rate} rate set", f"{glyphs.ideal} ideal", mode, "log scale"]
