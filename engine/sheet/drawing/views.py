"""What the view from above and the view from the side have in common: distances on paper, camera, frame, background.

A background hundreds of feet behind a model a few feet away leaves no room for the model, so the strip of paper may be
broken: up to the break all is drawn at one scale, beyond it at a smaller one. Each part is the place shrunk about
the entrance pupil, so that a line of sight stays one straight line across the break.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from forescale.engine.answer import Answer
from forescale.engine.sheet.drawing.ink import Ink, Span, text_width_mm
from forescale.engine.shot.sections import Move
from forescale.engine.units import number_text

BEHIND_MM = 14.0  # paper behind the lens for the camera
ASIDE_MM = 7.5  # paper between a thing and its dimension
HATCH_MM = 2.5
WORD_MM = 2.6  # half of what a line of text takes, up and down
ROOM_MM = 4.0  # paper that a label takes in a dimension beside its own length, and across it
WIDEST_DEG = 75.0  # a line of sight farther from the axis runs off the paper at once
NICE = (1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10)  # steps of a third at most
FRONT_SHARE = 0.6  # of the strip's length, up to the break
GAP_SHARE = 0.035
BACKGROUND_SHARE = 0.9
WHOLE_TO = 3.0  # a background nearer than so many times the foreground's reach needs no break


def paper_scale(smallest: float) -> float:
    """Return the handy n of a drawing at 1:n that is at or above `smallest`."""
    power = 10.0 ** math.floor(math.log10(smallest))
    return power * next(step for step in NICE if step >= smallest / power * (1 - 1e-12))


def scale_text(scale: float) -> str:
    """Return a drawing's scale, "1:40", or "5:1" where it is larger than life."""
    return f"1:{number_text(scale, 6)}" if scale >= 1 else f"{number_text(1 / scale, 6)}:1"


class AxisStrip(NamedTuple):
    """Paper from the pupil at `start_mm` to `end_mm`: 1:front up to the break (None: no break), 1:back beyond."""

    start_mm: float
    end_mm: float
    front: float
    back: float
    break_mm: Span | None

    def at(self, distance_mm: float) -> float:
        """Return the paper place of a distance from the pupil; what falls between the two parts is put on the break."""
        if math.isinf(distance_mm):
            return self.end_mm
        near, far = self.start_mm + distance_mm / self.front, self.start_mm + distance_mm / self.back
        if self.break_mm is None or near <= self.break_mm[0]:
            return min(near, self.end_mm)
        return min(max(far, sum(self.break_mm) / 2), self.end_mm)

    def shows(self, distance_mm: float) -> bool:
        """Return whether a distance has a place of its own on the paper."""
        if math.isinf(distance_mm) or self.start_mm + distance_mm / self.back > self.end_mm:
            return False
        return self.break_mm is None or not self.break_mm[0] < self.at(distance_mm) < self.break_mm[1]

    @property
    def words(self) -> str:
        """Say to which scale the strip is drawn."""
        if self.break_mm is None:
            return f"to scale, {scale_text(self.front)}"
        beyond = "not to scale" if math.isinf(self.back) else scale_text(self.back)
        return f"to scale {scale_text(self.front)} up to the break; beyond it {beyond}, sight lines straight"


def strip(start_mm: float, end_mm: float, reach_mm: float, background_mm: float, least_scale: float) -> AxisStrip:
    """Return the strip that shows the foreground to `reach_mm`, and the background, at 1:`least_scale` at most."""
    length = end_mm - start_mm
    if background_mm <= WHOLE_TO * reach_mm:
        whole = paper_scale(max(background_mm / (length * BACKGROUND_SHARE), least_scale))
        return AxisStrip(start_mm, end_mm, whole, whole, None)
    front = paper_scale(max(reach_mm / (length * FRONT_SHARE), least_scale))
    back = paper_scale(background_mm / (length * BACKGROUND_SHARE)) if math.isfinite(background_mm) else math.inf
    if back <= front:
        return AxisStrip(start_mm, end_mm, front, front, None)
    edge = start_mm + length * FRONT_SHARE * 1.02
    return AxisStrip(start_mm, end_mm, front, back, (edge, edge + length * GAP_SHARE))


