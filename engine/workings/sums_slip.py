"""Sums that a text of words.toml does not hold, of slip and its bench; as texts with braces.

The slip put in is the difference y(d) − y(D) multiplied out, which loses no digits where the two are nearly equal.
"""

import math
from collections.abc import Callable

from forescale.engine.answer import Answer
from forescale.engine.formulas.chances import student_68, student_95
from forescale.engine.formulas.slip import zero_offset_mm
from forescale.engine.formulas.zero_crossing import fitted_line
from forescale.engine.kit.pupil import not_measured_at
from forescale.engine.shot.sections import TILTS
from forescale.engine.solve.turning import bench_geometry, bench_line, rise_mm
from forescale.engine.workings.figures import Figures

_SAME = 1e-6


def _rise_mm(of: Answer) -> float:
    """Return how far the lens axis lies above the axis of the move, counted the way it turns: h, 0 for a pan."""
    return rise_mm(of.setting.move.axis, of.kit.head)


def _on_head(of: Answer) -> tuple[float, float, float]:
    """Return where the sensor plane sits at reading 0, the drop of the tilt axis and its lead, mm; 0 without a head."""
    head = of.kit.head
    return (head.sensor_at_zero, head.tilt_drop, head.tilt_ahead) if head else (0.0, 0.0, 0.0)


def _axis_mm(of: Answer) -> float:
    """Return how far the axis of the move lies ahead of the pan axis."""
    return _on_head(of)[2] if of.slip.axis in TILTS else 0.0


def _zero_term(of: Answer) -> str:
    """Return where the pupil has no slip, h·tan(turn/2), with a sign to go on from it; nothing for a pan."""
    return f"{Figures(of).slide(_rise_mm(of))} × tan({{degrees slip.sweep_deg}} / 2)" if _rise_mm(of) else ""


def over_the_tilt(of: Answer) -> bool:
    """Return whether the lens is aimed up or down over its tilt axis and pans."""
    return bool(of.setup.aim_deg) and of.slip.axis not in TILTS


def _parted(of: Answer, offset_mm: float) -> str:
    """Return the slip on the sensor for a pupil so far ahead of the axis, without the result."""
    turn = "{degrees slip.sweep_deg}"
    offset = Figures(of).signed(offset_mm)
    driving = f"{offset} × sin({turn})"
    model_rise = ""
    far_rise = f" − {offset} / {{background from axis}}"
    if _rise_mm(of):
        high = Figures(of).signed(_rise_mm(of))
        driving = f"({driving} − {high} × (1 − cos({turn})))"
        model_rise = f" + {high} × sin({turn})"
        far_rise = f" + ({high} × sin({turn}) − {offset}) / {{background from axis}}"
    depths = f"({{model from axis}} × cos({turn}){model_rise} − {offset}) × (cos({turn}){far_rise})"
    return f"{{v}} × (1 − {{model from axis}} / {{background from axis}}) × {driving} / ({depths})"


def _pupil(of: Answer) -> str:
    say = Figures(of)
    slip = of.slip
    rows = [f"{say.slide(row.ahead)} focused at {say.length(row.focus)}" for row in slip.pupil_rows]
    if len({row.focal_length for row in slip.pupil_rows}) > 1:
        pairs = zip(rows, slip.pupil_rows, strict=True)
        rows = [f"{text} at a focal length of {say.mm(row.focal_length)}" for text, row in pairs]
    off = f"not measured at this {not_measured_at(slip.pupil_rows, of.kit.focal_mm, of.focus.focus_mm)}; "
    start = off if slip.pupil_outside else ""
    if len(rows) > 1:
        return f"{start}between {' and '.join(rows)}: {{}}"
    return f"{start}the nearest reading, {rows[0]}: {{}}" if start else "measured: {}"


def _offset(of: Answer) -> str:
    say, (at_zero, drop, lead), aimed = Figures(of), _on_head(of), over_the_tilt(of)
    from_axis = -lead if aimed else -_axis_mm(of)
    ahead = say.along(of.slip.slide_mm or 0.0, at_zero, of.slip.pupil_ahead_mm, from_axis)
    if not aimed:
        return f"{ahead} = {{}}"
    terms = [f"({ahead}) × cos({{aim}})", *([say.signed(lead)] if lead else [])]
    below = f" − {say.signed(drop)} × sin({{aim}})" if drop else ""
    return f"{' + '.join(terms)}{below} = {{}}"


def _zero(of: Answer) -> str:
    at_zero, drop, lead = _on_head(of)
    if over_the_tilt(of):
        say = Figures(of)
        terms = [f"{say.signed(drop)} × tan({{aim}})"] if drop else []
        terms += [f"{say.signed(lead)} × (1 − 1 / cos({{aim}}))"] if lead else []
        rest = say.along(-at_zero, -of.slip.pupil_ahead_mm)
        return f"{' + '.join([*terms, f'({rest})' if terms else rest])} = {{}}"
    return f"{_from_zero_term(of, -at_zero, -of.slip.pupil_ahead_mm)} = {{}}"


def _from_zero_term(of: Answer, *rest_mm: float) -> str:
    rest = Figures(of).along(_axis_mm(of), *rest_mm)
    tilted = _zero_term(of)
    return f"{tilted} + ({rest})" if tilted else rest


