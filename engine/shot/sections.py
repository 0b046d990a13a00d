"""The tables of a shot that stand there once: its kit, scale, action, place, focus, light, move, limits, and stand."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, get_args

from pydantic import Field, PlainSerializer, PlainValidator, model_validator

from forescale.engine.fields import kinds as typed
from forescale.engine.fields.ways import Aim, CarriedValue
from forescale.engine.files.faults import At, Unfit
from forescale.engine.formulas.frame_rate import SCALED_KINDS
from forescale.engine.formulas.lineup import TAPE_MM
from forescale.engine.formulas.stand import FRICTION
from forescale.engine.units import Rounding as Rounding
from forescale.engine.units import quoted

ActionKind = Literal["still", "driven", "falling", "water", "smoke", "fire"]
Axis = Literal["pan", "pan left", "tilt", "tilt down", "none"]
PANS, TILTS = frozenset({"pan", "pan left"}), frozenset({"tilt", "tilt down"})
Fills = Literal["part", "frame"]
Mount = Literal["stands", "hangs"]
KeptKit = Literal["camera", "mode", "lens", "focal_length"]
Goal = Literal["contrast", "model", "tolerance", "light", "build"]
Kelvin = Annotated[float, typed.Quantity("number", 1000, 40_000, word="k")]
READING_PX = 0.5
FrameShare = Annotated[float, typed.Quantity("share", 0.001, 1000)]


class KitChoice(typed.Record):
    """Which profiles the shot uses, by name."""

    camera: str
    mode: str
    lens: str
    focal_length: typed.FocalLength | None = None
    head: str | None = None


class ScaleChoice(typed.Record):
    """The ratio, or None for the program to choose; how the shop rounds; a second ratio to compare."""

    ratio: typed.Ratio | None = None
    rounding: Rounding | None = None
    compare: typed.Ratio | None = None
    kerf: Annotated[float, typed.Quantity("length", 0, 50)] = 3.0
    card: Annotated[float, typed.Quantity("length", 50, 5000)] | None = None


class Part(typed.Record):
    """One thing to build, by its size in the real place."""

    part: str
    real: typed.Size  # its largest, or what of the next three is left out
    quantity: Annotated[int, Field(ge=1, le=100_000)] = 1
    wide: typed.Size | None = None
    deep: typed.Size | None = None
    tall: typed.Size | None = None
    material: str | None = None
    density: typed.Density | None = None
    solid: Annotated[float, typed.Quantity("share", 0.0001, 1)] = 1.0  # the share of its volume that is material
    pitch: typed.Size | None = None  # how far apart those of a quantity stand there

    @property
    def other(self) -> float | None:
        """The full size where it stands for one left out: None where one of wide, deep and tall is that size."""
        return None if self.real in (self.wide, self.deep, self.tall) else self.real

    @property
    def sizes(self) -> tuple[float | None, float | None, float | None]:
        """Wide, deep and tall; one that alone is left out is what the full size stands for, if it stands for one."""
        wide, deep, tall = self.wide, self.deep, self.tall
        if (wide, deep, tall).count(None) == 1:
            wide, deep, tall = wide or self.other, deep or self.other, tall or self.other
        return wide, deep, tall


class Stock(typed.Record):
    """Material at hand, by its own size."""

    item: str
    size: typed.Size


def _kinds(text: Any) -> Any:
    """Read one kind of action or several, "fire, water", each once; raises ValueError naming what there is."""
    kinds = dict.fromkeys(part.strip().lower() for part in text.split(",")) if isinstance(text, str) else {"": None}
    if not kinds.keys() <= set(get_args(ActionKind)):
        known = ", ".join(get_args(ActionKind)).replace(", fire", " or fire")
        raise Unfit(f"{quoted(str(text))} is not known", right=f'write {known}, or several, "fire, water"')
    return ", ".join(kinds)


class Action(typed.Record):
    """What happens, and how it is run; what falls, swings, topples and burns is measured at full size."""

    kind: Annotated[ActionKind, PlainValidator(_kinds), PlainSerializer(str)] = "still"
    fps: typed.Rate | None = None
    playback_fps: typed.Rate = 24.0
    heft: Annotated[float, typed.Quantity("number", 0.1, 10)] = 1.0
    screen_time: typed.Duration = 5.0
    shutter: typed.ShutterAngle = 180.0
    real_speed: typed.Speed | None = None
    fall: typed.Size | None = None
    swing: typed.Size | None = None
    topple: typed.Size | None = None
    fire_width: typed.Size | None = None

    @property
    def kinds(self) -> tuple[str, ...]:
        """What happens, thing by thing."""
        return tuple(self.kind.split(", "))

    @property
    def scaled(self) -> bool:
        """Whether anything moves by its own weight, so that the rate must be right for it."""
        return not SCALED_KINDS.isdisjoint(self.kinds)


class Place(typed.Record):
    """Tape distances from the sensor-plane mark, heights above the background's ground, and where the lens aims."""

    model: typed.Tape | None = None
    model_near: typed.Tape | None = None
    background: typed.FarTape
    background_far: typed.FarTape | None = None
    lens_height: typed.Height | None = None
    feature_height: typed.Height | None = None
    aim: Aim = 0.0  # at the line-up, up +
    seems_at: typed.Tape | None = None  # how far off what the model stands for would be; None: the background
    fills: Fills = "part"  # whether the model must reach every edge of the picture
    mount: Mount | None = None  # whether it stands on a table or hangs

    def check(self) -> None:
        if self.model is not None and self.background < self.model:
            raise Unfit(At("place.background"), " is nearer than the model", right="it must stand behind it")
        if None not in (self.model, self.model_near) and self.model_near > self.model:  # type: ignore[operator]
            raise Unfit(At("place.model_near"), " lies beyond the model", right="it must stand no farther off")
        if self.model_near is not None and self.model_near > self.background:
            raise Unfit(At("place.model_near"), " lies beyond the background, which must stand behind the model")
        if self.background_far is not None and self.background_far < self.background:
            right = "it is the farthest thing to be sharp"
            raise Unfit(At("place.background_far"), " is nearer than the background", right=right)


