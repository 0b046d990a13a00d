"""The words of the findings, and the further ones in which numbers are put into a formula.

A number put into a formula has five digits, a length on the set is as the tape reads, what belongs to the lens or the
sensor is in millimetres in both systems, as it is engraved, and what belongs to the slide as the head is marked.
"""

import math
import re
from collections.abc import Sequence
from functools import partial

from forescale.engine.findings.words import Words
from forescale.engine.shot.sections import TILTS
from forescale.engine.units import INCH_MM, WEIGHT, fixed_text, length_text, measured_in, number_text

SMALL_MM = 12 * INCH_MM
MOST_LISTED = 3
NOTHING_MM = 1e-6  # a length this small is the rounding of floats
_MINUS = re.compile(r"(?<!\w)-(?=\w)")


class Figures(Words):
    """The units and marks in which one answer is worked out."""

    def length(self, mm: float) -> str:
        """Return a length to a sixteenth of an inch however far: whole inches would not add up."""
        return length_text(mm, self.of.system)

    number = staticmethod(partial(number_text, digits=5))  # a bare number
    stop_number = staticmethod(partial(number_text, digits=4))  # an f-number without its f/

    @staticmethod
    def mm(x: float) -> str:
        """Return a length of the lens or the sensor in mm, to five digits."""
        return f"{number_text(x, 5)} mm"

    @staticmethod
    def degrees(x: float) -> str:
        """Return an angle in degrees, to a hundredth."""
        return f"{fixed_text(x, 2)}°"

    @staticmethod
    def seconds(x: float) -> str:
        """Return a time in seconds, to five digits."""
        return f"{number_text(x, 5)} s"

    @staticmethod
    def metres(mm: float | None) -> str:
        """Return a length in metres, a bare number to five digits."""
        return number_text((mm or 0.0) / 1000, 5)

    def mass(self, kg: float | None) -> str:
        """Return a weight in the largest of its units."""
        value, unit = measured_in(kg or 0.0, WEIGHT, self.of.system)
        return f"{number_text(value, 5)} {unit}"

    def slide(self, mm: float) -> str:
        """Return a length along the head's slide in its own unit, to a hundredth of a mm or as fine."""
        return f"{self.on_slide.finely(mm)} {self.on_slide.unit}"

    def signed(self, mm: float) -> str:
        """Return a length along the slide that may be negative as it can stand in a formula, '(−3.2 mm)'."""
        text = f"{number_text(abs(mm) / self.on_slide.unit_mm, 5)} {self.on_slide.unit}"
        return f"(−{text})" if mm < 0 else text

    def along(self, *terms_mm: float) -> str:
        """Return lengths along the slide added up, '63 mm − 86 mm'; what is nothing is left out."""
        terms = [term for term in terms_mm if term != 0] or [0.0]
        texts = [f" {'−' if term < 0 else '+'} {self.slide(abs(term))}" for term in terms]
        return ("−" if terms[0] < 0 else "") + "".join(texts).removeprefix(" + ").removeprefix(" − ")

    def readings(self) -> str:
        """Return how many bench readings there are and over which stretch of the slide."""
        slides = [row.slide for row in self.of.setting.bench]
        if min(slides) == max(slides):
            return f"all readings at {self.slide(slides[0])}"
        return f"{len(slides)} readings from {self.slide(min(slides))} to {self.slide(max(slides))}"

    def exact(self, mm: float) -> str:
        """Return a length before it is rounded for the shop, in decimals to five digits."""
        return self._decimals(mm, 5)

    def small(self, mm: float) -> str:
        """Return a small length in decimals to three digits; one of a foot and more as it is taped."""
        return self._decimals(mm, 3) if abs(mm) < SMALL_MM else true_minus(self.length(mm))

    def _decimals(self, mm: float, digits: int) -> str:
        if math.isinf(mm):
            return number_text(mm)
        unit_mm, unit = (INCH_MM, "in") if self.of.system == "imperial" else (1.0, "mm")
        return true_minus(f"{number_text((0.0 if abs(mm) < NOTHING_MM else mm) / unit_mm, digits)} {unit}")

    def from_pupil(self, tape_mm: float) -> str:
        """Return a tape distance less what the entrance pupil stands ahead, '(10 ft − 0.942 in)'."""
        text, aim = self.length(tape_mm), self.of.setup.aim_deg
        if math.isinf(tape_mm):
            return text
        return self._from_lens(f"{text} / cos({self.degrees(aim)})" if aim else text)

    def mark(self) -> str:
        """Return the focus mark, less what the pupil stands ahead of the sensor plane."""
        text = self.length(self.of.focus.focus_mm)
        return text if math.isinf(self.of.focus.focus_mm) else self._from_lens(text)

    def _from_lens(self, distance: str) -> str:
        ahead = self.of.setup.pupil.ahead_mm
        if ahead == 0:
            return f"({distance})" if " / " in distance else distance
        return f"({distance} {'−' if ahead > 0 else '+'} {self.small(abs(ahead))})"

    def to_tape(self) -> str:
        """Return what brings a distance along the lens back to the level tape, ' + 0.942 in', or nothing."""
        turn = f" × cos({self.degrees(self.of.setup.aim_deg)})" if self.of.setup.aim_deg else ""
        return f"{turn}{self.to_lens()}{turn if self.to_lens() else ''}"

    def to_lens(self) -> str:
        """Return what brings a distance from the pupil back to the lens's own scale, ' + 0.942 in', or nothing."""
        ahead = self.of.setup.pupil.ahead_mm
        return "" if ahead == 0 else f" {'+' if ahead > 0 else '−'} {self.small(abs(ahead))}"

    @property
    def plain(self) -> bool:
        """Whether the lens is level and the move a turn to one side: where the short formulas hold as they stand."""
        move = self.of.setting.move
        return not (self.of.setup.aim_deg or move.start or move.tilt_sweep or move.travel)

    def across(self, mm: float) -> str:
        """Return a length across the sensor, '16.6 mm', with the lens's squeeze where it has one, '(16.6 mm × 2)'."""
        squeeze = self.of.kit.lens.squeeze
        return self.mm(mm) if squeeze == 1 else f"({self.mm(mm)} × {self.number(squeeze)})"

    def front(self) -> str:
        """Return f/P, '35 mm' with no pupil magnification to count and '35 mm / 0.5' with one."""
        return f"{self.mm(self.of.kit.focal_mm)}{self._over_p()}"

    def bellows(self) -> str:
        """Return 1 + m/P, '(1 + 0.0125)' or '(1 + 0.0125 / 0.5)'."""
        return f"(1 + {self.number(self.of.setup.magnification)}{self._over_p()})"

    def _over_p(self) -> str:
        own = self.of.setup.pupil_magnification
        return "" if own == 1 else f" / {self.number(own)}"

    def pixel(self) -> str:
        """Return the pixel pitch along the move: up and down for a tilt, else across."""
        mode = self.of.kit.mode
        return self.mm(mode.pixel_up_mm) if self.of.setting.move.axis in TILTS else self.across(mode.pixel_mm)

    def exact_stop(self, f_number: float) -> str:
        """Return an exact f-number and what the lens's ring says there, 'f/14.42, T16 on the lens'."""
        return f"f/{self.stop_number(f_number)}, {self.stop(f_number)} on the lens" if f_number > 0 else "any stop"


def true_minus(text: str) -> str:
    """Return a text with the sign that the sums have before its negative numbers."""
    return _MINUS.sub("−", text)


def listed(texts: Sequence[str]) -> str:
    """Return the first few of a list, and how many more there are."""
    more = len(texts) - MOST_LISTED
    return "; ".join([*texts[:MOST_LISTED], *([f"and {more} more"] if more > 0 else [])])
