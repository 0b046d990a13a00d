"""What is read: slips on the bench, what no tape reaches, misses at the line-up, and marks on things that stay."""

import re
from typing import TYPE_CHECKING, Annotated, Literal

from forescale.engine import units
from forescale.engine.fields import kinds as typed
from forescale.engine.fields.ways import Aim, Aside, FramePlaceValue, Level
from forescale.engine.files.faults import At, Unfit, nearest, refuse_twice
from forescale.engine.shot.pictured import Name
from forescale.engine.shot.sections import Axis

if TYPE_CHECKING:
    from forescale.engine.shot.records import Setting

MOST_READINGS = 1000  # on a bench: nobody reads more, and every answer goes through all of them
Seen = Literal["outruns", "lags", "locked"]
ShareOf = Literal["width", "height"]
VisibilityBy = Literal["5 %", "2 %"]
_PIXELS = typed.Quantity("number", -100_000, 100_000, word="px")
MissPixels = Annotated[float, _PIXELS]
Along = Annotated[float, typed.Quantity("length", -100 * typed.KM_MM, 100 * typed.KM_MM)]
_WAYS = {"right": ("across", 1.0), "left": ("across", -1.0), "up": ("up", 1.0), "down": ("up", -1.0)}
_BETWEEN = re.compile(r";|(?<=[a-z\s]),|,(?=[-+\s])")  # a comma between digits is that of a decimal


class MissRow(typed.Record):
    """How far the model's point stands from the real one in the recorded picture, right and up +.

    `camera` to `aim` are what it was read with, or the shot's; it says nothing of a shot with others.
    """

    point: Name
    across_px: MissPixels
    up_px: MissPixels
    camera: str | None = None
    mode: str | None = None
    lens: str | None = None
    focal_length: typed.FocalLength | None = None
    ratio: typed.Ratio | None = None
    model: typed.Tape | None = None
    background: typed.FarTape | None = None
    lens_height: typed.Height | None = None
    aim: Aim | None = None


class WitnessRow(typed.Record):
    """A mark on something that stays: where it is, the tape to it then and now, and where the picture has it now.

    `distance` is a level tape along the line-up, negative behind the camera; `taped…` run straight from its mark.
    """

    name: Name
    distance: Along
    aside: Aside
    height: Level
    taped: typed.Tape | None = None
    taped_now: typed.Tape | None = None
    frame_across_now: FramePlaceValue | None = None
    frame_up_now: FramePlaceValue | None = None

    def check(self) -> None:
        if (self.frame_across_now is None) != (self.frame_up_now is None):
            across, up = At("witness.frame_across_now"), At("witness.frame_up_now")
            raise Unfit("give both ", across, " and ", up, ", or neither")


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
        ways = [self.slip_px, self.slip_at_background, self.seen]
        if sum(way is not None for way in ways) != 1:
            pixels, tape, eye = map(At, ("bench.slip_px", "bench.slip_at_background", "bench.seen"))
            raise Unfit("give one of ", pixels, ", ", tape, " and ", eye)


class SurveyRow(typed.Record):
    """One thing that no tape reaches, as read from the picture or with an inclinometer.

    `frame_share` is of the frame's width or height; `feature_height` that of its top above the background's ground;
    `elevation_nearer` was read `nearer_by` closer. `camera` to `aim` are what it was read with, or the shot's.
    """

    name: str = ""
    frame_share: Annotated[float, typed.Quantity("share", 0.0001, 1)] | None = None
    share_of: ShareOf = "width"
    feature_width: typed.Size | None = None
    feature_height: typed.Size | None = None
    elevation: typed.Elevation | None = None
    elevation_nearer: typed.Elevation | None = None
    nearer_by: typed.Tape | None = None
    visibility: Annotated[float, typed.Quantity("length", 1000, 1e9)] | None = None
    visibility_by: VisibilityBy = "5 %"
    camera: str | None = None
    mode: str | None = None
    lens: str | None = None
    focal_length: typed.FocalLength | None = None
    focus: typed.FarTape | None = None
    model: typed.Tape | None = None
    background: typed.FarTape | None = None
    lens_height: typed.Height | None = None
    aim: Aim | None = None


def check_readings(setting: "Setting") -> None:
    """Raise Unfit where a miss or a mark does not fit the points or the place."""
    known, read = [point.name for point in setting.point], [miss.point for miss in setting.miss]
    for name in read:
        if name not in known:
            raise Unfit(f'a miss is read at "{name}", and there is no such point', right=nearest(name, known))
        if read.count(name) > 1:
            raise Unfit(f'two misses are read at "{name}"', right="leave one out")
    refuse_twice("rows of witness", [witness.name for witness in setting.witness])
    if setting.witness and setting.place.lens_height is None:
        raise Unfit("heights of witness marks count from the lens, and there is no ", At("place.lens_height"))


def read_miss(text: str) -> tuple[float, float]:
    """Return a miss as it is typed, right and up +: "4 -2", "4 left, 2 up", "3 down"; raises ValueError."""
    found: dict[str, float] = {}
    words = _BETWEEN.sub(" ", text.casefold().replace("px", " ")).split()
    while words:
        number = units.parse_number(words.pop(0))
        way = words.pop(0) if words and words[0] in _WAYS else ""
        axis, sign = _WAYS.get(way) or ("up" if "across" in found else "across", 1.0)
        if axis in found or (way and number < 0):
            break
        found[axis] = sign * number + 0.0
        if not words and (len(found) == 2 or way):
            return _PIXELS.check(found.get("across", 0.0)), _PIXELS.check(found.get("up", 0.0))
    raise units.EntryError("write how far it misses in pixels, right and up: 4 -2, or 4 left 2 up")
