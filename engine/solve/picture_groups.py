"""The picture group of an answer. Field names are those of the JSON answer: mm, degrees, px, shares of the frame."""

from __future__ import annotations

from dataclasses import dataclass

from forescale.engine.formulas.holding import Held
from forescale.engine.solve.line_up_groups import CorrectionAnswer


@dataclass(frozen=True, slots=True)
class PicturePoint:
    """A point where model and place must meet.

    `frame_…` and `in_frame` are of the real point at the line-up; `model_…` where it is built to scale, `stands_mm` how
    far off the model has it as it stands, `sight_…` where the line of sight passes there. `miss_…` is the picture of
    the model less that of the place, `slip_px` how far they part in the move, `leaves_deg` the turn from the line-up at
    which the real point leaves the frame, `leaves_share` that as a share of the way to the far end, a track's too.
    None is unknown, or behind the lens.
    """

    name: str
    frame_across: float | None
    frame_up: float | None
    in_frame: bool
    model_distance_mm: float | None
    model_aside_mm: float | None
    model_height_mm: float | None
    stands_mm: float
    sight_aside_mm: float
    sight_height_mm: float | None
    miss_across_px: float | None
    miss_up_px: float | None
    slip_px: float | None
    leaves_deg: float | None
    leaves_share: float | None


@dataclass(frozen=True, slots=True)
class PictureOutline:
    """A silhouette in the picture at the line-up: its edges as shares of the frame, a model's as it stands.

    `model_…` is its size as built, `edge_blur_px` how soft its softest corner is, `overlap_mm` how far a cut edge must
    reach past its join at the model. None for a place, and for the edges where a corner is behind the lens. `leaves_…`
    are the turn, and the share of the way, at which the frame first cuts one that it holds whole at the line-up.
    """

    name: str
    of: str
    left: float | None
    right: float | None
    bottom: float | None
    top: float | None
    model_width_mm: float | None
    model_height_mm: float | None
    edge_blur_px: float | None
    overlap_mm: float | None
    in_frame: Held
    leaves_deg: float | None
    leaves_share: float | None


@dataclass(frozen=True, slots=True)
class PicturePiece:
    """A piece at a scale of its own: where it matches, how it reads, runs and focuses, and how it slips."""

    name: str
    ratio: float
    stands_mm: float
    match_distance_mm: float
    size_error: float
    ideal_fps: float
    apparent_gravity: float
    sharp: bool
    slip_px: float | None
    correction: CorrectionAnswer | None = None


@dataclass(frozen=True, slots=True)
class PictureAnswer:
    """What the lens sees at the line-up; `horizon_up` is a share of the frame's height from its bottom."""

    aim_deg: float
    field_across_deg: float
    field_up_deg: float
    horizon_up: float
    points: tuple[PicturePoint, ...]
    outlines: tuple[PictureOutline, ...]
    pieces: tuple[PicturePiece, ...]
