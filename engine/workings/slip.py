"""The workings of the slip group; those of its bench are in `bench`.

The put-in slip is the difference y(d) − y(D) multiplied out, which loses no digits where the two are nearly equal.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from forescale.engine.shot.records import TILTS
from forescale.engine.solve import turning
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.lineup import PINHOLE
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import DEFINITION, Working

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

NO_PARALLAX = "perspective of a pinhole; R. Littlefield, Theory of the No-Parallax Point, 2006"
_SEEN = "the point aimed at, projected from where the move carries the pupil:"
NEEDS_MOVE = "enter a pan or a tilt and its sweep"
_NEEDS_ALL = f"{NEEDS_MOVE}, a head and its slide's reading, and a lens whose pupil is known"
_sign = on.always("Plus is a model that outruns the background: slide the camera back. Minus lags: slide forward.")
_axis = on.always("Counted from the axis that the head turns about; where no slide is set, the pupil is taken on it.")
_FORMULA = (
    "y(d) − y(D), y(z) = v·(z·sin(turn) + h·(1 − cos(turn))) / (z·cos(turn) + h·sin(turn) − e); multiplied out, "
    "v·(1 − d/D)·(e·sin(turn) − h·(1 − cos(turn))) / ((d·cos(turn) + h·sin(turn) − e)·"
    "(cos(turn) + (h·sin(turn) − e)/D))"
)


def turns(of: Answer) -> bool:
    """Whether anything moves in the shot."""
    return of.speed.move_set_time_s is not None


def rise_mm(of: Answer) -> float:
    """Return how far the lens axis lies above the axis of the move, counted the way it turns: h, 0 for a pan."""
    return turning.rise_mm(of.setting.move.axis, of.kit.head)


def axis_mm(of: Answer) -> float:
    """Return how far the axis of the move lies ahead of the pan axis."""
    return of.kit.head.tilt_ahead if of.kit.head and of.slip.axis in TILTS else 0.0


def zero_term(of: Answer) -> str:
    """Return where the pupil has no slip, h·tan(turn/2), with a sign to go on from it; nothing for a pan."""
    if rise_mm(of) == 0:
        return ""
    return f"{Figures.slide(rise_mm(of))} × tan({Figures.degrees(of.slip.sweep_deg)} / 2)"


def places(of: Answer) -> tuple[str, str]:
    """Return model and background from the axis."""
    say = Figures(of)
    return say.length(of.slip.model_from_axis_mm or 0.0), say.length(of.slip.background_from_axis_mm or 0.0)


def _slip(of: Answer, offset_mm: float) -> str:
    """Put in the slip on the sensor for a pupil so far ahead of the axis, without the result."""
    say, rise = Figures(of), rise_mm(of)
    model, background = places(of)
    turn, offset = say.degrees(of.slip.sweep_deg), say.signed_mm(offset_mm)
    driving, model_rise, far_rise = f"{offset} × sin({turn})", "", f" − {offset} / {background}"
    if rise:
        high = say.signed_mm(rise)
        driving = f"({driving} − {high} × (1 − cos({turn})))"
        model_rise = f" + {high} × sin({turn})"
        far_rise = f" + ({high} × sin({turn}) − {offset}) / {background}"
    depths = f"({model} × cos({turn}){model_rise} − {offset}) × (cos({turn}){far_rise})"
    return f"{say.mm(of.sight.image_mm)} × (1 − {model} / {background}) × {driving} / ({depths})"


def _still(key: str, of: Answer) -> str:
    return f"nothing turns, so nothing slips: {value_text(key, of)}"


def _slip_mm(of: Answer) -> str:
    if not turns(of):
        return _still("slip.slip_mm", of)
    if not Figures(of).plain:
        return f"{_SEEN} {value_text('slip.slip_mm', of)}"
    return f"{_slip(of, of.slip.offset_mm or 0.0)} = {value_text('slip.slip_mm', of)}"


def _slip_px(of: Answer) -> str:
    if not turns(of):
        return _still("slip.slip_px", of)
    if not Figures(of).plain:
        return f"{_SEEN} {value_text('slip.slip_px', of)}"
    say = Figures(of)
    return f"{say.mm(of.slip.slip_mm or 0.0)} / {say.pixel()} = {value_text('slip.slip_px', of)}"


def _largest(of: Answer) -> str:
    if not turns(of):
        return _still("slip.largest_slip_px", of)
    end, largest = value_text("slip.slip_px", of), value_text("slip.largest_slip_px", of)
    if of.slip.largest_slip_px == of.slip.slip_px:
        return f"largest at the end of the move: {end}"
    return f"at the end of the move {end}; on the way it reaches {largest}"


def _pupil(of: Answer) -> str:
    found, slip = value_text("slip.pupil_ahead_mm", of), of.slip
    if not slip.pupil_known:
        return f"no reading in the lens's profile, so taken at the sensor plane: {found}"
    rows = [f"{Figures.slide(row.ahead)} focused at {Figures(of).length(row.focus)}" for row in slip.pupil_rows]
    if len({row.focal_length for row in slip.pupil_rows}) > 1:
        pairs = zip(rows, slip.pupil_rows, strict=True)
        rows = [f"{text} at a focal length of {Figures.mm(row.focal_length)}" for text, row in pairs]
    if slip.pupil_outside:
        return f"outside what was measured, so the nearest: {' and '.join(rows)}; {found}"
    return f"between {' and '.join(rows)}: {found}" if len(rows) > 1 else f"measured: {found}"


def _offset(of: Answer) -> str:
    slip, head = of.slip, of.kit.head
    if of.sight.aim_deg and slip.axis not in TILTS:
        tilt = f"with the lens tilted by {Figures.degrees(of.sight.aim_deg)} over its tilt axis"
        return f"{tilt}: {value_text('slip.offset_mm', of)}"
    ahead = Figures.sum_mm(
        slip.slide_mm or 0.0, head.sensor_at_zero if head else 0.0, slip.pupil_ahead_mm, -axis_mm(of)
    )
    return f"{ahead} = {value_text('slip.offset_mm', of)}"


def _zero(of: Answer) -> str:
    head, tilted = of.kit.head, zero_term(of)
    if of.sight.aim_deg and of.slip.axis not in TILTS:
        tilt = f"with the lens tilted by {Figures.degrees(of.sight.aim_deg)}, the pupil comes over the pan axis at"
        return f"{tilt}: {value_text('slip.slide_for_zero_mm', of)}"
    rest = Figures.sum_mm(axis_mm(of), -(head.sensor_at_zero if head else 0.0), -of.slip.pupil_ahead_mm)
    start = f"{tilted} + ({rest})" if tilted else rest
    return f"{start} = {value_text('slip.slide_for_zero_mm', of)}"


def _from_axis(of: Answer, tape_mm: float, key: str) -> str:
    say, head, slide = Figures(of), of.kit.head, of.setting.move.slide
    if of.sight.aim_deg:
        return f"the taped place, less where the axis stands: {value_text(key, of)}"
    if head is None or slide is None:
        away = f" − {say.slide(axis_mm(of))}" if axis_mm(of) else ""
        return f"{say.from_pupil(tape_mm)}{away} = {value_text(key, of)}"
    return f"{say.length(tape_mm)} + ({say.sum_mm(slide, head.sensor_at_zero, -axis_mm(of))}) = {value_text(key, of)}"


def _tolerance(of: Answer) -> str:
    if not Figures(of).plain:
        return f"to the more exacting side, over the whole move: {value_text('slip.tolerance_mm', of)}"
    say, found, limit = Figures(of), value_text("slip.tolerance_mm", of), of.slip.tolerance_mm or 0.0
    if math.isinf(limit):
        return f"model and background stand at one distance, so nothing slips wherever the pupil is: {found}"
    if rise_mm(of):
        return f"searched over the whole tilt, to either side of {zero_term(of)}: {found}"
    passed = f"{_slip(of, limit)} / {say.pixel()} = {say.number(of.slip.tolerance_px)} px"
    return f"with e as far as {found}: {passed}"


def _leaves(of: Answer) -> str:
    say, mode = Figures(of), of.kit.mode
    side = say.mm(mode.height) if of.slip.axis in TILTS else say.across(mode.width)
    return f"atan({side} / (2 × {say.mm(of.sight.image_mm)})) = {value_text('slip.leaves_frame_deg', of)}"


WORKINGS = (
    Working(
        key="slip.slip_px",
        name="slip",
        meaning="How far the model slides against the background over the move, in pixels of the recorded picture.",
        formula="slip on the sensor / p",
        put_in=_slip_px,
        conventions=_sign,
        leads_to=("slip.largest_slip_px",),
        source=NO_PARALLAX,
        needs=_NEEDS_ALL,
    ),
    Working(
        key="slip.largest_slip_px",
        name="largest slip",
        meaning="The slip where it is largest over the move. A pan slips most at its end; a tilt may on the way.",
        formula="the greatest slip from the line-up position to the end of the move, with its sign",
        put_in=_largest,
        conventions=_sign,
        leads_to=(),
        source=NO_PARALLAX,
        needs=_NEEDS_ALL,
    ),
    Working(
        key="slip.slip_mm",
        name="slip on sensor",
        meaning="The same slip as a length on the sensor.",
        formula=_FORMULA,
        put_in=_slip_mm,
        conventions=on.both(_sign, on.always("d and D count from the axis; h is the lens axis above a tilt axis.")),
        leads_to=("slip.slip_px",),
        source=NO_PARALLAX,
        needs=_NEEDS_ALL,
    ),
    Working(
        key="slip.slide_for_zero_mm",
        name="slide for none",
        meaning="The reading of the slide at which the lens turns about its entrance pupil and nothing slips.",
        formula="h·tan(turn/2) + tilt_ahead − sensor_at_zero − a; of a pan, drop·tan(aim) + tilt_ahead·"
        "(1 − 1/cos(aim)) − sensor_at_zero − a",
        put_in=_zero,
        conventions=on.slide,
        leads_to=("slip.slide_mm",),
        source=NO_PARALLAX,
        needs=f"{NEEDS_MOVE}, a head, and a lens whose pupil is known",
    ),
    Working(
        key="slip.slide_best_mm",
        name="best slide",
        meaning="Where the slide stands when the largest slip over the whole move is least.",
        formula="least over the slide of the largest slip over the move",
        put_in=lambda of: f"tried at poses of the whole move: {value_text('slip.slide_best_mm', of)}",
        conventions=on.slide,
        leads_to=("slip.slide_mm",),
        source=NO_PARALLAX,
        needs=f"{NEEDS_MOVE}, a head, and a lens whose pupil is known",
    ),
    Working(
        key="slip.best_within_mm",
        name="best may be off",
        meaning="How far off the best slide may be before the slip passes what may pass anywhere in the move.",
        formula="the distance of the slide from its best at which the largest slip is the tolerance",
        put_in=lambda of: f"to the more exacting side: {value_text('slip.best_within_mm', of)}",
        conventions=on.slide,
        leads_to=(),
        source=NO_PARALLAX,
        needs=f"{NEEDS_MOVE}, a head, and a lens whose pupil is known",
    ),
    Working(
        key="slip.start_deg",
        name="start",
        meaning="How far to the other side of the line-up the move begins.",
        formula="as entered",
        put_in=lambda of: f"as entered: {value_text('slip.start_deg', of)}",
        conventions=on.always("From the line-up, away from the far end."),
        leads_to=("slip.largest_slip_px", "lineup.cover_width_mm", "speed.crossing_s"),
        source=DEFINITION,
    ),
    Working(
        key="slip.travel_mm",
        name="travel",
        meaning="How far the camera is carried by the far end of the move.",
        formula="as entered",
        put_in=lambda of: f"as entered: {value_text('slip.travel_mm', of)}",
        conventions=on.always("Not turning with the head; before the line-up the other way."),
        leads_to=("slip.slip_px", "slip.travel_allowed_mm"),
        source=DEFINITION,
        needs="enter the travel of the camera and which way it goes",
    ),
    Working(
        key="slip.travel_allowed_mm",
        name="travel that passes",
        meaning="How much of the travel the slip that may pass allows, the rest of the move as it is.",
        formula="the travel at which the largest slip over the move is the tolerance, all of it at most",
        put_in=lambda of: f"tried at poses of the whole move: {value_text('slip.travel_allowed_mm', of)}",
        conventions=on.picture,
        leads_to=(),
        source=NO_PARALLAX,
        needs="enter the travel of the camera; where it also turns, a head, its slide, and a lens whose pupil is known",
    ),
    Working(
        key="slip.tolerance_mm",
        name="slide tolerance",
        meaning="How far off the slide may be before the slip passes what may pass, to the more exacting side.",
        formula="the distance of e from its zero at which |slip| is the tolerance somewhere in the move",
        put_in=_tolerance,
        conventions=on.slide,
        leads_to=(),
        source=NO_PARALLAX,
        needs=NEEDS_MOVE,
    ),
    Working(
        key="slip.tolerance_px",
        name="slip that passes",
        meaning="The slip in pixels that no one will see.",
        formula="t, as entered",
        put_in=lambda of: f"as entered: {value_text('slip.tolerance_px', of)}",
        conventions=on.always("Pixels of the recorded picture, along the move."),
        leads_to=("slip.tolerance_mm", "lineup.drift_tolerance_mm", "lineup.place_tolerance_mm"),
        source=DEFINITION,
    ),
    Working(
        key="slip.offset_mm",
        name="pupil off axis",
        meaning="How far the entrance pupil stands ahead of the axis as the slide is set.",
        formula="e = slide reading + sensor_at_zero + a − tilt_ahead; of a pan, tilt_ahead + e·cos(aim) − "
        "drop·sin(aim)",
        put_in=_offset,
        conventions=on.slide,
        leads_to=("slip.slip_mm",),
        source=DEFINITION,
        needs=_NEEDS_ALL,
    ),
    Working(
        key="slip.slide_mm",
        name="slide reading",
        meaning="Where the head's slide is set.",
        formula="as entered",
        put_in=lambda of: f"as entered: {value_text('slip.slide_mm', of)}",
        conventions=on.slide,
        leads_to=("slip.offset_mm", "slip.model_from_axis_mm", "slip.background_from_axis_mm"),
        source=DEFINITION,
        needs="enter the reading of the head's slide",
    ),
    Working(
        key="slip.pupil_ahead_mm",
        name="entrance pupil",
        meaning="How far the lens's entrance pupil stands ahead of the sensor plane; a minus sign is behind it.",
        formula="a, from the lens's rows: even in focal length, then in 1/focus; outside them the nearest row",
        put_in=_pupil,
        conventions=on.always("From the sensor-plane mark, along the lens axis."),
        leads_to=("slip.offset_mm", "slip.slide_for_zero_mm", "lineup.match_distance_mm", "focus.focus_mm"),
        source="measured on the bench; even steps between readings: common practice, no source",
    ),
    Working(
        key="slip.pupil_uncertainty_mm",
        name="pupil's error",
        meaning="How well the pupil's place is known: one standard error of the readings that it comes from.",
        formula="that of the row; between two, √((1 − x)²·first² + x²·second²), x the way from one to the other",
        put_in=lambda of: f"from the lens's rows: {value_text('slip.pupil_uncertainty_mm', of)}",
        conventions=on.always("Right about 68 times of 100, where the readings were independent."),
        leads_to=(),
        source="propagation of independent errors, JCGM 100:2008",
        needs="enter the uncertainty in the lens's pupil rows, or find the pupil on the bench",
    ),
    Working(
        key="slip.sweep_deg",
        name="sweep",
        meaning="How far the head turns, from the line-up position to the end of the move.",
        formula="as entered",
        put_in=lambda of: f"as entered: {value_text('slip.sweep_deg', of)}",
        conventions=on.always("One way; tilt turns the lens up, tilt down turns it down."),
        leads_to=("slip.slip_mm", "slip.tolerance_mm", "lineup.cover_width_mm", "speed.crossing_s"),
        source=DEFINITION,
    ),
    Working(
        key="slip.leaves_frame_deg",
        name="leaves frame at",
        meaning="The turn after which the point aimed at has left the picture.",
        formula="atan(w / (2·v)); the sensor's height for a tilt",
        put_in=_leaves,
        conventions=on.picture,
        leads_to=(),
        source=PINHOLE,
        needs="enter a pan or a tilt",
    ),
    Working(
        key="slip.model_from_axis_mm",
        name="model from axis",
        meaning="How far the model stands from the axis that the head turns about.",
        formula="tape + slide reading + sensor_at_zero − tilt_ahead",
        put_in=lambda of: _from_axis(of, of.lineup.model_mm, "slip.model_from_axis_mm"),
        conventions=_axis,
        leads_to=("slip.slip_mm", "slip.tolerance_mm", "slip.bench.slope_predicted_px_per_mm"),
        source=DEFINITION,
        needs=NEEDS_MOVE,
    ),
    Working(
        key="slip.background_from_axis_mm",
        name="backing from axis",
        meaning="How far the background stands from the axis that the head turns about.",
        formula="tape + slide reading + sensor_at_zero − tilt_ahead",
        put_in=lambda of: _from_axis(of, of.lineup.background_mm, "slip.background_from_axis_mm"),
        conventions=_axis,
        leads_to=("slip.slip_mm", "slip.tolerance_mm", "slip.bench.slope_predicted_px_per_mm"),
        source=DEFINITION,
        needs=NEEDS_MOVE,
    ),
)
