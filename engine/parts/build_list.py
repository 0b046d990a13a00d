"""The build list and the stock at hand: reading what is typed into them, and what is to be said of them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from forescale.engine import units
from forescale.engine.answer import Answer
from forescale.engine.fields.kinds import Quantity
from forescale.engine.files.faults import read_model
from forescale.engine.formulas import scale
from forescale.engine.sheet.sections.build import exact_text
from forescale.engine.sheet.voice import Voice
from forescale.engine.shot import edit
from forescale.engine.shot.records import PANS, Part, Rounding, Stock
from forescale.engine.solve.groups import BuildItem, StockItem
from forescale.engine.units import UnitSystem, number_text, parse_length, shop_length

ROUNDINGS: tuple[Rounding, ...] = ("1/16 in", "1/32 in", "1/64 in", "0.5 mm", "0.1 mm")
MOST_PARTS = 100_000


def next_rounding(rounding: str) -> Rounding:
    """Return the rounding after this one, the first after the last."""
    return ROUNDINGS[(list[str](ROUNDINGS).index(rounding) + 1) % len(ROUNDINGS)]


# What is typed


def read_name(text: str) -> str:
    """Return a name; raises ValueError where nothing is written."""
    name = " ".join(text.split())
    if not name:
        raise ValueError("a name is needed, such as chimney")
    return name


def read_quantity(text: str) -> int:
    """Return how many of a part are built; raises ValueError where that is no whole number of them."""
    count = units.parse_number(text)
    if count != int(count) or not 1 <= count <= MOST_PARTS:
        raise ValueError(f"{number_text(count, 6)} is out of range: a whole number from 1 to {MOST_PARTS}")
    return int(count)


def read_size(text: str, system: UnitSystem, shown_mm: float | None) -> float:
    """Return a size in mm, a bare number read in the unit shown; raises ValueError."""
    quantity = _size()
    return quantity.read(edit.complete(quantity, text, system, shown_mm))


def _read_model_size(text: str, answer: Answer) -> float:
    """Return the full size in mm of a part whose size on the model is typed, bare in the shop's unit."""
    model_mm = parse_length(text, answer.scale.rounding.rpartition(" ")[2])
    return _size().check(scale.real_length_mm(model_mm, answer.scale.ratio))


def _size() -> Quantity:
    quantity = edit.quantity_of(Part, "real")
    assert quantity is not None
    return quantity


def new_part(name: str, real_mm: float) -> Part:
    """Return one part of this name and full size; raises BadInput."""
    return read_model(Part, {"part": read_name(name), "real": _size().show(real_mm)}, "part")


def new_stock(name: str, size_mm: float) -> Stock:
    """Return material of this name and size; raises BadInput."""
    return read_model(Stock, {"item": read_name(name), "size": _size().show(size_mm)}, "stock")


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of a row, to be typed into; `column` is "name", "quantity", "size" or, of a part, "model"."""

    answer: Answer
    record: Part | Stock
    column: str

    @property
    def size_mm(self) -> float:
        """The row's size: a part's full size, a stock's own."""
        return self.record.size if isinstance(self.record, Stock) else self.record.real

    def text(self) -> str:
        """Return what stands in the cell, as an entry that reads back."""
        match self.column:
            case "name":
                return self.record.item if isinstance(self.record, Stock) else self.record.part
            case "quantity":
                return "" if isinstance(self.record, Stock) else str(self.record.quantity)
            case "model":
                return shop_length(self._model_mm(self.size_mm), _rounding(self.answer)).text
            case _:
                return _size().show(self.size_mm, self.answer.system)

    def read(self, text: str) -> str:
        """Return what is understood of an entry; raises ValueError."""
        other = Cell(self.answer, self.taken(text), self.column)
        if self.column in {"name", "quantity"} or isinstance(self.record, Stock):
            return Voice(self.answer).fine(other.size_mm) if self.column == "size" else other.text()
        voice = Voice(self.answer)
        return f"{voice.fine(other.size_mm)}, {exact_text(voice, self._model_mm(other.size_mm))} on the model"

    def taken(self, text: str) -> Part | Stock:
        """Return the row with what was typed; raises ValueError saying what would be right."""
        stock = isinstance(self.record, Stock)
        match self.column:
            case "name":
                change: dict[str, object] = {"item" if stock else "part": read_name(text)}
            case "quantity":
                change = {"quantity": read_quantity(text)}
            case "model":
                change = {"real": _read_model_size(text, self.answer)}
            case _:
                size = read_size(text, self.answer.system, self.size_mm)
                change = {"size" if stock else "real": size}
        return self.record.model_copy(update=change)

    def _model_mm(self, real_mm: float) -> float:
        return scale.model_length_mm(real_mm, self.answer.scale.ratio)


