"""The ways that work as a table: what each column shows, by what it sorts, and how its cell is told in a sentence."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from forescale.engine.findings.words import stop_on
from forescale.engine.options import Ranked
from forescale.engine.units import UnitSystem, illuminance_text, length_text, number_text, ratio_text, rounded_down
from forescale.engine.units.lengths import INCH_MM
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.ways.ways_listing import Listing, listing

UNBEATEN = "*"
WANTED = ({"mode", "camera"}, {"mode"})


@dataclass(frozen=True, slots=True)
class Shown:
    """One column: its head, what stands in it, what it sorts by, how a sentence says it ("": never), when it goes."""

    head: str
    cell: Callable[[Ranked], str]
    sort: Callable[[Ranked], float | str]
    told: str = ""
    goes: int = 0


def shown_columns(system: UnitSystem) -> tuple[Shown, ...]:
    """Return the columns, the one that matters least for a choice going first."""
    return (
        Shown("lens", lambda row: row.option.lens_at.lens.name, lambda row: row.option.lens_at.lens.name, "{}"),
        Shown(
            "mm",
            lambda row: f"{row.option.lens_at.focal_mm:g}",
            lambda row: row.option.lens_at.focal_mm,
            "{} mm",
        ),
        Shown(UNBEATEN, lambda row: UNBEATEN if row.front else "", lambda row: not row.front, goes=3),
        Shown("scale", lambda row: ratio_text(row.option.ratio), lambda row: row.option.ratio, "{}", 2),
        Shown("contrast", _contrast, lambda row: -row.option.worst_contrast, "contrast {}"),
        Shown("mode", lambda row: row.option.in_mode.mode.name, lambda row: row.option.in_mode.mode.name, "{}", 1),
        Shown(
            "camera",
            lambda row: row.option.in_mode.camera.name,
            lambda row: row.option.in_mode.camera.name,
            "{}",
            4,
        ),
        Shown("stop", _stop, lambda row: row.option.f_number, "{}", 5),
        Shown(
            "model at",
            lambda row: place_text(row.option.model_mm, system),
            lambda row: row.option.model_mm,
            "model at {}",
            6,
        ),
        Shown("fps", lambda row: number_text(row.option.fps, 4), lambda row: row.option.fps, "{} fps", 7),
        Shown("light", _light, lambda row: row.option.lux_needed, "light {}", 8),
        Shown(
            "drift",
            lambda row: drift_text(row.option.drift_tolerance_mm, system),
            lambda row: -row.option.drift_tolerance_mm,
            "may drift {}",
            9,
        ),
        Shown(
            "largest part",
            lambda row: build_text(row.option.build_mm, system),
            lambda row: math.inf if row.option.build_mm is None else row.option.build_mm,
            "largest part {}",
            10,
        ),
    )


def _light(row: Ranked) -> str:
    """Return the stops over (+) or short (-), or what is needed where it is not known what there is."""
    over = row.option.over_stops
    return illuminance_text(row.option.lux_needed, row.option.to_try.system) if over is None else f"{over:+.1f} stops"


def _contrast(row: Ranked) -> str:
    return f"{100 * row.option.worst_contrast:.0f} %"


def _stop(row: Ranked) -> str:
    return stop_on(row.option.lens_at.lens, row.option.f_number)


def place_text(mm: float, system: UnitSystem) -> str:
    """Return a tape distance to a whole inch or a centimetre: fine enough to choose by."""
    return length_text(mm, system, fraction=1) if system == "imperial" else f"{mm / 1000:.2f} m"


def build_text(mm: float | None, system: UnitSystem) -> str:
    """Return a part's size in feet and inches or whole millimetres; "-" where nothing is to be built."""
    if mm is None:
        return "-"
    return length_text(mm, system) if system == "imperial" else f"{mm:.0f} mm"


def drift_text(mm: float, system: UnitSystem) -> str:
    """Return a tolerance in thousandths of an inch or hundredths of a millimetre, never more than it is."""
    if math.isinf(mm):
        return "any"
    unit, name, decimals = (INCH_MM, "in", 3) if system == "imperial" else (1.0, "mm", 2)
    steps = math.floor(mm / unit * 10**decimals + 1e-9)
    if not steps:
        return f"{number_text(rounded_down(mm / unit), 2)} {name}"
    return f"{steps / 10**decimals:.{decimals}f} {name}"


def ways_listing(rows: Sequence[Ranked], columns: Sequence[Shown], width: int) -> Listing:
    """Return the table of the ways that work."""
    whole = [Column(one.head, one.head, tuple(one.cell(row) for row in rows), one.goes) for one in columns]
    return listing(whole, whole, width, WANTED)
