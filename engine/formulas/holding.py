"""What the frame holds over a move, and what a flat model must reach to fill it. Lengths in mm."""

import math
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from forescale.engine.formulas import silhouette
from forescale.engine.formulas.head import STEPS, HeadMove, pose_at, poses
from forescale.engine.formulas.projection import Frame, Point, Pose, Share, in_frame, in_lens

Held = Literal["all", "part", "none"]

COVER_LIMIT_DEG = 85.0  # a flat model past this angle from the axis would run off to infinity
_COVER_LIMIT = math.tan(math.radians(COVER_LIMIT_DEG))
_OUT = -10.0  # the margin of what is behind the lens
_CLOSE = 1e-12
_AT_EDGE = 1e-10
_FIRST_STEP = 1 / 16
_DOUBLINGS = 12  # a move is followed to hundreds of times its own length
Extent = tuple[float, float, float, float]  # left, right, bottom and top as shares of the frame


def margin(share: Share | None) -> float:
    """Return by how much of the frame a place in the picture lies inside its nearest edge; negative outside."""
    return _OUT if share is None else max(min(share.across, 1 - share.across, share.up, 1 - share.up), _OUT)


@lru_cache(maxsize=128)  # asked again with every answer, and most of what is set does not touch it
def leaves(points: tuple[Point, ...], move: HeadMove, frame: Frame) -> float | None:
    """Return the share of the way from the line-up at which points in one plane first leave the frame, or None."""
    bounds: Sequence[Point] = points
    if len(points) > 4:  # the corners of the upright box about points in one plane: where they are held, so are these
        left, low, right, high = silhouette.extent(point[:2] for point in points)
        bounds = [points[0]._replace(x=x, h=h) for x in (left, right) for h in (low, high)]
    taken = poses(move, STEPS)
    wide, high = frame.image_mm / frame.width_mm, frame.image_mm / frame.height_mm

    def room(at: Pose, some: Sequence[Point]) -> float:
        farthest = 0.0
        for point in some:
            across, up, away = in_lens(point, at)
            if away <= 0:
                return _OUT
            farthest = max(farthest, abs(across) * wide / away, abs(up) * high / away)
        return max(0.5 - farthest, _OUT)

    def room_at(place: int) -> float:
        inside = room(taken[place][1], bounds)
        return room(taken[place][1], points) if inside < 0 and bounds is not points else inside

    def edge(some: Sequence[Point], low: float, high: float) -> float:
        ends = (room(pose_at(move, share), some) for share in (low, high))
        return crossing(lambda share: room(pose_at(move, share), some), low, next(ends), high, next(ends))

    def lost(low: float, high: float) -> float:
        for _ in points:  # the one that is farthest out leaves first, or another a little before it
            out = pose_at(move, high)
            outside, worst = min((room(out, (point,)), point) for point in points)
            if outside > -_AT_EDGE:
                break
            was = high
            high = edge((worst,), low, high)
            if abs(was - high) < _CLOSE:  # it comes from behind the lens
                break
        return high

    def first_out(places: Sequence[int]) -> float | None:
        """Return where the room first goes from inside to outside; no picture goes out and back between two poses."""
        seen = ((taken[place][0], room_at(place)) for place in places)
        for (last, here), (share, there) in pairwise(seen):
            if here >= 0 > there:
                return lost(last, share)
        return None

    start = next(place for place, (share, _) in enumerate(taken) if share == 0)
    if room_at(start) < 0:
        return first_out(range(len(taken)))
    sides = (first_out(range(start, len(taken))), first_out(range(start, -1, -1)))
    return min((share for share in sides if share is not None), key=abs, default=None)


def extent(points: Sequence[Point], at: Pose, frame: Frame) -> Extent | None:
    """Return what points are seen within; None with one behind the lens."""
    seen = [in_lens(point, at) for point in points]
    if any(away <= 0 for _, _, away in seen):
        return None
    wide, high = frame.image_mm / frame.width_mm, frame.image_mm / frame.height_mm
    across = [x / away for x, _, away in seen]
    up = [y / away for _, y, away in seen]
    return 0.5 + wide * min(across), 0.5 + wide * max(across), 0.5 + high * min(up), 0.5 + high * max(up)


