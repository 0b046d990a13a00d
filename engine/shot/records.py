"""A shot: everything that a shot file says, validated and frozen."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Annotated, Any, Literal, Self, get_args

from pydantic import Field, PlainSerializer, PlainValidator, model_validator

from forescale.engine.fields.kinds import (
    Area,
    Density,
    Depth,
    Duration,
    Elevation,
    FarTape,
    FocalLength,
    Force,
    Height,
    Iso,
    Light,
    Offset,
    Quantity,
    Rate,
    Ratio,
    Record,
    Sharpness,
    SharpnessValue,
    ShutterAngle,
    Size,
    Speed,
    StopValue,
    Sweep,
    Tape,
    Weight,
)
from forescale.engine.fields.ways import Aim, CarriedValue, TiltSweep
from forescale.engine.files.faults import At, Unfit, read_model
from forescale.engine.formulas.frame_rate import SCALED_KINDS
from forescale.engine.formulas.lineup import TAPE_MM
from forescale.engine.formulas.stand import FRICTION
from forescale.engine.shot.day_records import Cue, Lamp, Sun
from forescale.engine.shot.pictured import OutlineRow, PieceRow, PointRow, check_pictured
from forescale.engine.shot.readings import READING_PX, MissRow, ReadingError, WitnessRow, check_readings
from forescale.engine.units import UnitSystem

ActionKind = Literal["still", "driven", "falling", "water", "smoke", "fire"]
MOST_READINGS = 1000  # on a bench: nobody reads more, and every answer goes through all of them
Axis = Literal["pan", "pan left", "tilt", "tilt down", "none"]
PANS = frozenset({"pan", "pan left"})
TILTS = frozenset({"tilt", "tilt down"})
Fills = Literal["part", "frame"]
Seen = Literal["outruns", "lags", "locked"]
Held = Literal["camera", "mode", "lens", "focal_length"]
Goal = Literal["contrast", "model", "tolerance", "light", "build"]
Kelvin = Annotated[float, Quantity("number", 1000, 40_000, word="k")]
ShareOf = Literal["width", "height"]
VisibilityBy = Literal["5 %", "2 %"]
FrameShare = Annotated[float, Quantity("share", 0.001, 1000)]
Rounding = Literal["1/16 in", "1/32 in", "1/64 in", "0.5 mm", "0.1 mm"]


class KitChoice(Record):
    """Which profiles the shot uses, by name."""

    camera: str
    mode: str
    lens: str
    focal_length: FocalLength | None = None
    head: str | None = None


class ScaleChoice(Record):
    """The ratio, or None for the program to choose; how the shop rounds; a second ratio to compare."""

    ratio: Ratio | None = None
    rounding: Rounding | None = None
    compare: Ratio | None = None
    kerf: Annotated[float, Quantity("length", 0, 50)] = 3.0
    card: Annotated[float, Quantity("length", 50, 5000)] | None = None


class Part(Record):
    """One thing to build, by its size in the real place; `pitch` is how far apart those of a quantity stand there.

    Where one of `wide`, `deep` and `tall` is left out, `real` stands for it. `solid` is the share of its volume that is
    `material`.
    """

    part: str
    real: Size
    quantity: Annotated[int, Field(ge=1, le=100_000)] = 1
    wide: Size | None = None
    deep: Size | None = None
    tall: Size | None = None
    material: str | None = None
    density: Density | None = None
    solid: Annotated[float, Quantity("number", 0.0001, 1)] = 1.0
    pitch: Size | None = None


class Stock(Record):
    """Material at hand, by its own size."""

    item: str
    size: Size


def _kinds(text: Any) -> Any:
    """Read one kind of action or several, "fire, water", each once; raises ValueError naming what there is."""
    kinds = dict.fromkeys(part.strip().lower() for part in text.split(",")) if isinstance(text, str) else {"": None}
    if not kinds.keys() <= set(get_args(ActionKind)):
        known = ", ".join(map(repr, get_args(ActionKind))).replace(", 'fire'", " or 'fire'")
        raise Unfit(f"{text!r} is not known", right=f'write {known}, or several, "fire, water"')
    return ", ".join(kinds)


class Action(Record):
    """What happens, and how it is run; at full size how far something falls, how long what swings is, how high what
    topples, and how wide a fire."""

    kind: Annotated[ActionKind, PlainValidator(_kinds), PlainSerializer(str)] = "still"
    fps: Rate | None = None
    playback_fps: Rate = 24.0
    heft: Annotated[float, Quantity("number", 0.1, 10)] = 1.0
    screen_time: Duration = 5.0
    shutter: ShutterAngle = 180.0
    real_speed: Speed | None = None
    fall: Size | None = None
    swing: Size | None = None
    topple: Size | None = None
    fire_width: Size | None = None

    @property
    def kinds(self) -> tuple[str, ...]:
        """What happens, thing by thing."""
        return tuple(self.kind.split(", "))

    @property
    def scaled(self) -> bool:
        """Whether anything moves by its own weight, so that the rate must be right for it."""
        return not SCALED_KINDS.isdisjoint(self.kinds)


class Place(Record):
    """Tape distances from the sensor-plane mark, heights above the background's ground, and where the lens aims.

    `aim` is the tilt of the lens at the line-up, up +; `seems_at` how far off the real thing would be that the model
    stands for, None for the background; `fills` whether the model must reach every edge of the picture ("frame").
    """

    model: Tape | None = None
    model_near: Tape | None = None
    background: FarTape
    background_far: FarTape | None = None
    lens_height: Height | None = None
    feature_height: Height | None = None
    aim: Aim = 0.0
    seems_at: Tape | None = None
    fills: Fills = "part"

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.model is not None and self.background < self.model:
            raise Unfit(At("place.background"), " is nearer than the model", right="it must stand behind it")
        if None not in (self.model, self.model_near) and self.model_near > self.model:  # type: ignore[operator]
            raise Unfit(At("place.model_near"), " lies beyond the model", right="it must stand no farther off")
        if self.model_near is not None and self.model_near > self.background:
            raise Unfit(At("place.model_near"), " lies beyond the background, which must stand behind the model")
        if self.background_far is not None and self.background_far < self.background:
            right = "it is the farthest thing to be sharp"
            raise Unfit(At("place.background_far"), " is nearer than the background", right=right)
        return self


def _auto(value: Any) -> Any:
    return None if value == "auto" else value


class Focus(Record):
    """Focus mark and stop, None for the program to choose ("auto"), and how sharp is sharp."""

    distance: Annotated[FarTape | None, Field()] = None
    stop: StopValue | None = None
    sharpness: SharpnessValue = Sharpness("diagonal", 1500.0)

    @model_validator(mode="before")
    @classmethod
    def _auto_is_none(cls, data: Any) -> Any:
        return {key: _auto(value) for key, value in data.items()} if isinstance(data, Mapping) else data


class LightSet(Record):
    """Film speed, the light there is at the model and at the background, its colour, ND fitted (stops), mains (Hz)."""

    iso: Iso | None = None
    available: Light | None = None
    at_background: Light | None = None
    kelvin: Kelvin | None = None
    kelvin_at_background: Kelvin | None = None
    nd: Annotated[float, Quantity("number", 0, 20)] | None = None
    mains: Annotated[float, Quantity("number", 10, 1000, word="hz")] | None = None


class Move(Record):
    """The head's move through the line-up; "pan" turns the lens to the right, "tilt" up.

    It begins `start` to the other side of the line-up and ends `sweep` beyond it. A pan may tilt the lens by
    `tilt_sweep` (up +) by its end, and any move carry the camera by `travel`.
    """

    axis: Axis = "none"
    sweep: Sweep = 0.0
    start: Sweep = 0.0
    tilt_sweep: TiltSweep = 0.0
    travel: CarriedValue | None = None
    screen_time: Duration | None = None
    slide: Offset | None = None
    tolerance: Annotated[float, Quantity("number", 0.01, 1000, word="px")] = 1.0

    @model_validator(mode="after")
    def _goes_together(self) -> Self:
        if self.tilt_sweep and (self.axis not in PANS or self.sweep == 0):
            sweep = At("move.tilt_sweep")
            raise Unfit(sweep, " goes with a pan that has a sweep", right="for a tilt alone set axis and sweep")
        if self.travel is not None and self.sweep == 0 and self.axis != "none":
            raise Unfit(At("move.travel"), " goes with a sweep", right='for a track alone set axis = "none"')
        if self.start and self.axis == "none":
            right = "with none the camera is carried from the line-up on"
            raise Unfit(At("move.start"), " goes with a pan or a tilt", right=right)
        return self


class BenchRow(Record):
    """One slip reading, in exactly one of three ways; positive where the foreground outran.

    `camera` to `aim` are what it was read with, `model` and `background` the tape distances it was read at; left
    out, as the shot has them.
    """

    slide: Offset
    slip_px: Annotated[float, Quantity("number", -100_000, 100_000)] | None = None
    slip_at_background: Annotated[float, Quantity("length", -1e7, 1e7)] | None = None
    seen: Seen | None = None
    camera: str | None = None
    mode: str | None = None
    lens: str | None = None
    focal_length: FocalLength | None = None
    focus: FarTape | None = None
    head: str | None = None
    axis: Axis | None = None
    sweep: Sweep | None = None
    model: Tape | None = None
    background: FarTape | None = None
    aim: Aim | None = None

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        ways = [self.slip_px, self.slip_at_background, self.seen]
        if sum(way is not None for way in ways) != 1:
            pixels, tape, eye = map(At, ("bench.slip_px", "bench.slip_at_background", "bench.seen"))
            raise Unfit("give one of ", pixels, ", ", tape, " and ", eye)
        return self


class SurveyRow(Record):
    """One thing that no tape reaches, as read from the picture or with an inclinometer.

    `frame_share` is of the frame's width or height; `feature_height` is that of its top above the ground that the
    background stands on. `elevation_nearer` was read `nearer_by` closer. `camera` to `aim` are what it was
    read with and where; left out, as the shot has them.
    """

    name: str = ""
    frame_share: Annotated[float, Quantity("share", 0.0001, 1)] | None = None
    share_of: ShareOf = "width"
    feature_width: Size | None = None
    feature_height: Size | None = None
    elevation: Elevation | None = None
    elevation_nearer: Elevation | None = None
    nearer_by: Tape | None = None
    visibility: Annotated[float, Quantity("length", 1000, 1e9)] | None = None
    visibility_by: VisibilityBy = "5 %"
    camera: str | None = None
    mode: str | None = None
    lens: str | None = None
    focal_length: FocalLength | None = None
    focus: FarTape | None = None
    model: Tape | None = None
    background: FarTape | None = None
    lens_height: Height | None = None
    aim: Aim | None = None


class Limits(Record):
    """What a way to shoot it may cost at most, what it must show, and what counts, when ways are searched.

    `gravity` is the heaviest fall that may pass (1 is right), `short_stops` the light that may be missing,
    `build_max` the largest part at model size, `frame_min` and `frame_max` the shares of the frame's width that it
    may fill. `ratios` are tried beside the customary ones; `hold` keeps kit to what the shot names; `order` has what
    counts, first things first: contrast, a larger model, tolerance of drift and slide, light, a smaller build.
    `reading_px` is how finely a place in the picture is read, one standard error; `tape_error` how far off a tape
    to 10 m usually is.
    """

    gravity: Annotated[float, Quantity("number", 1, 100)] = 1.5
    short_stops: Annotated[float, Quantity("number", 0, 20)] = 0.0
    build_max: Size | None = None
    frame_min: FrameShare | None = None
    frame_max: FrameShare | None = None
    ratios: tuple[Ratio, ...] = ()
    hold: tuple[Held, ...] = ()
    order: tuple[Goal, ...] = ("contrast", "model", "tolerance", "light", "build")
    reading_px: ReadingError = READING_PX
    tape_error: Annotated[float, Quantity("length", 0, 1000)] = TAPE_MM

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if None not in (self.frame_min, self.frame_max) and self.frame_min > self.frame_max:  # type: ignore[operator]
            least, most = At("limits.frame_min"), At("limits.frame_max")
            raise Unfit(least, " is above ", most, right="nothing could fill the frame so")
        if not self.order or len(set(self.order)) < len(self.order):
            raise Unfit(At("limits.order"), " must name what counts, each thing once")
        return self


class Stand(Record):
    """What stands in the wind, and what holds it: the area with table and skirt, weights, foot, and a pull test.

    `lee` is level from the centre of gravity to the lee edge of the foot, half of `foot_deep` when left out; `weight`
    that of the parts. `moves` is how far the top went when pulled there with `pull`.
    """

    area: Area | None = None
    area_height: Height | None = None
    weight: Weight | None = None
    ballast: Annotated[float, Quantity("weight", 0, 1e6)] = 0.0
    foot_deep: Size | None = None
    lee: Depth | None = None
    gust: Speed | None = None
    friction: Annotated[float, Quantity("number", 0.01, 2)] = FRICTION
    specific_strength: Annotated[float, Quantity("number", 0.001, 1000)] = 1.0
    pull: Force | None = None
    moves: Size | None = None


class Setting(Record):
    """All that is set for a shot: what a mark keeps.

    The defaults are made without validation, which would build every section's validator on import.
    """

    kit: KitChoice
    scale: ScaleChoice = ScaleChoice.model_construct()
    build: tuple[Part, ...] = ()
    stock: tuple[Stock, ...] = ()
    action: Action = Action.model_construct()
    place: Place
    focus: Focus = Focus.model_construct()
    light: LightSet = LightSet.model_construct()
    move: Move = Move.model_construct()
    point: tuple[PointRow, ...] = ()
    outline: tuple[OutlineRow, ...] = ()
    piece: tuple[PieceRow, ...] = ()
    miss: tuple[MissRow, ...] = ()
    witness: tuple[WitnessRow, ...] = ()
    bench: Annotated[tuple[BenchRow, ...], Field(max_length=MOST_READINGS)] = ()
    survey: tuple[SurveyRow, ...] = ()
    limits: Limits = Limits.model_construct()
    stand: Stand = Stand.model_construct()
    sun: Sun = Sun.model_construct()
    lamp: tuple[Lamp, ...] = ()
    cue: tuple[Cue, ...] = ()

    @model_validator(mode="after")
    def _pictured(self) -> Self:
        check_pictured(self.point, self.outline, self.piece, self.place)
        check_readings(self.miss, self.witness, self.point, self.place)
        return self

    @model_validator(mode="before")
    @classmethod
    def _one_survey(cls, data: Any) -> Any:
        """Take a table of one reading, as files of the first version have it, for a list of one."""
        held = data.get("survey") if isinstance(data, Mapping) else None
        return {**data, "survey": [held]} if isinstance(held, Mapping) else data


class Mark(Record):
    """A state of the shot kept under a name, to go back to or to compare with."""

    name: str = Field(min_length=1)
    kept: datetime
    setting: Setting


class StoredState(Mark):
    """What was set for a take, and for every other that was set alike: without parts, bench, survey and limits."""


class Take(Record):
    """One take: when, what was set, whether it was good (None: not judged yet), a note, the weather and the model.

    `state` names the stored state that it was shot in. A number left out follows that of the take before.
    """

    number: Annotated[int, Field(ge=1)] | None = None
    time: datetime
    set: str
    good: bool | None = None
    note: str = ""
    state: str | None = None
    weather: str = ""
    model: str = ""


class Shot(Setting):
    """A shot file."""

    schema_version: Literal[1] = Field(alias="schema")
    title: str = Field(min_length=1)
    notes: str = ""
    units: UnitSystem = "imperial"
    mark: tuple[Mark, ...] = ()
    state: tuple[StoredState, ...] = ()
    take: tuple[Take, ...] = ()

    @model_validator(mode="after")
    def _states_named(self) -> Self:
        known = {state.name for state in self.state}
        for place, take in enumerate(self.take, start=1):
            if take.state is not None and take.state not in known:
                raise Unfit(f'take {place}, state: no stored state is called "{take.state}"')
        return self

    @classmethod
    def read(cls, data: Mapping[str, Any], where: str = "") -> Shot:
        """Validate what a file holds; raises BadInput with one line a fault."""
        return read_model(cls, data, where)

    def dump(self) -> dict[str, Any]:
        """Return what a file of this shot holds, lengths as text in the shot's own units."""
        body = self.model_dump(exclude_none=True, exclude_defaults=True, context={"units": self.units})
        return {"schema": self.schema_version, "title": self.title, "units": self.units} | body
