"""What the lens sees of a shot: frame, move, and where its rows stand, in the frame of `formulas.projection`."""

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from forescale.engine.files.faults import BadInput, Fault, FieldPath
from forescale.engine.formulas import projection, silhouette
from forescale.engine.formulas.head import STEPS, HeadMove, PupilOnHead, Travel, ahead_of_tilt_mm, pose_at, poses
from forescale.engine.formulas.holding import corner_sights
from forescale.engine.formulas.misses import Pair
from forescale.engine.formulas.projection import Frame, Point, Pose, Share, from_frame
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import OutlineRow, PointRow
from forescale.engine.shot.sections import PANS
from forescale.engine.solve.lens_setup import LensPlacement, LensSetup, frame_of, own_lens


class View(NamedTuple):
    """The picture of a shot."""

    frame: Frame
    move: HeadMove
    about_pupil: HeadMove  # the move about the pupil
    known: bool  # the pupil's path in the move is; else it is taken to stand still
    aimed: Pair  # what the lens axis at the line-up meets at model and background
    poses: tuple[tuple[float, Pose], ...]  # over `move`, each at its share of the way to the far end
    start: int  # which of them is the line-up, share 0
    degrees: float  # the turn in one share, 0 for a track

    @property
    def line_up(self) -> Pose:
        """The pose at the line-up."""
        return self.poses[self.start][1]

    @property
    def moves(self) -> bool:
        """Whether anything turns or is carried in the shot."""
        return not self.move.is_still

    def turned(self, share: float | None) -> float | None:
        """Return the turn in degrees at a share of the way; None for a track, and of None."""
        return share * self.degrees if share is not None and self.degrees else None


def on_axis(level_mm: float, aim_deg: float, lens_height_mm: float) -> Point:
    """Return where the lens axis at the line-up meets a plane so far away; a direction for one at infinity."""
    slope = math.tan(math.radians(aim_deg))
    if math.isinf(level_mm):
        return Point(0.0, slope, 1.0, 0.0)
    return Point(0.0, lens_height_mm + level_mm * slope, level_mm)


def pupil_on_head(kit: Kit, setup: LensPlacement, slide_mm: float | None) -> PupilOnHead:
    """Return where the pupil sits on the head; where head or slide is not said, on the pan axis of a level lens."""
    head = kit.head
    if head is None:
        return PupilOnHead(0.0)
    ahead = -head.tilt_ahead
    if slide_mm is not None:
        ahead = ahead_of_tilt_mm(slide_mm, head.sensor_at_zero, setup.pupil.ahead_mm, head.tilt_ahead)
    return PupilOnHead(ahead, head.tilt_drop, head.tilt_ahead)


def view_of(setting: Setting, kit: Kit, setup: LensSetup) -> View:
    """Return the view of a shot."""
    move, still = setting.move, setting.move.axis == "none"
    travel = Travel() if move.travel is None else move.travel.travel
    about_pupil = HeadMove(None, setting.place.lens_height or 0.0, setting.place.aim, travel=travel)
    whole = 0.0 if still else move.sweep or move.start  # a move that ends at the line-up is counted by where it begins
    if not still:
        turn = whole * (-1.0 if move.axis in {"pan left", "tilt down"} else 1.0)
        pan, tilt = (turn, move.tilt_sweep) if move.axis in PANS else (0.0, turn)
        first, last = -move.start / whole if whole else 0.0, 1.0 if move.sweep else 0.0
        about_pupil = about_pupil._replace(pan_deg=pan, tilt_deg=tilt, first=first, last=last)
    known = still or about_pupil.is_still
    known = known or (kit.head is not None and setup.pupil.known and move.slide is not None)
    taken = about_pupil
    if known and not still:
        taken = about_pupil._replace(head=pupil_on_head(kit, setup, move.slide))
    away = setup.level(setup.model_mm), setup.level(setup.background_mm)
    return View(
        frame=frame_of(kit.mode, kit.lens, setup.image_mm),
        move=taken,
        about_pupil=about_pupil,
        known=known,
        aimed=Pair(*(on_axis(mm, setup.aim_deg, taken.lens_height_mm) for mm in away)),
        poses=(stops := poses(taken, STEPS)),
        start=next(place for place, (share, _) in enumerate(stops) if share == 0),
        degrees=whole,
    )


