"""Two bars on a logarithmic scale: along the tape what is sharp, and the rates with how heavy each looks."""

import math
from bisect import bisect
from collections.abc import Callable

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.kit.profiles import Rates
from forescale.engine.solve.focus_zone import Looks, reads_as, weight_at
from forescale.engine.units import UnitSystem, number_text, tape_at_least, tape_at_most, tape_text
from forescale.tui.diagrams.canvas import Canvas, Text, diagram
from forescale.tui.diagrams.plot import FOOT_MM, PlotAxis, log_lengths, ruler
from forescale.tui.glyphs import Glyphs

ROOM = 1.1  # how far the axis goes past its first and last mark
HOLDS = 1 + 1e-9  # a zone solved exactly and tested exactly may differ in the last digit
WHOLE_INCHES_FROM_MM = 3 * FOOT_MM


def lengths(mm: float, system: UnitSystem, tape: Callable[..., str] = tape_text) -> tuple[str, ...]:
    """Return a length as the rest of the program writes it and, where feet are long to write, to a whole inch."""
    exact = tape(mm, system)
    if system == "metric" or abs(mm) < WHOLE_INCHES_FROM_MM:
        return (exact,)
    return tuple(dict.fromkeys((exact, tape(mm, system, fraction=1))))


def lettered(letter: str, mm: float, answer: Answer, after: str = "") -> tuple[str, ...]:
    """Return "M 10 ft" in its longer and its shorter form, with words after it where there is room."""
    bare = tuple(f"{letter} {text}" for text in lengths(mm, answer.system))
    return (*(f"{text} {after}" for text in bare), *bare) if after else bare


def distance_marks(answer: Answer, glyphs: Glyphs) -> dict[str, float]:
    """Return the tape distance of each letter, the most wanted first, and none for a place that another has."""
    line, focus = answer.lineup, answer.focus
    marks = {glyphs.model: line.model_mm, glyphs.background: line.background_mm, glyphs.focus: focus.focus_mm}
    if focus.near_needed_mm < line.model_mm:
        marks[glyphs.nearest] = focus.near_needed_mm
    if focus.far_needed_mm > line.background_mm:
        marks[glyphs.farthest] = focus.far_needed_mm
    return marks


@diagram
def distances(canvas: Canvas, answer: Answer) -> None:
    """Draw the sharp zone heavy and the marks on it, with their distances, limits, legend as far as there is room."""
    glyphs, focus, system, height = canvas.glyphs, answer.focus, answer.system, canvas.height
    marks = distance_marks(answer, glyphs)
    axis = _axis([*marks.values()], [focus.near_mm, focus.far_mm], canvas.width - 1)
    bar, scale = int(height >= 3), int(height >= 6)
    sharp = (focus.near_mm, focus.far_mm, glyphs.heavy, "ok")
    ruler(canvas, bar, axis, log_lengths(axis, system) if scale else {}, [sharp])
    if bar:
        far, near = lengths(focus.far_mm, system, tape_at_most), lengths(focus.near_mm, system, tape_at_least)
        begin, end = axis.cell(focus.near_mm), axis.cell(focus.far_mm)
        ends = [(end, [f"to {text}" for text in far])]
        ends.append((begin, [f"{words} {text}" for words in ("sharp from", "from") for text in near]))
        trial = Canvas(canvas.width, 1, glyphs)
        apart = all(trial.place([0], column, ways) for column, ways in ends)
        whole = [f"sharp from {near[0]} to {far[0]}", *(f"from {near[at]} to {far[at]}" for at in (0, -1))]
        if apart or not canvas.place([0], (begin + end) // 2, whole):
            for column, ways in ends:
                canvas.place([0], column, ways)
    below, left_over = range(bar + 1 + scale, min(bar + 3 + scale, height)), []
    for letter, distance in marks.items():
        canvas.letter(bar, axis.cell(distance), letter)
        soft = not focus.near_mm / HOLDS <= distance <= focus.far_mm * HOLDS
        texts = lettered(letter, distance, answer, "soft" if soft else "")
        if not canvas.place(below, axis.cell(distance), texts):
            left_over.append(texts[0])
    if height >= 5:
        words = {glyphs.model: "model", glyphs.focus: "focus", glyphs.background: "background"}
        words |= {glyphs.nearest: "nearest part", glyphs.farthest: "farthest"}
        legend = [(f"{letter} {words[letter]}", "value") for letter in marks]
        canvas.side_by_side(bar + 3 + scale, [*left_over, *legend, (f"{glyphs.heavy * 2} sharp", "ok"), "log scale"])


def _axis(needed: list[float], also: list[float], last: int) -> PlotAxis:
    finite = [mm for mm in needed if 0 < mm < math.inf]
    finite += [mm for mm in also if min(finite) / 4 <= mm <= max(finite) * 4]
    low, high = min(finite) / ROOM, max(finite) * ROOM
    return PlotAxis(low, high, 0, last, log=True, endless=max(*needed, *also) > high)


@diagram
def rates(canvas: Canvas, answer: Answer) -> None:
    """Draw, as the height grows: the bar with ideal and set rate, rates, how each would look, gravity, the legend."""
    glyphs, rate = canvas.glyphs, Words(answer).rate
    run, mode = answer.speed, answer.kit.mode.fps
    low, top = (mode.min, mode.max) if isinstance(mode, Rates) else (min(mode), max(mode))
    ends = (low, top, run.ideal_fps, run.fps)
    axis = PlotAxis(min(ends) / ROOM, max(ends) * ROOM, 0, canvas.width - 1, log=True)
    looks = _looks_in(range(canvas.width), lambda cell: reads_as(answer, axis.value(cell)))
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


def _looks_in(cells: range, look_at: Callable[[int], Looks | None]) -> list[tuple[Looks | None, range]]:
    """Return the stretch of cells of each look, found by halving: the faster, the slower it looks."""
    if not cells:
        return []
    look = look_at(cells[0])
    until = bisect(cells, False, key=lambda cell: look_at(cell) != look)
    return [(look, cells[:until]), *_looks_in(cells[until:], look_at)]


def _looks(canvas: Canvas, looks: list[tuple[Looks | None, range]]) -> bool:
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
        return f"falls {Words.weight(weight)} × as hard as heft {number_text(heft, 3)} wants: {look}"
    return f"gravity looks {Words.weight(weight)} (1 is right): {look}"
