"""Cameras, lenses and heads as a profile file describes them; fields that a person edits with their labels and help."""

from bisect import bisect_left
from datetime import date as Date
from functools import lru_cache
from itertools import pairwise
from typing import Annotated, Any, ClassVar, Literal

from pydantic import AfterValidator, Field

from forescale.engine.fields import kinds as typed
from forescale.engine.fields.kinds import Offset, Record
from forescale.engine.files.faults import At, Unfit, refuse_twice
from forescale.engine.files.names import why_not
from forescale.engine.formulas import optics
from forescale.engine.units import Marks, stop_text, third_stops

Blur = Annotated[float, typed.Quantity("length", 0.0001, 1, in_mm=True)]
Readout = Annotated[float, typed.Quantity("time", 0, 60)]
DataRate = Annotated[float, typed.Quantity("number", 0.001, 1e6)]
Pupils = Annotated[float, typed.Quantity("number", 0.1, 10)]  # the exit pupil's width over the entrance pupil's
RateSet = Annotated[tuple[typed.Rate, ...], Field(min_length=1)]
Squeeze = Annotated[float, typed.Quantity("number", 1, 3)]
Loss = Annotated[float, typed.Quantity("number", 0, 4)]
ON_TAPE = ("soft_near", "sharp_near", "focus", "sharp_far", "soft_far")  # as they lie from the camera on


def is_plain(name: str) -> bool:
    """Tell whether a name can be a file's on every machine."""
    return bool(name) and all(c.isalnum() or c in "-_." for c in name) and not name.startswith(".")


def _plain_name(name: str) -> str:
    if not is_plain(name):
        raise Unfit(f'"{name}" is not a plain name', right='use letters, digits, "-", "_" and "."')
    if reason := why_not(name):
        raise Unfit(reason[0], right=reason[1])
    return name


PlainName = Annotated[str, AfterValidator(_plain_name)]


def told(label: str, says: str, default: Any = ..., **limits: Any) -> Any:
    """Return a field that a person edits: its label, and what it is."""
    return Field(default, title=label, description=says, **limits)


def open_(label: str, says: str) -> Any:
    """Return a field that a person edits and may leave empty."""
    return told(label, f"{says}; empty if not known", None)


class Begun(Record):
    """What may begin with likely values: `guesses` names the fields that nobody has measured or read off yet."""

    guesses: tuple[str, ...] = ()

    def check(self) -> None:
        if unknown := [name for name in self.guesses if name not in type(self).model_fields]:
            raise Unfit(f'there is no field "{unknown[0]}" to be a guess', right="name fields as the file does")


class Profile(Begun):
    """What every profile file holds."""

    rows: ClassVar[str] = ""  # the field that holds its rows

    schema_version: Literal[1] = Field(alias="schema")
    name: PlainName = told("name", "its file's name, and what a shot calls it by")
    title: str = told("title", "what people call it", "")
    notes: str = told("notes", "anything worth keeping with it", "")


class Rates(Record):
    """A camera mode that runs at any whole rate between two, in frames a second."""

    min: typed.Rate
    max: typed.Rate

    def check(self) -> None:
        if self.min > self.max:
            raise Unfit(f"min {self.min:g} is above max {self.max:g}")


class StripRow(Record):
    """One test strip: what it was shot with, on the tape the last markers that look sharp, the first that do not."""

    lens: str = Field(min_length=1)
    focal_length: typed.FocalLength
    focus: typed.Tape
    stop: typed.StopValue
    sharp_near: typed.Tape | None = None
    soft_near: typed.Tape | None = None
    sharp_far: typed.Tape | None = None
    soft_far: typed.Tape | None = None
    date: Date | None = None

    def check(self) -> None:
        given = [(name, value) for name in ON_TAPE if (value := getattr(self, name)) is not None]
        for (nearer, one), (farther, other) in pairwise(given):
            if one >= other:
                raise Unfit(f"{nearer} lies at or beyond {farther}", right=f"on the tape they go {', '.join(ON_TAPE)}")


