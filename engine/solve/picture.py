"""The answer's picture group: what the lens sees, where model and place meet, what the frame holds over the move."""

import math

from forescale.engine.files.faults import FieldPath
from forescale.engine.formulas import contrast, frame_rate, holding, silhouette
from forescale.engine.formulas.misses import Pair, largest_slip
from forescale.engine.formulas.optics import half_field_deg
from forescale.engine.formulas.projection import Share, as_built, in_lens, on_sight
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import OutlineRow, PointRow
from forescale.engine.solve.groups import FocusAnswer, SpeedAnswer
from forescale.engine.solve.lens_setup import LensSetup, Unread
from forescale.engine.solve.line_up import Corrections
from forescale.engine.solve.picture_groups import LostPoint, PictureAnswer, PictureOutline, PicturePiece, PicturePoint
from forescale.engine.solve.scale_lineup import slip_across_mm
from forescale.engine.solve.view import Stance, Stances, View, on_axis, real_point, stances, stood


def picture_group(
    setting: Setting,
    kit: Kit,
    setup: LensSetup,
    view: View,
    zone: FocusAnswer,
    speeds: SpeedAnswer,
    corrected: Corrections,
    where: str,
) -> PictureAnswer | None:
    """Return the picture; None where the lens is level and nothing is said of what it sees. Raises BadInput."""
    if not (setting.place.aim or setting.point or setting.outline or setting.piece):
        return None
    placed, frame = stances(setting, kit, setup, where), view.frame
    points, lost = [], []
    for number, row in enumerate(setting.point, start=1):
        try:
            points.append(_point(row, setting, kit, setup, view, placed[row.piece], ("point", number), where))
        except Unread as gone:
            lost.append(LostPoint(row.name, str(gone)))
    return PictureAnswer(
        aim_deg=setup.aim_deg,
        field_across_deg=2 * half_field_deg(frame.width_mm, frame.image_mm),
        field_up_deg=2 * half_field_deg(frame.height_mm, frame.image_mm),
        horizon_up=0.5 - frame.image_mm * math.tan(math.radians(setup.aim_deg)) / frame.height_mm,
        points=tuple(points),
        outlines=tuple(_outline(row, setting, kit, setup, view, placed) for row in setting.outline),
        pieces=tuple(
            _piece(piece.name, placed[piece.name], setting, setup, view, zone, speeds)._replace(
                correction=corrected.get(piece.name)
            )
            for piece in setting.piece
        ),
        lost=tuple(lost),
    )


def _point(
    row: PointRow, setting: Setting, kit: Kit, setup: LensSetup, view: View, on: Stance, path: FieldPath, where: str
) -> PicturePoint:
    height = setting.place.lens_height
    lens, real = height or 0.0, real_point(row, setting, kit, setup, on, path, where)
    pair, frame = Pair(on.as_built(real, lens), real), view.frame
    here, there = (seen for (seen,) in pair.seen(((0.0, view.line_up),), frame))
    share = None if there is None else Share(0.5 + there[0] / frame.width_px, 0.5 + there[1] / frame.height_px)
    missed = None if here is None or there is None else (here[0] - there[0], here[1] - there[1])
    scaled = as_built(real, lens, on.ratio) if real.near else None
    sight_at = on_sight(real, lens, pair.built.z)
    gone = holding.leaves((real,), view.move, frame) if view.moves else None
    return PicturePoint(
        name=row.name,
        frame_across=None if share is None else share.across,
        frame_up=None if share is None else share.up,
        in_frame=share is not None and share.inside,
        model_distance_mm=None if scaled is None else _tape(setup, scaled.z),
        model_aside_mm=None if scaled is None else scaled.x,
        model_height_mm=None if scaled is None or height is None else scaled.h,
        stands_mm=_tape(setup, pair.built.z),
        sight_aside_mm=sight_at.x,
        sight_height_mm=None if height is None else sight_at.h,
        miss_across_px=None if missed is None else missed[0],
        miss_up_px=None if missed is None else missed[1],
        slip_px=_slip_px(pair, view),
        leaves_deg=view.turned(gone),
        leaves_share=gone,
    )


def _tape(setup: LensSetup, level_mm: float) -> float:
    return level_mm + setup.level(setup.pupil.ahead_mm)


def _slip_px(pair: Pair, view: View) -> float | None:
    """Return the greatest slip over the move, without its sign; None where it cannot be told."""
    if not view.moves:
        return 0.0
    found = largest_slip(pair, view.move, view.frame) if view.known else None
    return None if found is None else found[0]


def _outline(row: OutlineRow, setting: Setting, kit: Kit, setup: LensSetup, view: View, on: Stances) -> PictureOutline:
    frame, line = view.frame, silhouette.line(row.corners, closed=row.closed)
    places = stood(line, row, setting, setup, on)
    sides = holding.extent(places, view.line_up, frame)
    left, right, bottom, top = sides or (None, None, None, None)
    held = holding.held(places, sides, view.line_up, frame, closed=row.closed)
    gone = holding.leaves(places, view.move, frame) if held == "all" and view.moves else None
    heights = [corner.h for corner in row.corners]
    ends = stood([(0.0, min(heights)), (0.0, max(heights))], row, setting, setup, on)  # the softest is one
    depths = [depth for end in ends if (depth := in_lens(end, view.line_up)[2]) > 0]
    lens = (setup.focus_mm, kit.focal_mm, setup.f_number, setup.pupil_magnification)
    blurs = [contrast.blur_disk_mm(depth, *lens) for depth in depths]
    softest, passes = list(zip(depths, blurs, strict=True)), slip_across_mm(setting, kit.mode, kit.lens)
    overlaps = [silhouette.overlap_mm(depth, setup.image_mm, blur, passes) for depth, blur in softest]
    ratio = on[row.piece].ratio if row.of == "model" else None
    asides, heights = [x for x, _ in line], [h for _, h in line]
    return PictureOutline(
        name=row.name,
        of=row.of,
        left=left,
        right=right,
        bottom=bottom,
        top=top,
        model_width_mm=None if ratio is None else (max(asides) - min(asides)) / ratio,
        model_height_mm=None if ratio is None else (max(heights) - min(heights)) / ratio,
        edge_blur_px=max(blurs) / kit.mode.pixel_mm if blurs else None,
        overlap_mm=max(overlaps) if ratio is not None and overlaps else None,
        in_frame=held,
        leaves_deg=view.turned(gone),
        leaves_share=gone,
    )


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
