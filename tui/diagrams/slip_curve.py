"""How far the model slides against the background in the course of the move, and how far it may."""

from __future__ import annotations

from forescale.engine.answer import Answer
from forescale.engine.solve.curves import slip_over_move
from forescale.engine.units import angle_text, number_text
from forescale.tui.diagrams.canvas import Canvas, diagram, sample
from forescale.tui.diagrams.plot import Plot, round_values, ruler, steps

PLOT_FROM = 5  # rows; with fewer nothing is drawn, since the pane says the same
ROOM = 1.15  # how far the axis goes past the outermost of it


@diagram
def draw(canvas: Canvas, answer: Answer) -> None:
    """Draw the slip in pixels over the angle turned, above zero where the model outruns, with what may pass."""
    missing = _missing(answer)
    for row, text in enumerate(missing):
        canvas.side_by_side(row, [text])
    if missing or canvas.height < PLOT_FROM:
        return
    slip, glyphs, bare = answer.slip, canvas.glyphs, canvas.height == PLOT_FROM
    points = slip_over_move(answer, 2 * canvas.width)
    slips = [px for _, px in points] + [slip.tolerance_px, -slip.tolerance_px]
    turns, up = (points[0][0], points[-1][0]), (ROOM * min(slips), ROOM * max(slips))
    bottom = canvas.height - (2 if bare else 3)
    plot = Plot(canvas, bottom, turns, up, {px: signed(px) for px in round_values(*up, steps(bottom))})
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
    if slip.axis == "none" or slip.sweep_deg == 0:
        return ["no move", "nothing can slip"]
    if not slip.pupil_known:
        return ["slip not known", "pupil not measured", "find it on the bench"]
    if answer.kit.head is None:
        return ["slip not known", "no head is named"]
    return ["slip not known", "slide not set"] if slip.slip_px is None else []


def signed(px: float) -> str:
    """Return pixels with their sign."""
    text = number_text(px)
    return f"+{text}" if px > 0 else text
