"""The workings of the bench: the pupil from slips read along the slide."""

from __future__ import annotations

from typing import TYPE_CHECKING

from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.slip import NO_PARALLAX, axis_mm, places, rise_mm, zero_term
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import DEFINITION, Working

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

_NEEDS = "enter slips read on the bench, and the move that they were read over"
_NEEDS_PX = f"{_NEEDS}, in pixels or off a tape at the background, at two or more places of the slide"
_NEEDS_THREE = f"{_NEEDS}, in pixels, at three or more places of the slide"
_NEEDS_EYE = f"{_NEEDS}, by eye alone"
_SQUARES = "least squares"
_fit = on.always(
    "Each slip is first laid out straight by the geometry of the move; a line is then fitted with its slope and its "
    "zero free, so that a wrong distance shows in the slope and not in the zero."
)
_by_eye = on.always("A reading that contradicts the others bounds nothing.")


def _span(of: Answer) -> str:
    slides = [row.slide for row in of.setting.bench]
    if min(slides) == max(slides):
        return f"all readings at {Figures.slide(slides[0])}"
    return f"{len(slides)} readings from {Figures.slide(min(slides))} to {Figures.slide(max(slides))}"


def _readings(of: Answer) -> str:
    return f"{_span(of)}: {value_text('slip.bench.readings', of)}"


def _zero(of: Answer) -> str:
    found, bench = value_text("slip.bench.slide_for_zero_mm", of), of.slip.bench
    if bench is not None and bench.bracket_mm is not None:
        return f"the middle of the readings that looked locked: {found}"
    return f"{_span(of)}; the line through them crosses no slip at {found}"


def _pupil(of: Answer) -> str:
    head, bench, tilted = of.kit.head, of.slip.bench, zero_term(of)
    zero = bench.slide_for_zero_mm if bench else None
    if of.sight.aim_deg and not rise_mm(of):
        aim = f"drop and lead of the tilt axis with the lens tilted by {Figures.degrees(of.sight.aim_deg)}"
        return f"from the slide without slip, {aim}: {value_text('slip.bench.pupil_ahead_mm', of)}"
    rest = Figures.sum_mm(axis_mm(of), -(zero or 0.0), -(head.sensor_at_zero if head else 0.0))
    start = f"{tilted} + ({rest})" if tilted else rest
    return f"{start} = {value_text('slip.bench.pupil_ahead_mm', of)}"


def _predicted(of: Answer) -> str:
    say = Figures(of)
    if not say.plain:
        return f"the slip gained for a mm of slide: {value_text('slip.bench.slope_predicted_px_per_mm', of)}"
    model, background = places(of)
    turn, zero = say.degrees(of.slip.sweep_deg), zero_term(of)
    ahead, beyond = (f"({model} + {zero})", f" × (1 + {zero} / {background})") if rise_mm(of) else (model, "")
    depths = f"({ahead}{beyond} × cos({turn})² × {say.pixel()})"
    gap = f"{say.mm(of.sight.image_mm)} × (1 − {model} / {background}) × sin({turn})"
    return f"1 mm × {gap} / {depths} = {value_text('slip.bench.slope_predicted_px_per_mm', of)}"


def _next(of: Answer) -> str:
    bench = of.slip.bench
    low, high = bench.bracket_mm if bench and bench.bracket_mm else (None, None)
    found = value_text("slip.bench.try_next_mm", of)
    if low is None or high is None or (bench and bench.slide_for_zero_mm is not None):
        return f"the middle of the widest stretch of the slide that may hold the place: {found}"
    return f"({Figures.slide(low)} + {Figures.slide(high)}) / 2 = {found}"


