"""The answer's picture group: what the lens sees, where model and place meet, what the frame holds over the move."""

from __future__ import annotations

import math
from dataclasses import replace

from forescale.engine.files.faults import FieldPath
from forescale.engine.formulas import frame_rate, holding, silhouette
from forescale.engine.formulas.built import on_sight, to_scale
from forescale.engine.formulas.optics import half_field_deg
from forescale.engine.formulas.parting import Pair, largest_slip, miss
from forescale.engine.formulas.projection import Point, in_frame, in_lens
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.pictured import OutlineRow, PointRow
from forescale.engine.shot.records import Setting
from forescale.engine.solve.correction import piece_corrections
from forescale.engine.solve.groups import FocusAnswer, SpeedAnswer
from forescale.engine.solve.lens_setup import LensSetup
from forescale.engine.solve.picture_groups import Held, PictureAnswer, PictureOutline, PicturePiece, PicturePoint
from forescale.engine.solve.pictured import Stance, Stances, corner_points, outline_points, real_point, stances
from forescale.engine.solve.scale_lineup import slip_across_mm
from forescale.engine.solve.view import View, on_axis


def picture_group(
    setting: Setting, kit: Kit, setup: LensSetup, view: View, zone: FocusAnswer, speeds: SpeedAnswer, where: str
) -> PictureAnswer | None:
    """Return the picture; None where the lens is level and nothing is said of what it sees. Raises BadInput."""
    if not (setting.place.aim or setting.point or setting.outline or setting.piece):
        return None
    placed, corrected = stances(setting, kit, setup, where), piece_corrections(setting, kit, setup, view, where)
    frame = view.frame
    return PictureAnswer(
        aim_deg=setup.aim_deg,
        field_across_deg=2 * half_field_deg(frame.width_mm, frame.image_mm),
        field_up_deg=2 * half_field_deg(frame.height_mm, frame.image_mm),
        horizon_up=0.5 - frame.image_mm * math.tan(math.radians(setup.aim_deg)) / frame.height_mm,
        points=tuple(
            _point(row, setting, kit, setup, view, placed[row.piece], ("point", number), where)
            for number, row in enumerate(setting.point, start=1)
        ),
        outlines=tuple(_outline(row, setting, kit, setup, view, placed) for row in setting.outline),
        pieces=tuple(
            replace(
                _piece(piece.name, placed[piece.name], setting, setup, view, zone, speeds),
                correction=corrected.get(piece.name),
            )
            for piece in setting.piece
        ),
    )


def _point(
    row: PointRow, setting: Setting, kit: Kit, setup: LensSetup, view: View, on: Stance, path: FieldPath, where: str
) -> PicturePoint:
    height = setting.place.lens_height
    lens = height or 0.0
    real = real_point(row, setting, kit, setup, on, path, where)
    built = on.as_built(real, lens)
    share, missed = in_frame(real, view.line_up, view.frame), miss(Pair(built, real), view.line_up, view.frame)
    scaled = to_scale(real, lens, on.ratio) if real.near else None
    sight_at = on_sight(real, lens, built.z)
    gone = holding.leaves(real, view.move, view.poses, view.frame) if view.moves else None
    return PicturePoint(
        name=row.name,
        frame_across=None if share is None else share.across,
        frame_up=None if share is None else share.up,
        in_frame=share is not None and share.inside,
        model_distance_mm=None if scaled is None else _tape(setup, scaled.z),
        model_aside_mm=None if scaled is None else scaled.x,
        model_height_mm=None if scaled is None or height is None else scaled.h,
        stands_mm=_tape(setup, built.z),
        sight_aside_mm=sight_at.x,
        sight_height_mm=None if height is None else sight_at.h,
        miss_across_px=None if missed is None else missed.across,
        miss_up_px=None if missed is None else missed.up,
        slip_px=_slip_px(Pair(built, real), view),
        leaves_deg=None if gone is None or not view.degrees else gone * view.degrees,
        leaves_share=gone,
    )


def _tape(setup: LensSetup, level_mm: float) -> float:
    """Return the tape to a level distance from the pupil."""
    return level_mm + setup.level(setup.pupil.ahead_mm)


