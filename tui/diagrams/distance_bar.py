"""Along the tape: what is sharp, and where model, focus and background lie on it. The scale is logarithmic."""

from __future__ import annotations

from forescale.engine.answer import Answer
from forescale.engine.units import tape_at_least, tape_at_most
from forescale.tui.diagrams.canvas import NARROWEST, Canvas
from forescale.tui.diagrams.log_axis import LogAxis, distance_axis, round_distances
from forescale.tui.diagrams.wording import distance_marks, lengths, lettered
from forescale.tui.glyphs import Glyphs

HOLDS = 1 + 1e-9  # a zone solved exactly and tested exactly may differ in the last digit


def draw(answer: Answer, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return the distance bar: the sharp zone heavy, the marks on it, and their distances as far as there is room.

    Rows in the order in which they appear as the height grows: the bar, the marks' distances, the limits of
    sharpness, a second row of distances, the legend, round distances.
    """
    canvas = Canvas(width, height, glyphs)
    if width < NARROWEST:
        return canvas.lines()
    focus, marks = answer.focus, distance_marks(answer, glyphs)
    axis = distance_axis(marks.values(), (focus.near_mm, focus.far_mm), 0, width - 1)
    bar = 1 if height >= 3 else 0
    scale = height >= 6
    _bar(canvas, bar, axis, answer, marks)
    if bar:
        _limits(canvas, axis, answer)
    if scale:
        for column, text in round_distances(axis, answer.system):
            if canvas.place([bar + 1], column, [text], reach=0):
                canvas.mark(bar, column, glyphs.tee_down)
    below = range(bar + 1 + scale, min(bar + 3 + scale, height))
    left_over = _distances(canvas, below, axis, answer, marks)
    if height >= 5:
        canvas.side_by_side(bar + 3 + scale, [*left_over, *_legend(marks, glyphs)])
    return canvas.lines()


def _bar(canvas: Canvas, row: int, axis: LogAxis, answer: Answer, marks: dict[str, float]) -> None:
    glyphs, focus = canvas.glyphs, answer.focus
    canvas.across(row, axis.left, axis.right, glyphs.horizontal)
    near, far = axis.column(focus.near_mm), axis.column(focus.far_mm)
    canvas.across(row, near, far, glyphs.heavy)
    for letter, distance in marks.items():
        canvas.letter(row, axis.column(distance), letter)
    if axis.endless:
        for step, glyph in enumerate(glyphs.break_mark):
            canvas.mark(row, axis.break_column + step, glyph)
        canvas.mark(row, axis.right, glyphs.right)


def _limits(canvas: Canvas, axis: LogAxis, answer: Answer) -> None:
    """Write the limits of sharpness above the ends of the heavy line."""
    focus, system = answer.focus, answer.system
    near_texts = lengths(focus.near_mm, system, tape_at_least)
    far_texts = lengths(focus.far_mm, system, tape_at_most)
    near = [f"{words}{text}" for words in ("sharp from ", "from ") for text in near_texts]
    far = [f"to {text}" for text in far_texts]
    canvas.place([0], axis.column(focus.far_mm), far)
    canvas.place([0], axis.column(focus.near_mm), near)


def _distances(canvas: Canvas, rows: range, axis: LogAxis, answer: Answer, marks: dict[str, float]) -> list[str]:
    """Write each mark's distance under it, and return those that found no room."""
    left_over = []
    for letter, distance in marks.items():
        texts = lettered(letter, distance, answer.system, "soft" if _is_soft(answer, distance) else "")
        if not canvas.place(rows, axis.column(distance), texts):
            left_over.append(texts[0])
    return left_over


def _is_soft(answer: Answer, distance_mm: float) -> bool:
    return not answer.focus.near_mm / HOLDS <= distance_mm <= answer.focus.far_mm * HOLDS


def _legend(marks: dict[str, float], glyphs: Glyphs) -> list[str]:
    words = {
        glyphs.model: "model",
        glyphs.focus: "focus",
        glyphs.background: "background",
        glyphs.nearest: "nearest part",
        glyphs.farthest: "farthest",
    }
    named = [f"{letter} {words[letter]}" for letter in marks]
    return [*named, f"{glyphs.heavy * 2} sharp", "log scale"]