WORKINGS = (
    Working(
        key="slip.bench.readings",
        name="bench readings",
        meaning="How many readings were taken on the bench.",
        formula="as entered",
        put_in=_readings,
        conventions=on.entered,
        leads_to=("slip.bench.slide_for_zero_mm", "slip.bench.std_error_mm"),
        source=DEFINITION,
        needs=_NEEDS,
    ),
    Working(
        key="slip.bench.slide_for_zero_mm",
        name="bench's zero",
        meaning="The reading of the slide at which the foreground no longer slips, as the bench has it.",
        formula="where the line of slip, laid out straight by the geometry, against slide reading crosses zero",
        put_in=_zero,
        conventions=_fit,
        leads_to=("slip.bench.pupil_ahead_mm",),
        source=_SQUARES,
        needs=_NEEDS_PX,
    ),
    Working(
        key="slip.bench.std_error_mm",
        name="zero's error",
        meaning="One standard error of the bench's zero: the true one lies within it about 68 times of 100.",
        formula="scatter / |slope| · √(1/n + (zero − mean)² / sum((slide − mean)²))",
        put_in=lambda of: f"{_span(of)}: {value_text('slip.bench.std_error_mm', of)}",
        conventions=on.always("A reading is trusted no further than the step to which it was read, step/√3."),
        leads_to=(),
        source="delta method; JCGM 100:2008, 4.3.7, for the step",
        needs=_NEEDS_THREE,
    ),
    Working(
        key="slip.bench.band_mm",
        name="zero's band",
        meaning="How far to either side of the bench's zero the true one lies 95 times of 100.",
        formula="as the standard error, with Student's t for the scatter of few readings",
        put_in=lambda of: f"{_span(of)}: {value_text('slip.bench.band_mm', of)}",
        conventions=on.always("Half the width of the band."),
        leads_to=(),
        source="delta method; Student's t from the NIST/SEMATECH e-Handbook, 1.3.6.7.2",
        needs=_NEEDS_THREE,
    ),
    Working(
        key="slip.bench.pupil_ahead_mm",
        name="bench's pupil",
        meaning="How far the entrance pupil stands ahead of the sensor plane, as the bench has it.",
        formula="h·tan(turn/2) + tilt_ahead − slide for zero − sensor_at_zero",
        put_in=_pupil,
        conventions=on.slide,
        leads_to=("slip.pupil_ahead_mm",),
        source=NO_PARALLAX,
        needs=f"{_NEEDS_PX}, and a head",
    ),
    Working(
        key="slip.bench.slope_px_per_mm",
        name="slope read",
        meaning="How many pixels the slip changes for each millimetre of slide, as read.",
        formula="sum((slide − mean)·(slip − mean)) / sum((slide − mean)²)",
        put_in=lambda of: f"{_span(of)}: {value_text('slip.bench.slope_px_per_mm', of)}",
        conventions=_fit,
        leads_to=("slip.bench.slide_for_zero_mm",),
        source=_SQUARES,
        needs=_NEEDS_PX,
    ),
    Working(
        key="slip.bench.slope_predicted_px_per_mm",
        name="slope foreseen",
        meaning="How many pixels a millimetre of slide should change the slip. Where the slope read is far from it, "
        "a distance, the focal length or the sweep is wrong.",
        formula="v·(1 − d/D)·sin(turn) / ((d + e0)·(1 + e0/D)·cos(turn)²·p), e0 = h·tan(turn/2)",
        put_in=_predicted,
        conventions=on.always("Where the slip is nothing; d and D count from the axis."),
        leads_to=(),
        source=NO_PARALLAX,
        needs=_NEEDS_PX,
    ),
    Working(
        key="slip.bench.bracket_mm",
        name="zero lies in",
        meaning="The stretch of the slide that must hold the place without slip, from readings by eye.",
        formula="from the last reading that lags to the first that outruns",
        put_in=lambda of: f"{_span(of)}: {value_text('slip.bench.bracket_mm', of)}",
        conventions=_by_eye,
        leads_to=("slip.bench.try_next_mm",),
        source=DEFINITION,
        needs=_NEEDS_EYE,
    ),
    Working(
        key="slip.bench.try_next_mm",
        name="try next",
        meaning="Where to set the slide for the next reading by eye.",
        formula="the middle of the widest stretch that may hold the place",
        put_in=_next,
        conventions=_by_eye,
        leads_to=("slip.bench.readings",),
        source="bisection",
        needs=_NEEDS_EYE,
    ),
    Working(
        key="slip.bench.contradicting",
        name="contradicting",
        meaning="Readings that cannot be true with the rest.",
        formula="the fewest without which the rest lag, then lock, then outrun along the slide",
        put_in=lambda of: f"{_span(of)}: {value_text('slip.bench.contradicting', of)}",
        conventions=_by_eye,
        leads_to=("slip.bench.readings",),
        source=DEFINITION,
        needs=_NEEDS,
    ),
)
