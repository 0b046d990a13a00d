"""Misses drawn in the frame: each point of the place, and where the model has it, the miss many times as long."""

from collections.abc import Sequence
from typing import NamedTuple

from forescale.engine.units import number_text
from forescale.tui.diagrams.canvas import NARROWEST, Canvas, Dots
from forescale.tui.glyphs import Glyphs
from forescale.tui.runs import Row

LOWEST = 7  # rows; with fewer nothing is drawn, since the table says the same
LEAST_PX = 0.05  # what nobody can read is no miss
CELL = 2.0  # how much higher than wide a character is
REACH = 0.2  # of the frame's width: how long the longest miss is drawn


class Drawn(NamedTuple):
    """A point by its letter, where the frame has it (shares), and its miss in pixels; None where it is not told."""

    letter: str
    across: float | None
    up: float | None
    miss: tuple[float | None, float | None]

    @property
    def inside(self) -> bool:
        """Whether the frame holds the point, so that it is drawn."""
        return all(share is not None and 0 <= share <= 1 for share in (self.across, self.up))


def draw(
    points: Sequence[Drawn], frame_px: tuple[float, float], title: str, width: int, height: int, glyphs: Glyphs
) -> list[Row]:
    """Return the frame at its true shape with points and misses, and how much longer these are drawn; blank if low."""
    canvas = Canvas(width, height, glyphs)
    columns = min(width, round((height - 1) * CELL * frame_px[0] / frame_px[1]))
    rows = round(columns / CELL * frame_px[1] / frame_px[0])
    if width < NARROWEST or height < LOWEST or rows < LOWEST - 2:
        return canvas.rows()
    told = [(across, up) for across, up in (point.miss for point in points) if across is not None and up is not None]
    longest = max((max(abs(across), abs(up)) for across, up in told), default=0.0)
    times = REACH * frame_px[0] / longest if longest >= LEAST_PX else 0.0
    outside = " ".join(point.letter for point in points if not point.inside)
    left_out = f"; outside the frame: {outside}" if outside else ""
    said = (f"{title}, drawn {number_text(times, 2)} times as long", f"{title}, {number_text(times, 2)} times")
    heads = [f"{text}{left_out}" for text in (said if times else (f"{title}: none",))]
    any(canvas.write(0, 0, text) for text in (*heads, f"outside: {outside}"[:width]))
    canvas.box(1, 0, rows, columns - 1)
    dots, tips = Dots(canvas, 0, 1, columns - 1, rows), []
    for point in points:
        if point.across is None or point.up is None or not point.inside:
            continue
        column, row = point.across * (columns - 1), 1 + (1 - point.up) * (rows - 1)
        across, up = point.miss
        if times and across is not None and up is not None:
            to = column + across * times / frame_px[0] * (columns - 1), row - up * times / frame_px[1] * (rows - 1)
            dots.line((column, row), to, glyphs.dot, "curve")
            tips.append((round(to[1]), round(to[0])))
        canvas.letter(round(row), round(column), point.letter)
    dots.put()
    for tip in tips:
        canvas.mark(*tip, glyphs.point, "curve")
    return canvas.rows()