def held(line: Sequence[Point], within: Extent | None, at: Pose, frame: Frame, *, closed: bool) -> Held:
    """Return how much of a line in one plane away the frame holds: "part" too of a closed one about the whole frame."""
    if within is not None and min(within[0], within[2]) >= 0 and max(within[1], within[3]) <= 1:
        return "all"
    slope_w, slope_h = frame.width_mm / 2 / frame.image_mm, frame.height_mm / 2 / frame.image_mm
    insides = []  # by how much each place lies within each of the frame's four sides
    for point in line:
        across, up, away = in_lens(point, at)
        insides.append((away * slope_w - across, away * slope_w + across, away * slope_h - up, away * slope_h + up))
    crossed = any(silhouette.passes_within(start, end) for start, end in pairwise(insides))
    return "part" if crossed or (closed and _about_middle(line, at)) else "none"


def _about_middle(line: Sequence[Point], at: Pose) -> bool:
    """Return whether a closed outline in one plane away has the middle of the picture within it."""
    aside, rise, away = at.axis
    depth = (line[0].z - at.z) / away if away > 0 else -1.0
    return depth > 0 and silhouette.encloses(pairwise(line), at.x + aside * depth, at.h + rise * depth)


def crossing(
    value: Callable[[float], float], low: float, at_low: float, high: float, at_high: float, close: float = _AT_EDGE
) -> float:
    """Return where a function crosses zero between two places on either side of it, by the Illinois method."""
    for _ in range(60):
        if at_low == at_high or abs(high - low) < _CLOSE:
            break
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        at_middle = value(middle)
        if (at_middle < 0) != (at_high < 0):
            low, at_low = high, at_high
        else:
            at_low /= 2
        high, at_high = middle, at_middle
        if abs(at_middle) < close:
            break
    return high


def first_without(room: Callable[[float], float], step: float, doublings: int, close: float = _AT_EDGE) -> float:
    """Return how far from 0, the way of a step that is doubled, the room first ends: infinite if never, 0 at once."""
    inside, at_inside = 0.0, room(0.0)
    if at_inside < 0:
        return 0.0
    for _ in range(doublings):
        at_step = room(step)
        if at_step < 0:
            return abs(crossing(room, inside, at_inside, step, at_step, close))
        inside, at_inside, step = step, at_step, 2 * step
    return math.inf


def crossing_share(point: Point, move: HeadMove, frame: Frame) -> float:
    """Return how much of the way carries the frame's middle from edge to edge, as if it went on; or infinity."""

    def inside(share: float) -> float:
        return margin(in_frame(point, pose_at(move, share), frame))

    return sum(first_without(inside, way * _FIRST_STEP, _DOUBLINGS) for way in (1, -1))


def picture_speed(along_mm: float, move: HeadMove, frame: Frame) -> float:
    """Return how fast a move carries what is so far along the lens, px for the whole way, at the line-up's pace."""
    pan, tilt, aim = math.radians(move.pan_deg), math.radians(move.tilt_deg), math.radians(move.aim_deg)
    right, up, forward = move.travel
    near = 0.0 if math.isinf(along_mm) else 1 / along_mm
    across = frame.image_mm * (right * near + math.cos(aim) * pan)
    risen = frame.image_mm * ((up * math.cos(aim) - forward * math.sin(aim)) * near + tilt)
    return math.hypot(across * frame.width_px / frame.width_mm, risen * frame.height_px / frame.height_mm)


@lru_cache(maxsize=32)
def cover_mm(model_mm: float, poses: tuple[Pose, ...], frame: Frame) -> tuple[float | None, float | None]:
    """Return how wide and high a flat model so far away fills the frame at every pose, all corners; None past 85°."""
    asides, heights = [], []
    for at in poses:
        for aside, rise, away in corner_sights(at, frame):
            asides.append(_met(at.x, aside, away, model_mm - at.z))
            heights.append(_met(at.h, rise, away, model_mm - at.z))
    wide, high = (None if math.inf in places else max(places) - min(places) for places in (asides, heights))
    return wide, high


def corner_sights(at: Pose, frame: Frame) -> Iterator[tuple[float, float, float]]:
    """Yield aside, height and away of the ways in which a frame's corners look: lower left, then with the clock."""
    wide, high, image = frame.width_mm / 2, frame.height_mm / 2, frame.image_mm
    for across, up in ((-wide, -high), (-wide, high), (wide, high), (wide, -high)):
        ahead, rise = image * at.cos_tilt - up * at.sin_tilt, up * at.cos_tilt + image * at.sin_tilt
        yield across * at.cos_pan + ahead * at.sin_pan, rise, ahead * at.cos_pan - across * at.sin_pan


def _met(start: float, to_side: float, away: float, depth: float) -> float:
    """Return where a line of sight meets the plane, infinite past the limit."""
    if away <= 0 or depth <= 0 or abs(to_side) >= _COVER_LIMIT * away:
        return math.inf
    return start + to_side / away * depth
