"""How the head turns in a shot, as the closed forms of `formulas.slip` have it: what solves for the slide.

A pan turns about the pan axis, its distances level; a tilt about its own axis, `tilt_ahead` of the pan axis and
`tilt_drop` below the lens axis, its distances along the lens. A tilt and a travel that go with a turn are left out.
"""

from dataclasses import replace
from typing import NamedTuple

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.formulas import slip
from forescale.engine.formulas.head import ahead_for_pan_mm, ahead_of_pan_mm, slide_at_mm
from forescale.engine.kit.kit import Kit
from forescale.engine.kit.profiles import Head
from forescale.engine.shot.sections import TILTS, Axis, Move
from forescale.engine.solve.lens_setup import LensPlacement
from forescale.engine.solve.view import pupil_on_head


class TurnGeometry(NamedTuple):
    """The geometry of a turn: to its far end, what a pixel is along it, and how the slide goes with the offset.

    `before` is the turn from the line-up back to where the move begins, None where it begins there. The offset is the
    pupil ahead of the axis, nothing with the slide at `zero_slide_mm`.
    """

    turn: slip.Turn
    before: slip.Turn | None
    pixel_mm: float
    zero_slide_mm: float

    def slide_mm(self, offset_mm: float) -> float:
        """Return the slide reading that puts the pupil so far ahead of the axis."""
        return self.zero_slide_mm + offset_mm / self.turn.offset_per_slide

    def offset_mm(self, slide_mm: float) -> float:
        """Return how far a slide reading puts the pupil ahead of the axis."""
        return (slide_mm - self.zero_slide_mm) * self.turn.offset_per_slide

    def off_by_mm(self, offset_mm: float, passes_px: float) -> float:
        """Return how far off in slide readings an offset may be before the slip passes anywhere in the move."""
        low, high = slip.offsets_within_mm(self.turn, passes_px * self.pixel_mm)
        if self.before is not None:
            lower, higher = slip.offsets_within_mm(self.before, passes_px * self.pixel_mm)
            low, high = max(low, lower), min(high, higher)
        return max(0.0, min(high - offset_mm, offset_mm - low)) / self.turn.offset_per_slide


def slide_on_axis_mm(kit: Kit, setup: LensPlacement, aim_deg: float) -> float:
    """Return the slide reading that puts the pupil on the pan axis at an aim; counted from 0 where no head is named."""
    head = kit.head
    if head is None:
        return -setup.pupil.ahead_mm
    ahead = ahead_for_pan_mm(head.tilt_drop, head.tilt_ahead, aim_deg)
    return slide_at_mm(ahead, head.sensor_at_zero, setup.pupil.ahead_mm, head.tilt_ahead)


def rise_mm(axis: Axis, head: Head | None) -> float:
    """Return how far the lens axis lies above the axis of a move, 0 for a pan; a tilt down is one up in a mirror."""
    if head is None or axis not in TILTS:
        return 0.0
    return -head.tilt_drop if axis == "tilt down" else head.tilt_drop


def offset_of_mm(move: Move, kit: Kit, setup: LensPlacement) -> float:
    """Return the pupil ahead of the axis that a move turns about, as the slide is set."""
    sits = pupil_on_head(kit, setup, move.slide)
    return sits.ahead_of_tilt_mm if move.axis in TILTS else ahead_of_pan_mm(sits, setup.aim_deg)


def turn_geometry(move: Move, kit: Kit, setup: LensPlacement, where: str = "") -> TurnGeometry | None:
    """Return the geometry of the turn, or None where nothing turns; raises BadInput where it cannot turn so."""
    if move.axis == "none" or move.sweep == move.start == 0:
        return None
    head, aim, tilts = kit.head, setup.aim_deg, move.axis in TILTS
    model, background = setup.model_mm, setup.background_mm
    if not tilts:
        model, background = setup.level(model), setup.level(background)
    if head is not None and move.slide is not None:
        offset = offset_of_mm(move, kit, setup)
    else:  # the tape was read with the pupil wherever it was
        offset = -head.tilt_ahead if tilts and head is not None else 0.0
    across, up = kit.mode.pixel_mm * kit.lens.squeeze, kit.mode.pixel_up_mm
    try:
        turn = slip.Turn(
            sweep_deg=move.sweep or -move.start,
            model_mm=model + offset,
            background_mm=background + offset,
            rise_mm=rise_mm(move.axis, head),
            image_distance_mm=setup.image_mm,
            aim_deg=0.0 if tilts else aim,
            up_weight=across / up,
        )
        before = replace(turn, sweep_deg=-move.start) if move.start and move.sweep else None
    except ValueError as error:
        raise BadInput(Fault.at("move", str(error), file=where)) from None
    if tilts and head is not None:
        zero = slide_at_mm(0.0, head.sensor_at_zero, setup.pupil.ahead_mm, head.tilt_ahead)
    else:
        zero = slide_on_axis_mm(kit, setup, aim)
    return TurnGeometry(turn, before, up if tilts else across, zero)
