"""The bench drawn: the slips with the line through them and its zero, or what the eye saw along the slide."""

from collections.abc import Sequence

from forescale.engine.answer import Answer
from forescale.engine.kit.kit import taken_with
from forescale.engine.solve.groups import BenchAnswer
from forescale.engine.solve.turning import BenchLine, bench_line
from forescale.engine.units import number_text
from forescale.tui.diagrams.canvas import Canvas, Text, diagram, sample
from forescale.tui.diagrams.curves import signed
from forescale.tui.diagrams.plot import Axis, Plot, round_values, ruler, steps

PLOT_FROM = 5  # rows; with fewer nothing is drawn, since the readings say the same
LEGEND_FROM = 8
MARGIN = 0.06  # of what is drawn, beyond the outermost of it
_SEEN = {"outruns": "+", "lags": "-", "locked": "0"}


@diagram
def draw(canvas: Canvas, answer: Answer) -> None:
    """Draw the slip over the slide with its zero, where that lies 95 times of 100, or what the eye saw; or nothing."""
    bench = answer.slip.bench
    if bench is None or bench.fault is not None or canvas.height < PLOT_FROM:
        return
    line = bench_line(answer)
    if line is not None:
        _plot(canvas, line, bench)
    else:
        _along_the_slide(canvas, answer, bench)


def _ends(places: Sequence[float]) -> tuple[float, float]:
    low, high = min(places), max(places)
    spare = MARGIN * (high - low) or 1.0
    return low - spare, high + spare


def _plot(canvas: Canvas, line: BenchLine, bench: BenchAnswer) -> None:
    glyphs, points = canvas.glyphs, line.points
    ends = _ends([line.zero_mm, *(point.slide_mm for point in points)])
    bottom = canvas.height - (2 if canvas.height < LEGEND_FROM else 3)
    up = _ends([0.0, *(point.straight_px for point in points)])
    plot = Plot(canvas, bottom, ends, up, {px: signed(px) for px in round_values(*up, steps(bottom))})
    plot.level(0.0)
    plot.curve([(slide, line.at(slide)) for slide in ends], glyphs.dot, "curve")
    ruler(canvas, bottom, plot.x, {mm: number_text(mm, 5) for mm in round_values(*ends, canvas.width // 10)})
    plot.put()
    zero = plot.y.cell(0.0)
    told: list[Text] = ["px over mm of slide", (f"{glyphs.zero} zero {line.zero_mm:.1f}", "value")]
    for half, glyph in ((bench.band_mm, glyphs.shade_light), (bench.std_error_mm, glyphs.shade)):
        if half is not None:
            canvas.across(zero, plot.x.cell(line.zero_mm - half), plot.x.cell(line.zero_mm + half), glyph, "ok")
    for point in points:
        canvas.mark(plot.y.cell(point.straight_px), plot.x.cell(point.slide_mm), glyphs.point, "value")
    canvas.letter(zero, plot.x.cell(line.zero_mm), glyphs.zero)
    told += [(f"{glyphs.shade_light} 95 of 100", "ok")] if bench.band_mm is not None else []
    told += [(f"{glyphs.point} read", "value"), (f"{sample(glyphs, glyphs.dot)} fitted", "curve")]
    canvas.side_by_side(bottom + 2, told)


def _along_the_slide(canvas: Canvas, answer: Answer, bench: BenchAnswer) -> None:
    rows = [row for row in answer.setting.bench if taken_with(row, answer.setting, answer.kit) and row.seen is not None]
    low, high = bench.bracket_mm or (None, None)
    tried = [] if bench.try_next_mm is None else [bench.try_next_mm]
    axis = Axis(*_ends([*(row.slide for row in rows), *tried]), 1, canvas.width - 2)
    middle = canvas.height // 2 - 1
    for row in rows:
        canvas.mark(middle, axis.cell(row.slide), _SEEN[str(row.seen)], "value")
    named = [place for place in (bench.slide_for_zero_mm, bench.try_next_mm, low, high) if place is not None]
    texts = {place: number_text(round(place, 1), 5) for place in named or [rows[0].slide]}
    held = (axis.low if low is None else low, axis.high if high is None else high, canvas.glyphs.shade_light, "ok")
    ruler(canvas, middle + 1, axis, texts, [held])
    holds = (f"{canvas.glyphs.shade_light} holds the zero", "ok")
    canvas.side_by_side(middle + 3, ["+ outruns", "- lags", "0 locked", holds])
