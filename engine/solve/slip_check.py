"""The answer's slip group."""

from __future__ import annotations

from dataclasses import dataclass, replace

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.formulas import optics, slip
from forescale.engine.formulas.head import Travel, ahead_of_pan_mm, pose_at, poses
from forescale.engine.formulas.parting import STEPS, largest_slip, signed_slip_px
from forescale.engine.formulas.parting import slip as slip_at
from forescale.engine.formulas.projection import Pixels
from forescale.engine.formulas.slide_search import Slips, least_at, off_by
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import TILTS, Setting
from forescale.engine.solve.bench_group import bench_group
from forescale.engine.solve.groups import SlipAnswer
from forescale.engine.solve.lens_setup import LensPlacement, LensSetup
from forescale.engine.solve.turn_geometry import TurnGeometry, turn_geometry
from forescale.engine.solve.view import View, head_of, with_slide

TRIED = 8  # poses of a move at which a slide is tried
TRIED_MM = 10.0  # how far off a slide is tried first
_OUT_OF_SIGHT = Pixels(1e12, 0.0)


@dataclass(frozen=True, slots=True)
class _Best:
    """A slide to set, as the one that makes the largest slip of the move least, and how far off it may be, in mm."""

    slide_mm: float | None
    within_mm: float | None


def slip_group(setting: Setting, kit: Kit, setup: LensSetup, view: View, where: str) -> SlipAnswer:
    """Return the slip of the move as set, the slide that has none, and what the bench says; raises BadInput."""
    move, pupil, head = setting.move, setup.pupil, kit.head
    turning = turn_geometry(setting, kit, setup, where)
    shown = head is not None and pupil.known
    alone = not move.tilt_sweep and move.travel is None  # a turn about one axis
    zero = _zero(turning, move.tolerance) if turning and alone else _Best(None, None)
    best = _best(setting, kit, setup, view, turning, zero) if turning and shown else _Best(None, None)
    end_px, end_mm, largest = _slips(view, where)
    sits = head_of(setting, kit, setup)
    offset = None
    if turning and shown and move.slide is not None:
        offset = sits.ahead_of_tilt_mm if move.axis in TILTS else ahead_of_pan_mm(sits, setup.aim_deg)
    return SlipAnswer(
        axis=move.axis,
        sweep_deg=move.sweep,
        start_deg=move.start,
        pupil_ahead_mm=pupil.ahead_mm,
        pupil_known=pupil.known,
        pupil_outside=pupil.outside,
        pupil_uncertainty_mm=pupil.uncertainty_mm,
        pupil_rows=pupil.rows,
        slide_mm=move.slide,
        offset_mm=offset,
        slip_px=end_px,
        slip_mm=end_mm,
        largest_slip_px=largest,
        leaves_frame_deg=_leaves_frame_deg(kit, setup, move.axis),
        tolerance_px=move.tolerance,
        tolerance_mm=zero.within_mm if alone else best.within_mm,
        slide_for_zero_mm=zero.slide_mm if shown else None,
        slide_best_mm=best.slide_mm,
        best_within_mm=best.within_mm,
        travel_mm=None if move.travel is None else move.travel.mm,
        travel_allowed_mm=_travel_allowed_mm(setting, view),
        model_from_axis_mm=turning.turn.model_mm if turning else None,
        background_from_axis_mm=turning.turn.background_mm if turning else None,
        bench=bench_group(setting, kit, setup, turning),
    )


def _zero(turning: TurnGeometry, passes_px: float) -> _Best:
    """Return the slide without slip at the far end of a turn about one axis."""
    offset = slip.zero_offset_mm(turning.turn)
    return _Best(turning.slide_mm(offset), turning.off_by_mm(offset, passes_px))


