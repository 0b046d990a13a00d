"""The answer's slip group, and where to set the slide."""

import math
from typing import NamedTuple

from forescale.engine.files.faults import BadInput, Fault
from forescale.engine.formulas.head import pose_at, poses
from forescale.engine.formulas.misses import Pair, largest_slip, signed_slip_px
from forescale.engine.formulas.projection import Point
from forescale.engine.formulas.slip import Slipping, least_at, off_by, slip_mm, slipping_by, zero_offset_mm
from forescale.engine.kit.kit import Kit
from forescale.engine.kit.slide_scale import SlideScale, scale_of
from forescale.engine.shot.records import Setting
from forescale.engine.solve.groups import SlipAnswer
from forescale.engine.solve.lens_setup import LensPlacement, LensSetup
from forescale.engine.solve.record import Answer
from forescale.engine.solve.speed_light import to_edge_deg
from forescale.engine.solve.turning import TurnGeometry, bench_group, offset_of_mm, turn_geometry
from forescale.engine.solve.view import View, on_axis, pupil_on_head, view_of

ON_AXIS_MM = 0.05  # no slide is read finer
TRIED = 8  # poses of a move at which a slide is tried
TRIED_MM = 10.0  # how far off a slide is tried first
_FINEST = 6  # decimals of a mm to which a slide is told

_Best = tuple[float | None, float | None]  # a slide to set, and how far off it may be, mm


def slip_group(setting: Setting, kit: Kit, setup: LensSetup, view: View, where: str) -> SlipAnswer:
    """Return the slip of the move as set, the slide that has none, and what the bench says; raises BadInput."""
    move, pupil = setting.move, setup.pupil
    turning, shown = turn_geometry(move, kit, setup, where), kit.head is not None and pupil.known
    alone = not move.tilt_sweep and move.travel is None  # a turn about one axis
    zero, zero_within = None, None
    if turning and alone:  # where nothing slips at the far end
        offset = zero_offset_mm(turning.turn)
        zero, zero_within = turning.slide_mm(offset), turning.off_by_mm(offset, move.tolerance)
    best, best_within = None, None
    if turning and shown:
        best, best_within = _best(setting, kit, setup, view, turning, (zero, zero_within))
    end_px, end_mm, largest = _slips(view, where)
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
        leaves_frame_deg=None if move.axis == "none" else to_edge_deg(move, kit, setup),
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


def _slips(view: View, where: str) -> tuple[float | None, float | None, float | None]:
    """Return the slip at the far end in pixels and in mm on the sensor, and the largest over the move; BadInput."""
    if not view.moves:
        return 0.0, 0.0, 0.0
    if not view.known:
        return None, None, None
    end, most = view.poses[-1][1], largest_slip(view.aimed, view.move, view.frame)
    end_px = signed_slip_px(view.aimed, end, view.line_up, view.frame)
    if most is None or end_px is None:
        inside = "the model must stay ahead of the lens's entrance pupil over the whole move"
        raise BadInput(Fault.at("move", inside, file=where))
    in_mm = view.frame._replace(width_px=view.frame.width_mm, height_px=view.frame.height_mm)  # a mm for a pixel
    end_mm = signed_slip_px(view.aimed, end, view.line_up, in_mm)
    return end_px, end_mm, signed_slip_px(view.aimed, pose_at(view.move, most[1]), view.line_up, view.frame)


def check_turn(setting: Setting, kit: Kit, setup: LensPlacement, where: str) -> None:
    """Raise BadInput where the head cannot turn so, or would carry the lens into the model."""
    turning = turn_geometry(setting.move, kit, setup, where)
    if turning and kit.head and setup.pupil.known and setting.move.slide is not None:
        try:
            for turn in filter(None, (turning.turn, turning.before)):
                slip_mm(turn, turning.offset_mm(setting.move.slide))
        except ValueError as error:
            raise BadInput(Fault.at("move", str(error), file=where)) from None


