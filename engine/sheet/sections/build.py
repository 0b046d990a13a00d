"""The build list: every part at model size, as the shop cuts it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.sheet.blocks import Block, Remark, Row, Section, Table
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.voice import INCH_MM, Voice
from forescale.engine.solve.cutting import Cutting, Piece, cutting, running
from forescale.engine.solve.groups import BuildItem, StockItem
from forescale.engine.units import AREA, WEIGHT, measure_text, number_text, shop_length

MOST_TOLD = 40  # running dimensions on the sheet; the rod of the templates has them all


def section(voice: Voice) -> Section:
    """Return the ratio, the parts and the stock."""
    return Section("Build list", tuple(_blocks(voice)), f"cut to the nearest {voice.of.scale.rounding}")


def _blocks(voice: Voice) -> Iterator[Block]:
    scale = voice.of.scale
    yield Row("Scale", voice.ratio(scale.ratio), voice.to_the_foot(), voice.chosen("scale.ratio"))
    pixel = f"full size {voice.small(scale.detail_real_mm)}"
    yield Row("A pixel covers", voice.small(scale.detail_model_mm), pixel)
    if scale.finest_model_mm is not None and scale.finest_real_mm is not None:
        shown = f"what lens and pixels show; full size {voice.small(scale.finest_real_mm)}"
        yield Row("Finest detail seen", voice.small(scale.finest_model_mm), shown)
    if scale.build:
        cut = cutting(voice.of)
        yield _parts(voice, scale.build)
        yield from _sizes(voice, cut)
        yield from _running(voice)
        yield from _totals(voice, cut)
    if scale.stock:
        yield _stock(voice, scale.stock)
    if scale.compare_ratio is not None:
        yield from _compared(voice, scale.compare_ratio)


def _parts(voice: Voice, build: tuple[BuildItem, ...]) -> Table:
    heads = ("Part", "No.", "Full size", "Model", "Cut to", "Off, at full size", *_other_head(voice))
    return Table(heads, tuple(_part(voice, item) for item in build), frozenset({1}))


def _other_head(voice: Voice) -> tuple[str, ...]:
    """Return the head of the column for a second ratio, where one is compared."""
    other = voice.of.scale.compare_ratio
    return () if other is None else (f"At {voice.ratio(other)}",)


def _part(voice: Voice, item: BuildItem) -> tuple[str, ...]:
    other = () if item.compare_shop is None else (item.compare_shop,)
    return (
        clean(item.part),
        str(item.quantity),
        voice.exactly(item.real_mm),
        exact_text(voice, item.model_mm),
        "too small" if item.shop.split()[0] == "0" else item.shop,
        rounding_text(voice, item.shop_error_real_mm),
        *other,
    )


def exact_text(voice: Voice, mm: float) -> str:
    """Return a model's length before it is rounded for the shop, in decimals of one unit."""
    if voice.imperial:
        return f"{number_text(mm / INCH_MM, max(4, len(str(int(mm / INCH_MM))) + 3))} in"
    return f"{number_text(mm, max(4, len(str(int(mm))) + 2))} mm"


def rounding_text(voice: Voice, error_mm: float) -> str:
    """Return what the rounding is worth at full size, with its sign; nothing under a hundredth of a millimetre."""
    if abs(error_mm) < 0.01:
        return "none"
    return f"{'+' if error_mm > 0 else '-'}{voice.small(abs(error_mm))}"


def _sizes(voice: Voice, cut: Cutting) -> Iterator[Table]:
    """Yield the sizes on the model, the material and the weight of the parts that have any of them."""
    heads = ("Part on the model", "Wide", "Deep", "Tall", "Material", "Weight")
    rows = tuple(_piece(voice, piece) for piece in cut.pieces)
    told = tuple(row for row in rows if any(row[1:]))
    if told:
        yield Table(heads, told)


def _piece(voice: Voice, piece: Piece) -> tuple[str, ...]:
    sizes = (None if mm is None else shop_length(mm, voice.of.scale.rounding).text for mm in _of(piece))
    weight = "" if piece.weight_kg is None else measure_text(piece.weight_kg, WEIGHT, voice.of.system)
    return clean(piece.part), *(size or "" for size in sizes), clean(piece.material or ""), weight


def _of(piece: Piece) -> tuple[float | None, ...]:
    return piece.wide_mm, piece.deep_mm, piece.tall_mm


def _running(voice: Voice) -> Iterator[Remark | Row]:
    """Yield running dimensions, each rounded on its own, and what a rounded pitch would add up to."""
    errors = {piece.part: piece.pitch_error_mm for piece in cutting(voice.of).pieces}
    for found in running(voice.of):
        shown = [place.text for place in found.places[:MOST_TOLD]]
        left = len(found.places) + found.more - len(shown)
        last = f" ... to {found.places[-1].text}, {left} more" if left else ""
        yield Row("Set out from a datum", f"{len(found.places) + found.more} of {clean(found.part)}")
        yield Remark("", ", ".join(shown) + last)
        off = errors[found.part] or 0.0
        if abs(off) >= 0.05:
            where = f"would put the last {voice.small(abs(off))} too {'far' if off > 0 else 'near'}"
            yield Remark("", f"One rounded pitch after another {where}: measure from the datum")


def _totals(voice: Voice, cut: Cutting) -> Iterator[Table]:
    """Yield how much of each material the list takes."""
    if not cut.totals:
        return
    heads = ("Material", "Pieces", "Length in all, kerf counted", "Faces", "Weight")
    system = voice.of.system
    rows = tuple(
        (
            clean(one.material),
            str(one.pieces),
            voice.length(one.length_mm),
            measure_text(one.area_m2, AREA, system) if one.area_m2 else "",
            "" if one.weight_kg is None else measure_text(one.weight_kg, WEIGHT, system),
        )
        for one in cut.totals
    )
    yield Table(heads, rows, frozenset({1}))


def _stock(voice: Voice, stock: tuple[StockItem, ...]) -> Table:
    heads = ("Stock at hand", "Its size", "Reads as, at full size", *_other_head(voice))
    return Table(heads, tuple(_stock_row(voice, item) for item in stock))


def _stock_row(voice: Voice, item: StockItem) -> tuple[str, ...]:
    other = () if item.compare_reads_as_mm is None else (voice.length(item.compare_reads_as_mm),)
    return clean(item.item), voice.fine(item.size_mm), voice.length(item.reads_as_mm), *other


def _compared(voice: Voice, ratio: float) -> Iterator[Row]:
    scale = voice.of.scale
    if scale.compare_match_distance_mm is not None and math.isfinite(scale.compare_match_distance_mm):
        yield Row(f"At {voice.ratio(ratio)}, stand it at", voice.length(scale.compare_match_distance_mm))
    if scale.compare_ideal_fps is not None:
        yield Row(f"At {voice.ratio(ratio)}, run at", voice.rate(scale.compare_ideal_fps), "ideal")
