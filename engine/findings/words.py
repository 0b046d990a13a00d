"""The words that all findings share: lengths, stops, rates and shares as a crew would say them."""

import math
import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

from forescale.engine import units
from forescale.engine.files.toml_files import read_own
from forescale.engine.formulas.lineup import SIZE_RIGHT
from forescale.engine.kit.profiles import Lens
from forescale.engine.kit.slide_scale import SlideScale, scale_of
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.units import INCH_MM, LARGEST_STOP_NUMBER, SMALLEST_STOP_NUMBER, fixed_text

FINDINGS = read_own(Path(__file__).with_name("findings.toml"))
_BRACES = re.compile(r"{([\w.]+):?(\w*)}")
NO_SLIDE_MM = 0.0005  # no slide is read so finely: nothing
BEYOND_SENSE = 1000.0  # times as hard as it should: a number that nobody needs more exactly


def stop_on(lens: Lens, f_number: float) -> str:
    """Return what a lens's ring reads at an exact f-number: the third-stop mark there, or one decimal between two."""
    mark = lens.mark(f_number)
    nearest = units.third_stops(mark, mark)[0]
    label = units.stop_label(nearest)
    if label.startswith("=") or abs(nearest / mark - 1) >= 1e-6:  # off the marks, or beyond those that are engraved
        label = f"{mark:.1f}"
    return f"T{label}" if lens.marks == "T" else f"f/{label}"


def moves(of: Answer) -> bool:
    """Return whether anything turns or is carried in the shot."""
    return of.speed.move_set_time_s is not None


def move_text(of: Answer) -> str:
    """Return the move of a shot that has one: "pan 15 deg from 5 deg the other way, tilting 3 deg up"."""
    move = of.setting.move
    parts = [] if move.axis == "none" else [f"{move.axis} {units.angle_text(move.sweep)}"]
    if move.start:
        parts[0] += f" from {units.angle_text(move.start)} the other way"
    if move.tilt_sweep:
        parts.append(f"tilting {Words.tilted(move.tilt_sweep)}")
    if move.travel is not None:
        parts.append(f"carried {units.length_text(move.travel.mm, of.system)} {move.travel.way}")
    return ", ".join(parts)


def said(of: Answer, code: str, /, *, level: Level | None = None, field: str = "", **given: Any) -> Finding:
    """Return a finding in the words of findings.toml; level and field are those there where none are given."""
    pane, usual, where, *texts, text = FINDINGS[code]
    words = Words(of)

    def put(found: re.Match[str]) -> str:
        name, how = found.groups()
        value: Any = given if name.partition(".")[0] in given else of
        for part in name.split("."):
            value = value[part] if value is given else getattr(value, part)
        if not how:
            return str(value)
        return units.number_text(value, int(how)) if how.isdigit() else str(getattr(words, how)(value))

    def write() -> tuple[str, str, str]:
        sentence, short, by_hand = (_BRACES.sub(put, said) for said in (text, *texts))
        return sentence, short, by_hand

    return Finding(pane, level or usual, code, field or where, write)


def _no_less(mm: float) -> float:
    """Return a length along a slide, nothing where no slide could be set to it."""
    return mm if abs(mm) >= NO_SLIDE_MM else 0.0


def with_advice(text: str, advice: str) -> str:
    """Return what is so, and after a colon what to do about it, where that is known."""
    return f"{text}{';' if ': ' in text else ':'} {advice}" if advice else text


def listed(texts: Sequence[str], last: str = "and") -> str:
    """Return 'a, b and c'."""
    return texts[0] if len(texts) == 1 else f"{', '.join(texts[:-1])} {last} {texts[-1]}"


