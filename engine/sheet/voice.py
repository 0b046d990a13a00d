"""How the sheet says a number: the shared words, and those that only paper needs."""

from __future__ import annotations

from dataclasses import dataclass

from forescale.engine import units
from forescale.engine.findings.words import Words
from forescale.engine.units import number_text
from forescale.engine.units.lengths import INCH_MM
from forescale.engine.units.stops import SMALLEST_STOP_NUMBER


@dataclass(frozen=True, slots=True)
class Voice(Words):
    """The units and marks in which one sheet speaks."""

    @property
    def imperial(self) -> bool:
        """Whether feet and inches are shown."""
        return self.of.system == "imperial"

    def chosen(self, field: str) -> bool:
        """Return whether the program chose the field."""
        return field in self.of.auto

    def to_the_foot(self) -> str:
        """Return the scale as a builder's rule has it: "1/2 in to the foot", "125 mm to the metre"."""
        if not self.imperial:
            return f"{number_text(1000 / self.of.scale.ratio, 4)} mm to the metre"
        inches = self.of.scale.inches_per_foot
        if (inches * 64).is_integer():
            return f"{units.length_text(inches * INCH_MM, 'imperial', fraction=64)} to the foot"
        return f"{number_text(inches, 4)} in to the foot"

    def pupil(self, ahead_mm: float, what: str = "") -> str:
        """Return how far the pupil stands ahead (positive) of something, "the axis", or behind it."""
        way = "behind" if ahead_mm < 0 else "ahead of" if what else "ahead"
        return f"{self.slide(abs(ahead_mm))} {way} {what}".rstrip()

    def light(self, lux: float) -> str:
        """Return an illuminance in the sheet's unit."""
        return units.illuminance_text(lux, self.of.system)

    def f_stop(self, f_number: float) -> str:
        """Return an exact f-number, "f/16.52"; what is wider than any lens opens is met by any stop."""
        return "any stop" if f_number < SMALLEST_STOP_NUMBER else f"f/{number_text(f_number, 4)}"