class Mode(Begun):
    """One recording mode; `sharpness` is the circle of confusion by test strips, its error half of the 95 % band."""

    name: str = told("mode", "what a shot calls it by", min_length=1)
    width: typed.SensorSide = told("width", "of the area that is recorded, on the sensor")
    height: typed.SensorSide = told("height", "of the area that is recorded, on the sensor")
    width_px: int = told("pixels across", "how many pixels are recorded across", ge=16, le=100_000)
    height_px: int = told("pixels down", "how many pixels are recorded from top to bottom", ge=16, le=100_000)
    fps: RateSet | Rates = told("rates", "set rates as 24 25 30, or 1 to 120 for any whole rate between")
    iso_base: typed.Iso = told("base ISO", "taken where a shot leaves the ISO open")
    iso_max: typed.Iso = told("top ISO", "the highest that is still good")
    iso_min: typed.Iso | None = told("lowest ISO", "the lowest that may be set; empty: the base", None)
    readout: Readout | None = open_("readout", "time to read a frame from top to bottom, 0 ms for all at once")
    data_rate: DataRate | None = open_("data rate", "MB a second at the top rate")
    sharpness: Blur | None = open_("own sharpness", "the circle of confusion that test strips gave")
    sharpness_error: Blur | None = told("its error", "half of the band that holds it 95 times in 100", None)
    sharpness_measured: Date | None = open_("found on", "the day, as 2026-03-14")
    strip: tuple[StripRow, ...] = ()

    def check(self) -> None:
        super().check()
        if self.iso_base > self.iso_max:
            raise Unfit(At("iso_base"), f" {self.iso_base:g} is above ", At("iso_max"), f" {self.iso_max:g}")
        if self.iso_min is not None and self.iso_min > self.iso_base:
            raise Unfit(At("iso_min"), f" {self.iso_min:g} is above ", At("iso_base"), f" {self.iso_base:g}")
        if self.readout is not None and self.readout > (1 / self.top_fps) * (1 + 1e-6):
            frame = f"a frame at {self.top_fps:g} fps lasts {1000 / self.top_fps:.3g} ms"
            raise Unfit(At("readout"), f" {1000 * self.readout:g} ms is longer than a frame: {frame}")

    @property
    def pixel_mm(self) -> float:
        """Pixel pitch across, mm."""
        return self.width / self.width_px

    @property
    def pixel_up_mm(self) -> float:
        """Pixel pitch up and down, mm."""
        return self.height / self.height_px

    @property
    def lowest_iso(self) -> float:
        """The lowest film speed that may be set: the base where the profile names none."""
        return self.iso_base if self.iso_min is None else self.iso_min

    @property
    def top_fps(self) -> float:
        """The highest rate that the mode runs at."""
        return self.fps.max if isinstance(self.fps, Rates) else max(self.fps)


class Camera(Profile):
    """A camera: its recording modes."""

    rows: ClassVar[str] = "mode"
    mode: tuple[Mode, ...] = Field(min_length=1)

    def check(self) -> None:
        super().check()
        refuse_twice("modes", [mode.name for mode in self.mode])


class PupilRow(Record):
    """Where the entrance pupil was found, at one focal length and focus mark, and what the exit pupil is to it."""

    focal_length: typed.FocalLength = told("pupil at", "the focal length at which it was found")
    focus: typed.FarTape = told("focused at", "the focus mark at which it was found, or inf")
    ahead: Offset = told("ahead", "entrance pupil ahead of the sensor plane; negative is behind")
    uncertainty: typed.Size | None = open_("give or take", "by how much it may be wrong")
    measured: Date | None = open_("measured", "the day, as 2026-03-14")
    pupil_magnification: Pupils | None = told(
        "exit/entrance", "of the pupils here, where it differs; empty: as the lens has it", None
    )


