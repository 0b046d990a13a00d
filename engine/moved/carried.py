"""What a move carries with it, every tape, aside and height: by hand, or as the line-up by the picture told it.

The misses tell where the camera stands against where the tapes have it, and what is to be moved goes from there: so it
ends where the misses are least, seen from where the tapes count. That is where they begin where the model stands at its
match; else it is the place from which model and real thing are alike, and every tape is shorter by as much.
"""

import math
from collections.abc import Iterator
from typing import Any

from forescale.engine import units
from forescale.engine.answer import Answer
from forescale.engine.files.faults import At, BadInput, Fault, sentence
from forescale.engine.shot.records import Setting
from forescale.engine.shot.rows import PieceRow, PointRow
from forescale.engine.solve.picture_groups import CameraMoves
from forescale.engine.solve.view import in_reference
from forescale.engine.units.lengths import INCH_MM

FINE_ENOUGH = 10  # a tape may be rounded by as much as this part of what the line-up allows
_STEPS: dict[units.UnitSystem, units.Rounding] = {"imperial": "1/64 in", "metric": "0.1 mm"}
_FINEST_MM = 2  # decimals of a mm that are kept where a step of the tape is too coarse
TAPES = ("model", "model_near", "background", "background_far", "seems_at")
_UNREAD = dict.fromkeys(("taped", "taped_now", "frame_across_now", "frame_up_now"))


def ends(moves: CameraMoves) -> tuple[float, float, float]:
    """Return where it stands once moved as told, right, up and forward of where the shot has it, mm."""
    right, up, forward = (round(x, _FINEST_MM) for x in (moves.ends_right_mm, moves.ends_up_mm, moves.ends_forward_mm))
    return right, up, forward


def done_by_model(answer: Answer) -> dict[str, Any]:
    """Return the changes after the model was moved as told, misses gone; BadInput where nothing was read."""
    if answer.correction is None:
        raise BadInput("nothing was read to miss, so there is nothing that the model was moved for")
    place = answer.setting.place
    moves = answer.correction.model
    changes: dict[str, Any] = {"miss": ()}
    farther = 0.0 if moves is None else ends(moves)[2]
    for name in ("model", "model_near"):
        tape = getattr(place, name)
        if place.model is not None and tape is not None and farther:
            changes[f"place.{name}"] = units.exact_length(kept_mm(answer, tape + farther), answer.system)
    return changes


def done_by_camera(answer: Answer) -> dict[str, Any]:
    """Return the changes after the camera was moved as told; raises BadInput where nothing was told.

    The lens stands higher, every tape is shorter, everything stands farther to the left, by as much as the camera then
    stands up, forward and right of where the tapes count from. What cannot be told was not moved. A model whose place
    was left open stands from here on where it was lined up, at the ratio that it was built at; so does a piece.
    """
    moves = None if answer.correction is None else answer.correction.camera
    if moves is None:
        raise BadInput("nothing is told of the camera, so it cannot have been moved as told")
    right, up, forward = ends(moves)
    setting = answer.setting
    height = setting.place.lens_height
    if height is None and up:
        lacks = sentence(At("place.lens_height"), " is not given, so it cannot follow the camera up or down")
        raise BadInput(Fault(lacks, "give it first"))
    changes = camera_gone(answer, right, forward, up)
    if setting.place.model is None:
        stands = kept_mm(answer, answer.lineup.model_mm - forward)
        changes["place.model"] = units.exact_length(stands, answer.system)
    if setting.scale.ratio is None:
        changes["scale.ratio"] = units.exact_ratio(answer.setup.ratio)
    stood = {one.name: one.stands_mm for one in (answer.picture.pieces if answer.picture else ())}
    rows = [row.model_copy(update={"stands": row.stands or kept_mm(answer, stood[row.name])}) for row in setting.piece]
    return changes | {"piece": tuple(_nearer(answer, row, forward) for row in rows)}


def _nearer(answer: Answer, row: PieceRow, forward: float) -> PieceRow:
    return row.model_copy(update={at: nearer_by(answer, getattr(row, at), forward) for at in ("stands", "seems_at")})


