"""What the view from above and the view from the side have in common: camera, frame, model and background."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from forescale.engine.sheet.drawing.ink import Ink, text_width_mm
from forescale.engine.sheet.drawing.strip import Strip

BEHIND_MM = 14.0  # paper behind the lens for the camera
ASIDE_MM = 6.0  # paper between a thing and its dimension
HATCH_MM = 2.5
ROOM_MM = 4.0  # paper that a label takes in a dimension beside its own length, and across it
WIDEST_DEG = 75.0  # a line of sight farther from the axis runs off the paper at once


@dataclass(frozen=True, slots=True)
class Field:
    """The frame as one view sees it: half its angle, and how far the move turns it, to the lower side if positive."""

    half_deg: float
    sweep_deg: float

    @property
    def upper(self) -> float:
        """The tangent of the frame's upper edge over the whole move, away from the axis."""
        return _tangent(self.half_deg + max(-self.sweep_deg, 0.0))

    @property
    def lower(self) -> float:
        """The tangent of the frame's lower edge over the whole move, away from the axis."""
        return _tangent(self.half_deg + max(self.sweep_deg, 0.0))


def _tangent(degrees: float) -> float:
    return math.tan(math.radians(min(max(degrees, -WIDEST_DEG), WIDEST_DEG)))


@dataclass(frozen=True, slots=True)
class View:
    """A view on paper: the strip along the axis, the axis's height, and the upper and lower limits of the picture."""

    key: str
    name: str
    strip: Strip
    axis: float
    top: float
    foot: float
    field: Field

    @property
    def left(self) -> float:
        """The left limit of the picture."""
        return self.strip.start_mm - BEHIND_MM

    def height(self, above_mm: float, distance_mm: float) -> float:
        """Return the paper height of a place so far above the axis at a distance, held inside the picture."""
        return min(max(self._height(above_mm, distance_mm), self.top), self.foot)

    def holds(self, above_mm: float, distance_mm: float) -> bool:
        """Return whether a place so far above the axis at a distance is inside the picture."""
        return self.top <= self._height(above_mm, distance_mm) <= self.foot

    def _height(self, above_mm: float, distance_mm: float) -> float:
        return self.axis - above_mm / self.strip.scale_at(distance_mm)


def begin(ink: Ink, view: View) -> None:
    """Let nothing show outside the picture, up to `ink.end`."""
    ink.clip(view.key, view.left, view.top, view.strip.end_mm - view.left, view.foot - view.top)


def draw_sight(ink: Ink, view: View) -> None:
    """Draw the axis and the frame's edges, at the line-up and, in dashes, at the end of the move."""
    field = view.field
    _ray(ink, view, 0.0, "chain")
    for edge in (field.half_deg, -field.half_deg):
        _ray(ink, view, edge, "line")
    if field.sweep_deg:
        for edge in (-field.half_deg, field.half_deg):
            _ray(ink, view, edge + field.sweep_deg, "dash")


def _ray(ink: Ink, view: View, down_deg: float, style: str) -> None:
    start, end = view.strip.start_mm, view.strip.end_mm
    ink.line(start, view.axis, end, view.axis + (end - start) * _tangent(down_deg), style)


def draw_standing(ink: Ink, view: View, distance_mm: float, style: str) -> None:
    """Draw a flat thing square to the axis that fills the frame over the whole move."""
    if view.strip.shows(distance_mm):
        place = view.strip.at(distance_mm)
        top = view.height(distance_mm * view.field.upper, distance_mm)
        ink.line(place, top, place, view.height(-distance_mm * view.field.lower, distance_mm), style)


def draw_height(
    ink: Ink, view: View, x: float, ends: tuple[float, float], label: str, more: Sequence[float] = ()
) -> None:
    """Draw a dimension up and down, its label where it crosses no line: in it, or else to its right.

    `more` are the paper heights of lines that cross it beside those of the axis and of the frame.
    """
    ink.upright(x, *ends)
    start, end = free(view, x, ends, more)
    if end - start > text_width_mm(label) + ROOM_MM:
        ink.label(x, (start + end) / 2, label, up=True)
    else:
        ink.label(x + 1, (start + end) / 2, label, anchor="start")


