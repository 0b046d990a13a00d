"""The workings of the slip group; those of its bench are in `bench`.

The put-in slip is the difference y(d) − y(D) multiplied out, which loses no digits where the two are nearly equal.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from forescale.engine.shot.records import TILTS
from forescale.engine.solve import turn_geometry
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import told

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

_SEEN = "the point aimed at, projected from where the move carries the pupil:"
NEEDS_MOVE = "enter a pan or a tilt and its sweep"
_sign = on.always("Plus is a model that outruns the background: slide the camera back. Minus lags: slide forward.")
_axis = on.always("Counted from the axis that the head turns about; where no slide is set, the pupil is taken on it.")


def turns(of: Answer) -> bool:
    """Whether anything moves in the shot."""
    return of.speed.move_set_time_s is not None


def rise_mm(of: Answer) -> float:
    """Return how far the lens axis lies above the axis of the move, counted the way it turns: h, 0 for a pan."""
    return turn_geometry.rise_mm(of.setting.move.axis, of.kit.head)


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
    return f"{say.mm(of.setup.image_mm)} × (1 − {model} / {background}) × {driving} / ({depths})"


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
    if of.setup.aim_deg and slip.axis not in TILTS:
        tilt = f"with the lens tilted by {Figures.degrees(of.setup.aim_deg)} over its tilt axis"
        return f"{tilt}: {value_text('slip.offset_mm', of)}"
    ahead = Figures.sum_mm(
        slip.slide_mm or 0.0, head.sensor_at_zero if head else 0.0, slip.pupil_ahead_mm, -axis_mm(of)
    )
    return f"{ahead} = {value_text('slip.offset_mm', of)}"


def _zero(of: Answer) -> str:
    head, tilted = of.kit.head, zero_term(of)
    if of.setup.aim_deg and of.slip.axis not in TILTS:
        tilt = f"with the lens tilted by {Figures.degrees(of.setup.aim_deg)}, the pupil comes over the pan axis at"
        return f"{tilt}: {value_text('slip.slide_for_zero_mm', of)}"
    rest = Figures.sum_mm(axis_mm(of), -(head.sensor_at_zero if head else 0.0), -of.slip.pupil_ahead_mm)
    start = f"{tilted} + ({rest})" if tilted else rest
    return f"{start} = {value_text('slip.slide_for_zero_mm', of)}"


def _from_axis(of: Answer, tape_mm: float, key: str) -> str:
    say, head, slide = Figures(of), of.kit.head, of.setting.move.slide
    if of.setup.aim_deg:
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
    if of.setup.aim_deg and of.slip.axis not in TILTS:
        arc = f"on the arc that a lens tilted by {Figures.degrees(of.setup.aim_deg)} sees it go"
        return f"{arc}: {value_text('slip.leaves_frame_deg', of)}"
    say, mode = Figures(of), of.kit.mode
    side = say.mm(mode.height) if of.slip.axis in TILTS else say.across(mode.width)
    return f"atan({side} / (2 × {say.mm(of.setup.image_mm)})) = {value_text('slip.leaves_frame_deg', of)}"


WORKINGS = (
    told("slip.slip_px", _slip_px, _sign),
    told("slip.largest_slip_px", _largest, _sign),
    told(
        "slip.slip_mm",
        _slip_mm,
        on.both(_sign, on.always("d and D count from the axis; h is the lens axis above a tilt axis.")),
    ),
    told("slip.slide_for_zero_mm", _zero, on.slide),
    told(
        "slip.slide_best_mm",
        lambda of: f"tried at poses of the whole move: {value_text('slip.slide_best_mm', of)}",
        on.slide,
    ),
    told(
        "slip.best_within_mm",
        lambda of: f"to the more exacting side: {value_text('slip.best_within_mm', of)}",
        on.slide,
    ),
    told(
        "slip.start_deg",
        lambda of: f"as entered: {value_text('slip.start_deg', of)}",
        on.always("From the line-up, away from the far end."),
    ),
    told(
        "slip.travel_mm",
        lambda of: f"as entered: {value_text('slip.travel_mm', of)}",
        on.always("Not turning with the head; before the line-up the other way."),
    ),
    told(
        "slip.travel_allowed_mm",
        lambda of: f"tried at poses of the whole move: {value_text('slip.travel_allowed_mm', of)}",
        on.picture,
    ),
    told("slip.tolerance_mm", _tolerance, on.slide),
    told(
        "slip.tolerance_px",
        lambda of: f"as entered: {value_text('slip.tolerance_px', of)}",
        on.always("Pixels of the recorded picture, along the move."),
    ),
    told("slip.offset_mm", _offset, on.slide),
    told("slip.slide_mm", lambda of: f"as entered: {value_text('slip.slide_mm', of)}", on.slide),
    told("slip.pupil_ahead_mm", _pupil, on.always("From the sensor-plane mark, along the lens axis.")),
    told(
        "slip.pupil_uncertainty_mm",
        lambda of: f"from the lens's rows: {value_text('slip.pupil_uncertainty_mm', of)}",
        on.always("Right about 68 times of 100, where the readings were independent."),
    ),
    told(
        "slip.sweep_deg",
        lambda of: f"as entered: {value_text('slip.sweep_deg', of)}",
        on.always("One way; tilt turns the lens up, tilt down turns it down."),
    ),
    told("slip.leaves_frame_deg", _leaves, on.picture),
    told("slip.model_from_axis_mm", lambda of: _from_axis(of, of.lineup.model_mm, "slip.model_from_axis_mm"), _axis),
    told(
        "slip.background_from_axis_mm",
        lambda of: _from_axis(of, of.lineup.background_mm, "slip.background_from_axis_mm"),
        _axis,
    ),
)
