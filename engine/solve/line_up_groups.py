"""What was read at the line-up and on coming back, as groups of an answer: mm, degrees, px; None is "not told"."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CameraMoves:
    """How the camera is to be moved, its aim kept; each with one standard error.

    `residual_px` is what the readings leave unexplained, root mean square of a coordinate; `holds` tells whether
    errors of reading explain it; `left_px` is the longest miss that will be left.
    """

    right_mm: float | None
    up_mm: float | None
    forward_mm: float | None
    right_error_mm: float | None
    up_error_mm: float | None
    forward_error_mm: float | None
    residual_px: float
    left_px: float
    holds: bool


@dataclass(frozen=True, slots=True)
class ModelMoves(CameraMoves):
    """How the model is to be moved, and turned about the centre of its read points.

    Turn + takes the right end away, lean + the top away, roll + is clockwise as the camera sees it.
    """

    turn_deg: float | None
    lean_deg: float | None
    roll_deg: float | None
    turn_error_deg: float | None
    lean_error_deg: float | None
    roll_error_deg: float | None


@dataclass(frozen=True, slots=True)
class ReadPoint:
    """A point's miss as read, and what the place found for the camera and for the model leaves of it, px."""

    point: str
    across_px: float
    up_px: float
    camera_across_px: float | None
    camera_up_px: float | None
    model_across_px: float | None
    model_up_px: float | None


@dataclass(frozen=True, slots=True)
class CorrectionAnswer:
    """What to move for the read points to meet: the camera, or the model; None where nothing is found."""

    camera: CameraMoves | None
    model: ModelMoves | None
    doubtful: tuple[str, ...]
    cannot_tell: tuple[str, ...]
    points: tuple[ReadPoint, ...]


@dataclass(frozen=True, slots=True)
class ComeBackAnswer:
    """What to do to bring the camera back to where the marks were put up, each with one standard error.

    Where nothing is read of the marks as they are now, all of it is None, and `would_tell_…` is how finely the marks
    would tell it, the largest of the three errors of place, by tapes alone and by the picture alone.
    """

    right_mm: float | None
    up_mm: float | None
    forward_mm: float | None
    pan_deg: float | None
    tilt_deg: float | None
    roll_deg: float | None
    right_error_mm: float | None
    up_error_mm: float | None
    forward_error_mm: float | None
    pan_error_deg: float | None
    tilt_error_deg: float | None
    roll_error_deg: float | None
    residual_mm: float | None
    residual_px: float | None
    holds: bool
    doubtful: tuple[str, ...]
    cannot_tell: tuple[str, ...]
    mean_distance_mm: float
    would_tell_by_tapes_mm: float | None = None
    would_tell_by_picture_mm: float | None = None