def draw_frame(ink: Ink, view: View, x: float, ends: tuple[float, float], label: str) -> None:
    """Draw how large the frame is, its label in the dimension or beyond the end that the move does not go to."""
    ink.upright(x, *ends)
    start, end = free(view, x, ends)
    if end - start > text_width_mm(label) + ROOM_MM:
        ink.label(x, (start + end) / 2, label, up=True)
        return
    above = ends[0] - ROOM_MM > view.top if view.field.sweep_deg >= 0 else ends[1] + ROOM_MM > view.foot
    height = ends[0] - ROOM_MM / 2 if above else ends[1] + ROOM_MM / 2
    roomy = x - text_width_mm(label) > view.left
    ink.label(x, height, label, anchor="end" if roomy else "start")


def free(view: View, x: float, ends: tuple[float, float], more: Sequence[float] = ()) -> tuple[float, float]:
    """Return the longest part of an upright line that neither axis nor frame nor any of `more` crosses."""
    field, along = view.field, x - view.strip.start_mm
    edges = {turn + half for turn in (0.0, field.sweep_deg) for half in (field.half_deg, -field.half_deg)}
    lines = (view.axis, *(view.axis + along * _tangent(edge) for edge in edges), *more)
    places = [ends[0], *sorted(line for line in lines if ends[0] < line < ends[1]), ends[1]]
    return max(pairwise(places), key=lambda part: part[1] - part[0])


def draw_background(ink: Ink, view: View, distance_mm: float, more: Sequence[float] = ()) -> None:
    """Draw the real thing as a hatched edge through the picture; a word at the paper's edge where it is at infinity.

    `more` are the paper heights of lines that its name is to keep off, beside the axis and the frame.
    """
    place = view.strip.at(distance_mm)
    shows = view.strip.shows(distance_mm)
    word = place + 5 if shows else place - 3
    middle = sum(free(view, word, (view.top, view.foot), more)) / 2
    if not shows:
        ink.label(word, middle, "background at infinity", up=True)
        return
    ink.line(place, view.top, place, view.foot, "bold")
    for number in range(int((view.foot - view.top) / HATCH_MM)):
        height = view.top + HATCH_MM * number
        ink.line(place, height + 2.0, place + 2.0, height, "faint")
    ink.label(word, middle, "background", up=True)


def draw_camera(ink: Ink, view: View, pupil_ahead_mm: float) -> None:
    """Draw the camera: its sensor-plane mark where it is, its body only as a sign."""
    pupil = view.strip.start_mm
    sensor = pupil - pupil_ahead_mm / view.strip.front
    front = max(pupil + 1.0, sensor + 3.0)
    ink.box(sensor - 7, view.axis - 3, 9, 6, "paper")
    ink.box(sensor - 7, view.axis - 3, 9, 6)
    barrel = [(sensor + 2, view.axis - 1.5), (front, view.axis - 2.2)]
    ink.shape([*barrel, *((x, 2 * view.axis - y) for x, y in reversed(barrel))], "line")
    ink.line(sensor, view.axis - 4, sensor, view.axis + 4, "bold")


def draw_break(ink: Ink, view: View) -> None:
    """Blank the gap between the two scales and draw the break on either side of it."""
    if view.strip.break_mm is None:
        return
    left, right = view.strip.break_mm
    ink.box(left, view.top, right - left, view.foot - view.top, "paper")
    middle = (view.top + view.foot) / 2
    steps = ((0.0, view.top - middle), (0.0, -3.0), (-1.5, -1.0), (1.5, 1.0), (0.0, 3.0), (0.0, view.foot - middle))
    for x in (left, right):
        ink.shape([(x + aside, middle + down) for aside, down in steps], "line", closed=False)