def _slip_px(pair: Pair, view: View) -> float | None:
    """Return the greatest slip over the move, without its sign; None where it cannot be told."""
    if not view.moves:
        return 0.0
    found = largest_slip(pair, view.move, view.poses, view.frame) if view.known else None
    return None if found is None else found[0]


def _outline(
    row: OutlineRow, setting: Setting, kit: Kit, setup: LensSetup, view: View, placed: Stances
) -> PictureOutline:
    shares = [in_frame(point, view.line_up, view.frame) for point in outline_points(row, setting, setup, placed)]
    seen = [share for share in shares if share is not None]
    left, right, bottom, top = (None, None, None, None)
    if len(seen) == len(shares):
        across, up = [share.across for share in seen], [share.up for share in seen]
        left, right, bottom, top = min(across), max(across), min(up), max(up)
    depths = [in_lens(point, view.line_up)[2] for point in corner_points(row, setting, setup, placed)]
    blurs = [_blur_mm(kit, setup, depth) for depth in depths if depth > 0]
    passes = slip_across_mm(setting, kit.mode, kit.lens)
    built = row.of == "model"
    overlaps = [
        silhouette.overlap_mm(depth, setup.image_mm, _blur_mm(kit, setup, depth), passes)
        for depth in depths
        if depth > 0
    ]
    wide, high = _size(row)
    ratio = placed[row.piece].ratio
    return PictureOutline(
        name=row.name,
        of=row.of,
        left=left,
        right=right,
        bottom=bottom,
        top=top,
        model_width_mm=wide / ratio if built else None,
        model_height_mm=high / ratio if built else None,
        edge_blur_px=max(blurs) / kit.mode.pixel_mm if blurs else None,
        overlap_mm=max(overlaps) if built and overlaps else None,
        in_frame=_held(len(seen), left, right, bottom, top),
    )


def _blur_mm(kit: Kit, setup: LensSetup, depth_mm: float) -> float:
    return silhouette.blur_mm(kit.focal_mm, setup.f_number, setup.image_mm, setup.focus_mm, depth_mm)


def _size(row: OutlineRow) -> tuple[float, float]:
    """Return how wide and how high an outline is at full size."""
    places = silhouette.line(row.corners, closed=row.closed)
    asides, heights = [x for x, _ in places], [h for _, h in places]
    return max(asides) - min(asides), max(heights) - min(heights)


def _held(seen: int, left: float | None, right: float | None, bottom: float | None, top: float | None) -> Held:
    """Return how much of an outline the frame holds, by its edges."""
    if left is None or right is None or bottom is None or top is None:
        return "part" if seen else "none"
    if min(left, bottom) >= 0 and max(right, top) <= 1:
        return "all"
    return "none" if right < 0 or left > 1 or top < 0 or bottom > 1 else "part"


def _piece(
    name: str, on: Stance, setting: Setting, setup: LensSetup, view: View, zone: FocusAnswer, speeds: SpeedAnswer
) -> PicturePiece:
    action, stands = setting.action, _tape(setup, on.stands_mm)
    plane = on_axis(on.stands_mm, setup.aim_deg, setting.place.lens_height or 0.0)
    return PicturePiece(
        name=name,
        ratio=on.ratio,
        stands_mm=stands,
        match_distance_mm=_tape(setup, on.seems_mm / on.ratio),
        size_error=on.seems_mm / on.stands_mm / on.ratio,
        ideal_fps=frame_rate.ideal_fps(action.scaled, on.ratio, action.playback_fps, action.heft),
        apparent_gravity=frame_rate.apparent_gravity(on.ratio, speeds.time_factor),
        sharp=zone.near_mm <= stands <= zone.far_mm,
        slip_px=_slip_px(view.aimed._replace(built=plane), view),
    )


def in_reference(setting: Setting, kit: Kit, setup: LensSetup, row: PointRow) -> tuple[Point, Point]:
    """Return a point as it is and as the model has it, in the frame of reference; raises BadInput."""
    on = stances(setting, kit, setup)[row.piece]
    real = real_point(row, setting, kit, setup, on, ("point",))
    return real, on.as_built(real, setting.place.lens_height or 0.0)