def frame_corners(view: View, share: float) -> Sequence[Point]:
    """Return the directions of the frame's corners at a share of the way, from its lower left, with the clock."""
    return [Point(*sight, 0.0) for sight in corner_sights(pose_at(view.move, share), view.frame)]


class Stance(NamedTuple):
    """A model or a piece: its ratio, where it stands and what it stands for, level from the pupil in mm."""

    ratio: float
    stands_mm: float
    seems_mm: float

    def as_built(self, real: Point, lens_height_mm: float) -> Point:
        """Return where a real point is on the model as it stands; on the line of sight where it seems at infinity."""
        if math.isinf(self.seems_mm) or real.near == 0:
            return projection.on_sight(real, lens_height_mm, self.stands_mm)
        return projection.as_built(real, lens_height_mm, self.ratio, self.stands_mm, self.seems_mm)


Stances = Mapping[str | None, Stance]  # by the piece's name, None for the model


def stances(setting: Setting, kit: Kit, setup: LensSetup, where: str = "") -> Stances:
    """Return where the model and every piece stand; raises BadInput where a piece stands inside the lens."""
    level = setup.level
    found: dict[str | None, Stance] = {None: Stance(setup.ratio, level(setup.model_mm), level(setup.seems_mm))}
    for number, piece in enumerate(setting.piece, start=1):
        seems = setup.along(setting.place.background if piece.seems_at is None else piece.seems_at)
        stands = seems / piece.ratio if piece.stands is None else setup.along(piece.stands)
        if stands <= kit.focal_mm:
            at = ("piece", number, "stands")
            raise BadInput(Fault.at(at, "lies inside the lens", "stand it farther off", file=where))
        found[piece.name] = Stance(piece.ratio, level(stands), level(seems))
    return found


def real_point(
    row: PointRow, setting: Setting, kit: Kit, setup: LensSetup, on: Stance, path: FieldPath, where: str = ""
) -> Point:
    """Return a real point: as taped, or from the picture it was read in; raises BadInput, or Unread of its lens."""
    height, away, taped = setting.place.lens_height or 0.0, on.seems_mm, row.distance
    if row.aside is not None and row.height is not None:
        return Point(row.aside, row.height, away if taped is None else setup.level(setup.along(taped)))
    assert row.frame_across is not None
    assert row.frame_up is not None
    if taped is None and on.seems_mm == setup.level(setup.background_mm):  # it stood then where the background was
        taped = row.background
    own, aim = own_lens(row, kit, setup), setup.aim_deg if row.aim is None else row.aim
    mode = own.mode
    if taped is not None:
        away = taped - own.ahead_mm * math.cos(math.radians(aim))
    share = Share(row.frame_across.share(mode.width_px), row.frame_up.share(mode.height_px))
    try:
        return from_frame(share, away, height, aim, own.frame)
    except ValueError as error:
        raise BadInput(Fault.at(path, str(error), file=where)) from None


def in_reference(setting: Setting, kit: Kit, setup: LensSetup, row: PointRow) -> Pair:
    """Return a point as the model has it and as it is, in the frame of reference; raises BadInput."""
    on = stances(setting, kit, setup)[row.piece]
    real = real_point(row, setting, kit, setup, on, ("point",))
    return Pair(on.as_built(real, setting.place.lens_height or 0.0), real)


def outline_points(row: OutlineRow, setting: Setting, setup: LensSetup, placed: Stances) -> tuple[Point, ...]:
    """Return the places that an outline runs through, arcs in short lines: the real ones, or as built for a model."""
    return stood(silhouette.line(row.corners, closed=row.closed), row, setting, setup, placed)


def stood(
    places: Sequence[tuple[float, float]], row: OutlineRow, setting: Setting, setup: LensSetup, placed: Stances
) -> tuple[Point, ...]:
    """Return where places (aside, height) of an outline stand."""
    if row.of == "place":
        return tuple(Point(x, h, setup.level(setup.background_mm)) for x, h in places)
    on, height = placed[row.piece], setting.place.lens_height or 0.0
    return tuple(on.as_built(Point(x, h, on.seems_mm), height) for x, h in places)
