"""The workings of the bench: the pupil from slips read along the slide."""

from __future__ import annotations

from typing import TYPE_CHECKING

from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.slip import axis_mm, places, rise_mm, zero_term
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import told

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

_NEEDS = "enter slips read on the bench, and the move that they were read over"
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
    if of.setup.aim_deg and not rise_mm(of):
        aim = f"drop and lead of the tilt axis with the lens tilted by {Figures.degrees(of.setup.aim_deg)}"
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
    gap = f"{say.mm(of.setup.image_mm)} × (1 − {model} / {background}) × sin({turn})"
    return f"1 mm × {gap} / {depths} = {value_text('slip.bench.slope_predicted_px_per_mm', of)}"


def _next(of: Answer) -> str:
    bench = of.slip.bench
    low, high = bench.bracket_mm if bench and bench.bracket_mm else (None, None)
    found = value_text("slip.bench.try_next_mm", of)
    if low is None or high is None or (bench and bench.slide_for_zero_mm is not None):
        return f"the middle of the widest stretch of the slide that may hold the place: {found}"
    return f"({Figures.slide(low)} + {Figures.slide(high)}) / 2 = {found}"


WORKINGS = (
    told("slip.bench.readings", _readings, on.entered),
    told("slip.bench.slide_for_zero_mm", _zero, _fit),
    told(
        "slip.bench.std_error_mm",
        lambda of: f"{_span(of)}: {value_text('slip.bench.std_error_mm', of)}",
        on.always("A reading is trusted no further than the step to which it was read, step/√3."),
    ),
    told(
        "slip.bench.band_mm",
        lambda of: f"{_span(of)}: {value_text('slip.bench.band_mm', of)}",
        on.always("Half the width of the band."),
    ),
    told("slip.bench.pupil_ahead_mm", _pupil, on.slide),
    told("slip.bench.slope_px_per_mm", lambda of: f"{_span(of)}: {value_text('slip.bench.slope_px_per_mm', of)}", _fit),
    told(
        "slip.bench.slope_predicted_px_per_mm",
        _predicted,
        on.always("Where the slip is nothing; d and D count from the axis."),
    ),
    told("slip.bench.bracket_mm", lambda of: f"{_span(of)}: {value_text('slip.bench.bracket_mm', of)}", _by_eye),
    told("slip.bench.try_next_mm", _next, _by_eye),
    told("slip.bench.contradicting", lambda of: f"{_span(of)}: {value_text('slip.bench.contradicting', of)}", _by_eye),
)