class Focus(typed.Record):
    """Focus mark and stop, None for the program to choose ("auto"), and how sharp is sharp."""

    distance: Annotated[typed.FarTape | None, Field()] = None
    stop: typed.StopValue | None = None
    sharpness: typed.SharpnessValue = typed.Sharpness("diagonal", 1500.0)

    @model_validator(mode="before")
    @classmethod
    def _auto_is_none(cls, data: Any) -> Any:
        opened = isinstance(data, Mapping)
        return {key: None if value == "auto" else value for key, value in data.items()} if opened else data


class LightSet(typed.Record):
    """Film speed, the light there is at the model and at the background, its colour, ND fitted (stops), mains (Hz)."""

    iso: typed.Iso | None = None
    available: typed.Light | None = None
    at_background: typed.Light | None = None
    kelvin: Kelvin | None = None
    kelvin_at_background: Kelvin | None = None
    nd: Annotated[float, typed.Quantity("filter", 0, 20)] | None = None
    mains: Annotated[float, typed.Quantity("number", 10, 100, word="hz")] | None = None


SWEEP_LIKE = '"15 deg"; left, up and down are set as the move'
START_LIKE = '"10 deg"; it lies away from the far end'
# Which way each goes from the line-up, and which way from there its start lies.
WAYS: dict[str, tuple[str, str]] = {"pan": ("right", "left"), "pan left": ("left", "right"), "none": ("", "")}
WAYS |= {"tilt": ("up", "down"), "tilt down": ("down", "up")}