# What is said


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a full size asks of the stock: its exact size on the model, and the nearest that is at hand."""

    real_mm: float
    model_mm: float
    nearest: StockItem | None


def wanted(answer: Answer, real_mm: float) -> Wanted:
    """Return what stock a thing of this full size needs, nearness taken as a proportion."""
    nearest = min(answer.scale.stock, key=lambda item: abs(math.log(item.reads_as_mm / real_mm)), default=None)
    return Wanted(real_mm, scale.model_length_mm(real_mm, answer.scale.ratio), nearest)


def wanted_text(answer: Answer, want: Wanted) -> str:
    """Return it as a sentence: the exact size, what the shop would cut, and the nearest at hand."""
    voice, ratio = Voice(answer), answer.scale.ratio
    shop = shop_length(want.model_mm, _rounding(answer))
    text = f"{voice.fine(want.real_mm)} is {exact_text(voice, want.model_mm)} at {voice.ratio(ratio)}"
    if shop.mm > 0:
        text += f": cut {shop.text}, which reads as {voice.fine(scale.real_length_mm(shop.mm, ratio))}"
    else:
        text += f", too fine to cut to {answer.scale.rounding}"
    if want.nearest is not None:
        near = want.nearest
        size = _stock_size(near.size_mm, answer)
        text += f"; nearest at hand: {size} {near.item}, which reads as {voice.fine(near.reads_as_mm)}"
    return text


def _rounding(answer: Answer) -> Rounding:
    return next(rounding for rounding in ROUNDINGS if rounding == answer.scale.rounding)


def _stock_size(mm: float, answer: Answer) -> str:
    return units.length_text(mm, answer.system, fraction=64)


def off_text(answer: Answer, error_real_mm: float) -> str:
    """Return what a rounding is worth at full size, for a cell: "exact", "+1 1/2 in" where cut too large."""
    if abs(error_real_mm) < 0.01:
        return "exact"
    return f"{'+' if error_real_mm > 0 else '-'}{Voice(answer).small(abs(error_real_mm))}"


def part_text(answer: Answer, item: BuildItem) -> str:
    """Return a part as a sentence: full size, what the shop cuts, what its rounding is worth; and at a second ratio."""
    voice, compare = Voice(answer), answer.scale.compare_ratio
    count = f", {item.quantity} of them" if item.quantity > 1 else ""
    first = f"{item.part}{count}: {voice.fine(item.real_mm)} is {item.shop} at {voice.ratio(answer.scale.ratio)}, "
    text = first + _worth(voice, item.shop_error_real_mm)
    if compare is not None and item.compare_shop is not None and item.compare_shop_error_real_mm is not None:
        text += f"; {item.compare_shop} at {voice.ratio(compare)}, {_worth(voice, item.compare_shop_error_real_mm)}"
    return text


def _worth(voice: Voice, error_real_mm: float) -> str:
    if abs(error_real_mm) < 0.01:
        return "exactly"
    size = "large" if error_real_mm > 0 else "small"
    return f"{voice.small(abs(error_real_mm))} too {size} at full size"


def stock_text(answer: Answer, item: StockItem) -> str:
    """Return a stock as a sentence: what it reads as at full size, and at a second ratio."""
    voice, compare = Voice(answer), answer.scale.compare_ratio
    reads = f"{voice.fine(item.reads_as_mm)} at {voice.ratio(answer.scale.ratio)}"
    text = f"{_stock_size(item.size_mm, answer)} {item.item} reads as {reads}"
    if compare is not None and item.compare_reads_as_mm is not None:
        text += f", {voice.fine(item.compare_reads_as_mm)} at {voice.ratio(compare)}"
    return text


def place_texts(answer: Answer) -> tuple[str, ...]:
    """Return what this place and lens ask of the build: finest detail, frame, cover, and what a second ratio needs."""
    voice, scaled, lined = Voice(answer), answer.scale, answer.lineup
    seen, real = scaled.finest_model_mm or scaled.detail_model_mm, scaled.finest_real_mm or scaled.detail_real_mm
    fine = f"{voice.small(seen)} on the model, {voice.small(real)} at full size"
    frame = f"{voice.length(lined.frame_width_model_mm)} × {voice.length(lined.frame_height_model_mm)}"
    texts = [f"What is seen is {fine}: finer need not be built", f"Frame at the model {frame}{_cover(answer)}"]
    if scaled.compare_ratio is not None:
        texts.append(_second(answer, scaled.compare_ratio))
    return tuple(texts)


def _cover(answer: Answer) -> str:
    lined, axis = answer.lineup, answer.setting.move.axis
    if axis == "none" or answer.setting.place.fills != "frame":
        return ""
    cover = lined.cover_width_mm if axis in PANS else lined.cover_height_mm
    way = "across" if axis in PANS else "up and down"
    if cover is None:
        return f"; the {axis} goes past 85°, which no flat model covers"
    return f"; over the {axis} it must cover {Voice(answer).length(cover)} {way}"


def _second(answer: Answer, ratio: float) -> str:
    voice, scaled, run = Voice(answer), answer.scale, answer.speed
    match, ideal = scaled.compare_match_distance_mm, scaled.compare_ideal_fps
    stands = "may stand anywhere" if match is None or math.isinf(match) else f"would stand at {voice.length(match)}"
    needs = "" if ideal is None else f" and need {voice.rate(ideal)}"
    top = f" (the mode's top is {voice.rate(run.top_fps)})" if ideal is not None and ideal > run.top_fps else ""
    as_set = f"{voice.ratio(scaled.ratio)} stands at {_match(answer)} and needs {voice.rate(run.ideal_fps)}"
    return f"{voice.ratio(ratio)} {stands}{needs}{top}; {as_set}"


def _match(answer: Answer) -> str:
    match = answer.lineup.match_distance_mm
    return "any distance" if math.isinf(match) else Voice(answer).length(match)
