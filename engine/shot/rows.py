"""Rows of a shot: what is seen in the picture, points, outlines, pieces; what is read, slips, misses, what no tape
reaches, marks on things that stay."""

import re
from typing import Annotated, Literal

from pydantic import Field

from forescale.engine import units
from forescale.engine.fields import kinds as typed
from forescale.engine.fields.ways import Aim, Aside, CornerValue, FramePlaceValue, SignedHeight
from forescale.engine.files.faults import At, Unfit
from forescale.engine.formulas.bench_fit import Seen
from forescale.engine.formulas.silhouette import Corner
from forescale.engine.shot.sections import Axis

Name = Annotated[str, Field(min_length=1)]
MOST_READINGS = 1000  # on a bench: nobody reads more, and every answer goes through all of them
ShareOf = Literal["width", "height"]
VisibilityBy = Literal["5 %", "2 %"]
MissPixels = Annotated[float, typed.Quantity("number", -100_000, 100_000, word="px")]
Along = Annotated[float, typed.Quantity("length", -100 * typed.KM_MM, 100 * typed.KM_MM)]
_WAYS = {"right": ("across", 1.0), "left": ("across", -1.0), "up": ("up", 1.0), "down": ("up", -1.0)}
_BETWEEN = re.compile(r";|(?<=[a-z\s]),|,(?=[-+\s])")  # a comma between digits is that of a decimal
TAPED = At("point.aside"), " and ", At("point.height")
READ = At("point.frame_across"), " and ", At("point.frame_up")


class PointRow(typed.Record):
    """Where the model and the place must meet: aside and height of the real point, or its place in the picture."""

    name: Name
    distance: typed.Tape | None = None  # None: what the model seems to stand at
    aside: Aside | None = None
    height: SignedHeight | None = None
    frame_across: FramePlaceValue | None = None
    frame_up: FramePlaceValue | None = None
    piece: Name | None = None
    camera: str | None = None  # this and the rest: what it was read with, or the shot's
    mode: str | None = None
    lens: str | None = None
    focal_length: typed.FocalLength | None = None
    focus: typed.FarTape | None = None
    model: typed.Tape | None = None
    background: typed.FarTape | None = None
    aim: Aim | None = None

    def check(self) -> None:
        taped, read = (self.aside, self.height), (self.frame_across, self.frame_up)
        if taped.count(None) + read.count(None) == 2 and None not in (taped if read == (None, None) else read):
            return
        if taped == (None, None) or read == (None, None):
            raise Unfit("give both ", *TAPED, ", or both ", *READ)
        raise Unfit("give ", *TAPED, ", or ", *READ, ", not some of each")


def refuse_one_place(one: Corner, other: Corner) -> None:
    """Raise Unfit where two corners of an outline, one after the other, stand at one place."""
    if (one.x, one.h) == (other.x, other.h):
        right = "put one elsewhere, or leave it out"
        raise Unfit("two corners one after the other stand at the very same place", right=right)


class OutlineRow(typed.Record):
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
        neighbours = list(zip(self.corners, self.corners[1:] + self.corners[:1] * self.closed, strict=False))
        for one, other in neighbours:
            refuse_one_place(one, other)
        if any(one.arc and other.arc for one, other in neighbours):
            raise Unfit("two arcs side by side have no corner between them", right="put one where they join")
        if self.of == "place" and self.piece is not None:
            raise Unfit("a piece is a model", right='leave piece out, or set of = "model"')


class PieceRow(typed.Record):
    """A second model in the same picture, at a scale of its own; `stands` left out is where its scale matches."""

    name: Name
    ratio: typed.Ratio
    stands: typed.Tape | None = None
    seems_at: typed.Tape | None = None


class MissRow(typed.Record):
    """How far the model's point stands from the real one in the recorded picture, right and up +."""

    point: Name
    across_px: MissPixels
    up_px: MissPixels
    camera: str | None = None  # this and the rest: what it was read with; it says nothing of a shot with others
    mode: str | None = None
    lens: str | None = None
    focal_length: typed.FocalLength | None = None
    ratio: typed.Ratio | None = None
    model: typed.Tape | None = None
    background: typed.FarTape | None = None
    lens_height: typed.Height | None = None
    aim: Aim | None = None


