"""What the lens sees: the frame at its true shape with horizon, outlines, points, and the frame through the move."""

from __future__ import annotations

from collections.abc import Sequence

from forescale.engine.answer import Answer
from forescale.engine.formulas.projection import Point, Pose, in_frame
from forescale.engine.sheet.drawing.ink import Ink, fitted
from forescale.engine.sheet.drawing.views import WORD_MM
from forescale.engine.solve.view import View, frame_corners, outline_points, stances, view_of

CROSS_MM = 1.8
FAR = 40.0  # frames away, a place is off every paper


class Pane:
    """The frame on paper: its left and upper edge and its size."""

    def __init__(self, answer: Answer, left: float, top: float, wide: float, high: float) -> None:
        """Fit the frame into the room, its shape kept."""
        self.view: View = view_of(answer.setting, answer.kit, answer.setup)
        frame = self.view.frame
        self.wide = min(wide, high * frame.width_mm / frame.height_mm)
        self.high = self.wide * frame.height_mm / frame.width_mm
        self.left, self.top = left, top

    def at(self, across: float, up: float) -> tuple[float, float]:
        """Return the paper place of shares of the frame."""
        return self.left + across * self.wide, self.top + (1 - up) * self.high

    def seen(self, point: Point, at: Pose) -> tuple[float, float] | None:
        """Return the paper place of a point, None behind the lens or far out."""
        share = in_frame(point, at, self.view.frame)
        if share is None or abs(share.across) > FAR or abs(share.up) > FAR:
            return None
        return self.at(*share)


def draw_sight(ink: Ink, answer: Answer, pane: Pane) -> None:
    """Draw the picture at the line-up; in dashes the frame at either end of the move."""
    ink.clip("sight", pane.left, pane.top, pane.wide, pane.high)
    if answer.picture is not None:
        _, level = pane.at(0, answer.picture.horizon_up)
        ink.line(pane.left, level, pane.left + pane.wide, level, "chain")
    placed = stances(answer.setting, answer.kit, answer.setup, "shot")
    for row in answer.setting.outline:
        points = outline_points(row, answer.setting, answer.setup, placed)
        _run(ink, pane, points, pane.view.line_up, "bold" if row.of == "model" else "line")
    if pane.view.moves:
        for share in {pane.view.move.first, pane.view.move.last}:
            corners = frame_corners(pane.view, share)
            _run(ink, pane, [*corners, corners[0]], pane.view.line_up, "dash")
    _points(ink, answer, pane)
    ink.end()
    ink.box(pane.left, pane.top, pane.wide, pane.high, "bold")


def _run(ink: Ink, pane: Pane, points: Sequence[Point], at: Pose, style: str) -> None:
    """Draw a run of lines as far as it can be seen."""
    places: list[tuple[float, float]] = []
    for point in points:
        place = pane.seen(point, at)
        if place is not None:
            places.append(place)
        elif places:
            ink.shape(places, style, closed=False)
            places = []
    if places:
        ink.shape(places, style, closed=False)


def _points(ink: Ink, answer: Answer, pane: Pane) -> None:
    """Draw the points to meet: a ring where the real one stands, a cross where the model has it, the name outward.

    A name is left out where there is no room for it.
    """
    frame = pane.view.frame
    for point in answer.picture.points if answer.picture else ():
        if point.frame_across is None or point.frame_up is None or not point.in_frame:
            continue
        x, y = pane.at(point.frame_across, point.frame_up)
        ink.circle(x, y, CROSS_MM * 0.7)
        if point.miss_across_px is not None and point.miss_up_px is not None:
            over = x + point.miss_across_px / frame.width_px * pane.wide
            up = y - point.miss_up_px / frame.height_px * pane.high
            ink.line(over - CROSS_MM, up, over + CROSS_MM, up)
            ink.line(over, up - CROSS_MM, over, up + CROSS_MM)
        leftward = x < pane.left + pane.wide / 2
        room = min((x - pane.left if leftward else pane.left + pane.wide - x), pane.wide / 2) - 4
        beside, anchor = (x - 3, "end") if leftward else (x + 3, "start")
        within = pane.top, pane.top + pane.high
        ink.label(beside, y - WORD_MM, fitted(point.name, room), anchor=anchor, within=within)