class Lens(Profile):
    """A prime or a zoom: focal lengths, stops as marked, closest focus, and its pupil rows."""

    rows: ClassVar[str] = "pupil"
    focal_length: typed.FocalLength | None = told("focal length", "35 mm for a prime, 24 mm to 80 mm for a zoom", None)
    focal_min: typed.FocalLength | None = None
    focal_max: typed.FocalLength | None = None
    marks: Marks = told("marked in", "f or T: which stops stand on the ring")
    widest: typed.StopValue = told("widest stop", "the first mark on the ring")
    smallest: typed.StopValue = told("last stop", "the last mark on the ring")
    transmission_loss: Loss = told("loss", "stops lost in the glass, between f and T", 0.0)
    close_focus: typed.Tape = told("close focus", "the nearest focus mark, from the sensor plane")
    squeeze: Squeeze = told("squeeze", "1 for a spherical lens, 2 where it squeezes to half the width", 1.0)
    pupil_magnification: Pupils | None = open_("exit/entrance", "width of the exit pupil over the entrance pupil's")
    pupil: tuple[PupilRow, ...] = ()

    def check(self) -> None:
        super().check()
        prime = At("focal_length")
        zoom = (At("focal_min"), " and ", At("focal_max"))
        ends = (self.focal_min, self.focal_max)
        if self.focal_length is None and None in ends:
            raise Unfit("give ", prime, " for a prime, or ", *zoom, " for a zoom")
        if self.focal_length is not None and ends != (None, None):
            raise Unfit("give ", prime, " or ", *zoom, ", not both")
        if self.shortest > self.longest:
            raise Unfit(At("focal_min"), " is above ", At("focal_max"))
        for stop in (self.widest, self.smallest):
            if stop.marks not in {None, self.marks}:
                raise Unfit(f"the lens is marked in {self.marks}-stops, but a stop is in {stop.marks}")
        if self.widest.value >= self.smallest.value:
            raise Unfit(At("widest"), " must be a smaller number than ", At("smallest"), ", as in T1.5 to T22")
        if self.close_focus <= self.longest:
            raise Unfit(At("close_focus"), " lies inside the focal length", right="measure it from the sensor plane")
        if any(row.ahead >= self.close_focus for row in self.pupil):
            far = ", ahead of all that the lens can see"
            raise Unfit("a pupil lies beyond ", At("close_focus"), far, right="re-measure it")

    @property
    def shortest(self) -> float:
        """The shortest focal length, mm."""
        return self.focal_length or self.focal_min or 0.0

    @property
    def longest(self) -> float:
        """The longest focal length, mm."""
        return self.focal_length or self.focal_max or 0.0

    @property
    def is_zoom(self) -> bool:
        """Whether the focal length can be set."""
        return self.focal_length is None

    @property
    def focal_range(self) -> str:
        """The focal lengths that it can be set to, in words."""
        return f"from {self.shortest:g} mm to {self.longest:g} mm" if self.is_zoom else f"{self.longest:g} mm only"

    @property
    def stop_range(self) -> str:
        """The stops that stand on its ring, in words."""
        return " to ".join(stop_text(end.value, self.marks) for end in (self.widest, self.smallest))

    def f_number(self, mark: float, marks: Marks | None = None) -> float:
        """Return the exact f-number at a mark; `marks` says in what it was written, when not as the lens is."""
        return optics.f_number_from_t(mark, self.transmission_loss) if (marks or self.marks) == "T" else mark

    @property
    def f_numbers(self) -> tuple[float, ...]:
        """The exact f-numbers of the third-stop marks in the lens's range, widest first."""
        return _f_numbers(self.widest.value, self.smallest.value, self.transmission_loss if self.marks == "T" else 0.0)

    def first_past(self, needed: float) -> float | None:
        """Return the widest f-number marked on the ring that is at least what is needed; None where none is."""
        marks = self.f_numbers
        place = bisect_left(marks, needed * (1 - 1e-9))
        return marks[place] if place < len(marks) else None

    def has_stop(self, f_number: float) -> bool:
        """Tell whether the ring goes to an exact f-number; what rounds to one of its ends is there."""
        return self.f_numbers[0] * (1 - 1e-6) <= f_number <= self.f_numbers[-1] * (1 + 1e-6)

    def mark(self, f_number: float) -> float:
        """Return the number on the lens's own ring at an exact f-number."""
        return self.t_stop(f_number) if self.marks == "T" else f_number

    def t_stop(self, f_number: float) -> float:
        """Return the T-stop at an exact f-number."""
        return optics.t_from_f_number(f_number, self.transmission_loss)


@lru_cache(maxsize=1024)
def _f_numbers(widest: float, smallest: float, loss_stops: float) -> tuple[float, ...]:
    """Return the exact f-numbers of the third-stop marks; kept, since every answer asks for them several times."""
    return tuple(optics.f_number_from_t(mark, loss_stops) for mark in third_stops(widest, smallest))


class Head(Profile):
    """A pan-and-tilt head with a slide along the lens axis."""

    slide_min: Offset = told("slide from", "the lowest reading on the slide")
    slide_max: Offset = told("slide to", "the highest reading on the slide")
    slide_step: typed.Size = told(
        "slide step", "how finely the slide is marked; a part of an inch for one that is marked in inches"
    )
    sensor_at_zero: Offset = told("sensor at 0", "sensor plane ahead of the pan axis at reading 0; negative is behind")
    tilt_drop: Offset = told("tilt below", "how far the tilt axis lies below the lens axis", 0.0)
    tilt_ahead: Offset = told("tilt ahead", "how far the tilt axis lies ahead of the pan axis", 0.0)

    def check(self) -> None:
        super().check()
        if self.slide_min >= self.slide_max:
            raise Unfit(At("slide_min"), " must be below ", At("slide_max"))
        if self.slide_step > self.slide_max - self.slide_min:
            raise Unfit(At("slide_step"), " is larger than the whole slide", right="it is from one mark to the next")
