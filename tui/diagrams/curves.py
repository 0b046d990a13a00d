"""Curves: contrast over the zone in use and at the best stop, how far the model slides in the move, the bench."""

import math
from collections.abc import Sequence

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.kit.kit import taken_with
from forescale.engine.solve.focus_zone import contrast_over_distance, slip_over_move, zone_distances
from forescale.engine.solve.groups import BenchAnswer
from forescale.engine.solve.slip_check import head_turns
from forescale.engine.solve.turning import BenchLine, bench_line, read_off_mm
from forescale.engine.units import angle_text, number_text, with_plus
from forescale.tui.diagrams.bars import distance_marks
from forescale.tui.diagrams.canvas import Canvas, Text, diagram, sample
from forescale.tui.diagrams.plot import Plot, PlotAxis, log_lengths, round_values, ruler, steps

PLOT_FROM = 5  # rows; with fewer nothing is drawn, since the pane says the same
ROOM = 1.15  # how far the axis goes past the outermost of it
LEGEND_FROM = 8
TURNS = 10  # to either side at which the slip of a move is worked out: what lies between them is as good as straight
MARGIN = 0.06  # of what is drawn, beyond the outermost of it
_SEEN = {"outruns": "+", "lags": "-", "locked": "0"}


@diagram
def contrast(canvas: Canvas, answer: Answer) -> None:
    """Draw contrast over the zone's distances at the stop in use and at the best."""
    words, glyphs = Words(answer), canvas.glyphs
    found, used = answer.focus.contrast, answer.focus.f_number
    fine = "contrast" if found is None else f"contrast at {number_text(found.frequency_lpmm, 2)} line pairs/mm"
    marks = distance_marks(answer, glyphs)
    if canvas.height < PLOT_FROM:
        return
    distances = zone_distances(answer, canvas.width // 2)
    stops = [(used, "in use", glyphs.point, "curve", 1)]
    if found is not None and not math.isclose(found.best_f_number, used):
        stops.append((found.best_f_number, "best", glyphs.other_point, "hint", 2))
    curves = [contrast_over_distance(answer, stop, distances) for stop, *_ in stops]
    endless, top = math.isinf(distances[-1]), math.ceil(10 * max(map(max, curves)) + 0.1) / 10
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
    told = [(f"{sample(glyphs, sign, every)} {words.stop(stop)} {of}", style) for stop, of, sign, style, every in stops]
    canvas.side_by_side(canvas.height - 1, [*told, fine])


@diagram
def slip_in_move(canvas: Canvas, answer: Answer) -> None:
    """Draw the slip in pixels over the angle turned, above zero where the model outruns, with what may pass."""
    missing = _missing(answer)
    for row, text in enumerate(missing):
        canvas.side_by_side(row, [text])
    if missing or canvas.height < PLOT_FROM:
        return
    slip, glyphs, bare = answer.slip, canvas.glyphs, canvas.height == PLOT_FROM
    points = slip_over_move(answer, min(2 * canvas.width, TURNS))
    slips = [px for _, px in points] + [slip.tolerance_px, -slip.tolerance_px]
    turns, up = (points[0][0], points[-1][0]), (ROOM * min(slips), ROOM * max(slips))
    bottom = canvas.height - (2 if bare else 3)
    plot = Plot(canvas, bottom, turns, up, {px: with_plus(px) for px in round_values(*up, steps(bottom))})
    plot.curve(points, glyphs.point, "curve")
    for edge, style in ((slip.tolerance_px, "ok"), (-slip.tolerance_px, "ok"), (0.0, "drawing")):
        plot.level(edge, style)
    angles = {} if bare else {turn: angle_text(turn) for turn in round_values(*turns, canvas.width // 12)}
    ruler(canvas, bottom, plot.x, angles)
    plot.put()
    over = f" over {angle_text(turns[1] - turns[0])}" if bare else ""
    passes = f"{sample(glyphs, glyphs.dot, 4)} {number_text(slip.tolerance_px)} may pass"
    told = [(f"{sample(glyphs, glyphs.point)} slip in px{over}", "curve"), (passes, "ok")]
    canvas.side_by_side(canvas.height - 1, [*told, "+ model outruns, - lags"])


def _missing(answer: Answer) -> list[str]:
    """Return why there is no slip to draw, in short lines; nothing where there is."""
    slip = answer.slip
    if not head_turns(answer):
        return ["nothing turns"]
    if not slip.pupil_known:
        return ["slip not known", "pupil not measured", "find it on the bench"]
    if answer.kit.head is None:
        return ["slip not known", "no head is named"]
    return ["slip not known", "slide not set"] if slip.slip_px is None else []


@diagram
def bench(canvas: Canvas, answer: Answer) -> None:
    """Draw the slip over the slide with its zero, where that lies 95 times of 100, what the eye saw, or what lacks."""
    bench = answer.slip.bench
    if bench is None or bench.fault is not None:
        lacks = "no reading yet" if bench is None else "the readings give no zero, and Tab says why"
        for row, text in enumerate(("no line to draw:", lacks, "key a takes a reading")):
            canvas.side_by_side(row, [text])
    elif canvas.height >= PLOT_FROM:
        if (line := bench_line(answer)) is not None:
            _bench_plot(canvas, line, bench)
        else:
            _along_the_slide(canvas, answer, bench)


def _ends(places: Sequence[float]) -> tuple[float, float]:
    low, high = min(places), max(places)
    spare = MARGIN * (high - low) or 1.0
    return low - spare, high + spare


def _bench_plot(canvas: Canvas, line: BenchLine, bench: BenchAnswer) -> None:
    glyphs, points = canvas.glyphs, line.points
    ends = _ends([line.zero_mm, *(point.slide_mm for point in points)])
    bottom = canvas.height - (2 if canvas.height < LEGEND_FROM else 3)
    up = _ends([0.0, *(point.straight_px for point in points)])
    plot = Plot(canvas, bottom, ends, up, {px: with_plus(px) for px in round_values(*up, steps(bottom))})
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
    axis = PlotAxis(*_ends([*(row.slide for row in rows), *tried]), 1, canvas.width - 2)
    middle = canvas.height // 2 - 1
    for row in rows:
        canvas.mark(middle, axis.cell(row.slide), _SEEN[str(row.seen)], "value")
    zero = None if bench.slide_for_zero_mm is None else bench.slide_for_zero_mm + read_off_mm(answer)
    named = [place for place in (zero, bench.try_next_mm, low, high) if place is not None]
    texts = {place: number_text(round(place, 1), 5) for place in named or [rows[0].slide]}
    held = (axis.low if low is None else low, axis.high if high is None else high, canvas.glyphs.shade_light, "ok")
    ruler(canvas, middle + 1, axis, texts, [held])
    holds = (f"{canvas.glyphs.shade_light} holds the zero", "ok")
    canvas.side_by_side(middle + 3, ["+ outruns", "- lags", "0 locked", holds])