class Words(NamedTuple):
    """The units and marks in which one answer speaks."""

    of: Answer

    @property
    def imperial(self) -> bool:
        """Whether feet and inches are shown."""
        return self.of.system == "imperial"

    def length(self, mm: float) -> str:
        """Return a length as a crew would tape it."""
        return units.tape_text(mm, self.of.system)

    def sharp_from(self, mm: float) -> str:
        """Return a near limit of sharpness as `length` has it, no nearer than it is."""
        return units.tape_at_least(mm, self.of.system)

    def sharp_to(self, mm: float) -> str:
        """Return a far limit of sharpness as `length` has it, no farther than it is."""
        return units.tape_at_most(mm, self.of.system)

    def exactly(self, mm: float) -> str:
        """Return a length to a sixteenth of an inch or a millimetre however far, where a mark must be set so fine."""
        return units.length_text(mm, self.of.system)

    def fine(self, mm: float) -> str:
        """Return a small length, to a 32nd of an inch or a tenth of a millimetre."""
        return units.length_text(mm, self.of.system, fraction=32)

    def small(self, mm: float) -> str:
        """Return a length that no shop cuts, as a pixel, to two digits; as any other where it is large."""
        unit, few = (INCH_MM, INCH_MM) if self.imperial else (1.0, 100.0)
        if abs(mm) >= few:
            return self.length(mm)
        return f"{units.number_text(mm / unit, 2)} {'mm' if unit == 1.0 else 'in'}"

    def stop(self, f_number: float) -> str:
        """Return what this shot's lens reads at an exact f-number."""
        return stop_on(self.of.kit.lens, f_number)

    @staticmethod
    def focal(mm: float) -> str:
        """Return a focal length as a ring is read, '35 mm'."""
        return f"{units.number_text(mm, 4)} mm"

    @staticmethod
    def sky(degrees: float) -> str:
        """Return where the sun stands, its height or bearing, to a tenth of a degree."""
        return f"{fixed_text(degrees, 1)} deg"

    @staticmethod
    def tilted(degrees: float) -> str:
        """Return how a lens is tilted, or tilts: "3 deg up", "level"."""
        return "level" if degrees == 0 else f"{units.angle_text(abs(degrees))} {'up' if degrees > 0 else 'down'}"

    @staticmethod
    def held_to(turn_deg: float) -> str:
        """Return a turn to a hundredth of a degree, no more than it is and without its sign: so far a thing is held."""
        return units.angle_text(math.floor(abs(turn_deg) * 100) / 100)

    def slope(self, px_a_mm: float) -> str:
        """Return the slip that a unit of the slide makes, to three digits: "0.38 px a mm" or "px an inch"."""
        scale = self.on_slide
        return f"{units.number_text(px_a_mm * scale.unit_mm)} px a{'n inch' if scale.inches else ' mm'}"

    @staticmethod
    def ratio(ratio: float) -> str:
        """Return 1:S to three digits."""
        return units.ratio_text(float(f"{ratio:.3g}"))

    @staticmethod
    def rate(fps: float) -> str:
        """Return a frame rate, '83.1 fps'."""
        return f"{units.number_text(fps, 4)} fps"

    @staticmethod
    def percent(share: float) -> str:
        """Return a share of one in per cent, with a decimal only where it is small and that is not nothing."""
        return f"{100 * share:.{int(0.0005 <= abs(share) < 0.03)}f} %"

    @staticmethod
    def too(wrong: float) -> str:
        """Return by how much a size is wrong, a share of one with its sign: '3.5 % too small', or 'the right size'."""
        if abs(wrong) < SIZE_RIGHT:
            return "the right size"
        return f"{Words.off(wrong)} too {'large' if wrong > 0 else 'small'}"

    @staticmethod
    def off(wrong: float) -> str:
        """Return a share of one without its sign, with a decimal below ten: '3.5 %', '25 %'."""
        return f"{100 * abs(wrong):.{1 if abs(wrong) < 0.0995 else 0}f} %"

    @staticmethod
    def stops(count: float) -> str:
        """Return a number of stops with a decimal, '1.3 stops'; what no meter tells, in words."""
        if abs(count) < 0.05:
            return "under 0.1 stops"
        return units.stops_text(f"{abs(count):.1f}")

    @staticmethod
    def few_stops(count: float) -> str:
        """Return a number of stops to two digits, however few, without its sign: '0.18 stops'."""
        return units.stops_text(units.number_text(abs(count), 2))

    @staticmethod
    def weight(gravity: float) -> str:
        """Return how many times as hard a thing falls, to three digits; beyond all sense, in words."""
        if gravity >= BEYOND_SENSE:
            return f"over {BEYOND_SENSE:.0f}"
        return units.number_text(gravity, 3) if gravity > 1 / BEYOND_SENSE else f"under 1/{BEYOND_SENSE:.0f}"

    @staticmethod
    def ratio_at_most(ratio: float) -> str:
        """Return 1:S to three digits, S no more than it is."""
        return units.ratio_text(units.rounded_down(ratio, 3))

    @staticmethod
    def at_least(value: float) -> str:
        """Return a positive number to two digits that is no less."""
        return units.number_text(units.rounded_up(value), 3)

    @staticmethod
    def at_most(value: float) -> str:
        """Return a positive number to two digits that is no more, as a tolerance must be."""
        return units.number_text(units.rounded_down(value), 3)

    def within(self, mm: float) -> str:
        """Return how far a thing may be off either way, "± 0.05 in", no more than it is; an infinite one as words."""
        return "any amount" if math.isinf(mm) else f"± {self.no_more(mm)}"

    def give_or_take(self, error_mm: float | None) -> str:
        """Return two standard errors of a length to two digits, and that they are two; empty where there is none."""
        if error_mm is None:
            return ""
        unit = INCH_MM if self.imperial else 1.0
        error = units.length_text(float(f"{2 * error_mm / unit:.2g}") * unit, self.of.system)
        return f"± {error} (two standard errors)"

    def no_more(self, mm: float) -> str:
        """Return a finite length that is no more than it is, to two digits where it is small."""
        unit, small = (INCH_MM, 1.0) if self.imperial else (1.0, 100.0)
        if mm / unit >= small:
            return units.length_at_most(mm, self.of.system)
        return f"{self.at_most(mm / unit)} {'mm' if unit == 1.0 else 'in'}"

    def wind(self, mm_s: float) -> str:
        """Return a wind as a meter reads it."""
        return units.wind_text(mm_s, self.of.system)

    def wind_to(self, mm_s: float) -> str:
        """Return a wind that is a limit, no more than it is."""
        return units.wind_text(mm_s, self.of.system, limit=True)

    def lux(self, lux: float) -> str:
        """Return an illuminance in the shot's own unit."""
        return units.illuminance_text(lux, self.of.system)

    @staticmethod
    def exposure(seconds: float) -> str:
        """Return an exposure time as a shutter is marked, "1/240 s"; in seconds from half a second on."""
        return units.time_text(seconds) if seconds >= 0.5 else f"1/{units.number_text(1 / seconds, 4)} s"

    @property
    def on_slide(self) -> SlideScale:
        """How lengths along the slide are told."""
        return scale_of(self.of.kit.head, self.of.system)

    def slide(self, mm: float) -> str:
        """Return a length along the slide, as the head is marked, with the shot's units beside it where they differ."""
        mm = _no_less(mm)
        if self.on_slide.inches:
            return self._beside(self.on_slide.about(mm) if abs(mm) < 10 else self.on_slide.told(mm), mm)
        return self.slide_text(units.number_text(mm, 2) if abs(mm) < 10 else units.number_text(round(mm, 1), 6), mm)

    def reading(self, mm: float) -> str:
        """Return a slide reading that was set, as `SlideScale.mark` has it."""
        mm, scale = _no_less(mm), self.on_slide
        return self._beside(scale.mark(mm), mm) if scale.inches else self.slide_text(scale.mark(mm).split()[0], mm)

    def _beside(self, text: str, mm: float) -> str:
        return f"{text} ({units.number_text(mm, 3)} mm)" if self.of.system == "metric" else text

    def slide_text(self, millimetres: str, mm: float) -> str:
        """Return a length along the slide with its millimetres as written, or as an inch slide has it."""
        if self.on_slide.inches:
            return self._beside(self.on_slide.told(mm, len(millimetres.partition(".")[2])), mm)
        inches = _no_less(float(millimetres)) / INCH_MM  # of what is told, so that one reading is one
        shown = units.number_text(inches, 2 if abs(inches) < 1 else 3)
        return f"{millimetres} mm ({shown} in)" if self.imperial else f"{millimetres} mm"

    def pupil(self, ahead_mm: float, what: str = "") -> str:
        """Return how far the pupil stands ahead (positive) of something, "the axis", or behind it."""
        way = "behind" if ahead_mm < 0 else "ahead of" if what else "ahead"
        return f"{self.slide(abs(ahead_mm))} {way} {what}".rstrip()

    @staticmethod
    def f_stop(f_number: float) -> str:
        """Return an exact f-number, "f/16.52"; what any stop of any lens meets, or none, in words."""
        none = "no stop" if f_number > LARGEST_STOP_NUMBER else ""
        return none or ("any stop" if f_number < SMALLEST_STOP_NUMBER else f"f/{units.number_text(f_number, 4)}")

    def to_the_foot(self) -> str:
        """Return the scale as a builder's rule has it: "1/2 in to the foot", "125 mm to the metre"."""
        inches = self.of.scale.inches_per_foot
        if not self.imperial:
            return f"{units.number_text(1000 / self.of.scale.ratio, 4)} mm to the metre"
        if (inches * 64).is_integer():
            return f"{units.length_text(inches * INCH_MM, 'imperial', fraction=64)} to the foot"
        return f"{units.number_text(inches, 4)} in to the foot"
