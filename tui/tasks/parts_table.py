"""The columns of the build list and of the stock at hand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from forescale.engine.answer import Answer
from forescale.engine.sheet.sections.build import off_text
from forescale.engine.sheet.voice import Voice
from forescale.engine.units import length_text
from forescale.tui.tasks.frame.columns import Column, fitted


def part_columns(answer: Answer) -> list[Column]:
    """Return the parts: how many, full size, model size and rounding's worth at each scale."""
    voice, scaled = Voice(answer), answer.scale
    columns = [
        Column("name", "part", tuple(item.part for item in scaled.build)),
        Column("quantity", "no.", tuple(str(item.quantity) for item in scaled.build), goes=1),
        Column("size", "full size", tuple(voice.fine(item.real_mm) for item in scaled.build)),
        Column("model", f"at {voice.ratio(scaled.ratio)}", tuple(item.shop for item in scaled.build)),
        Column("off", "off by", _off(answer, (item.shop_error_real_mm for item in scaled.build)), goes=3),
    ]
    if scaled.compare_ratio is None:
        return columns
    shop = tuple(item.compare_shop or "" for item in scaled.build)
    off = _off(answer, (item.compare_shop_error_real_mm or 0.0 for item in scaled.build))
    head = f"at {voice.ratio(scaled.compare_ratio)}"
    return [*columns, Column("compare", head, shop, goes=2), Column("compare_off", "off by", off, goes=4)]


def fitted_lengths(columns: Sequence[Column], width: int) -> list[Column]:
    """Return the columns that a width holds with every length whole; the row in hand is told whole below the table."""
    kept = fitted(columns, width)
    if sum(column.width for column in kept) <= width:
        return kept
    return fitted([column for column in columns if column.id != "size"], width)


def _off(answer: Answer, errors: Iterable[float]) -> tuple[str, ...]:
    return tuple(off_text(Voice(answer), error) or "exact" for error in errors)


def stock_columns(answer: Answer) -> list[Column]:
    """Return the stock: its own size, and what it reads as at each scale."""
    voice, scaled = Voice(answer), answer.scale
    columns = [
        Column("name", "stock at hand", tuple(item.item for item in scaled.stock)),
        Column("size", "size", tuple(length_text(item.size_mm, answer.system, fraction=64) for item in scaled.stock)),
        Column(
            "reads", f"at {voice.ratio(scaled.ratio)}", tuple(voice.fine(item.reads_as_mm) for item in scaled.stock)
        ),
    ]
    if scaled.compare_ratio is None:
        return columns
    other = tuple(voice.fine(item.compare_reads_as_mm or 0.0) for item in scaled.stock)
    return [*columns, Column("compare", f"at {voice.ratio(scaled.compare_ratio)}", other, goes=1)]
