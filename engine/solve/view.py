"""What the lens sees of a shot: its frame, its move, and the place that it aims at, for the one projection of all.

`view_of` gives the view of a setting; `Answer` keeps none, so ask again with its parts. Points are in
the frame of reference of `formulas.projection`: the pupil at the line-up is at (0, `lens_height_mm`, 0).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from forescale.engine.formulas.head import (
    HeadMove,
    PupilOnHead,
    Travel,
    ahead_for_pan_mm,
    ahead_of_tilt_mm,
    pose_at,
    poses,
    slide_at_mm,
)
from forescale.engine.formulas.parting import STEPS, Pair
from forescale.engine.formulas.projection import Frame, Point, Pose
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import PANS, Setting
from forescale.engine.solve.lens_setup import LensPlacement, LensSetup


@dataclass(frozen=True, slots=True)
class View:
    """The picture of a shot. `known` says that the pupil's path in the move is; else it is taken to stand still.

    `aimed` is what the lens axis at the line-up meets at the model and at the background; `about_pupil` the move with
    the lens turning about its pupil; `poses` are (share of the way to the far end, pose) over `move`, `line_up` the
    pose at share 0. `degrees` is the turn in one share, 0 for a track.
    """

    frame: Frame
    move: HeadMove
    about_pupil: HeadMove
    known: bool
    aimed: Pair
    poses: tuple[tuple[float, Pose], ...]
    line_up: Pose
    degrees: float

    @property
    def moves(self) -> bool:
        """Whether anything turns or is carried in the shot."""
        return not self.move.is_still

    def sensor_frame(self) -> Frame:
        """The frame with a mm for a pixel."""
        return self.frame._replace(width_px=self.frame.width_mm, height_px=self.frame.height_mm)


def frame_of(kit: Kit, image_mm: float) -> Frame:
    """Return the frame of a kit focused so that the picture lies at `image_mm`."""
    mode = kit.mode
    return Frame(image_mm, mode.width * kit.lens.squeeze, mode.height, mode.width_px, mode.height_px)


def on_axis(level_mm: float, aim_deg: float, lens_height_mm: float) -> Point:
    """Return where the lens axis at the line-up meets a plane so far away; a direction for one at infinity."""
    slope = math.tan(math.radians(aim_deg))
    if math.isinf(level_mm):
        return Point(0.0, slope, 1.0, 0.0)
    return Point(0.0, lens_height_mm + level_mm * slope, level_mm)


def head_of(setting: Setting, kit: Kit, setup: LensPlacement) -> PupilOnHead:
    """Return where the pupil sits on the head; where head or slide is not said, on the pan axis of a level lens."""
    head, slide = kit.head, setting.move.slide
    if head is None:
        return PupilOnHead(0.0)
    if slide is None:
        return PupilOnHead(-head.tilt_ahead, head.tilt_drop, head.tilt_ahead)
    ahead = ahead_of_tilt_mm(slide, head.sensor_at_zero, setup.pupil.ahead_mm, head.tilt_ahead)
    return PupilOnHead(ahead, head.tilt_drop, head.tilt_ahead)


def slide_on_axis_mm(kit: Kit, setup: LensPlacement, aim_deg: float) -> float:
    """Return the slide reading that puts the pupil on the pan axis at an aim; counted from 0 where no head is named."""
    head = kit.head
    if head is None:
        return -setup.pupil.ahead_mm
    ahead = ahead_for_pan_mm(head.tilt_drop, head.tilt_ahead, aim_deg)
    return slide_at_mm(ahead, head.sensor_at_zero, setup.pupil.ahead_mm, head.tilt_ahead)


def move_of(setting: Setting, head: PupilOnHead | None) -> HeadMove:
    """Return the move of a shot with the pupil on a head, or turning about the pupil."""
    move, aim = setting.move, setting.place.aim
    height = setting.place.lens_height or 0.0
    travel = Travel() if move.travel is None else move.travel.travel
    if move.axis == "none":
        return HeadMove(None, height, aim, travel=travel)
    whole = move.sweep or move.start  # a move that ends at the line-up is counted by where it begins
    turn = whole * (-1.0 if move.axis in {"pan left", "tilt down"} else 1.0)
    first = -move.start / whole if whole else 0.0
    pans = move.axis in PANS
    return HeadMove(
        head,
        height,
        aim,
        pan_deg=turn if pans else 0.0,
        tilt_deg=move.tilt_sweep if pans else turn,
        travel=travel,
        first=first,
        last=1.0 if move.sweep else 0.0,
    )


def view_of(setting: Setting, kit: Kit, setup: LensSetup) -> View:
    """Return the view of a shot."""
    move = move_of(setting, head_of(setting, kit, setup))
    told = kit.head is not None and setup.pupil.known and setting.move.slide is not None
    tracks = setting.move.axis == "none"
    aimed = Pair(
        on_axis(setup.level(setup.model_mm), setup.aim_deg, move.lens_height_mm),
        on_axis(setup.level(setup.background_mm), setup.aim_deg, move.lens_height_mm),
    )
    about_pupil = move._replace(head=None)
    known = told or tracks or move.is_still
    return View(
        frame=frame_of(kit, setup.image_mm),
        move=move if known else about_pupil,
        about_pupil=about_pupil,
        known=known,
        aimed=aimed,
        poses=poses(move if known else about_pupil, STEPS),
        line_up=pose_at(move, 0.0),
        degrees=0.0 if tracks else setting.move.sweep or setting.move.start,
    )


def with_slide(view: View, setting: Setting, kit: Kit, setup: LensSetup, slide_mm: float) -> View:
    """Return the view with the slide elsewhere; model and background stay where they stand.

    Where no slide is set the tape was read wherever the slide then stood, so it counts from there. Its poses are left
    to whoever needs them.
    """
    at = setting.model_copy(update={"move": setting.move.model_copy(update={"slide": slide_mm})})
    move = move_of(at, head_of(at, kit, setup))
    aimed = view.aimed
    if setting.move.slide is not None:
        forward = setup.level(slide_mm - setting.move.slide)
        aimed = Pair(*(_nearer(point, forward, setup.aim_deg, move.lens_height_mm) for point in aimed))
    return replace(view, move=move, aimed=aimed, poses=(), known=True)


def _nearer(point: Point, forward_mm: float, aim_deg: float, lens_height_mm: float) -> Point:
    return point if point.near == 0 else on_axis(point.z - forward_mm, aim_deg, lens_height_mm)


def corner_points(view: View, share: float) -> Sequence[Point]:
    """Return the directions of the frame's corners at a share of the way, from its lower left, with the clock."""
    from forescale.engine.formulas.holding import sight_line

    at, frame = pose_at(view.move, share), view.frame
    half_w, half_h = frame.width_mm / 2, frame.height_mm / 2
    places = ((-half_w, -half_h), (-half_w, half_h), (half_w, half_h), (half_w, -half_h))
    return [Point(*sight_line(across, up, at, frame.image_mm), 0.0) for across, up in places]
