"""How far a foreground model slides against its background when the head pans or tilts.

The head's axis is the origin. The pupil stands `offset_mm` ahead of it (and `rise_mm` above a tilt axis) and swings
with the head; model and background stand still, both met by the lens axis before the move. The picture is a pinhole's
at the entrance pupil, the point of a lens about which nothing slides (R. Littlefield, *Theory of the "No-Parallax"
Point in Panorama Photography*, 2006). Slip is positive when the foreground outruns the background, whichever way the
head turns.

Two pictures coincide where y(model) = y(background); that difference has the factor (offset·sin θ − rise·(1 − cos θ)),
so it vanishes at offset = rise·tan(θ/2), whatever the distances.

A lens tilted by τ that pans draws both pictures along one line, (−sin θ/cos τ, tan τ·(1 − cos θ)) · z/(z·A − f/cos² τ)
with A = cos θ + tan² τ; so its slip is that of a level pan with A·cos² τ for cos θ, and the line's length times cos² τ
for sin θ. A tilt is the same however the lens is aimed, with distances along the lens.

What keeps the slip of a whole move least, where no closed form tells it, is searched for: the slips at the poses of a
move go nearly straight with a slide's reading, or with how far a camera is carried; so they are laid out straight,
solved, and laid out again from there.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from forescale.engine.formulas.holding import first_without
from forescale.engine.formulas.misses import Pair, peak
from forescale.engine.formulas.projection import Frame, Pixels, Point, Pose, in_lens

LARGEST_SWEEP_DEG = 85.0
STILL_DEG = 1e-6  # a smaller turn moves the picture of a metre-long lens by less than a wavelength of light
Slips = Sequence[Pixels]  # at each pose of the move
Slipping = Callable[[float], Slips]  # by what is set
PerMm = tuple[float, float, float]  # aside, up and away, for each mm of what is set
OUT_OF_SIGHT = Pixels(1e12, 0.0)
STEP_MM = 1.0
_ROUNDS, _DOUBLINGS = 2, 40
_NO_CHANGE_PX = 1e-12  # what a step of the slide changes by less, it does not change
_WORST_PX, _CLOSE_PX = 1e9, 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One move of the head, from the line-up position to the far end; ValueError where no such move is possible."""

    sweep_deg: float  # below 85 either way; a positive tilt is upward
    model_mm: float  # from the pan or tilt axis along the lens axis before the move; stays put when the camera slides
    background_mm: float  # the same; no nearer than the model, may be infinite
    rise_mm: float = 0.0  # the lens axis above the tilt axis, 0 for a pan
    image_distance_mm: float  # f·s/(s − f) when focused at s
    aim_deg: float = 0.0  # how far a lens that pans is tilted, its distances then level
    up_weight: float = 1.0  # what a mm up the picture counts beside one across, where its pixels are not square

    def __post_init__(self) -> None:
        if not abs(self.sweep_deg) < LARGEST_SWEEP_DEG:
            raise ValueError(f"the sweep must be less than {LARGEST_SWEEP_DEG:g}° either way")
        if not 0 < self.model_mm < math.inf:
            raise ValueError("the model must stand ahead of the head's axis")
        if not self.background_mm >= self.model_mm:
            raise ValueError("the background must not stand nearer than the model")
        if not abs(zero_offset_mm(self)) < self.model_mm:
            raise ValueError("the model stands too near for a tilt axis so far from the lens axis")

    @property
    def offset_per_slide(self) -> float:
        """How far the pupil goes ahead of the axis for each mm that the slide moves along the lens."""
        return math.cos(math.radians(self.aim_deg))

    @property
    def is_still(self) -> bool:
        """True where nothing can slip: no sweep to speak of, or model and background at one distance."""
        return abs(self.sweep_deg) < STILL_DEG or self.model_mm == self.background_mm