class WitnessRow(typed.Record):
    """A mark on something that stays: where it is, the tape to it then and now, and where the picture has it now."""

    name: Name
    distance: Along  # level along the line-up, negative behind the camera
    aside: Aside
    height: SignedHeight
    taped: typed.Tape | None = None  # straight from the camera's mark
    taped_now: typed.Tape | None = None
    frame_across_now: FramePlaceValue | None = None
    frame_up_now: FramePlaceValue | None = None

    def check(self) -> None:
        if (self.frame_across_now is None) != (self.frame_up_now is None):
            across, up = At("witness.frame_across_now"), At("witness.frame_up_now")
            raise Unfit("give both ", across, " and ", up, ", or neither")
        if self.distance <= 0 and self.frame_across_now is not None:
            right = "leave out where it has it now"
            raise Unfit("a mark beside or behind the camera stands in no picture", right=right)


class BenchRow(typed.Record):
    """One slip reading, + where the foreground outran; `camera` to `aim` are what it was read with, or the shot's."""

    slide: typed.Offset
    slip_px: Annotated[float, typed.Quantity("number", -100_000, 100_000)] | None = None
    slip_at_background: Annotated[float, typed.Quantity("length", -1e7, 1e7)] | None = None
    seen: Seen | None = None
    camera: str | None = None
    mode: str | None = None
    lens: str | None = None
    focal_length: typed.FocalLength | None = None
    focus: typed.FarTape | None = None
    head: str | None = None
    axis: Axis | None = None
    sweep: typed.Sweep | None = None
    model: typed.Tape | None = None
    background: typed.FarTape | None = None
    aim: Aim | None = None

    def check(self) -> None:
        if sum(way is not None for way in [self.slip_px, self.slip_at_background, self.seen]) != 1:
            pixels, tape, eye = map(At, ("bench.slip_px", "bench.slip_at_background", "bench.seen"))
            raise Unfit("give one of ", pixels, ", ", tape, " and ", eye)


class SurveyRow(typed.Record):
    """One thing that no tape reaches, as read from the picture or with an inclinometer."""

    name: str = ""
    frame_share: Annotated[float, typed.Quantity("share", 0.0001, 1)] | None = None
    share_of: ShareOf = "width"
    feature_width: typed.Size | None = None
    feature_height: typed.Size | None = None  # of its top above the background's ground
    elevation: typed.Elevation | None = None
    elevation_nearer: typed.Elevation | None = None  # read from so much closer
    nearer_by: typed.Tape | None = None
    visibility: Annotated[float, typed.Quantity("length", 1000, 1e9)] | None = None
    visibility_by: VisibilityBy = "5 %"
    camera: str | None = None  # this and the rest: what it was read with, or the shot's
    mode: str | None = None
    lens: str | None = None
    focal_length: typed.FocalLength | None = None
    focus: typed.FarTape | None = None
    model: typed.Tape | None = None
    background: typed.FarTape | None = None
    lens_height: typed.Height | None = None
    aim: Aim | None = None


def read_miss(text: str, frame_px: tuple[int, int]) -> tuple[float, float]:
    """Return a miss as it is typed, right and up +: "4 -2", "4 left, 2 up", "3 down"; raises ValueError.

    None is greater than the frame, of which it is read.
    """
    wanted = "write how far it misses in pixels, right and up: 4 -2, or 4 left 2 up"
    found: dict[str, float] = {}
    words = _BETWEEN.sub(" ", text.casefold().replace("px", " ")).split()
    while words:
        try:
            number = units.parse_number(words.pop(0))
        except units.EntryError as error:
            raise units.EntryError(error.wrong, wanted) from None
        way = words.pop(0) if words and words[0] in _WAYS else ""
        axis, sign = _WAYS.get(way) or ("up" if "across" in found else "across", 1.0)
        if axis in found or (way and number < 0):
            break
        found[axis] = sign * number + 0.0
        if not words and (len(found) == 2 or way):
            across, up = found.get("across", 0.0), found.get("up", 0.0)
            if abs(across) > frame_px[0] or abs(up) > frame_px[1]:
                frame = f"the whole frame is {frame_px[0]} x {frame_px[1]} px"
                raise units.EntryError("that is farther off than the picture is large", frame)
            return across, up
    raise units.EntryError(wanted)
