"""What the lens of a shot sees at the line-up, to be drawn: outlines, points, horizon, the frame over the move."""

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Literal, NamedTuple

from forescale.engine.formulas.projection import Point, Share, in_frame
from forescale.engine.solve.record import Answer
from forescale.engine.solve.view import View, frame_corners, in_reference, outline_points, stances, view_of

SeenLine = tuple[Share, ...]  # to draw, in shares of the frame at the line-up


class SeenOutline(NamedTuple):
    """An outline as the frame has it; in several lines where parts of it lie behind the lens."""

    name: str
    of: Literal["model", "place"]
    lines: tuple[SeenLine, ...]


class SeenPoint(NamedTuple):
    """A point to meet: where the real one stands in the frame, and where the model has it; None behind the lens."""

    name: str
    real: Share | None
    built: Share | None
    leaves: bool


class LensView(NamedTuple):
    """The picture at the line-up."""

    shape: float  # width over height as the frame is shown
    outlines: tuple[SeenOutline, ...]
    points: tuple[SeenPoint, ...]
    horizon_up: float  # a height in the frame
    table_up: float | None  # the ground of the model where it stands, likewise
    begin: SeenLine  # the frame's corners at the start of the move, empty at the line-up or with one behind the lens
    end: SeenLine


def lens_view_of(answer: Answer) -> LensView:
    """Return what the lens of a shot sees."""
    setting, kit, setup = answer.setting, answer.kit, answer.setup
    view, placed = view_of(setting, kit, setup), stances(setting, kit, setup)
    frame, at, ground = view.frame, view.line_up, answer.lineup.foot_height_mm
    horizon = in_frame(Point(0.0, 0.0, 1.0, 0.0), at, frame)
    table = None if ground is None else in_frame(Point(0.0, ground, setup.level(setup.model_mm)), at, frame)
    outlines = []
    for row in setting.outline:
        shares = [in_frame(point, at, frame) for point in outline_points(row, setting, setup, placed)]
        outlines.append(SeenOutline(row.name, row.of, tuple(_unbroken(shares))))
    points, rows = [], {row.name: row for row in setting.point}
    for told in answer.picture.points if answer.picture else ():
        as_built, real = in_reference(setting, kit, setup, rows[told.name])
        leaves = told.leaves_share is not None
        points.append(SeenPoint(told.name, in_frame(real, at, frame), in_frame(as_built, at, frame), leaves))
    return LensView(
        shape=frame.width_mm / frame.height_mm,
        outlines=tuple(outlines),
        points=tuple(points),
        horizon_up=0.5 if horizon is None else horizon.up,
        table_up=None if table is None else table.up,
        begin=_frame_at(view, view.move.first),
        end=_frame_at(view, view.move.last),
    )


def _unbroken(shares: Sequence[Share | None]) -> Iterator[SeenLine]:
    """Yield the stretches of a line that lie ahead of the lens."""
    for ahead, stretch in groupby(shares, key=lambda share: share is not None):
        if ahead:
            yield tuple(share for share in stretch if share is not None)


def _frame_at(view: View, way: float) -> SeenLine:
    if way == 0 or not view.moves:
        return ()
    found = list(_unbroken([in_frame(corner, view.line_up, view.frame) for corner in frame_corners(view, way)]))
    return found[0] if found and len(found[0]) == 4 else ()
