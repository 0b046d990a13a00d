"""Contrast over distance, at the stop in use and at the best one: what closing down gains and what it costs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.solve.curves import contrast_over_distance, zone_distances
from forescale.engine.units import number_text
from forescale.tui.diagrams.canvas import NARROWEST, Canvas
from forescale.tui.diagrams.log_axis import END_COLUMNS, LogAxis
from forescale.tui.diagrams.wording import distance_marks, lettered
from forescale.tui.glyphs import Glyphs

LEFT = 7  # columns for the numbers of the upright axis and its line
PLOT_FROM = 5  # rows; with fewer the same is said in words alone
STEP = 0.1  # the upright axis runs from tenth to tenth, no more of them than the curves need


@dataclass(frozen=True, slots=True)
class _Curve:
    """One stop's contrast at the distance of each column."""

    mark: str
    words: str
    values: Sequence[float]


def draw(answer: Answer, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return contrast over the zone's distances at the stop in use and the best, or in words where room is short."""
    canvas = Canvas(width, height, glyphs)
    if width < NARROWEST:
        return canvas.lines()
    if height < PLOT_FROM:
        _in_words(canvas, answer)
        return canvas.lines()
    bottom = height - (2 if height == PLOT_FROM else 3)
    axis, columns, distances = _axis(answer, width)
    curves = _curves(answer, distances, glyphs)
    upright = _upright(curves)
    _frame(canvas, bottom, axis, upright)
    for index, column in enumerate(columns):
        _point(canvas, bottom, column, upright, [(curve.mark, curve.values[index]) for curve in curves])
    _letters(canvas, bottom, axis, answer, with_distances=height > PLOT_FROM)
    canvas.side_by_side(height - 1, [*_legend(curves, glyphs), _frequency(answer)])
    return canvas.lines()


def _legend(curves: Sequence[_Curve], glyphs: Glyphs) -> list[str]:
    told = [f"{curve.mark} {curve.words}" for curve in curves]
    return [*told, f"{glyphs.both_points} both"] if len(curves) > 1 else told


def _in_words(canvas: Canvas, answer: Answer) -> None:
    """Write the contrast at the zone's ends and the focus, and what the best stop gives, a line each."""
    words, found, marks = Words(answer), answer.focus.contrast, distance_marks(answer, canvas.glyphs)
    if found is None:
        canvas.side_by_side(0, ["contrast not worked out"])
        return
    near = min(marks, key=lambda letter: marks[letter])
    far = max(marks, key=lambda letter: marks[letter])
    here = ((near, found.near), (canvas.glyphs.focus, found.focus), (far, found.far))
    shares = [f"{letter} {words.percent(share)}" for letter, share in here]
    canvas.side_by_side(0, [f"{words.stop(answer.focus.f_number)}: {shares[0]}", *shares[1:]])
    canvas.side_by_side(1, [f"best {words.stop(found.best_f_number)}: worst {words.percent(found.best_worst)}"])
    canvas.side_by_side(2, [_frequency(answer)])


def _frequency(answer: Answer) -> str:
    found = answer.focus.contrast
    return "contrast" if found is None else f"contrast at {number_text(found.frequency_lpmm, 2)} line pairs/mm"


def _axis(answer: Answer, width: int) -> tuple[LogAxis, list[int], tuple[float, ...]]:
    """Return the distance axis, the columns that get a point, and their distances."""
    right = width - 1
    endless = math.isinf(answer.focus.far_needed_mm)
    columns = [*range(LEFT, right - END_COLUMNS + 1), right] if endless else list(range(LEFT, right + 1))
    distances = zone_distances(answer, len(columns))
    low, high = distances[0], distances[-2 if endless else -1]
    return LogAxis(low, high, LEFT, right, endless), columns, distances


def _curves(answer: Answer, distances: Sequence[float], glyphs: Glyphs) -> list[_Curve]:
    words, used = Words(answer), answer.focus.f_number
    best = used if answer.focus.contrast is None else answer.focus.contrast.best_f_number
    curves = [_Curve(glyphs.point, f"{words.stop(used)} in use", contrast_over_distance(answer, used, distances))]
    if not math.isclose(best, used):
        values = contrast_over_distance(answer, best, distances)
        curves.append(_Curve(glyphs.other_point, f"{words.stop(best)} best", values))
    return curves


def _upright(curves: Sequence[_Curve]) -> tuple[float, float]:
    """Return the ends of the upright axis."""
    values = [value for curve in curves for value in curve.values]
    low, high = math.floor(min(values) / STEP), math.ceil(max(values) / STEP)
    return STEP * low, STEP * max(high, low + 1)


def _frame(canvas: Canvas, bottom: int, axis: LogAxis, upright: tuple[float, float]) -> None:
    glyphs = canvas.glyphs
    canvas.down(LEFT - 1, 0, bottom - 1, glyphs.vertical)
    canvas.mark(bottom, LEFT - 1, glyphs.bottom_left)
    canvas.across(bottom, LEFT, axis.right, glyphs.horizontal)
    if axis.endless:
        for step, glyph in enumerate(glyphs.break_mark):
            canvas.mark(bottom, axis.break_column + step, glyph)
        canvas.mark(bottom, axis.right, glyphs.right)
    for row, share in zip((bottom - 1, 0), upright, strict=True):
        number = f"{100 * share:.0f} %"
        canvas.write(row, LEFT - 2 - len(number), number)
        canvas.mark(row, LEFT - 1, glyphs.tee_left)


def _point(
    canvas: Canvas, bottom: int, column: int, upright: tuple[float, float], points: list[tuple[str, float]]
) -> None:
    """Draw the curves' points in one column; where two share a cell, the mark for both."""
    low, high = upright
    rows = {mark: round((high - share) / (high - low) * (bottom - 1)) for mark, share in points}
    for mark, row in rows.items():
        alone = list(rows.values()).count(row) == 1
        canvas.mark(row, column, mark if alone else canvas.glyphs.both_points)


def _letters(canvas: Canvas, bottom: int, axis: LogAxis, answer: Answer, *, with_distances: bool) -> None:
    """Set the places on the axis by their letters; in little room the bar above tells their distances."""
    for letter, distance in distance_marks(answer, canvas.glyphs).items():
        canvas.letter(bottom, axis.column(distance), letter)
        if with_distances:
            canvas.place([bottom + 1], axis.column(distance), lettered(letter, distance, answer.system))