def _best(setting: Setting, kit: Kit, setup: LensSetup, view: View, turning: TurnGeometry, zero: _Best) -> _Best:
    """Return the slide at which the move's largest slip is least, and how far off: of one axis by its closed form."""
    passes, start = setting.move.tolerance, setting.move.slide or 0.0
    alone = zero[0] is not None
    if alone and (turning.turn.rise_mm == 0 or turning.turn.is_still):
        return zero
    by_slide = _by_slide(setting, kit, setup, view)
    off = least_at(by_slide, turning.slide_mm(zero_offset_mm(turning.turn)) - start)
    best = start + off
    if alone:
        return best, turning.off_by_mm(turning.offset_mm(best), passes)
    within = off_by(by_slide, off, TRIED_MM, passes)
    return best, min(within, off_by(by_slide, off, -TRIED_MM, passes)) if within else 0.0


def _by_slide(setting: Setting, kit: Kit, setup: LensSetup, view: View) -> Slipping:
    """Return the slips of the aimed point at a few poses by how far the camera goes forward on its slide."""
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
    return min(off_by(lambda mm: by_travel(mm - carried.mm), 0.0, carried.mm, setting.move.tolerance), carried.mm)


class SlideGoal(NamedTuple):
    """Where to set the slide, mm."""

    place_mm: float
    within_mm: float  # how far off the place it may be
    end_mm: float | None  # where the head ends short of the place
    left_px: float | None  # the largest slip over the move at the end, None in reach, or if no camera could stand there
    scale: SlideScale

    @property
    def place_text(self) -> str:
        """The place, rounded by no more than a tenth of what it may be off."""
        return self.scale.told(self.place_mm, slide_decimals(self.within_mm))

    @property
    def to_set_mm(self) -> float:
        """The reading to set: the place as it is told, or the end."""
        if self.end_mm is not None:
            return self.end_mm
        return self.scale.told_mm(self.place_mm, slide_decimals(self.within_mm))

    @property
    def to_set_text(self) -> str:
        """The reading to set, as it is told."""
        return self.place_text if self.end_mm is None else self.scale.mark(self.end_mm)


def slide_decimals(within_mm: float | None) -> int:
    """Return to how many decimals of a mm a reading is to be told that may be off so far: one at the least."""
    if within_mm is None or math.isinf(within_mm):
        return 1
    return min(max(math.ceil(math.log10(5 / within_mm) - 1e-9), 1), _FINEST) if within_mm > 0 else _FINEST


def best_place(answer: Answer) -> tuple[float, float] | None:
    """Return where on the slide the move's largest slip is least, and how far off it may be, mm; None if nowhere."""
    best, within = answer.slip.slide_best_mm, answer.slip.best_within_mm
    return None if best is None or not within else (best, within)


def head_turns(answer: Answer) -> bool:
    """Return whether the head turns in the shot, if only from where the move starts; it may be carried all the same."""
    return answer.slip.axis != "none" and answer.slip.sweep_deg + answer.slip.start_deg > 0


def slide_goal(answer: Answer) -> SlideGoal | None:
    """Return where to set the slide; None where no place holds the whole move, or pupil or head is not known."""
    best, head = best_place(answer), answer.kit.head
    if best is None or head is None:
        return None
    end, scale = min(max(best[0], head.slide_min), head.slide_max), scale_of(head, answer.system)
    if end == best[0]:
        return SlideGoal(*best, None, None, scale)
    return SlideGoal(*best, end, _largest_at_px(answer, end), scale)


def _largest_at_px(answer: Answer, slide_mm: float) -> float | None:
    """Return the move's largest slip with the slide elsewhere, the place where it is; None where none can be told."""
    setup, set_mm = answer.setup, answer.setting.move.slide
    view = view_of(answer.setting, answer.kit, setup)
    move = view.about_pupil._replace(head=pupil_on_head(answer.kit, setup, slide_mm))
    forward = 0.0 if set_mm is None else setup.level(slide_mm - set_mm)

    def nearer(point: Point) -> Point:
        return point if point.near == 0 else on_axis(point.z - forward, setup.aim_deg, move.lens_height_mm)

    aimed = Pair(*map(nearer, view.aimed)) if forward else view.aimed
    found = largest_slip(aimed, move, view.frame)
    return None if found is None else found[0]