def _from_axis(of: Answer, tape_mm: float) -> str:
    say = Figures(of)
    slide, aimed = of.setting.move.slide, over_the_tilt(of)
    if of.kit.head is None or slide is None:
        away = f" − {say.slide(_axis_mm(of))}" if _axis_mm(of) else ""
        return f"{say.from_pupil(tape_mm)}{' × cos({aim})' if aimed else ''}{away} = {{}}"
    tape, (at_zero, drop, lead) = say.length(tape_mm), _on_head(of)
    if not aimed:  # a tilt counts along the lens
        tape += " / cos({aim})" if of.setup.aim_deg else ""
        return f"{tape} + ({say.along(slide, at_zero, -_axis_mm(of))}) = {{}}"
    ahead = f"({say.along(slide, at_zero, -lead)}) × cos({{aim}}){f' + {say.signed(lead)}' if lead else ''}"
    return f"{tape} + {ahead}{f' − {say.signed(drop)} × sin({{aim}})' if drop else ''} = {{}}"


def _tolerance(of: Answer) -> str:
    if _rise_mm(of):
        return f"searched over the whole tilt, to either side of {_zero_term(of)}: {{}}"
    parted = _parted(of, of.slip.tolerance_mm or 0.0)
    return f"with e as far as {{}}: {parted} / {{p along}} = {{number slip.tolerance_px}} px"


def _bench_error(student: Callable[[int], float], key: str) -> Callable[[Answer], str]:
    """Return the sum of an error of the zero: the noise of a reading, and what the line makes of it."""

    def error(of: Answer) -> str:
        line = bench_line(of)
        held = getattr(of.slip.bench, key, None)
        if line is None or not held:
            return "{readings}: {}"
        scale, number = Figures(of).on_slide, Figures.number
        slides = [one.slide_mm / scale.unit_mm for one in line.points]
        fitted = fitted_line(slides, [one.straight_px for one in line.points])
        noise = held / scale.unit_mm / fitted.zero_error(1.0)
        told = f"the step of the readings leaves a noise of {number(noise)} px"
        if math.isclose(noise, student(fitted.freedom) * fitted.scatter, rel_tol=_SAME):
            told = f"noise = {number(student(fitted.freedom))} × {number(fitted.scatter)} = {number(noise)}"
        root = f"√(1 / {len(slides)} + ({number(fitted.zero)} − {number(fitted.middle)})² / {number(fitted.spread)})"
        return f"{told}; 1 {scale.unit} × {number(noise)} / {number(abs(fitted.slope))} × {root} = {{}}"

    return error


def _bench_pupil(of: Answer) -> str:
    if of.setup.aim_deg and not _rise_mm(of):
        return "from the slide without slip, drop and lead of the tilt axis with the lens tilted by {aim}: {}"
    zero = of.slip.bench.slide_for_zero_mm if of.slip.bench else None
    return f"{_from_zero_term(of, -(zero or 0.0), -_on_head(of)[0])} = {{}}"


def _slope(of: Answer) -> str:
    say, both = Figures(of), bench_geometry(of)
    model, far, angle = "{model from axis}", "{background from axis}", "{degrees slip.sweep_deg}"
    image, pixel, zero = "{v}", "{p along}", _zero_term(of)
    if both is not None and both[0] != both[1]:  # over a move and with sticks of the bench's own
        turn, offset_mm = both[0].turn, zero_offset_mm(both[0].turn)
        model, far, angle = say.length(turn.model_mm), say.length(turn.background_mm), say.degrees(turn.sweep_deg)
        if turn.aim_deg or math.isinf(turn.background_mm):
            return f"over the bench's own {angle}, the slip gained for a unit of the slide: {{}}"
        image, pixel = say.mm(turn.image_distance_mm), say.mm(both[0].pixel_mm)
        zero = say.slide(offset_mm) if offset_mm else ""
    ahead, beyond = (f"({model} + {zero})", f" × (1 + {zero} / {far})") if zero else (model, "")
    gap = f"{image} × (1 − {model} / {far}) × sin({angle})"
    return f"1 {say.on_slide.unit} × {gap} / ({ahead}{beyond} × cos({angle})² × {pixel}) = {{}}"


def _next(of: Answer) -> str:
    bench = of.slip.bench
    low, high = bench.bracket_mm if bench and bench.bracket_mm else (None, None)
    if low is None or high is None or (bench and bench.slide_for_zero_mm is not None):
        return "the middle of the widest stretch of the slide that may hold the place: {}"
    return f"({Figures(of).slide(low)} + {Figures(of).slide(high)}) / 2 = {{}}"


SLIP_SUMS: dict[str, Callable[[Answer], str]] = {
    "slip.slip_mm": lambda of: f"{_parted(of, of.slip.offset_mm or 0.0)} = {{}}",
    "slip.slide_for_zero_mm": _zero,
    "slip.tolerance_mm": _tolerance,
    "slip.offset_mm": _offset,
    "slip.pupil_ahead_mm": _pupil,
    "slip.model_from_axis_mm": lambda of: _from_axis(of, of.lineup.model_mm),
    "slip.background_from_axis_mm": lambda of: _from_axis(of, of.lineup.background_mm),
    "slip.bench.std_error_mm": _bench_error(student_68, "std_error_mm"),
    "slip.bench.band_mm": _bench_error(student_95, "band_mm"),
    "slip.bench.pupil_ahead_mm": _bench_pupil,
    "slip.bench.slope_predicted_px_per_mm": _slope,
    "slip.bench.try_next_mm": _next,
}
