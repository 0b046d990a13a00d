"""The groups of an answer that are of its picture, named as in JSON: mm, degrees, px, shares of the frame."""

from dataclasses import dataclass
from typing import NamedTuple

from forescale.engine.formulas.holding import Held
from forescale.engine.formulas.moves import Go, Taped

# What was read at the line-up and on coming back; None is "not told"


@dataclass(frozen=True, slots=True, kw_only=True)
class CameraMoves:
    """How the camera is to be moved, its aim kept; each with one standard error."""

    right_mm: float | None
    up_mm: float | None
    forward_mm: float | None
    right_error_mm: float | None
    up_error_mm: float | None
    forward_error_mm: float | None
    residual_px: float  # what the readings leave unexplained, root mean square of a coordinate
    left_px: float  # the longest miss that will be left
    holds: bool  # errors of reading explain what is left
    ends_right_mm: float  # where it then stands against its tapes
    ends_up_mm: float
    ends_forward_mm: float
    do: tuple[Go, ...]  # what is worth doing: passes its errors, all else left as it is


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelMoves(CameraMoves):
    """How the model is to be moved, and turned about the centre of its read points."""

    turn_deg: float | None  # + takes the right end away
    lean_deg: float | None  # + takes the top away
    roll_deg: float | None  # + is clockwise as the camera sees it
    turn_error_deg: float | None
    lean_error_deg: float | None
    roll_error_deg: float | None


class ReadPoint(NamedTuple):
    """A point's miss as read, and what the place found for the camera and for the model leaves of it, px."""

    point: str
    across_px: float
    up_px: float
    camera_across_px: float | None
    camera_up_px: float | None
    model_across_px: float | None
    model_up_px: float | None


class CorrectionAnswer(NamedTuple):
    """What to move for the read points to meet, None if not found; misses of the `stale` were read of another shot."""

    camera: CameraMoves | None
    model: ModelMoves | None
    doubtful: tuple[str, ...]
    cannot_tell: tuple[str, ...]
    points: tuple[ReadPoint, ...]
    stale: tuple[str, ...]


class ComeBackAnswer(NamedTuple):
    """What brings the camera back to where the marks were put up; all of it None where nothing is read of them now."""

    holds: bool
    cannot_tell: tuple[str, ...]
    mean_distance_mm: float
    right_mm: float | None = None
    up_mm: float | None = None
    forward_mm: float | None = None
    pan_deg: float | None = None
    tilt_deg: float | None = None
    roll_deg: float | None = None
    right_error_mm: float | None = None  # one standard error
    up_error_mm: float | None = None
    forward_error_mm: float | None = None
    pan_error_deg: float | None = None
    tilt_error_deg: float | None = None
    roll_error_deg: float | None = None
    residual_mm: float | None = None
    residual_px: float | None = None
    doubtful: tuple[str, ...] = ()
    gainsaid: tuple[Taped, ...] = ()
    would_tell_by_tapes_mm: float | None = None  # the largest of the three errors of place that the marks would leave
    would_tell_by_picture_mm: float | None = None


class PicturePoint(NamedTuple):
    """A point where model and place must meet; None is unknown, or behind the lens."""

    name: str
    frame_across: float | None  # of the real point at the line-up
    frame_up: float | None
    in_frame: bool
    model_distance_mm: float | None  # where it is built to scale
    model_aside_mm: float | None
    model_height_mm: float | None
    stands_mm: float  # how far off the model has it as it stands
    sight_aside_mm: float  # where the line of sight passes there
    sight_height_mm: float | None
    miss_across_px: float | None  # the picture of the model less that of the place
    miss_up_px: float | None
    slip_px: float | None  # how far they part in the move
    leaves_deg: float | None  # the turn from the line-up at which the real point leaves the frame
    leaves_share: float | None  # that as a share of the way to the far end, a track's too


class PictureOutline(NamedTuple):
    """A silhouette in the picture at the line-up: its edges as shares of the frame, a model's as it stands."""

    name: str
    of: str
    left: float | None  # None where a corner is behind the lens
    right: float | None
    bottom: float | None
    top: float | None
    model_width_mm: float | None  # as built; None for a place
    model_height_mm: float | None
    edge_blur_px: float | None  # of its softest corner
    overlap_mm: float | None  # how far a cut edge must reach past its join; None for a place
    in_frame: Held
    leaves_deg: float | None  # the turn at which the frame first cuts one that it holds whole at the line-up
    leaves_share: float | None  # that as a share of the way


class PicturePiece(NamedTuple):
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


class LostPoint(NamedTuple):
    """A point read in a picture that tells nothing, and why: what it was read through is gone."""

    name: str
    fault: str


class PictureAnswer(NamedTuple):
    """What the lens sees at the line-up; `horizon_up` is a share of the frame's height from its bottom."""

    aim_deg: float
    field_across_deg: float
    field_up_deg: float
    horizon_up: float
    points: tuple[PicturePoint, ...]
    outlines: tuple[PictureOutline, ...]
    pieces: tuple[PicturePiece, ...]
    lost: tuple[LostPoint, ...]
