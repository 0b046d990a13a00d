"""The marks on a head's slide, in millimetres or in inches, and the lens's entrance pupil, which is told in them."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from forescale.engine.kit.profiles import Head, Lens, PupilRow
from forescale.engine.units import UnitSystem, length_text, number_text, rounded_down
from forescale.engine.units.lengths import INCH_MM

FINEST = 64  # to an inch, as rules are marked
_SAME_MM = 1e-4
SAME = 0.01  # within this the pupil moves by less than a bench can tell, so a row there is a row here
_MARKS = frozenset("'\"′″")  # of feet and inches


@dataclass(frozen=True, slots=True)
class SlideScale:
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

    def mark(self, mm: float, digits: int = 6) -> str:
        """Return a reading as it was set: on an inch slide in fractions where it stands on a mark."""
        if self.inches and abs(mm * FINEST / INCH_MM - round(mm * FINEST / INCH_MM)) < _SAME_MM:
            return ("-" if mm < 0 else "") + length_text(abs(mm), "imperial", fraction=FINEST)
        return f"{number_text(mm / self.unit_mm, digits)} {self.unit}"

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


class PupilAt(NamedTuple):
    """The entrance pupil ahead of the sensor plane in mm (negative is behind), and how it came to be known."""

    ahead_mm: float
    known: bool
    outside: bool = False  # the nearest row had to serve
    uncertainty_mm: float | None = None
    rows: tuple[PupilRow, ...] = ()  # it lies between these
    magnification: float | None = None  # the exit pupil's diameter over the entrance pupil's


UNKNOWN = PupilAt(0.0, known=False)


def lens_pupil_at(lens: Lens, focal_mm: float, focus_mm: float) -> PupilAt:
    """Return a lens's pupil as `pupil_at` does, with the lens's own pupil magnification where no row gives one."""
    found = pupil_at(lens.pupil, focal_mm, focus_mm)
    return found if found.magnification is not None else found._replace(magnification=lens.pupil_magnification)


def pupil_at(rows: Sequence[PupilRow], focal_mm: float, focus_mm: float) -> PupilAt:
    """Return the pupil at a focal length and a focus mark (tape, may be inf), linear in the first, then in 1/focus."""
    if not rows:
        return UNKNOWN
    by_focal: dict[float, dict[float, PupilAt]] = {}
    for row in rows:
        found = PupilAt(row.ahead, True, False, row.uncertainty, (row,), row.pupil_magnification)
        by_focal.setdefault(row.focal_length, {})[1 / row.focus] = found
    return _between({focal: _between(knots, 1 / focus_mm) for focal, knots in by_focal.items()}, focal_mm)


def _between(knots: Mapping[float, PupilAt], at: float) -> PupilAt:
    """Interpolate linearly between the two knots around `at`; beyond the ends the nearest serves."""
    below = max((knot for knot in knots if knot <= at), default=None)
    above = min((knot for knot in knots if knot >= at), default=None)
    if below is None or above is None:
        end = min(knots) if below is None else max(knots)
        return knots[end]._replace(outside=knots[end].outside or not math.isclose(at, end, rel_tol=SAME))
    low, high = knots[below], knots[above]
    if below == above:
        return low
    share = (at - below) / (above - below)
    one, other = low.uncertainty_mm, high.uncertainty_mm
    of = [found.magnification for found in (low, high) if found.magnification is not None]
    return PupilAt(
        low.ahead_mm + share * (high.ahead_mm - low.ahead_mm),
        known=True,
        outside=low.outside or high.outside,
        uncertainty_mm=None if one is None or other is None else math.hypot((1 - share) * one, share * other),
        rows=low.rows + high.rows,
        magnification=of[0] + share * (of[-1] - of[0]) if of else None,  # where only one is known, that one
    )


def prime_doubt(lens: Lens) -> str:
    """Return that the pupil of a prime was found at a focal length which is not its own, in words; empty if not so."""
    own = lens.focal_length
    away = [] if own is None else [row.focal_length for row in lens.pupil if not same(row.focal_length, own)]
    if not away:
        return ""
    found, said = number_text(away[0], 6), number_text(lens.shortest, 6)
    return f"a pupil of it was found at {found} mm, and the lens itself is said to be of {said} mm"


def same(mark_mm: float, other_mm: float) -> bool:
    """Tell whether two focal lengths, or two focus marks, are one as near as a ring can be set."""
    return math.isclose(mark_mm, other_mm, rel_tol=SAME)


def not_measured_at(rows: Sequence[PupilRow], focal_mm: float, focus_mm: float) -> str:
    """Return in what no row was measured, "focal length", "focus" or both, where `rows` serve; nothing between them."""
    focals = {row.focal_length for row in rows}
    by_focal = [[row for row in rows if row.focal_length == focal] for focal in focals]
    off_focal = len(focals) == 1 and not same(rows[0].focal_length, focal_mm)
    off_focus = any(len(those) == 1 and not same(those[0].focus, focus_mm) for those in by_focal)
    return " and ".join(["focal length"] * off_focal + ["focus"] * off_focus)


def rows_text(rows: Sequence[PupilRow], system: UnitSystem) -> str:
    """Return which rows a pupil was read from: "between 24 mm and 50 mm at infinity", "as at 35 mm, 4 ft"."""
    if not rows:
        return ""
    focals = list(dict.fromkeys(f"{row.focal_length:g} mm" for row in rows))
    marks = list(dict.fromkeys(length_text(row.focus, system) for row in rows))
    if len(rows) == 1:
        return f"as at {focals[0]}, {marks[0]}"
    if len(marks) == 1 or len(focals) == 1:
        return f"between {' and '.join(focals)} at {' and '.join(marks)}"
    return "between " + ", ".join(f"{row.focal_length:g} mm at {length_text(row.focus, system)}" for row in rows)
