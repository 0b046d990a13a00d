"""The columns of the shelves: what stands there, what it is, and whose."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from forescale.engine.kit.library import Shelf
from forescale.engine.kit.profiles import Head, Lens, Mode, Rates
from forescale.engine.shelf.kit_shelf import OnShelf
from forescale.engine.shot.records import Shot
from forescale.engine.units import UnitSystem, length_text, number_text, stop_label
from forescale.tui.tasks.frame.columns import Column

NO_HEAD = "no head"
Cell = Callable[[Any, UnitSystem], str]


def _rates(mode: Mode, _: UnitSystem) -> str:
    lowest = mode.fps.min if isinstance(mode.fps, Rates) else min(mode.fps)
    ends = dict.fromkeys((lowest, mode.top_fps))
    return f"{' to '.join(number_text(end, 6) for end in ends)} fps"


def _frame(mode: Mode, _: UnitSystem) -> str:
    return f"{number_text(mode.width, 4)} × {number_text(mode.height, 4)} mm"


def _iso(mode: Mode, _: UnitSystem) -> str:
    return f"{number_text(mode.iso_base, 7)} to {number_text(mode.iso_max, 7)}"


def _focal(lens: Lens, _: UnitSystem) -> str:
    ends = dict.fromkeys((lens.shortest, lens.longest))
    return f"{' to '.join(number_text(end, 6) for end in ends)} mm"


def _stops(lens: Lens, _: UnitSystem) -> str:
    mark = "T" if lens.marks == "T" else "f/"
    return f"{mark}{stop_label(lens.widest.value)} to {mark}{stop_label(lens.smallest.value)}"


def _slide(head: Head, _: UnitSystem) -> str:
    return f"{number_text(head.slide_min, 6)} to {number_text(head.slide_max, 6)} mm"


# What each shelf shows: a column's head, how soon it goes for want of room, and its cell.
_SHOWN: dict[Shelf, tuple[tuple[str, int, Cell], ...]] = {
    "cameras": (
        ("mode", 0, lambda mode, _: mode.name),
        ("frame", 4, _frame),
        ("pixels", 5, lambda mode, _: f"{mode.width_px} × {mode.height_px}"),
        ("rates", 3, _rates),
        ("ISO", 6, _iso),
    ),
    "lenses": (
        ("focal length", 0, _focal),
        ("stops", 2, _stops),
        ("close focus", 4, lambda lens, system: length_text(lens.close_focus, system, fraction=8)),
        ("pupil", 3, lambda lens, _: f"{len(lens.pupil)} measured" if lens.pupil else "not measured"),
    ),
    "heads": (("slide", 2, _slide), ("sensor at 0", 3, lambda head, _: f"{number_text(head.sensor_at_zero, 6)} mm")),
}


def kit_columns(shelf: Shelf, choices: Sequence[OnShelf], shot: Shot, mark: str) -> list[Column]:
    """Return the columns of one shelf; what the shot is set to has the mark before its name."""
    names = (f"{mark if choice.in_shot(shot) else ' '} {choice.name or NO_HEAD}" for choice in choices)
    columns = [Column("name", "  name", tuple(names))]
    for head, goes, cell in _SHOWN[shelf]:
        columns.append(Column(head, head, tuple(_cell(choice, cell, shot.units) for choice in choices), goes))
    return [*columns, Column("whose", "whose", tuple(choice.whose for choice in choices), goes=1)]


def _cell(choice: OnShelf, cell: Cell, system: UnitSystem) -> str:
    shown = choice.mode if choice.shelf == "cameras" else choice.profile
    return "" if shown is None else cell(shown, system)
