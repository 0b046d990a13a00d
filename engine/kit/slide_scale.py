"""The marks on a head's slide, in millimetres or in inches: how lengths along it are told and read."""

import math
from typing import NamedTuple

from forescale.engine.kit.profiles import Head
from forescale.engine.units import INCH_MM, UnitSystem, fixed_text, length_text, number_text, rounded_down

FINEST = 64  # to an inch, as rules are marked
_SAME_MM = 1e-4
_MARKS = frozenset("'\"′″")  # of feet and inches


class SlideScale(NamedTuple):
    """How lengths along the slide are told and read."""

    inches: bool

    @property
    def unit(self) -> str:
        """The unit of a bare number."""
        return "in" if self.inches else "mm"

    @property
    def unit_mm(self) -> float:
        """That unit in mm."""
        return INCH_MM if self.inches else 1.0

    def told(self, mm: float, decimals: int = 1) -> str:
        """Return a length that was found, "62.1 mm" or "2.445 in", to so many decimals of a mm or as fine."""
        return f"{self.number(mm, decimals)} {self.unit}"

    def number(self, mm: float, decimals: int = 1) -> str:
        """Return a length as it is told, without its unit."""
        return f"{mm / self.unit_mm:.{decimals + 2 * self.inches}f}"

    def told_mm(self, mm: float, decimals: int = 1) -> float:
        """Return a length as it is told, in mm."""
        return round(mm / self.unit_mm, decimals + 2 * self.inches) * self.unit_mm

    def mark(self, mm: float, digits: int = 0) -> str:
        """Return a reading as it was set, `finely` where in the other unit; on an inch slide's mark in fractions."""
        in_inches = abs(mm * FINEST / INCH_MM - round(mm * FINEST / INCH_MM)) < _SAME_MM
        if self.inches and in_inches:
            return ("-" if mm < 0 else "") + length_text(abs(mm), "imperial", fraction=FINEST)
        as_set = digits or not (self.inches or in_inches)
        return f"{number_text(mm / self.unit_mm, digits or 6) if as_set else self.finely(mm)} {self.unit}"

    def finely(self, mm: float) -> str:
        """Return a length to a hundredth of a mm or 0.0001 in, without its unit."""
        return fixed_text(mm / self.unit_mm, 4 if self.inches else 2)

    def about(self, mm: float) -> str:
        """Return an error to two digits."""
        return f"{number_text(mm / self.unit_mm, 2)} {self.unit}"

    def at_most(self, mm: float) -> str:
        """Return a tolerance to two digits, no more than it is."""
        return f"{number_text(rounded_down(mm / self.unit_mm), 3)} {self.unit}"

    def range(self, head: Head) -> str:
        """Return how far a slide runs."""
        return f"{self.mark(head.slide_min)} to {self.mark(head.slide_max)}"

    def with_unit(self, text: str) -> str:
        """Return an entry with the slide's unit behind it, where it is a bare number."""
        bare = text.strip() and not any(sign.isalpha() or sign in _MARKS for sign in text)
        return f"{text.strip()} {self.unit}" if bare else text


def marked_in_inches(head: Head) -> bool:
    """Tell whether a head's slide is marked in inches: by a step that is no half millimetre but a 64th of an inch."""
    return not _whole(head.slide_step, 0.5) and _whole(head.slide_step, INCH_MM / FINEST)


def _whole(mm: float, part_mm: float) -> bool:
    return math.isclose(mm / part_mm, round(mm / part_mm), abs_tol=1e-6) and mm >= part_mm / 2


def scale_of(head: Head | None, system: UnitSystem) -> SlideScale:
    """Return the marks of a head's slide; without a head those of the shot's units."""
    return SlideScale(system == "imperial" if head is None else marked_in_inches(head))
