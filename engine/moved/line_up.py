"""A correction that was done: what it changes of the shot, the camera's tapes with it, and the readings that go."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from pydantic import BaseModel

from forescale.engine import units
from forescale.engine.files.faults import At, BadInput, Fault, sentence
from forescale.engine.shot.pictured import PointRow
from forescale.engine.solve.line_up_groups import CameraMoves
from forescale.engine.solve.picture import in_reference
from forescale.engine.solve.record import Answer

Row = TypeVar("Row", bound=BaseModel)

KEPT_MM = 2  # decimals of a mm that the shot keeps of a move
_TAPES = ("model", "model_near", "background", "background_far", "seems_at")


def done_by_model(answer: Answer) -> dict[str, Any]:
    """Return the changes after the model was moved: the misses read before go, nothing else; raises BadInput."""
    if answer.correction is None:
        raise BadInput("nothing was read to miss, so there is nothing that the model was moved for")
    return {"miss": ()}


def done_by_camera(answer: Answer) -> dict[str, Any]:
    """Return the changes after the camera was moved as told; raises BadInput where nothing was told.

    The lens stands higher, every tape is shorter, everything stands farther to the left, by as much as the camera went
    up, forward and right. What cannot be told was not moved. A point that was read in the picture is taped from here
    on, since the picture is another one.
    """
    moves = None if answer.correction is None else answer.correction.camera
    if moves is None:
        raise BadInput("nothing is told of the camera, so it cannot have been moved as told")
    right, up, forward = told(moves)
    setting, height = answer.setting, answer.setting.place.lens_height
    if height is None and up:
        lacks = sentence(At("place.lens_height"), " is not given, so it cannot follow the camera up or down")
        raise BadInput(Fault(lacks, "give it first"))
    taped = {name: nearer_by(getattr(setting.place, name), forward) for name in _TAPES}
    place = taped | {"lens_height": None if height is None else height + up}
    held = {f"place.{name}": None if mm is None else units.exact_length(mm, "metric") for name, mm in place.items()}
    return held | carried(answer, right, forward)


def nearer_by(tape: float | None, forward: float) -> float | None:
    """Return a tape as it is after the camera went forward."""
    return None if tape is None else round(tape - forward, KEPT_MM)


def carried(answer: Answer, right: float, forward: float) -> dict[str, Any]:
    """Return points, outlines, pieces and marks as they stand from a camera that went right and forward, mm.

    What was read to miss goes, since the picture is another one.
    """
    setting = answer.setting

    def nearer(tape: float | None) -> float | None:
        return nearer_by(tape, forward)

    return {
        "point": tuple(_point(answer, row, right, nearer) for row in setting.point),
        "outline": tuple(
            _changed(row, {"corners": tuple(corner._replace(x=corner.x - right) for corner in row.corners)})
            for row in setting.outline
        ),
        "piece": tuple(
            _changed(row, {"stands": nearer(row.stands), "seems_at": nearer(row.seems_at)}) for row in setting.piece
        ),
        "witness": tuple(
            _changed(row, {"distance": row.distance - forward, "aside": row.aside - right, **_UNREAD})
            for row in setting.witness
        ),
        "miss": (),
    }


_UNREAD = dict.fromkeys(("taped", "taped_now", "frame_across_now", "frame_up_now"))


def told(moves: CameraMoves) -> tuple[float, float, float]:
    """Return the move right, up and forward as the shot takes it, in mm, 0 for what cannot be told."""
    right, up, forward = (round(one or 0.0, KEPT_MM) for one in (moves.right_mm, moves.up_mm, moves.forward_mm))
    return right, up, forward


def _point(answer: Answer, row: PointRow, right: float, nearer: Callable[[float | None], float | None]) -> PointRow:
    """Return a point as the moved camera has it; one at infinity stays where the picture has it."""
    if row.aside is not None:
        return _changed(row, {"distance": nearer(row.distance), "aside": row.aside - right})
    real, _ = in_reference(answer.setting, answer.kit, answer.sight, row)
    if real.near == 0:
        return row
    tape = real.z + answer.sight.level(answer.sight.pupil.ahead_mm)
    read_with = (name for name in PointRow.model_fields if name not in {"name", "piece"})
    taped = {"distance": nearer(tape), "aside": real.x - right, "height": real.h}
    return _changed(row, dict.fromkeys(read_with) | taped)


def _changed(row: Row, values: dict[str, Any]) -> Row:
    return row.model_copy(update=values)