def _slips(view: View, where: str) -> tuple[float | None, float | None, float | None]:
    """Return the slip at the far end in pixels and in mm on the sensor, and the largest over the move; BadInput."""
    if not view.moves:
        return 0.0, 0.0, 0.0
    if not view.known:
        return None, None, None
    end = pose_at(view.move, view.move.last)
    most = largest_slip(view.aimed, view.move, view.poses, view.frame)
    end_px = signed_slip_px(view.aimed, end, view.line_up, view.frame)
    if most is None or end_px is None:
        inside = "the model must stay ahead of the lens's entrance pupil over the whole move"
        raise BadInput(Fault.at("move", inside, file=where))
    end_mm = signed_slip_px(view.aimed, end, view.line_up, view.sensor_frame())
    most_px = signed_slip_px(view.aimed, pose_at(view.move, most[1]), view.line_up, view.frame)
    return end_px, end_mm, most_px


def check_turn(setting: Setting, kit: Kit, setup: LensPlacement, where: str) -> None:
    """Raise BadInput where the head cannot turn so, or would carry the lens into the model."""
    turning = turn_geometry(setting, kit, setup, where)
    if turning and kit.head and setup.pupil.known and setting.move.slide is not None:
        try:
            for turn in (turning.turn, *([turning.before] if turning.before else [])):
                slip.slip_mm(turn, turning.offset_mm(setting.move.slide))
        except ValueError as error:
            raise BadInput(Fault.at("move", str(error), file=where)) from None


def _leaves_frame_deg(kit: Kit, setup: LensSetup, axis: str) -> float | None:
    """Return the turn at which the point aimed at leaves the frame, half the field along the move."""
    if axis == "none":
        return None
    if axis in TILTS:
        return optics.half_field_deg(kit.mode.height, setup.image_mm)
    return optics.pan_to_edge_deg(setup.frame_width_mm, setup.image_mm, setup.aim_deg)


def _best(setting: Setting, kit: Kit, setup: LensSetup, view: View, turning: TurnGeometry, zero_within: _Best) -> _Best:
    """Return the best slide; where a turn about one axis can be without slip throughout, that."""
    move = setting.move
    alone = zero_within.slide_mm is not None
    if alone and (turning.turn.rise_mm == 0 or turning.turn.is_still):
        return zero_within

    def slipping(slide_mm: float) -> Slips:
        return slips_over(with_slide(view, setting, kit, setup, slide_mm))

    best = least_at(slipping, turning.slide_mm(slip.zero_offset_mm(turning.turn)))
    if alone:
        return _Best(best, turning.off_by_mm(turning.offset_mm(best), move.tolerance))
    within = off_by(slipping, best, TRIED_MM, move.tolerance)
    return _Best(best, min(within, off_by(slipping, best, -TRIED_MM, move.tolerance)) if within else 0.0)


def slips_over(view: View) -> Slips:
    """Return the slip of the aimed point at a few poses of the move, the line-up left out."""
    taken = [at for share, at in poses(view.move, TRIED) if share != 0]
    return [slip_at(view.aimed, at, view.line_up, view.frame) or _OUT_OF_SIGHT for at in taken]


def _travel_allowed_mm(setting: Setting, view: View) -> float | None:
    """Return how much of the travel the slip that passes allows, the rest of the move as it is; all of it at most."""
    move, carried = setting.move, setting.move.travel
    if carried is None or not view.known:
        return None
    if carried.mm == 0:
        return 0.0

    def slipping(mm: float) -> Slips:
        share = mm / carried.mm
        part = view.move._replace(travel=Travel(*(share * along for along in view.move.travel)))
        return slips_over(replace(view, move=part))

    return min(off_by(slipping, 0.0, carried.mm, move.tolerance), carried.mm)


def largest_at_px(setting: Setting, kit: Kit, setup: LensSetup, view: View, slide_mm: float) -> float | None:
    """Return the largest slip over the move with the slide elsewhere, without its sign; None where none can be told."""
    tried = with_slide(view, setting, kit, setup, slide_mm)
    found = largest_slip(tried.aimed, tried.move, poses(tried.move, STEPS), tried.frame)
    return None if found is None else found[0]
