"""Contrast over distance, at the stop in use and at the best one: what closing down gains and what it costs."""

from __future__ import annotations

import math

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.solve.curves import contrast_over_distance, zone_distances
from forescale.engine.units import number_text
from forescale.tui.diagrams.canvas import Canvas, diagram, sample
from forescale.tui.diagrams.distance_bar import distance_marks
from forescale.tui.diagrams.plot import Plot, log_lengths, round_values, ruler, steps

PLOT_FROM = 5  # rows; with fewer nothing is drawn, since the pane says the same


@diagram
def draw(canvas: Canvas, answer: Answer) -> None:
    """Draw contrast over the zone's distances at the stop in use and at the best."""
    words, glyphs, found, used = Words(answer), canvas.glyphs, answer.focus.contrast, answer.focus.f_number
    fine = "contrast" if found is None else f"contrast at {number_text(found.frequency_lpmm, 2)} line pairs/mm"
    marks = distance_marks(answer, glyphs)
    if canvas.height < PLOT_FROM:
        return
    distances = zone_distances(answer, canvas.width // 2)
    stops = [(used, "in use", glyphs.point, "curve", 1)]
    if found is not None and not math.isclose(found.best_f_number, used):
        stops.append((found.best_f_number, "best", glyphs.other_point, "hint", 2))
    curves = [contrast_over_distance(answer, stop, distances) for stop, *_ in stops]
    endless = math.isinf(distances[-1])
    top = math.ceil(10 * max(map(max, curves)) + 0.1) / 10
    bare = canvas.height == PLOT_FROM  # the bar above has the distances
    bottom = canvas.height - (2 if bare else 3)
    numbers = {share: f"{100 * share:.0f} %" for share in round_values(0.0, top, steps(bottom))}
    ends = (distances[0], distances[-2 if endless else -1])
    plot = Plot(canvas, bottom, ends, (0.0, top), numbers, log=True, endless=endless)
    for values, (_, _, sign, style, every) in zip(curves, stops, strict=True):
        plot.curve(zip(distances, values, strict=True), sign, style, every)
    ruler(canvas, bottom, plot.x, {} if bare else log_lengths(plot.x, answer.system))
    plot.put()
    for letter, distance in marks.items():
        canvas.letter(plot.bottom, plot.x.cell(distance), letter)
    told = [
        (f"{sample(glyphs, sign, every)} {words.stop(stop)} {what}", style) for stop, what, sign, style, every in stops
    ]
    canvas.side_by_side(canvas.height - 1, [*told, fine])
