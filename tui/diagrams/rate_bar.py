"""The rate: what the mode can run, what the scale asks for, what is set, and how heavy each would look."""

from __future__ import annotations

from itertools import groupby

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.kit.profiles import Rates
from forescale.engine.solve.curves import Weight, reads_as, weight_at
from forescale.engine.units import number_text
from forescale.tui.diagrams.canvas import Canvas, Text, diagram
from forescale.tui.diagrams.plot import Axis, ruler

ROOM = 1.1  # how far the axis goes past its first and last rate


@diagram
def draw(canvas: Canvas, answer: Answer) -> None:
    """Draw, as the height grows: the bar with ideal and set rate, rates, how each would look, gravity, the legend."""
    glyphs, run, mode, rate = canvas.glyphs, answer.speed, answer.kit.mode.fps, Words(answer).rate
    low, top = (mode.min, mode.max) if isinstance(mode, Rates) else (min(mode), max(mode))
    ends = (low, top, run.ideal_fps, run.fps)
    axis = Axis(min(ends) / ROOM, max(ends) * ROOM, 0, canvas.width - 1, log=True)
    by_look = groupby(range(canvas.width), lambda cell: reads_as(answer, axis.value(cell)))
    looks = [(look, [*cells]) for look, cells in by_look]
    spans = [(first, last, glyphs.dot, "drawing") for first, last in ((axis.low, low), (top, axis.high))]
    for look, cells in looks:
        if look in {"right", None}:
            spans.append((axis.value(cells[0]), axis.value(cells[-1]), glyphs.heavy, "ok"))
    ruler(canvas, 0, axis, {}, spans)
    for fps in run.rates or (low, top):
        canvas.mark(0, axis.cell(fps), glyphs.cross)
    canvas.letter(0, axis.cell(run.fps), glyphs.rate)
    canvas.letter(0, axis.cell(run.ideal_fps), glyphs.ideal)
    named = {run.fps: f"{glyphs.rate} {rate(run.fps)}"}
    for fps, name in ((run.ideal_fps, glyphs.ideal), (top, "top"), (low, "low")):
        named.setdefault(fps, f"{name} {rate(fps)}")
    places = {text: (axis.cell(fps), [text, text.removesuffix(" fps")]) for fps, text in named.items()}
    left_over = [text for text, place in places.items() if not canvas.place([1], *place)]
    for fps in run.rates or ():
        if fps not in named:
            canvas.place([1], axis.cell(fps), [number_text(fps, 6)], reach=0)
    falls = _looks(canvas, looks)
    canvas.side_by_side(2 + falls, [_gravity(answer), *left_over])
    told: list[Text] = [(f"{glyphs.rate} rate set", "value"), (f"{glyphs.ideal} ideal", "value")]
    told += [f"{glyphs.cross} the mode's rates", *([(f"{glyphs.heavy * 2} looks right", "ok")] if falls else [])]
    canvas.side_by_side(3 + falls, [*told, "log scale"])


def _looks(canvas: Canvas, looks: list[tuple[Weight | None, list[int]]]) -> bool:
    """Draw how the action would look at each cell's rate, in a word too; False, and nothing, where the rate is free."""
    glyphs = canvas.glyphs
    shades = {"toy": (glyphs.shade, "warn"), "small": (glyphs.shade_light, "drawing"), "right": (glyphs.heavy, "ok"),
              "slow": (glyphs.dot, "drawing")}  # fmt: skip
    for look, cells in looks:
        if look is None:
            return False
        glyph, style = shades[look]
        canvas.across(2, cells[0], cells[-1], glyph, style)
        if len(cells) >= len(look) + 2:
            canvas.write(2, cells[0] + (len(cells) - len(look)) // 2, look, style)
    return True


def _gravity(answer: Answer) -> str:
    weight, look = weight_at(answer, answer.speed.fps), reads_as(answer, answer.speed.fps)
    if weight is None:
        return "nothing falls or flows: any rate will do"
    heft = answer.setting.action.heft
    if heft != 1:  # gravity itself stands in the pane, and is another number
        return f"falls {number_text(weight, 2)} × as hard as heft {number_text(heft, 3)} wants: {look}"
    return f"gravity looks {number_text(weight, 2)} (1 is right): {look}"
