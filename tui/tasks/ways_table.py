"""The ways to shoot it as a table: what each column shows, by what it sorts, and which rows a filter leaves."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from engine.findings.finding import stop_on
from engine.options import Miss, Option, Ranked
from engine.options.gates import REASONS
from engine.units import UnitSystem, length_text, number_text, ratio_text
from tui.tasks.columns import Column


@dataclass(frozen=True, slots=True)
class Shown:
    """One column: its head, what stands in it, what it sorts by, and how soon it goes for want of room."""

    head: str
    cell: Callable[[Ranked], str]
    sort: Callable[[Ranked], float | str]
    goes: int = 0


def _over(option: Option) -> str:
    if option.over_stops is None:
        return f"{number_text(option.lux_needed, 3)} lx"
    return f"{option.over_stops:+.1f}"


def shown_columns(system: UnitSystem, front: str) -> tuple[Shown, ...]:
    """Return the columns; `front` marks what no other way beats."""

    def length(mm: float) -> str:
        return length_text(mm, system, fraction=1 if system == "imperial" else 16)

    return (
        Shown("lens", lambda row: row.option.glass.lens.name, lambda row: row.option.glass.lens.name),
        Shown("mm", lambda row: f"{row.option.glass.focal_mm:g}", lambda row: row.option.glass.focal_mm),
        Shown("best", lambda row: front if row.front else "", lambda row: not row.front, 9),
        Shown("scale", lambda row: ratio_text(row.option.ratio), lambda row: row.option.ratio),
        Shown(
            "contrast", lambda row: f"{100 * row.option.worst_contrast:.0f} %", lambda row: -row.option.worst_contrast
        ),
        Shown("stop", lambda row: _stop(row.option), lambda row: row.option.f_number, 2),
        Shown("model at", lambda row: length(row.option.model_mm), lambda row: row.option.model_mm, 1),
        Shown("fps", lambda row: number_text(row.option.fps, 4), lambda row: row.option.fps, 3),
        Shown("mode", lambda row: row.option.body.mode.name, lambda row: row.option.body.mode.name, 4),
        Shown("camera", lambda row: row.option.body.camera.name, lambda row: row.option.body.camera.name, 5),
        Shown("light", lambda row: _over(row.option), lambda row: row.option.lux_needed, 6),
        Shown(
            "drift",
            lambda row: length_text(row.option.drift_tolerance_mm, system),
            lambda row: -row.option.drift_tolerance_mm,
            7,
        ),
        Shown(
            "builds",
            lambda row: "-" if row.option.build_mm is None else length_text(row.option.build_mm, system),
            lambda row: math.inf if row.option.build_mm is None else row.option.build_mm,
            8,
        ),
    )


def _stop(option: Option) -> str:
    return stop_on(option.glass.lens, option.f_number)


def words_of(row: Ranked, columns: Sequence[Shown]) -> str:
    """Return all that a row says, in small letters, for a filter to look in."""
    return " ".join(column.cell(row) for column in columns).lower()


def filtered(rows: Sequence[Ranked], columns: Sequence[Shown], words: str) -> list[Ranked]:
    """Return the rows that hold every word of a filter."""
    wanted = words.lower().split()
    return [row for row in rows if not wanted or all(word in words_of(row, columns) for word in wanted)]


def as_columns(rows: Sequence[Ranked], columns: Sequence[Shown]) -> list[Column]:
    """Return the table of the rows."""
    return [Column(one.head, one.head, tuple(one.cell(row) for row in rows), one.goes) for one in columns]


def miss_columns(misses: Sequence[Miss], words: str) -> list[Column]:
    """Return the table of the ways that fail, those that hold every word of a filter, with the reason."""
    wanted = words.lower().split()
    rows = [
        (
            miss.glass.lens.name,
            f"{miss.glass.focal_mm:g}",
            ratio_text(miss.ratio),
            REASONS[miss.reason],
            miss.body.mode.name,
        )
        for miss in misses
    ]
    kept = [row for row in rows if all(word in " ".join(row).lower() for word in wanted)]
    names, focals, ratios, reasons, modes = zip(*kept, strict=True) if kept else ((), (), (), (), ())
    return [
        Column("lens", "lens", names),
        Column("mm", "mm", focals),
        Column("scale", "scale", ratios),
        Column("why", "why it fails", reasons, 1),
        Column("mode", "mode", modes, 2),
    ]
