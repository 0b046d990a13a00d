"""A correction that was done: what it changes of the shot, the camera's tapes with it, and the readings that go."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, TypeVar

from pydantic import BaseModel

from forescale.engine import units
from forescale.engine.files.faults import At, BadInput, Fault, sentence
from forescale.engine.formulas import lineup
from forescale.engine.shot.pictured import PieceRow, PointRow
from forescale.engine.solve.line_up_groups import CameraMoves
from forescale.engine.solve.record import Answer
from forescale.engine.solve.view import in_reference

Row = TypeVar("Row", bound=BaseModel)
Nearer = Callable[[float | None], float | None]

FINE_ENOUGH = 10  # a tape may be rounded by as much as this part of what the line-up allows
_STEPS: dict[units.UnitSystem, units.Rounding] = {"imperial": "1/64 in", "metric": "0.1 mm"}
_FINEST_MM = 2  # decimals of a mm that are kept where a step of the tape is too coarse
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
    on, since the picture is another one. A model whose place was left open stands from here on where it was lined up,
    at the ratio that it was built at; so does a piece.
    """
    moves = None if answer.correction is None else answer.correction.camera
    if moves is None:
        raise BadInput("nothing is told of the camera, so it cannot have been moved as told")
    right, up, forward = told(moves)
    setting, height = answer.setting, answer.setting.place.lens_height
    if height is None and up:
        lacks = sentence(At("place.lens_height"), " is not given, so it cannot follow the camera up or down")
        raise BadInput(Fault(lacks, "give it first"))
    place = {name: nearer_by(answer, getattr(setting.place, name), forward) for name in _TAPES}
    place |= {"model": place["model"] or _lined_up(answer, answer.setup.ratio, setting.place.seems_at, forward)}
    place |= {"lens_height": None if height is None else carried_by(answer, height, up)}
    changes: dict[str, Any] = {
        f"place.{name}": None if mm is None else units.exact_length(mm, answer.system) for name, mm in place.items()
    }
    if setting.scale.ratio is None:
        changes["scale.ratio"] = units.exact_ratio(answer.setup.ratio)
    return (
        changes
        | carried(answer, right, forward)
        | {"piece": tuple(_standing(answer, row, forward) for row in setting.piece)}
    )


def _standing(answer: Answer, row: PieceRow, forward: float) -> PieceRow:
    """Return a piece as the moved camera has it, its place written down."""
    nearer = _nearer(answer, row, forward)
    return _changed(nearer, {"stands": nearer.stands or _lined_up(answer, row.ratio, row.seems_at, forward)})


def _nearer(answer: Answer, row: PieceRow, forward: float) -> PieceRow:
    tapes = {name: nearer_by(answer, getattr(row, name), forward) for name in ("stands", "seems_at")}
    return _changed(row, tapes)


def _lined_up(answer: Answer, ratio: float, seems_at: float | None, forward: float) -> float:
    """Return the tape at which a model meets what it stands for, seen from a camera that went forward, mm.

    The misses that were read put it there: a move by as much meets the place.
    """
    seems = (answer.setting.place.background if seems_at is None else seems_at) - forward
    return kept_mm(answer, answer.setup.tape(lineup.match_distance_mm(answer.setup.along(seems), ratio)))


def kept_mm(answer: Answer, mm: float) -> float:
    """Return a length as the shot keeps it after a move: to a step of the tape where that is fine enough, else finer.

    An endless one stays so.
    """
    if math.isinf(mm):
        return mm
    step, found = _STEPS[answer.system], answer.lineup
    coarsest = abs(units.parse_length(step)) / 2
    if coarsest <= min(found.drift_tolerance_mm, found.place_tolerance_mm) / FINE_ENOUGH:
        return units.shop_length(mm, step).mm
    return round(mm, _FINEST_MM)


def carried_by(answer: Answer, mm: float, by: float) -> float:
    """Return a length that a move made longer, as the shot keeps it; one that was not moved keeps every digit."""
    return kept_mm(answer, mm + by) if by else mm


def nearer_by(answer: Answer, tape: float | None, forward: float) -> float | None:
    """Return a tape as it is after the camera went forward."""
    return None if tape is None else carried_by(answer, tape, -forward)


def carried(answer: Answer, right: float, forward: float) -> dict[str, Any]:
    """Return points, outlines, pieces and marks as they stand from a camera that went right and forward, mm.

    What was read to miss goes, since the picture is another one.
    """
    setting = answer.setting

    def nearer(tape: float | None) -> float | None:
        return nearer_by(answer, tape, forward)

    def aside(mm: float) -> float:
        return carried_by(answer, mm, -right)

    return {
        "point": tuple(_point(answer, row, aside, nearer) for row in setting.point),
        "outline": tuple(
            _changed(row, {"corners": tuple(corner._replace(x=aside(corner.x)) for corner in row.corners)})
            for row in setting.outline
        ),
        "piece": tuple(_nearer(answer, row, forward) for row in setting.piece),
        "witness": tuple(
            _changed(row, {"distance": nearer(row.distance), "aside": aside(row.aside), **_UNREAD})
            for row in setting.witness
        ),
        "miss": (),
    }


_UNREAD = dict.fromkeys(("taped", "taped_now", "frame_across_now", "frame_up_now"))


def told(moves: CameraMoves) -> tuple[float, float, float]:
    """Return the move right, up and forward as the shot takes it, in mm, 0 for what cannot be told."""
    right, up, forward = (round(one or 0.0, _FINEST_MM) for one in (moves.right_mm, moves.up_mm, moves.forward_mm))
    return right, up, forward


def _point(answer: Answer, row: PointRow, aside: Callable[[float], float], nearer: Nearer) -> PointRow:
    """Return a point as the moved camera has it; one at infinity stays where the picture has it."""
    if row.aside is not None:
        return _changed(row, {"distance": nearer(row.distance), "aside": aside(row.aside)})
    real = in_reference(answer.setting, answer.kit, answer.setup, row).real
    if real.near == 0:
        return row
    tape = real.z + answer.setup.level(answer.setup.pupil.ahead_mm)
    reading_fields = (name for name in PointRow.model_fields if name not in {"name", "piece"})
    taped = {"distance": nearer(tape), "aside": aside(real.x), "height": kept_mm(answer, real.h)}
    return _changed(row, dict.fromkeys(reading_fields) | taped)


def _changed(row: Row, values: dict[str, Any]) -> Row:
    return row.model_copy(update=values)
