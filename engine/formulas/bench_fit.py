"""The bench: two sticks, a slide, and the slide reading at which the foreground no longer slips.

Sliding the camera forward (a larger reading) makes the foreground outrun the background. `fit` takes slips in pixels,
`bracket` readings by eye. The pupil is then ahead of the sensor plane by zero offset − slide reading for zero − where
the sensor plane sits at reading 0: the one for rays as oblique as the sweep.
"""

import math
from collections.abc import Sequence
from itertools import accumulate, pairwise
from typing import Literal, NamedTuple

from forescale.engine.formulas.chances import NORMAL_95, student_68, student_95
from forescale.engine.formulas.slip import Turn, offset_for_slip_mm, slip_per_offset, zero_offset_mm
from forescale.engine.formulas.zero_crossing import CannotBe, fitted_line, line_through

Seen = Literal["outruns", "lags", "locked"]
SIGNS: dict[Seen | None, int] = {"lags": -1, "locked": 0, "outruns": 1}

COARSE_STEPS_PX = (1.0, 0.5)  # steps to which people read a slip
FINEST_STEP_PX = 0.1  # readings on neither of those count as read to this
SLOPE_FLOOR = 0.10  # a slope nearer than this to the predicted one accuses nothing: lenses are not thin
FIRST_STEP_MM = 20.0  # how far to slide from a lone reading by eye


class Reading(NamedTuple):
    """A run of the bench: the slide, the slip in pixels or as seen, or neither, and its move, where it is another."""

    slide_mm: float
    slip_px: float | None = None
    seen: Seen | None = None
    turn: Turn | None = None


class BenchFit(NamedTuple):
    """What slips in pixels say. Slides in mm, slopes in pixels for each mm that the slide moves forward."""

    slide_for_zero_mm: float
    std_error_mm: float | None  # one standard error of it (68 times of 100); None with fewer than three readings
    band_mm: float | None  # the half-width that holds the true zero 95 times of 100; None likewise
    slope_px_per_mm: float | None  # None for a lone reading
    slope_predicted_px_per_mm: float
    readings: int
    noise_px: float  # the least noise that a reading can have
    outside: bool  # the zero lies beyond the readings
    residuals: tuple[float, ...]  # px over the move, in the order of the readings
    suspects: tuple[str, ...]  # "distance", "focal length", "sweep"; "direction": slide or slips are counted backwards


class Bracket(NamedTuple):
    """What readings by eye say, slides in mm."""

    low_mm: float | None  # the last reading that lags, None where no reading bounds that side
    high_mm: float | None  # the first that outruns, likewise
    try_next_mm: float | None  # None where the slide has no room for another reading
    locked_mm: float | None  # the middle of the readings that looked locked
    contradicting: tuple[int, ...]  # indices of readings that cannot be true with the rest; they bound nothing


def slip_px_at_background(
    length_mm: float, image_distance_mm: float, background_from_pupil_mm: float, pixel_mm: float, sweep_deg: float = 0.0
) -> float:
    """A slip read as a length on a tape hung at the background, in pixels: g·v/(D·p).

    The tape hangs square to the lens axis of the line-up. After a sweep a length on it spans 1/cos² θ as much picture:
    pass the sweep to have that counted. Exact for a pupil on the axis; else off by about sin² θ · offset/model. Raises
    ValueError for a background at infinity.
    """
    if not 0 < background_from_pupil_mm < math.inf:
        raise CannotBe("a tape's slip needs the distance of the background it hangs at")
    seen_length = length_mm / math.cos(math.radians(sweep_deg)) ** 2
    return seen_length * image_distance_mm / (background_from_pupil_mm * pixel_mm)


def fit(readings: Sequence[Reading], turn: Turn, pixel_mm: float) -> BenchFit:
    """The slide reading for no slip, by least squares of slip against slide; other readings are left out.

    Slip grows a little faster than the slide, so each is first laid out straight: the geometry turns it into the offset
    that it stands for, times the predicted slope. A line is then fitted, its slope and its zero free, so that a wrong
    distance shows in the slope. The error is that of the delta method, the scatter of few readings by Student's t, none
    trusted beyond the step it was read to. A slope off by over three of its standard errors and over a tenth is
    suspect. One reading is solved from the geometry alone. Raises ValueError with one sentence where no zero can be
    found.
    """
    measured = [(one.slide_mm, one.slip_px, one.turn or turn) for one in readings if one.slip_px is not None]
    if not measured:
        raise CannotBe("no reading has a slip in pixels", "read at two or more places of the slide")
    if turn.is_still or any(over.is_still for _, _, over in measured):
        raise CannotBe("nothing can slip here", "set a sweep, and a background beyond the model")
    count = len(measured)
    predicted = _slip_per_slide(turn) / pixel_mm
    offset = zero_offset_mm(turn)
    slides = [slide for slide, _, _ in measured]
    slips = []  # laid out: what a straight line of that slope, through the move's own zero, has at each slip's offset
    for _, slip_px, over in measured:
        stands = offset_for_slip_mm(over, slip_px * pixel_mm)
        if stands is None:
            lags = "the foreground would lag by more than the background travels"
            right = "check slip, distances, focal length and sweep"
            raise CannotBe(f"a slip of {slip_px:g} px cannot come of this move: {lags}", right)
        slips.append((stands - offset) / over.offset_per_slide * predicted)
    line = fitted_line(slides, slips) if count > 1 else line_through(slides[0], slips[0], predicted)
    weakest = min(_slip_per_slide(over) for _, _, over in measured) / pixel_mm
    least_noise = _step_noise_px([slip for _, slip, _ in measured]) * predicted / weakest
    noise = max(least_noise, student_68(line.freedom) * line.scatter)  # whose error holds 68 times of 100
    wide = max(NORMAL_95 * least_noise, student_95(line.freedom) * line.scatter) if count > 2 else 0.0
    suspects: tuple[str, ...] = ()
    if count > 1 and abs(line.slope - predicted) > max(3 * line.slope_error(noise), SLOPE_FLOOR * predicted):
        # Any of the three explains a slope too steep or too flat; none explains one of the wrong sign.
        suspects = ("direction",) if line.slope < 0 else ("distance", "focal length", "sweep")
    return BenchFit(
        slide_for_zero_mm=line.zero,
        std_error_mm=line.zero_error(noise) if count > 2 else None,
        band_mm=line.zero_error(wide) if count > 2 else None,
        slope_px_per_mm=line.slope if count > 1 else None,
        slope_predicted_px_per_mm=predicted,
        readings=count,
        noise_px=least_noise,
        outside=not min(slides) <= line.zero <= max(slides),
        residuals=line.residuals,
        suspects=suspects,
    )


