"""The answer's slip group."""

from __future__ import annotations

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.formulas import optics, slip
from forescale.engine.formulas.head import pose_at, poses
from forescale.engine.formulas.parting import STEPS, Pair, largest_slip, signed_slip_px
from forescale.engine.formulas.projection import Point
from forescale.engine.formulas.slide_search import Slipping, least_at, off_by, slipping_by
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import Setting
from forescale.engine.shot.sections import TILTS
from forescale.engine.solve.bench_group import bench_group
from forescale.engine.solve.groups import SlipAnswer
from forescale.engine.solve.lens_setup import LensPlacement, LensSetup
from forescale.engine.solve.turn_geometry import TurnGeometry, offset_of_mm, turn_geometry
from forescale.engine.solve.view import View, on_axis, pupil_on_head

TRIED = 8  # poses of a move at which a slide is tried
TRIED_MM = 10.0  # how far off a slide is tried first

_Best = tuple[float | None, float | None]  # a slide to set, and how far off it may be, mm


def slip_group(setting: Setting, kit: Kit, setup: LensSetup, view: View, where: str) -> SlipAnswer:
    """Return the slip of the move as set, the slide that has none, and what the bench says; raises BadInput."""
    move, pupil = setting.move, setup.pupil
    turning = turn_geometry(move, kit, setup, where)
    shown = kit.head is not None and pupil.known
    alone = not move.tilt_sweep and move.travel is None  # a turn about one axis
    zero, zero_within = _zero(turning, move.tolerance) if turning and alone else (None, None)
    best, best_within = None, None
    if turning and shown:
        best, best_within = _best(setting, kit, setup, view, turning, (zero, zero_within))
    end_px, end_mm, largest = _slips(view, where)
    leaves = None
    if move.axis in TILTS:
        leaves = optics.half_field_deg(kit.mode.height, setup.image_mm)
    elif move.axis != "none":
        leaves = optics.pan_to_edge_deg(setup.frame_width_mm, setup.image_mm, setup.aim_deg)
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
        offset_mm=offset_of_mm(move, kit, setup) if turning and shown and move.slide is not None else None,
        slip_px=end_px,
        slip_mm=end_mm,
        largest_slip_px=largest,
        leaves_frame_deg=leaves,
        tolerance_px=move.tolerance,
        tolerance_mm=zero_within if alone else best_within,
        slide_for_zero_mm=zero if shown else None,
        slide_best_mm=best,
        best_within_mm=best_within,
        travel_mm=None if move.travel is None else move.travel.mm,
        travel_allowed_mm=_travel_allowed_mm(setting, view),
        model_from_axis_mm=turning.turn.model_mm if turning else None,
        background_from_axis_mm=turning.turn.background_mm if turning else None,
        bench=bench_group(setting, kit, setup, turning),
    )


def _zero(turning: TurnGeometry, passes_px: float) -> _Best:
    """Return the slide without slip at the far end of a turn about one axis."""
    offset = slip.zero_offset_mm(turning.turn)
    return turning.slide_mm(offset), turning.off_by_mm(offset, passes_px)


def _slips(view: View, where: str) -> tuple[float | None, float | None, float | None]:
    """Return the slip at the far end in pixels and in mm on the sensor, and the largest over the move; BadInput."""
    if not view.moves:
        return 0.0, 0.0, 0.0
    if not view.known:
        return None, None, None
    end = view.poses[-1][1]
    most = largest_slip(view.aimed, view.move, view.poses, view.frame)
    end_px = signed_slip_px(view.aimed, end, view.line_up, view.frame)
    if most is None or end_px is None:
        inside = "the model must stay ahead of the lens's entrance pupil over the whole move"
        raise BadInput(Fault.at("move", inside, file=where))
    end_mm = signed_slip_px(view.aimed, end, view.line_up, view.sensor_frame())
    return end_px, end_mm, signed_slip_px(view.aimed, pose_at(view.move, most[1]), view.line_up, view.frame)


