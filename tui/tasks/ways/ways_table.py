"""The ways that work as a table: what each column shows, by what it sorts, and how its cell is told in a sentence."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from forescale.engine.findings.words import Words, stop_on
from forescale.engine.options.option import Ranked
from forescale.engine.options.outcome import Outcome
from forescale.engine.options.search import REASONS, Miss, Reason
from forescale.engine.units import UnitSystem, illuminance_text, length_text, number_text, ratio_text, rounded_down
from forescale.engine.units.lengths import INCH_MM
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.ways.ways_listing import Listing, listing
from forescale.tui.tasks.ways.ways_search import in_app

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

    def lens(row: Ranked) -> str:
        return row.option.lens_at.lens.name

    def mode(row: Ranked) -> str:
        return row.option.in_mode.mode.name

    def camera(row: Ranked) -> str:
        return row.option.in_mode.camera.name

    def place(row: Ranked) -> str:
        return place_text(row.option.model_mm, system)

    def drift(row: Ranked) -> str:
        return drift_text(row.option.drift_tolerance_mm, system)

    def build(row: Ranked) -> str:
        return build_text(row.option.build_mm, system)

    def largest(row: Ranked) -> float:
        return math.inf if row.option.build_mm is None else row.option.build_mm

    return (
        Shown("lens", lens, lens, "{}"),
        Shown("mm", lambda row: f"{row.option.lens_at.focal_mm:.4g}", lambda row: row.option.lens_at.focal_mm, "{} mm"),
        Shown(UNBEATEN, lambda row: UNBEATEN if row.front else "", lambda row: not row.front, goes=3),
        Shown("scale", lambda row: ratio_text(row.option.ratio), lambda row: row.option.ratio, "{}", 2),
        Shown("contrast", _contrast, lambda row: -row.option.worst_contrast, "contrast {}"),
        Shown("mode", mode, mode, "{}", 1),
        Shown("camera", camera, camera, "{}", 4),
        Shown("stop", _stop, lambda row: row.option.f_number, "{}", 5),
        Shown("model at", place, lambda row: row.option.model_mm, "model at {}", 6),
        Shown("fps", lambda row: number_text(row.option.fps, 4), lambda row: row.option.fps, "{} fps", 7),
        Shown("light", _light, lambda row: row.option.lux_with_nd, "light {}", 8),
        Shown("drift", drift, lambda row: -row.option.drift_tolerance_mm, "may drift {}", 9),
        Shown("largest part", build, largest, "largest part {}", 10),
    )


def _light(row: Ranked) -> str:
    """Return the stops over (+) or short (-), or what is needed where it is not known what there is."""
    over = row.option.over_stops
    return illuminance_text(row.option.lux_with_nd, row.option.to_try.system) if over is None else f"{over:+.1f} stops"


def _contrast(row: Ranked) -> str:
    return Words.percent(row.option.worst_contrast)


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


def ways_listing(rows: Sequence[Ranked], columns: Sequence[Shown], width: int, order: tuple[str, str]) -> Listing:
    """Return the table of the ways that work; `order` is the column that it is put in order by, and the sign of how."""
    by, sign = order
    whole = [
        Column(one.head, f"{one.head} {sign}" if one.head == by else one.head, tuple(map(one.cell, rows)), one.goes)
        for one in columns
    ]
    return listing(whole, whole, width, WANTED)


# Those that fail

BRIEF: dict[Reason, str] = {
    "blur": "no blur measured",
    "build": "part too large",
    "rate": "lacks the rate",
    "gravity": "mode too slow",
    "inside": "inside the lens",
    "match": "wrong size",
    "move": "no room to turn",
    "close": "will not focus",
    "stop": "lacks the stop",
    "small": "fills too little",
    "large": "fills too much",
    "zone": "not all sharp",
    "light": "too dark",
}
MISSES_WANTED = ({"mode", "camera", "why"}, {"mode", "why"}, {"mode"})


def misses_listing(misses: Sequence[Miss], width: int) -> Listing:
    """Return the table of the ways that fail."""
    spelt_out = {reason: why.spelt(in_app) for reason, why in REASONS.items()}
    return listing(_miss_columns(misses, spelt_out), _miss_columns(misses, BRIEF), width, MISSES_WANTED)


def _miss_columns(misses: Sequence[Miss], reasons: dict[Reason, str]) -> list[Column]:
    return [
        Column("lens", "lens", tuple(miss.lens_at.lens.name for miss in misses)),
        Column("mm", "mm", tuple(f"{miss.lens_at.focal_mm:.4g}" for miss in misses)),
        Column("scale", "scale", tuple(ratio_text(miss.ratio) for miss in misses), 1),
        Column("mode", "mode", tuple(miss.in_mode.mode.name for miss in misses), 2),
        Column("camera", "camera", tuple(miss.in_mode.camera.name for miss in misses), 4),
        Column("why", "why it fails", tuple(reasons[miss.reason] for miss in misses), 3),
    ]


def miss_text(miss: Miss) -> str:
    """Return a way that fails, whole, and why."""
    mode, lens = miss.in_mode, miss.lens_at
    kit = f"{mode.camera.name}, {mode.mode.name}, {lens.lens.name} at {Words.focal(lens.focal_mm)}"
    return f"{kit}, {ratio_text(miss.ratio)}: {REASONS[miss.reason].spelt(in_app)}."


def misses_said(outcome: Outcome, listed: int) -> str:
    """Return how many ways fail for what."""
    failing = outcome.searched - outcome.working
    if not failing:
        return f"None of {outcome.searched} ways fails"
    shares = ", ".join(f"{row.count} {BRIEF[row.code]}" for row in outcome.dropped)
    only = f"; the first {listed} are listed" if listed < failing else ""
    return f"{failing} of {outcome.searched} ways fail ({shares}){only}"
