"""The line-up from the side: lens, model and background on the ground, and the lines of sight that join them.

Only the order of things is to scale: a model 10 ft away and a background at 240 ft share a few dozen columns, so the
stretch between them is broken, with a mark that says so, and heights are given in numbers.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.units import length_text
from forescale.tui.diagrams.canvas import GAP, NARROWEST, Canvas
from forescale.tui.diagrams.wording import lengths, lettered
from forescale.tui.glyphs import Glyphs

TALLEST = 12  # rows of picture beyond which it only stretches
BREAK_FROM = 3.0  # a background more than so many times as far as the model is drawn nearer, past a break
MODEL_AT = 0.4  # of the way from lens to background, where the ground is broken


@dataclass(frozen=True, slots=True)
class _Stage:
    """Where everything stands on the canvas; `base` is the ground's row, `foot` the row just above it."""

    lens: int
    model: int
    background: int
    broken: bool
    base: int
    lens_row: int
    top_row: int

    @property
    def foot(self) -> int:
        return max(self.base - 1, 0)

    def sight_row(self, column: int, target_row: int) -> float:
        """Return the row at which the line of sight from the lens to a point of the background passes a column."""
        share = (column - self.lens) / (self.background - self.lens)
        return self.lens_row + share * (target_row - self.lens_row)


def draw(answer: Answer, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return the side view; the legend is its last row, the tape distances the row before, the ground above them."""
    canvas = Canvas(width, height, glyphs)
    if width < NARROWEST:
        return canvas.lines()
    stage = _stage(answer, width, height)
    _things(canvas, stage)
    if height >= 4:
        _heights(canvas, stage, answer)
    _sight(canvas, stage)
    _ground(canvas, stage)
    _distances(canvas, stage, answer)
    canvas.side_by_side(stage.base + 2, _legend(stage, answer, glyphs))
    return canvas.lines()


def _stage(answer: Answer, width: int, height: int) -> _Stage:
    base = 0 if height < 3 else min(height - (3 if height >= 6 else 2), TALLEST)
    foot, far = max(base - 1, 0), width - 3
    ratio = answer.lineup.background_mm / answer.lineup.model_mm
    broken = ratio > BREAK_FROM
    model = 1 + round((far - 1) * (MODEL_AT if broken else 1 / ratio))
    rise = _rise(answer)
    lens_row = {1: foot - foot // 3, 0: foot // 2, -1: 0}[rise]
    top_row = {1: 0, 0: lens_row, -1: foot}[rise]
    return _Stage(1, min(model, far - 3), far, broken, base, lens_row, top_row)


def _rise(answer: Answer) -> int:
    """Return 1 where the sight to the feature rises (or nothing is known of it), -1 where it falls, 0 where level."""
    place = answer.setting.place
    if place.lens_height is None or place.feature_height is None:
        return 1
    return (place.feature_height > place.lens_height) - (place.feature_height < place.lens_height)


def _things(canvas: Canvas, stage: _Stage) -> None:
    """Draw the lens on its stand, the background, and the model where the sights to its top and foot pass."""
    glyphs = canvas.glyphs
    canvas.letter(stage.lens_row, stage.lens, glyphs.lens)
    canvas.down(stage.lens, stage.lens_row + 1, stage.foot, glyphs.vertical)
    top, bottom = (round(stage.sight_row(stage.model, row)) for row in (stage.top_row, stage.foot))
    canvas.letter(top, stage.model, glyphs.model)
    canvas.down(stage.model, bottom + 1, stage.foot, glyphs.vertical)
    canvas.down(stage.model, top + 1, bottom, glyphs.solid)
    canvas.letter(stage.top_row, stage.background, glyphs.background)
    canvas.down(stage.background, stage.top_row + 1, stage.foot, glyphs.shade)


def _heights(canvas: Canvas, stage: _Stage, answer: Answer) -> None:
    """Write the heights above the background's ground, each beside the letter that it belongs to."""
    place, hang, system = answer.setting.place, answer.lineup.hang_height_mm, answer.system
    if hang is not None:
        top = round(stage.sight_row(stage.model, stage.top_row))
        texts = [f"hang {text}" for text in lengths(hang, system)]
        canvas.place([top - 1, top + 1], stage.model, texts)
    if place.feature_height is not None:
        text = f"{length_text(place.feature_height, system)} up"
        canvas.write(stage.top_row, stage.background - GAP - len(text), text)
    if place.lens_height is not None:
        text = f"{length_text(place.lens_height, system)} up"
        beside = stage.lens_row + 1 if stage.lens_row < stage.foot else stage.lens_row - 1
        canvas.write(beside, stage.lens + GAP, text)


def _sight(canvas: Canvas, stage: _Stage) -> None:
    if stage.base == 0:
        return
    for target_row in dict.fromkeys((stage.top_row, stage.foot)):
        for first, last in ((stage.lens, stage.model), (stage.model, stage.background)):
            ends = [(column, stage.sight_row(column, target_row)) for column in (first + 1, last - 1)]
            canvas.slant(ends[0], ends[1], canvas.glyphs.dot)


def _ground(canvas: Canvas, stage: _Stage) -> None:
    glyphs = canvas.glyphs
    canvas.across(stage.base, 0, canvas.width - 1, glyphs.horizontal)
    for column in (stage.lens, stage.model, stage.background):
        canvas.mark(stage.base, column, glyphs.tee_up)
    if stage.broken:
        middle = (stage.model + stage.background) // 2
        for step, glyph in enumerate(glyphs.break_mark):
            canvas.mark(stage.base, middle + step, glyph)


def _distances(canvas: Canvas, stage: _Stage, answer: Answer) -> None:
    glyphs, line, system = canvas.glyphs, answer.lineup, answer.system
    canvas.place([stage.base + 1], stage.background, lettered(glyphs.background, line.background_mm, system))
    canvas.place([stage.base + 1], stage.model, lettered(glyphs.model, line.model_mm, system))


def _legend(stage: _Stage, answer: Answer, glyphs: Glyphs) -> list[str]:
    broken = [f"{glyphs.break_mark} distance left out"] if stage.broken else []
    reads_as = answer.lineup.reads_as_ratio
    reads = [f"reads as {Words(answer).ratio(reads_as)}"] if math.isfinite(reads_as) else []
    named = [f"{glyphs.lens} lens", f"{glyphs.model} model", f"{glyphs.background} background"]
    return [*named, "not to scale", *broken, *reads]