class _Pose(NamedTuple):
    """The head part-way through a move, mirrored for the sweep to be positive: the rise then changes its sign."""

    sin: float
    cos: float
    dip: float  # rise·(1 − cos θ), mm
    model_depth: float  # mm; along the turned lens axis
    background_depth: float  # over the background's distance
    background_inverse: float  # 1 / the background's distance, 1/mm
    reach: float  # image distance · (1 − model / background), mm


def _pose(turn: Turn, angle_rad: float | None = None) -> _Pose:
    """The pose after `angle_rad` (never negative) of the turn, left out: at its end."""
    angle = math.radians(abs(turn.sweep_deg)) if angle_rad is None else angle_rad
    sin, cos, half_square = math.sin(angle), math.cos(angle), math.sin(angle / 2) ** 2
    rise, background_inverse = math.copysign(1.0, turn.sweep_deg) * turn.rise_mm, 1.0 / turn.background_mm
    if turn.aim_deg:  # what stands for sine and cosine where the lens that pans is tilted
        aim = math.radians(turn.aim_deg)
        square, slope = math.cos(aim) ** 2, math.tan(aim)
        bend = turn.up_weight * slope * 2.0 * half_square
        sin, cos = square * math.hypot(sin / math.cos(aim), bend), square * (cos + slope**2)
    return _Pose(
        sin=sin,
        cos=cos,
        dip=2.0 * rise * half_square,
        model_depth=turn.model_mm * cos + rise * sin,
        background_depth=cos + rise * sin * background_inverse,
        background_inverse=background_inverse,
        reach=turn.image_distance_mm * (1.0 - turn.model_mm * background_inverse),
    )


def slip_mm(turn: Turn, offset_mm: float) -> float:
    """Slip on the sensor at the turn's end, + where the foreground outruns; ValueError with the pupil at the model."""
    pose = _pose(turn)
    model_ahead = pose.model_depth - offset_mm
    if model_ahead <= 0 or offset_mm >= turn.model_mm:
        raise ValueError("the model must stay ahead of the lens's entrance pupil over the whole turn")
    driving = pose.reach * (offset_mm * pose.sin - pose.dip)
    return driving / (model_ahead * (pose.background_depth - offset_mm * pose.background_inverse))


def zero_offset_mm(turn: Turn) -> float:
    """The pupil ahead of the axis for no slip at the end: 0 for a pan, rise·tan(θ/2) for a tilt, at any distances."""
    return turn.rise_mm * math.tan(math.radians(turn.sweep_deg) / 2)


def slip_per_offset(turn: Turn) -> float:
    """Slip gained, where it is zero, for each mm that the pupil moves forward (mm/mm, never negative)."""
    pose, zero = _pose(turn), zero_offset_mm(turn)
    depths = (turn.model_mm + zero) * (1.0 + zero * pose.background_inverse) * pose.cos**2
    return pose.reach * pose.sin / depths


def _offset_at(turn: Turn, slip: float, angle_rad: float | None = None) -> float | None:
    """The offset that slips so much after `angle_rad`: the root of a quadratic that runs through the zero."""
    pose = _pose(turn, angle_rad)
    square = slip * pose.background_inverse
    linear = slip * (pose.model_depth * pose.background_inverse + pose.background_depth) + pose.reach * pose.sin
    constant = slip * pose.model_depth * pose.background_depth + pose.reach * pose.dip
    discriminant = linear**2 - 4.0 * square * constant
    if linear <= 0 or discriminant < 0:
        return None
    offset = 2.0 * constant / (linear + math.sqrt(discriminant))
    return offset if offset < min(turn.model_mm, pose.model_depth) else None


def offset_for_slip_mm(turn: Turn, slip_mm: float) -> float | None:
    """The offset that slips by `slip_mm` at the end, where moving forward always adds slip; None where none does.

    A still turn never slips: for 0 it gives the zero offset, for any other slip None.
    """
    if turn.is_still:
        return zero_offset_mm(turn) if slip_mm == 0 else None
    return _offset_at(turn, slip_mm)