def kept_mm(answer: Answer, mm: float) -> float:
    """Return a length as the shot keeps it after a move: to a step of the tape where fine enough, else finer."""
    if math.isinf(mm):
        return mm
    step = _STEPS[answer.system]
    found = answer.lineup
    coarsest = abs(units.parse_length(step)) / 2
    if coarsest <= min(found.drift_tolerance_mm, found.place_tolerance_mm) / FINE_ENOUGH:
        return units.shop_length(mm, step).mm
    return units.parse_length(f"{mm / INCH_MM:.3f} in") if answer.system == "imperial" else round(mm, _FINEST_MM)


def carried_by(answer: Answer, mm: float, by: float) -> float:
    """Return a length that a move made longer, as the shot keeps it; one that was not moved keeps every digit."""
    return kept_mm(answer, mm + by) if by else mm


def nearer_by(answer: Answer, tape: float | None, forward: float) -> float | None:
    """Return a tape as it is after the camera went forward."""
    return None if tape is None else carried_by(answer, tape, -forward)


def camera_gone(answer: Answer, right: float, forward: float, up: float) -> dict[str, Any]:
    """Return the changes once the camera has gone so far (mm): tapes, the lens's height, and what is `carried`."""
    place = {name: nearer_by(answer, getattr(answer.setting.place, name), forward) for name in TAPES}
    height = answer.setting.place.lens_height
    place["lens_height"] = None if height is None else carried_by(answer, height, up)
    told = {f"place.{at}": None if mm is None else units.exact_length(mm, answer.system) for at, mm in place.items()}
    return told | carried(answer, right, forward, up)


def carried(answer: Answer, right: float, forward: float, up: float = 0.0) -> dict[str, Any]:
    """Return points, outlines, pieces and marks as a camera so moved (mm) has them; what was read of them goes."""
    setting = answer.setting

    def aside(mm: float) -> float:
        return carried_by(answer, mm, -right)

    moved = right or forward or up
    return {
        "point": tuple(_point(answer, row, right, forward) for row in setting.point) if moved else setting.point,
        "outline": tuple(
            row.model_copy(update={"corners": tuple(corner._replace(x=aside(corner.x)) for corner in row.corners)})
            for row in setting.outline
        ),
        "piece": tuple(_nearer(answer, row, forward) for row in setting.piece),
        "witness": tuple(
            row.model_copy(
                update={"distance": nearer_by(answer, row.distance, forward), "aside": aside(row.aside), **_UNREAD}
            )
            for row in setting.witness
        ),
        "miss": (),
    }


def _point(answer: Answer, row: PointRow, right: float, forward: float) -> PointRow:
    """Return a point as the moved camera has it, one read in the picture as taped; one at infinity stays."""
    if row.aside is not None:
        aside = carried_by(answer, row.aside, -right)
        return row.model_copy(update={"distance": nearer_by(answer, row.distance, forward), "aside": aside})
    real = in_reference(answer.setting, answer.kit, answer.setup, row).real
    if real.near == 0:
        return row
    tape = real.z + answer.setup.level(answer.setup.pupil.ahead_mm)
    read_with = (name for name in PointRow.model_fields if name not in {"name", "piece"})
    found = {"distance": tape - forward, "aside": real.x - right, "height": real.h}  # worked out, so never as read
    return row.model_copy(update=dict.fromkeys(read_with) | {name: kept_mm(answer, mm) for name, mm in found.items()})


def carried_says(before: Setting, after: Setting) -> Iterator[str]:
    """Yield what became of marks and read points as the camera was carried, where that is not only a shorter tape."""
    marks = list(zip(before.witness, after.witness, strict=True))
    points = zip(before.point, after.point, strict=True)
    lost = [old.name for old, new in marks if any(getattr(old, cell) != getattr(new, cell) for cell in _UNREAD)]
    placed = [old.name for old, new in points if old.aside is None and new.aside is not None]
    if any((old.distance, old.aside) != (new.distance, new.aside) for old, new in marks):
        yield "The distances and asides of the marks follow the camera"
    if lost:
        anew = "taped or read from where the camera stood before; tape each mark anew from the new place"
        yield f"{', '.join(lost)}: {anew}. The state saved before still has what was read"
    if placed:
        yield f"Points read in the picture now stand where their readings put them: {', '.join(placed)}"
