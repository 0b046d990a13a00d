"""What the lens sees, as lines and points to draw: the one projection, worked out when a view of it is asked for.

Places are shares of the frame at the line-up, from its left edge and its bottom; beyond 0 to 1 they lie outside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

from forescale.engine.formulas.projection import Frame, Point, Pose, Share, in_frame
from forescale.engine.solve.record import Answer
from forescale.engine.solve.view import View, frame_corners, outline_points, real_point, stances, view_of

SeenLine = tuple[Share, ...]


@dataclass(frozen=True, slots=True)
class SeenOutline:
    """An outline as the frame has it; in several lines where parts of it lie behind the lens."""

    name: str
    of: Literal["model", "place"]
    lines: tuple[SeenLine, ...]


@dataclass(frozen=True, slots=True)
class SeenPoint:
    """A point to meet: where the real one stands in the frame, and where the model has it; None behind the lens."""

    name: str
    real: Share | None
    built: Share | None
    leaves: bool


@dataclass(frozen=True, slots=True)
class Seen:
    """The picture at the line-up. `shape` is the frame's width over its height as it is shown.

    `horizon_up` and `table_up`, the ground of the model where it stands, are heights in the frame; `begin` and `end`
    are the corners of the frame at the ends of the move, empty where that is the line-up or no such corner is ahead.
    """

    shape: float
    outlines: tuple[SeenOutline, ...]
    points: tuple[SeenPoint, ...]
    horizon_up: float
    table_up: float | None
    begin: SeenLine
    end: SeenLine


def seen(answer: Answer) -> Seen:
    """Return what the lens of a shot sees."""
    setting, kit, setup = answer.setting, answer.kit, answer.setup
    view = view_of(setting, kit, setup)
    frame, at = view.frame, view.line_up
    horizon = in_frame(Point(0.0, 0.0, 1.0, 0.0), at, frame)
    return Seen(
        shape=frame.width_mm / frame.height_mm,
        outlines=tuple(_outlines(answer, frame, at)),
        points=tuple(_points(answer, frame, at)),
        horizon_up=0.5 if horizon is None else horizon.up,
        table_up=_table_up(answer, frame, at),
        begin=_corners(view, view.move.first),
        end=_corners(view, view.move.last),
    )


def _outlines(answer: Answer, frame: Frame, at: Pose) -> Iterator[SeenOutline]:
    setting, setup = answer.setting, answer.setup
    placed = stances(setting, answer.kit, setup)
    for row in setting.outline:
        shares = [in_frame(point, at, frame) for point in outline_points(row, setting, setup, placed)]
        yield SeenOutline(row.name, row.of, tuple(_unbroken(shares)))


def _unbroken(shares: Sequence[Share | None]) -> Iterator[SeenLine]:
    """Yield the stretches of a line that lie ahead of the lens."""
    for ahead, stretch in groupby(shares, key=lambda share: share is not None):
        if ahead:
            yield tuple(share for share in stretch if share is not None)


def _points(answer: Answer, frame: Frame, at: Pose) -> Iterator[SeenPoint]:
    setting, kit, setup = answer.setting, answer.kit, answer.setup
    placed = stances(setting, kit, setup)
    told = answer.picture.points if answer.picture is not None else ()
    for number, (row, point) in enumerate(zip(setting.point, told, strict=True), start=1):
        on = placed[row.piece]
        real = real_point(row, setting, kit, setup, on, ("point", number))
        built = on.as_built(real, setting.place.lens_height or 0.0)
        leaves = point.leaves_share is not None
        yield SeenPoint(row.name, in_frame(real, at, frame), in_frame(built, at, frame), leaves)


def _table_up(answer: Answer, frame: Frame, at: Pose) -> float | None:
    """Return the height in the frame of the model's ground where the model stands."""
    ground = answer.lineup.foot_height_mm
    if ground is None:
        return None
    share = in_frame(Point(0.0, ground, answer.setup.level(answer.setup.model_mm)), at, frame)
    return None if share is None else share.up


def _corners(view: View, way: float) -> SeenLine:
    """Return the frame at a share of the way of the move as the line-up's picture has it."""
    if way == 0 or not view.moves:
        return ()
    shares = [in_frame(corner, view.line_up, view.frame) for corner in frame_corners(view, way)]
    found = tuple(share for share in shares if share is not None)
    return found if len(found) == len(shares) else ()