def offsets_within_mm(turn: Turn, slip_tolerance_mm: float) -> tuple[float, float]:
    """The lowest and highest offsets with |slip| within the tolerance over the whole turn; crossed where none is."""
    if turn.is_still:
        return -math.inf, math.inf
    ends = []
    for side in (-1, 1):

        def beyond(angle: float, side: int = side) -> float:
            offset = _offset_at(turn, side * slip_tolerance_mm, angle)
            return -math.inf if offset is None else -side * offset

        end = math.radians(abs(turn.sweep_deg))
        most = beyond(end)
        if turn.rise_mm:  # a pan slips most at its end; a tilt maybe on the way, found to the last digits of the peak
            most = max(beyond(peak(beyond, 0.0, end, narrowed=38)), most)
        ends.append(-side * most)
    return ends[0], ends[1]


def slipping_by(pair: Pair, carried: Sequence[tuple[Pose, PerMm]], frame: Frame) -> Slipping:
    """Return the slips of a pair from the first pose, the line-up, by how many mm each way carries the pupil."""
    image, width, height, width_px, height_px = frame
    wide, high = image * width_px / width, image * height_px / height

    def along(thing: Point, at: Pose, way: PerMm) -> tuple[float, ...]:
        right, up, away = (thing.near * part for part in way)
        return (*in_lens(thing, at), *in_lens(Point(right, up, away, 0.0), at))

    places = [[along(thing, at, way) for thing in pair] for at, way in carried]

    def missed(seen: Sequence[tuple[float, ...]], mm: float) -> tuple[float, float] | None:
        (x, y, z, by_x, by_y, by_z), (X, Y, Z, By_x, By_y, By_z) = seen
        near, far = z - mm * by_z, Z - mm * By_z
        if near <= 0 or far <= 0:
            return None
        across = (x - mm * by_x) / near - (X - mm * By_x) / far
        return across * wide, ((y - mm * by_y) / near - (Y - mm * By_y) / far) * high

    def slipping(mm: float) -> Slips:
        here, *there = [missed(seen, mm) for seen in places]
        if here is None:
            return [OUT_OF_SIGHT] * len(there)
        return [OUT_OF_SIGHT if at is None else Pixels(at[0] - here[0], at[1] - here[1]) for at in there]

    return slipping


def least_at(slipping: Slipping, start: float) -> float:
    """Return the setting, in mm, at which the greatest slip of the move is least, found from one near it."""
    for _ in range(_ROUNDS):
        here, on = slipping(start), slipping(start + STEP_MM)
        lines = [(a.across, a.up, b.across - a.across, b.up - a.up) for a, b in zip(here, on, strict=True)]
        start += STEP_MM * _lowest(lines)
    return start


def _lowest(lines: Sequence[tuple[float, float, float, float]]) -> float:
    """Return the x for which the longest of the vectors a + b·x is shortest; it lies among their own shortest."""
    own = [-(x * dx + y * dy) / (dx * dx + dy * dy) for x, y, dx, dy in lines if math.hypot(dx, dy) > _NO_CHANGE_PX]
    if not own:
        return 0.0

    def longest(at: float) -> float:
        return max((x + dx * at) ** 2 + (y + dy * at) ** 2 for x, y, dx, dy in lines)

    return peak(lambda at: -longest(at), min(own), max(own))


def off_by(slipping: Slipping, start: float, step: float, passes_px: float) -> float:
    """Return how far from `start`, the way of `step`, the greatest slip first passes: infinite if never, 0 at once."""

    def room(off: float) -> float:
        slips = slipping(start + math.copysign(off, step))
        return passes_px - min(max((slip.length for slip in slips), default=0.0), _WORST_PX)

    return first_without(room, abs(step), _DOUBLINGS, _CLOSE_PX)