def levelled(answer: Answer) -> Answer:
    """Return an answer whose lens counts level from the pupil, as a drawing on paper does, not along a tilted lens."""
    setup = answer.setup
    if setup.aim_deg == 0:
        return answer
    names = ("model_mm", "near_mm", "background_mm", "far_mm", "seems_mm", "focus_mm")
    level = {name: setup.level(getattr(setup, name)) for name in names}
    pupil = setup.pupil._replace(ahead_mm=setup.level(setup.pupil.ahead_mm))
    return answer._replace(setup=replace(setup, aim_deg=0.0, pupil=pupil, **level))


class FrameRays(NamedTuple):
    """The frame in one view: half its angle; its axis over the move, down +, the line-up first; if it goes down."""

    half_deg: float
    turns: tuple[float, ...]
    down: bool

    @property
    def edges(self) -> tuple[float, ...]:
        """Where the frame's edges lie over the move, down +."""
        return tuple(turn + half for turn in self.turns for half in (-self.half_deg, self.half_deg))

    @property
    def reach(self) -> Span:
        """The tangents of the frame's edges over the whole move: of the upper up from the level, of the lower down."""
        return _tangent(-min(self.edges)), _tangent(max(self.edges))


def frame_rays(half_deg: float, way: float, move: Move, aim_deg: float = 0.0) -> FrameRays:
    """Return the frame over a move that turns it to the lower side where `way` is 1, the upper at -1, at 0 neither."""
    turns = (0.0, way * move.sweep, -way * move.start)
    return FrameRays(half_deg, tuple(dict.fromkeys(turn - aim_deg for turn in turns)), way >= 0)


def _tangent(degrees: float) -> float:
    return math.tan(math.radians(min(max(degrees, -WIDEST_DEG), WIDEST_DEG)))


class DrawnView(NamedTuple):
    """A view on paper: the strip along the axis, the axis's height, and the upper and lower limits of the picture."""

    key: str
    name: str
    strip: AxisStrip
    axis: float
    top: float
    foot: float
    field: FrameRays

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

    def swept(self, distance_mm: float) -> Span:
        """Return the paper heights between which the frame holds a place at a distance over the whole move."""
        upper, lower = self.field.reach
        return self.height(distance_mm * upper, distance_mm), self.height(-distance_mm * lower, distance_mm)

    def _height(self, above_mm: float, distance_mm: float) -> float:
        along = self.strip
        front = along.break_mm is None or along.start_mm + distance_mm / along.front <= along.break_mm[0]
        return self.axis - above_mm / (along.front if front else along.back)


def begin(ink: Ink, view: DrawnView) -> None:
    """Let nothing show outside the picture, up to `ink.end`; draw the axis and the frame's edges over the move."""
    ink.clip(view.key, view.left, view.top, view.strip.end_mm - view.left, view.foot - view.top)
    line_up, *others = view.field.turns
    start, end = view.strip.start_mm, view.strip.end_mm
    rays = [(line_up, "chain")]
    for half in (view.field.half_deg, -view.field.half_deg):
        rays += [(line_up + half, "line"), *((turn + half, "dash") for turn in others)]
    for down_deg, style in rays:
        ink.line(start, view.axis, end, view.axis + (end - start) * _tangent(down_deg), style)


def draw_standing(ink: Ink, view: DrawnView, distance_mm: float, style: str) -> None:
    """Draw a flat thing square to the axis that fills the frame over the whole move."""
    if view.strip.shows(distance_mm):
        place = view.strip.at(distance_mm)
        top, foot = view.swept(distance_mm)
        ink.line(place, top, place, foot, style)


