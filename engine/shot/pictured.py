"""What is seen in the picture: points where model and place must meet, outlines, and pieces at a scale of their own."""

import math
from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field

from forescale.engine.fields.kinds import FarTape, FocalLength, Ratio, Record, Tape
from forescale.engine.fields.ways import Aim, Aside, CornerValue, FramePlaceValue, Level
from forescale.engine.files.faults import At, Unfit, refuse_twice

if TYPE_CHECKING:
    from forescale.engine.shot.records import Setting

Name = Annotated[str, Field(min_length=1)]

TAPED = At("point.aside"), " and ", At("point.height")
READ = At("point.frame_across"), " and ", At("point.frame_up")


class PointRow(Record):
    """Where the model and the place must meet: aside and height of the real point, or where it stands in the picture.

    `distance` left out is what the model seems to stand at; `camera` to `aim` are what it was read with, or the shot's.
    """

    name: Name
    distance: Tape | None = None
    aside: Aside | None = None
    height: Level | None = None
    frame_across: FramePlaceValue | None = None
    frame_up: FramePlaceValue | None = None
    piece: Name | None = None
    camera: str | None = None
    mode: str | None = None
    lens: str | None = None
    focal_length: FocalLength | None = None
    focus: FarTape | None = None
    model: Tape | None = None
    background: FarTape | None = None
    aim: Aim | None = None

    def check(self) -> None:
        taped, read = (self.aside, self.height), (self.frame_across, self.frame_up)
        if taped.count(None) + read.count(None) == 2 and None not in (taped if read == (None, None) else read):
            return
        if taped == (None, None) or read == (None, None):
            raise Unfit("give both ", *TAPED, ", or both ", *READ)
        raise Unfit("give ", *TAPED, ", or ", *READ, ", not some of each")


class OutlineRow(Record):
    """A silhouette at full size, as seen from the camera, of the model or of the place behind it."""

    name: Name
    of: Literal["model", "place"] = "model"
    corners: tuple[CornerValue, ...]
    closed: bool = True
    piece: Name | None = None

    def check(self) -> None:
        least = 3 if self.closed else 2
        if len(self.corners) < least:
            raise Unfit(f"{'a closed' if self.closed else 'an open'} outline has {least} corners at the least")
        arcs = [corner.arc for corner in self.corners]
        if not self.closed and (arcs[0] or arcs[-1]):
            raise Unfit("an arc at an open end has no neighbour to run to", right="put a corner beyond it")
        neighbours = zip(arcs, arcs[1:] + arcs[:1] if self.closed else arcs[1:], strict=False)
        if any(one and other for one, other in neighbours):
            raise Unfit("two arcs side by side have no corner between them", right="put one where they join")
        if self.of == "place" and self.piece is not None:
            raise Unfit("a piece is a model", right='leave piece out, or set of = "model"')


class PieceRow(Record):
    """A second model in the same picture, at a scale of its own; `stands` left out is where its scale matches."""

    name: Name
    ratio: Ratio
    stands: Tape | None = None
    seems_at: Tape | None = None


def check_pictured(setting: "Setting") -> None:
    """Raise Unfit where points, outlines and pieces do not fit the place or each other."""
    place, points, outlines, pieces = setting.place, setting.point, setting.outline, setting.piece
    for name, rows in (("point", points), ("outline", outlines), ("piece", pieces)):
        refuse_twice(f"rows of {name}", [row.name for row in rows])
    known = {row.name for row in pieces}
    placed: tuple[PointRow | OutlineRow, ...] = (*points, *outlines)
    for row in placed:
        if row.piece is not None and row.piece not in known:
            raise Unfit(f'"{row.name}" names the piece "{row.piece}", and there is none of that name')
    if place.lens_height is None and (outlines or any(point.height is not None for point in points)):
        raise Unfit("heights in the picture count from the lens, and there is no ", At("place.lens_height"))
    far = math.isinf(place.background)
    endless = {None: far and place.seems_at is None} | {row.name: far and row.seems_at is None for row in pieces}
    for point in points:
        if point.aside is not None and point.distance is None and endless[point.piece]:
            nothing = f'"{point.name}" stands at infinity, where aside and height say nothing: give its '
            raise Unfit(nothing, At("point.distance"), ", or ", *READ)
    for outline in outlines:
        if endless[outline.piece] if outline.of == "model" else far:
            endless_at = f'"{outline.name}" stands at infinity, where an outline has no size: give '
            raise Unfit(endless_at, At("place.seems_at"))
