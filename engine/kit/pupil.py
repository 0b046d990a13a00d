"""A lens's entrance pupil at a focal length and a focus mark, from the rows that were measured."""

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from forescale.engine.kit.profiles import Lens, PupilRow
from forescale.engine.units import UnitSystem, length_text, number_text

SAME = 0.01  # within this the pupil moves by less than a bench can tell, so a row there is a row here
MOVED_MM = 0.05  # nor can it tell this: a lens that focuses as a whole goes f²/focus, so far marks lie close together


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
    return _between({f: _between(knots, 1 / focus_mm, MOVED_MM / f**2) for f, knots in by_focal.items()}, focal_mm)


def _between(knots: Mapping[float, PupilAt], at: float, within: float = 0.0) -> PupilAt:
    """Interpolate linearly between the two knots around `at`; beyond the ends the nearest serves."""
    below = max((knot for knot in knots if knot <= at), default=None)
    above = min((knot for knot in knots if knot >= at), default=None)
    if below is None or above is None:
        end = min(knots) if below is None else max(knots)
        return knots[end]._replace(outside=knots[end].outside or not same(at, end, within))
    low, high = knots[below], knots[above]
    if below == above:
        return low
    share = (at - below) / (above - below)
    close = [knots[knot] for knot in (below, above) if same(knot, at, within)]
    near = close or [low, high]  # those it is said to be read from
    one, other = low.uncertainty_mm, high.uncertainty_mm
    of = [found.magnification for found in (low, high) if found.magnification is not None]
    return PupilAt(
        low.ahead_mm + share * (high.ahead_mm - low.ahead_mm),
        known=True,
        outside=any(found.outside for found in near),
        uncertainty_mm=None if one is None or other is None else math.hypot((1 - share) * one, share * other),
        rows=tuple(row for found in near for row in found.rows),
        magnification=of[0] + share * (of[-1] - of[0]) if of else None,  # where only one is known, that one
    )


def prime_doubt(lens: Lens) -> str:
    """Return that the pupil of a prime was found at a focal length which is not its own, in words; empty if not so."""
    own = lens.focal_length
    away = [] if own is None else [row.focal_length for row in lens.pupil if not same(row.focal_length, own)]
    if not away:
        return ""
    said = number_text(lens.shortest, 6)
    return f"a pupil of it was found at {number_text(away[0], 6)} mm, and the lens itself is said to be of {said} mm"


def same(one: float, other: float, within: float = 0.0) -> bool:
    """Tell whether two focal lengths are one, as near as a ring can be set, or closer than `within`."""
    return math.isclose(one, other, rel_tol=SAME, abs_tol=within)


def not_measured_at(rows: Sequence[PupilRow], focal_mm: float, focus_mm: float) -> str:
    """Return in what no row was measured, "focal length", "focus" or both, where `rows` serve; nothing between them."""
    focals = {row.focal_length for row in rows}
    by_focal = [[row for row in rows if row.focal_length == focal] for focal in focals]
    off_focal = len(focals) == 1 and not same(rows[0].focal_length, focal_mm)
    near = MOVED_MM / focal_mm**2  # within it the pupil is at one place, as far as a bench tells
    off_focus = any(len(those) == 1 and not same(1 / those[0].focus, 1 / focus_mm, near) for those in by_focal)
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