def dimension(
    ink: Ink, view: DrawnView, x: float, ends: Span, label: str, more: Sequence[float] = (), *, beyond: bool = False
) -> None:
    """Draw a dimension up and down, its label in it where it crosses no line; else to its right, or `beyond` its end.

    That is the end that the move does not go to. `more` are the paper heights of lines that cross it beside those of
    the axis and of the frame.
    """
    ink.upright(x, *ends)
    start, end = free(view, x, ends, more)
    long = text_width_mm(label)
    if end - start > long + ROOM_MM:
        ink.label(x, (start + end) / 2, label, up=True)
    elif beyond:
        above = ends[0] - ROOM_MM > view.top if view.field.down else ends[1] + ROOM_MM > view.foot
        height = ends[0] - ROOM_MM / 2 if above else ends[1] + ROOM_MM / 2
        ink.label(x, height, label, anchor="end" if x - long > view.left else "start")
    else:
        roomy = x + 1 + long < view.strip.end_mm + 3
        ink.label(x + (1 if roomy else -1), (start + end) / 2, label, anchor="start" if roomy else "end")


def free(view: DrawnView, x: float, ends: Span, more: Sequence[float] = ()) -> Span:
    """Return the longest part of an upright line that neither axis nor frame nor any of `more` crosses."""
    along = x - view.strip.start_mm
    rays = (*view.field.turns, *view.field.edges)
    lines = (*(view.axis + along * _tangent(ray) for ray in rays), *more)
    places = [ends[0], *sorted(line for line in lines if ends[0] < line < ends[1]), ends[1]]
    return max(pairwise(places), key=lambda part: part[1] - part[0])


def draw_background(ink: Ink, view: DrawnView, distance_mm: float, more: Sequence[float] = ()) -> None:
    """Draw the real thing as a hatched edge, a word if at infinity; its name keeps off `more` paper heights."""
    place = view.strip.at(distance_mm)
    shows = view.strip.shows(distance_mm)
    word = place + 5 if shows else place - 3
    start, end = free(view, word, (view.top, view.foot), more)
    middle = (start + end) / 2
    if not shows:
        half = text_width_mm("background at infinity") / 2
        ink.label(word, min(max(middle, view.top + half), view.foot - half), "background at infinity", up=True)
        return
    ink.line(place, view.top, place, view.foot, "bold")
    for number in range(int((view.foot - view.top) / HATCH_MM)):
        height = view.top + HATCH_MM * number
        ink.line(place, height + 2.0, place + 2.0, height, "faint")
    if end - start > text_width_mm("background") + 1:
        ink.label(word, middle, "background", up=True)
    else:  # flat, where most room is, and not on the break
        before = view.strip.break_mm is None or place - 1 - text_width_mm("background") > view.strip.break_mm[1]
        ink.label(place - 1 if before else place + 3, middle, "background", anchor="end" if before else "start")


def draw_camera(ink: Ink, view: DrawnView, pupil_ahead_mm: float) -> None:
    """Blank the gap between two scales; draw the camera, its sensor-plane mark where it is, its body only as a sign."""
    if view.strip.break_mm is not None:
        left, right = view.strip.break_mm
        ink.box(left, view.top, right - left, view.foot - view.top, "paper")
        middle = (view.top + view.foot) / 2
        sides = ((0.0, -3.0), (-1.5, -1.0), (1.5, 1.0), (0.0, 3.0))
        steps = ((0.0, view.top - middle), *sides, (0.0, view.foot - middle))
        for x in (left, right):
            ink.shape([(x + aside, middle + down) for aside, down in steps], "line", closed=False)
    pupil = view.strip.start_mm
    sensor = pupil - pupil_ahead_mm / view.strip.front
    front = max(pupil + 1.0, sensor + 3.0)
    ink.box(sensor - 7, view.axis - 3, 9, 6, "paper")
    ink.box(sensor - 7, view.axis - 3, 9, 6)
    barrel = [(sensor + 2, view.axis - 1.5), (front, view.axis - 2.2)]
    ink.shape([*barrel, *((x, 2 * view.axis - y) for x, y in reversed(barrel))], "line")
    ink.line(sensor, view.axis - 4, sensor, view.axis + 4, "bold")
