"""The line-up from the side: lens, model, and the lines of sight on to the background, lengths and heights to scale."""

from __future__ import annotations

import math

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.units import tape_text
from forescale.tui.diagrams.canvas import GAP, Canvas, diagram
from forescale.tui.diagrams.distance_bar import lengths, lettered
from forescale.tui.diagrams.plot import Axis, Plot, round_lengths, ruler, steps

BREAK_FROM = 3.0  # a background more than so many times as far as the model stands past a break
PAST = 1.3  # times as far as the model, how far the lines of sight are followed then
PLOT_FROM = 4  # rows; with fewer the tape alone is drawn


@diagram
def draw(canvas: Canvas, answer: Answer) -> None:
    """Draw the side view, or the tape alone in little room or where no height is known; the legend is its last row."""
    line, glyphs, height = answer.lineup, canvas.glyphs, canvas.height
    reach, broken = reached(answer)
    base = 0
    if height >= PLOT_FROM and answer.setting.place.lens_height is not None:
        base = height - (3 if height >= 6 else 2)
        _sights(canvas, answer, base, answer.setting.place.lens_height)
    else:
        axis = Axis(0.0, reach, 1, canvas.width - 1, endless=broken)
        tape(canvas, base, axis, answer)
        model = axis.cell(line.model_mm)
        columns = {glyphs.lens: axis.first, glyphs.model: model}
        for letter, column in (columns | {glyphs.background: max(axis.cell(line.background_mm), model + 1)}).items():
            canvas.letter(base, column, letter)
    named = [(f"{glyphs.lens} lens", "value"), (f"{glyphs.model} model", "value")]
    reads = [f"reads as {Words(answer).ratio(line.reads_as_ratio)}"] if math.isfinite(line.reads_as_ratio) else []
    left_out = [f"{glyphs.break_mark} left out"] if broken else []
    canvas.side_by_side(base + 2, [*named, (f"{glyphs.background} background", "value"), *reads, *left_out])


def reached(answer: Answer) -> tuple[float, bool]:
    """Return how far from the camera the drawing is to scale, mm of tape, and whether the background lies past it."""
    model, background = answer.lineup.model_mm, answer.lineup.background_mm
    broken = background > BREAK_FROM * model
    return (PAST * model if broken else 1.05 * background), broken


def tape(canvas: Canvas, row: int, axis: Axis, answer: Answer) -> None:
    """Draw the tape along a row, with the distances of model and background below it, and round ones between."""
    line, glyphs = answer.lineup, canvas.glyphs
    for letter, mm in ((glyphs.background, line.background_mm), (glyphs.model, line.model_mm)):
        canvas.place([row + 1], axis.cell(mm), lettered(letter, mm, answer.system))
    ruler(canvas, row, axis, round_lengths(0.0, axis.high, canvas.width // 12, answer.system))


def _sights(canvas: Canvas, answer: Answer, base: int, lens: float) -> None:
    """Draw heights over the tape: the lens, the model between the lines of sight to the feature and to its foot."""
    line, glyphs, system, place = answer.lineup, canvas.glyphs, answer.system, answer.setting.place
    reach, broken = reached(answer)
    hang = lens if line.hang_height_mm is None else line.hang_height_mm
    foot = lens if line.foot_height_mm is None else line.foot_height_mm
    ends = [lens + (height - lens) * reach / line.model_mm for height in (hang, foot)]
    low, high = min(lens, *ends), max(lens, *ends)
    spare = 0.08 * (high - low) or 100.0
    up = (low - spare, high + spare)
    numbers = {lens: tape_text(lens, system)} | round_lengths(*up, steps(base), system)
    plot = Plot(canvas, base, (0.0, reach), up, numbers, endless=broken)
    for end in dict.fromkeys(ends):
        plot.curve([(0.0, lens), (reach, end)], glyphs.dot, "hint", 2)
    at, top, bottom = plot.x.cell(line.model_mm), plot.y.cell(hang), plot.y.cell(foot)
    far = max(plot.x.cell(line.background_mm), at + 1)
    canvas.letter(plot.y.cell(lens), plot.x.first, glyphs.lens)
    canvas.letter(top, at, glyphs.model)
    canvas.letter(plot.y.cell(ends[0]), far, glyphs.background)
    if place.feature_height:
        text = f"{tape_text(place.feature_height, system)} up"
        canvas.write(plot.y.cell(ends[0]), far - GAP - len(text), text)
    if line.hang_height_mm is not None:
        texts = [f"tie-in {text}" for text in lengths(hang, system)]
        any(canvas.write(row, at - 1 - len(text), text) for text in texts for row in (top - 1, top, top + 1))
    tape(canvas, base, plot.x, answer)
    plot.put()
    canvas.down(plot.x.first, plot.y.cell(lens) + 1, base - 1, glyphs.vertical)
    canvas.down(at, top + 1, min(bottom, base - 1), glyphs.solid, "curve")
    canvas.down(far, plot.y.cell(ends[0]) + 1, min(plot.y.cell(ends[1]), base - 1), glyphs.shade)
    for column in (at, far):
        canvas.mark(base, column, glyphs.tee_up)
