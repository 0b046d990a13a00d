"""Reading a slip reading as it is typed, and writing it out."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Literal

from forescale.engine import units
from forescale.engine.fields.kinds import Quantity
from forescale.engine.files.faults import read_model
from forescale.engine.kit.profiles import Head
from forescale.engine.kit.slide_scale import scale_of
from forescale.engine.shot import edit
from forescale.engine.shot.records import BenchRow, Seen
from forescale.engine.units import EntryError, UnitSystem, number_text

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

Way = Literal["pixels", "tape", "eye"]

_SEEN: dict[str, Seen] = {"outruns": "outruns", "lags": "lags", "locked": "locked"}
_SIGNS: dict[str, Seen] = {"+": "outruns", "-": "lags", "−": "lags", "0": "locked", "=": "locked"}
TAKEN_WITH = ("camera", "mode", "lens", "focal_length", "focus", "head", "axis", "sweep", "model", "background", "aim")
_USUAL_MM = 100.0  # a length that people read in inches or in mm, as slips on a tape are


def way_of(row: BenchRow) -> Way:
    """Return how a reading was taken."""
    if row.slip_px is not None:
        return "pixels"
    return "tape" if row.slip_at_background is not None else "eye"


def read_slide(text: str, head: Head | None, system: UnitSystem) -> float:
    """Return a slide reading in mm, bare numbers as the slide is marked; ValueError where it is off the slide."""
    quantity, scale = _quantity("slide"), scale_of(head, system)
    slide = quantity.read(edit.complete(quantity, scale.with_unit(text), "metric"))
    if head is not None and not head.slide_min - 1e-9 <= slide <= head.slide_max + 1e-9:
        raise ValueError(f"{scale.mark(slide)} is off the slide of {head.name}, which runs {scale.range(head)}")
    return slide


def read_slip(text: str, way: Way, system: UnitSystem) -> dict[str, Any]:
    """Return the field of a reading that an entry stands for, as a file would hold it.

    A bare number is read in the way chosen; one with "px" or a unit of length, and a word, say the way themselves.
    Raises ValueError (EntryError is one) saying what would be right.
    """
    typed = " ".join(text.casefold().split())
    if seen := _seen(typed, way):
        return {"seen": seen}
    if typed.endswith("px"):
        return {"slip_px": _pixels(typed.removesuffix("px"))}
    if way == "pixels" and _has_no_unit(typed):
        return {"slip_px": _pixels(typed)}
    if way == "pixels" and typed.isalpha():
        raise ValueError(
            f'"{text.strip()}" is no slip: write pixels as in -3.5, a tape\'s 4 in, or outruns, lags, locked'
        )
    if way == "eye" and (_is_number(typed) or typed.isalpha()):
        raise ValueError(f'"{text.strip()}" is not what the eye sees: write outruns, lags or locked, or +, - or 0')
    quantity = _quantity("slip_at_background")
    return {"slip_at_background": edit.complete(quantity, text, system, _USUAL_MM)}


def _seen(typed: str, way: Way) -> Seen | None:
    """Return what the eye saw for its sign, or for a word or the beginning of one that no other word has."""
    if way == "eye" and typed in _SIGNS:
        return _SIGNS[typed]
    meant = [seen for word, seen in _SEEN.items() if typed and word.startswith(typed)]
    return meant[0] if len(meant) == 1 else None


def _has_no_unit(text: str) -> bool:
    return not any(sign.isalpha() or sign in "'\"′″’”" for sign in text)


def _is_number(text: str) -> bool:
    try:
        units.parse_number(text)
    except EntryError:
        return False
    return True


def _pixels(text: str) -> float:
    return _quantity("slip_px").check(units.parse_number(text))


def new_row(slide_mm: float, slip: dict[str, Any], own: Mapping[str, Any] | None = None) -> BenchRow:
    """Return a reading taken with the kit that the shot has, and as the shot is but for its `own`; raises BadInput."""
    row = read_model(BenchRow, {"slide": _quantity("slide").show(slide_mm), **slip}, "bench")
    return row.model_copy(update=dict(own or {}))


def noted(rows: tuple[BenchRow, ...], of: Answer) -> tuple[BenchRow, ...]:
    """Return readings that say themselves how they were taken, before kit, move or place become others."""
    kit, move = of.kit, of.setting.move
    taken_with: dict[str, Any] = {"camera": kit.camera.name, "mode": kit.mode.name, "lens": kit.lens.name}
    taken_with |= {"focal_length": kit.focal_mm, "focus": of.focus.focus_mm, "aim": of.setting.place.aim}
    taken_with |= {"model": of.lineup.model_mm, "background": of.setting.place.background}
    if kit.head is not None:
        taken_with["head"] = kit.head.name
    if move.axis != "none" and move.sweep > 0:
        taken_with |= {"axis": move.axis, "sweep": move.sweep}
    return tuple(
        row.model_copy(update={name: now for name, now in taken_with.items() if getattr(row, name) is None})
        for row in rows
    )


def as_now(rows: tuple[BenchRow, ...]) -> tuple[BenchRow, ...]:
    """Return readings that count as taken with whatever the shot has."""
    return tuple(row.model_copy(update=dict.fromkeys(TAKEN_WITH)) for row in rows)


def _quantity(name: str) -> Quantity:
    quantity = edit.quantity_of(BenchRow, name)
    assert quantity is not None
    return quantity


def slip_text(row: BenchRow, system: UnitSystem) -> str:
    """Return a slip as an entry that reads back as the same."""
    if row.slip_px is not None:
        return f"{_quantity('slip_px').show(row.slip_px)} px"
    if row.slip_at_background is not None:
        return _quantity("slip_at_background").show(row.slip_at_background, system)
    return str(row.seen)


def shown_slip(row: BenchRow, system: UnitSystem) -> str:
    """Return a slip as people read it, signed."""
    if row.slip_px is not None:
        return f"{'+' if row.slip_px > 0 else ''}{number_text(row.slip_px, 5)} px"
    if row.slip_at_background is not None:
        length = units.length_text(row.slip_at_background, system, fraction=32)
        return f"{'+' if row.slip_at_background > 0 else ''}{length} tape"
    return str(row.seen)


def in_words(row: BenchRow, system: UnitSystem) -> str:
    """Return what a slip says: how far, and which way the near target went against the far one."""
    if row.seen is not None:
        return {
            "outruns": "by eye: the near target outran the far one",
            "lags": "by eye: the near target lagged behind the far one",
            "locked": "by eye: the two stayed together",
        }[row.seen]
    value = row.slip_px if row.slip_px is not None else row.slip_at_background or 0.0
    went = "the two stayed together" if value == 0 else f"the near target {'outran' if value > 0 else 'lagged behind'}"
    if row.slip_px is not None:
        return f"{number_text(math.fabs(value), 5)} px: {went}"
    return f"{units.length_text(math.fabs(value), system, fraction=32)} on the tape at the background: {went}"