def _slip_per_slide(turn: Turn) -> float:
    """Slip gained, where it is zero, for each mm that the slide moves forward (mm/mm)."""
    return slip_per_offset(turn) * turn.offset_per_slide


def _step_noise_px(slips: Sequence[float]) -> float:
    """The standard deviation of readings to the coarsest step that all fall on: step/√3 (JCGM 100:2008, 4.3.7)."""
    on = (step for step in COARSE_STEPS_PX if all((slip / step).is_integer() for slip in slips))
    return next(on, FINEST_STEP_PX) / math.sqrt(3)


def bracket(readings: Sequence[Reading], slide_min: float | None = None, slide_max: float | None = None) -> Bracket:
    """The zero from readings by eye, between the last that lags and the first that outruns.

    A reading in pixels counts by its sign; one with neither is left out. `slide_min` and `slide_max` are the head's
    range, mm. The next reading halves the widest gap that may hold the zero; an open side reaches to the end of the
    slide, or two steps on, a step being as far as the readings reach.
    """
    signs: dict[int, int] = {}  # -1 where the foreground lags, 0 where it is locked, 1 where it outruns
    for index, reading in enumerate(readings):
        if reading.seen is not None:
            signs[index] = SIGNS[reading.seen]
        elif reading.slip_px is not None:
            signs[index] = (reading.slip_px > 0) - (reading.slip_px < 0)
    places = {index: readings[index].slide_mm for index in signs}
    contradicting = _contradicting(places, signs)
    kept = [(places[index], sign) for index, sign in signs.items() if index not in contradicting]
    low = max((place for place, sign in kept if sign < 0), default=None)
    high = min((place for place, sign in kept if sign > 0), default=None)
    locked = sorted(place for place, sign in kept if sign == 0)
    start, end = _reach(list(places.values()), slide_min, slide_max)
    marks = [start if low is None else low, *locked, end if high is None else high]
    before, after = max(pairwise(marks), key=lambda gap: gap[1] - gap[0])
    return Bracket(
        low_mm=low,
        high_mm=high,
        try_next_mm=(before + after) / 2 if after > before else None,
        locked_mm=(locked[0] + locked[-1]) / 2 if locked else None,
        contradicting=tuple(sorted(contradicting)),
    )


def _contradicting(places: dict[int, float], signs: dict[int, int]) -> set[int]:
    """The fewest readings without which the rest lag, then lock, then outrun; of several such sets, all are named."""
    edges = [*sorted(set(places.values())), math.inf]
    rank = {edge: number for number, edge in enumerate(edges)}
    # Where "locked" begins at one edge and "outruns" at another behind it, the wrong ones are those that do not lag
    # before the first, are not locked between the two, and do not outrun from the second on.
    count = {sign: [0] * len(edges) for sign in (-1, 0, 1)}
    for index, place in places.items():
        for sign in count:
            count[sign][rank[place]] += signs[index] != sign
    before = {sign: [0, *accumulate(count[sign])][:-1] for sign in count}
    first = [lags - locked for lags, locked in zip(before[-1], before[0], strict=True)]
    second = [locked + sum(count[1]) - outruns for locked, outruns in zip(before[0], before[1], strict=True)]
    least_first, least_second = list(accumulate(first, min)), list(accumulate(reversed(second), min))[::-1]
    fewest = min(map(sum, zip(first, least_second, strict=True)))
    last_locked = max(n for n, one in enumerate(first) if one + least_second[n] == fewest)
    first_outruns = min(n for n, one in enumerate(second) if one + least_first[n] == fewest)

    def may_be(sign: int, at: int) -> bool:
        """Tell whether a reading there has this sign in any of the orders that leave fewest wrong."""
        if sign == 0:
            return at + 1 < len(edges) and least_first[at] + least_second[at + 1] == fewest
        return at < last_locked if sign < 0 else at >= first_outruns

    others = {sign: [other for other in count if other != sign] for sign in count}
    return {index for index, place in places.items() if any(may_be(one, rank[place]) for one in others[signs[index]])}


def _reach(places: Sequence[float], slide_min: float | None, slide_max: float | None) -> tuple[float, float]:
    """How far to search on either side; an empty stretch where neither readings nor the head's range tell."""
    if not places:
        return (slide_min, slide_max) if slide_min is not None and slide_max is not None else (0.0, 0.0)
    step = (max(places) - min(places)) or FIRST_STEP_MM
    start = min(places) - 2 * step if slide_min is None else slide_min
    return start, max(places) + 2 * step if slide_max is None else slide_max