class Move(typed.Record):
    """The head's move through the line-up; "pan" turns the lens to the right, "tilt" up."""

    axis: Axis = "none"
    sweep: Annotated[float, typed.Quantity("angle", 0, 80, example=SWEEP_LIKE)] = 0.0  # beyond the line-up to its end
    start: Annotated[float, typed.Quantity("angle", 0, 80, example=START_LIKE)] = 0.0  # to the other side it begins
    tilt_sweep: Aim = 0.0  # of a pan, by its end, up +
    travel: CarriedValue | None = None  # how far any move carries the camera
    screen_time: typed.Duration | None = None
    slide: typed.Offset | None = None
    tolerance: Annotated[float, typed.Quantity("number", 0.01, 1000, word="px")] = 1.0

    def check(self) -> None:
        if self.tilt_sweep and (self.axis not in PANS or self.sweep == 0):
            right = "for a tilt alone set axis and sweep"
            raise Unfit(At("move.tilt_sweep"), " goes with a pan that has a sweep", right=right)
        if self.travel is not None and self.sweep == 0 and self.axis != "none":
            raise Unfit(At("move.travel"), " goes with a sweep", right='for a track alone set axis = "none"')
        if self.start and self.axis == "none":
            right = "with none the camera is carried from the line-up on"
            raise Unfit(At("move.start"), " goes with a pan or a tilt", right=right)


class Limits(typed.Record):
    """What a way to shoot it may cost at most, what it must show, and what counts, when ways are searched."""

    gravity: Annotated[float, typed.Quantity("number", 1, 100)] = 1.5  # the heaviest fall that may pass; 1 is right
    short_stops: Annotated[float, typed.Quantity("number", 0, 20)] = 0.0  # the light that may be missing
    build_max: typed.Size | None = None  # of the largest part, at model size
    frame_min: FrameShare | None = None  # of the frame's width, to be filled
    frame_max: FrameShare | None = None
    ratios: tuple[typed.Ratio, ...] = ()  # to be tried beside the usual ones
    hold: tuple[KeptKit, ...] = ()  # what stays as named
    order: tuple[Goal, ...] = ("contrast", "model", "tolerance", "light", "build")  # what counts, first things first
    reading_px: Annotated[float, typed.Quantity("number", 0.01, 100, word="px")] = READING_PX  # one standard error
    tape_error: Annotated[float, typed.Quantity("length", 0, 1000)] = TAPE_MM  # of a tape to 10 m, as is usual

    def check(self) -> None:
        if None not in (self.frame_min, self.frame_max) and self.frame_min > self.frame_max:  # type: ignore[operator]
            least, most = At("limits.frame_min"), At("limits.frame_max")
            raise Unfit(least, " is above ", most, right="nothing could fill the frame so")
        if not self.order or len(set(self.order)) < len(self.order):
            raise Unfit(At("limits.order"), " must name what counts, each thing once")


class Stand(typed.Record):
    """What stands in the wind, and what holds it: the area with table and skirt, weights, foot, and a pull test."""

    area: typed.Area | None = None
    area_height: typed.Height | None = None
    weight: typed.Weight | None = None  # of the parts
    ballast: Annotated[float, typed.Quantity("weight", 0, 1e6)] = 0.0
    foot_deep: typed.Size | None = None
    lee: typed.Depth | None = None  # level, from the centre of gravity to the foot's lee edge; None: half its depth
    gust: typed.Speed | None = None
    friction: Annotated[float, typed.Quantity("number", 0.01, 2)] = FRICTION
    specific_strength: Annotated[float, typed.Quantity("number", 0.001, 1000)] = 1.0
    pull: typed.Force | None = None
    moves: typed.Size | None = None  # how far the top went when pulled there

    def check(self) -> None:
        if self.lee is not None and self.foot_deep is not None and self.lee > self.foot_deep:
            beyond = "lies beyond the foot: from the centre of gravity to the lee edge is less than its depth"
            raise Unfit(At("stand.lee"), f" {beyond}", right="give it, or the foot's depth, anew")