def check_turn(setting: Setting, kit: Kit, setup: LensPlacement, where: str) -> None:
    """Raise BadInput where the head cannot turn so, or would carry the lens into the model."""
    turning = turn_geometry(setting.move, kit, setup, where)
    if turning and kit.head and setup.pupil.known and setting.move.slide is not None:
        try:
            for turn in filter(None, (turning.turn, turning.before)):
                slip.slip_mm(turn, turning.offset_mm(setting.move.slide))
        except ValueError as error:
            raise BadInput(Fault.at("move", str(error), file=where)) from None


def _best(setting: Setting, kit: Kit, setup: LensSetup, view: View, turning: TurnGeometry, zero: _Best) -> _Best:
    """Return the slide at which the largest slip over the move is least: for a turn about one axis the one with none.

    Where a turn about one axis slips on the way even so, how far off it may be is the closed form's.
    """
    passes, start, alone = setting.move.tolerance, setting.move.slide or 0.0, zero[0] is not None
    if alone and (turning.turn.rise_mm == 0 or turning.turn.is_still):
        return zero
    by_slide = _by_slide(setting, kit, setup, view)
    off = least_at(by_slide, turning.slide_mm(slip.zero_offset_mm(turning.turn)) - start)
    best = start + off
    if alone:
        return best, turning.off_by_mm(turning.offset_mm(best), passes)
    within = off_by(by_slide, off, TRIED_MM, passes)
    return best, min(within, off_by(by_slide, off, -TRIED_MM, passes)) if within else 0.0


def _by_slide(setting: Setting, kit: Kit, setup: LensSetup, view: View) -> Slipping:
    """Return the slips of the aimed point at a few poses by how far the camera goes forward on its slide.

    Model and background stay where they stand. Where no slide is set it counts from 0, and they stay as far from
    the pupil: the tape was read wherever the slide then stood.
    """
    slide = setting.move.slide
    move = view.about_pupil._replace(head=pupil_on_head(kit, setup, slide or 0.0))
    right, up, forward = view.line_up.axis if slide is None else (0.0, 0.0, 0.0)
    taken = [view.line_up, *(at for share, at in poses(move, TRIED) if share)]
    ways = [(x - right, h - up, z - forward) for x, h, z in (at.axis for at in taken)]
    return slipping_by(view.aimed, list(zip(taken, ways, strict=True)), view.frame)


def _travel_allowed_mm(setting: Setting, view: View) -> float | None:
    """Return how much of the travel the slip that passes allows, the rest of the move as it is; all of it at most."""
    carried = setting.move.travel
    if carried is None or not view.known:
        return None
    if carried.mm == 0:
        return 0.0
    right, up, forward = (along / carried.mm for along in view.move.travel)
    taken = [(0.0, view.line_up), *poses(view.move, TRIED)]
    on_way = [(at, (share * right, share * up, share * forward)) for share, at in taken]
    by_travel = slipping_by(view.aimed, on_way, view.frame)
    allowed = off_by(lambda mm: by_travel(mm - carried.mm), 0.0, carried.mm, setting.move.tolerance)
    return min(allowed, carried.mm)


def largest_at_px(setting: Setting, kit: Kit, setup: LensSetup, view: View, slide_mm: float) -> float | None:
    """Return the largest slip over the move with the slide elsewhere, without its sign; None where none can be told.

    Model and background stay where they stand; where no slide is set the tape was read wherever it then stood.
    """
    move = view.about_pupil._replace(head=pupil_on_head(kit, setup, slide_mm))
    forward = 0.0 if setting.move.slide is None else setup.level(slide_mm - setting.move.slide)

    def nearer(point: Point) -> Point:
        return point if point.near == 0 else on_axis(point.z - forward, setup.aim_deg, move.lens_height_mm)

    aimed = Pair(*map(nearer, view.aimed)) if forward else view.aimed
    found = largest_slip(aimed, move, poses(move, STEPS), view.frame)
    return None if found is None else found[0]
