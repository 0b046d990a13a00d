"""The build list and the stock at hand: reading what is typed into them, and what is to be said of them."""

import math
from typing import NamedTuple

from forescale.engine.answer import Answer
from forescale.engine.fields.kinds import Quantity
from forescale.engine.files.faults import read_model
from forescale.engine.findings.words import Words
from forescale.engine.formulas import scale
from forescale.engine.sheet.sections.build import exact_text, weight_shown
from forescale.engine.shot import edit
from forescale.engine.shot.sections import PANS, Part, Rounding, Stock
from forescale.engine.solve.built import part_weight_kg
from forescale.engine.solve.groups import BuildItem, StockItem
from forescale.engine.units import UnitSystem, length_text, number_text, shop_length

ROUNDINGS: tuple[Rounding, ...] = ("1/16 in", "1/32 in", "1/64 in", "0.5 mm", "0.1 mm")
_COUNT = Quantity("number", 1, 100_000, example="12")
_SIZE = edit.number_at(Part, "real")


def next_rounding(rounding: str) -> Rounding:
    """Return the rounding after this one, the first after the last."""
    return ROUNDINGS[(list[str](ROUNDINGS).index(rounding) + 1) % len(ROUNDINGS)]


def read_name(text: str) -> str:
    """Return a name; raises ValueError where nothing is written."""
    name = " ".join(text.split())
    if not name:
        raise ValueError("a name is needed, such as chimney")
    return name


def read_quantity(text: str) -> int:
    """Return how many of a part are built; raises ValueError where that is no whole number of them."""
    count = _COUNT.check(_COUNT.parse(text.strip()), text.strip())
    if count != int(count):
        raise ValueError(f"{number_text(count, 6)} is no whole number; write it like 12")
    return int(count)


def unit_of(system: UnitSystem, *, stock: bool = False) -> str:
    """Return the unit in which a bare full size is read, or a stock's own, which is small."""
    return edit.alone_means(_SIZE, system, edit.SMALL_MM if stock else None)


def read_size(text: str, system: UnitSystem, *, stock: bool = False) -> float:
    """Return a full size, or a stock's, in mm, a bare number read in its one unit; raises ValueError."""
    return _SIZE.read(edit.complete(_SIZE, text, system, edit.SMALL_MM if stock else None))


def new_part(name: str, real_mm: float) -> Part:
    """Return one part of this name and full size; raises BadInput."""
    return read_model(Part, {"part": read_name(name), "real": _SIZE.show(real_mm)}, "part")


def new_stock(name: str, size_mm: float) -> Stock:
    """Return material of this name and size; raises BadInput."""
    return read_model(Stock, {"item": read_name(name), "size": _SIZE.show(size_mm)}, "stock")


class PartCell(NamedTuple):
    """One cell of a row, to be typed into; `column` is "name", "quantity", "size" or, of a part, "model"."""

    answer: Answer
    record: Part | Stock
    column: str

    @property
    def size_mm(self) -> float:
        """The row's size: a part's full size, a stock's own."""
        return self.record.size if isinstance(self.record, Stock) else self.record.real

    @property
    def unit(self) -> str:
        """The unit of a bare number: the shop's for a size on the model; none for a name or a count."""
        if self.column == "model":
            return self.answer.scale.rounding.rpartition(" ")[2]
        return unit_of(self.answer.system, stock=isinstance(self.record, Stock)) if self.column == "size" else ""

    def text(self) -> str:
        """Return what stands in the cell, as an entry that reads back."""
        if self.column == "name":
            return self.record.item if isinstance(self.record, Stock) else self.record.part
        if self.column == "quantity":
            return "" if isinstance(self.record, Stock) else str(self.record.quantity)
        if self.column == "model":
            scaled = self.answer.scale
            return shop_length(scale.model_length_mm(self.size_mm, scaled.ratio), scaled.rounding).text
        return _SIZE.show(self.size_mm, self.answer.system)

    def read(self, text: str) -> str:
        """Return what is understood of an entry; raises ValueError."""
        other, voice = PartCell(self.answer, self.taken(text), self.column), Words(self.answer)
        if self.column in {"name", "quantity"} or isinstance(self.record, Stock):
            return voice.fine(other.size_mm) if self.column == "size" else other.text()
        model_mm = scale.model_length_mm(other.size_mm, self.answer.scale.ratio)
        return f"{voice.fine(other.size_mm)}, {exact_text(voice, model_mm)} on the model"

    def taken(self, text: str) -> Part | Stock:
        """Return the row with what was typed; raises ValueError saying what would be right."""
        stock = isinstance(self.record, Stock)
        system = self.answer.system
        if self.column == "name":
            change: dict[str, object] = {"item" if stock else "part": read_name(text)}
        elif self.column == "quantity":
            change = {"quantity": read_quantity(text)}
        elif self.column == "model":
            real_mm = scale.real_length_mm(_SIZE.parse(text, self.unit, system), self.answer.scale.ratio)
            change = {"real": _SIZE.check(real_mm, None, system)}
        else:
            change = {"size" if stock else "real": read_size(text, system, stock=stock)}
        return self.record.model_copy(update=change)


def wanted_text(answer: Answer, real_mm: float) -> str:
    """Return what stock a thing of this full size needs: exact, as the shop would cut it, the nearest by proportion."""
    voice, scaled = Words(answer), answer.scale
    model_mm = scale.model_length_mm(real_mm, scaled.ratio)
    shop = shop_length(model_mm, scaled.rounding)
    text = f"{voice.fine(real_mm)} is {exact_text(voice, model_mm)} at {voice.ratio(scaled.ratio)}"
    if shop.mm > 0:
        text += f": cut {shop.text}, which reads as {voice.fine(scale.real_length_mm(shop.mm, scaled.ratio))}"
    else:
        text += f", too fine to cut to {scaled.rounding}"
    near = min(scaled.stock, key=lambda item: abs(math.log(item.reads_as_mm / real_mm)), default=None)
    if near is not None:
        size = length_text(near.size_mm, answer.system, fraction=64)
        text += f"; nearest at hand: {size} {near.item}, which reads as {voice.fine(near.reads_as_mm)}"
    return text


def part_text(answer: Answer, item: BuildItem) -> str:
    """Return a part as a sentence: full size, what the shop cuts, what its rounding is worth; and at a second ratio."""
    voice = Words(answer)
    count = f", {item.quantity} of them" if item.quantity > 1 else ""
    first = f"{item.part}{count}: {voice.fine(item.real_mm)} is {item.shop} at {voice.ratio(answer.scale.ratio)}, "
    text = first + _worth(voice, item.shop_error_real_mm)
    second = answer.scale.compare_ratio
    other = item.compare_shop_error_real_mm
    if second is not None and item.compare_shop is not None and other is not None:
        text += f"; {item.compare_shop} at {voice.ratio(second)}, {_worth(voice, other)}"
    return text


def weight_text(answer: Answer, place: int) -> str:
    """Return what a part weighs and what is taken for that, or which sizes it lacks; empty where it has no density."""
    part = answer.setting.build[place]
    weight = part_weight_kg(part, answer.scale.ratio)
    lacking = [name for name in ("wide", "deep", "tall") if getattr(part, name) is None]
    if part.density is None:
        return ""
    if weight is None:
        return f"; not weighed until it is said how {' and how '.join(lacking)} it is"
    taken = f", its full size taken for how {lacking[0]} it is" if lacking else ""
    all_weigh = "it weighs" if part.quantity == 1 else "all of them weigh"
    return f"; {all_weigh} {weight_shown(Words(answer), weight)}{taken}"


def _worth(voice: Words, error_real_mm: float) -> str:
    if abs(error_real_mm) < 0.01:
        return "exactly"
    return f"{voice.small(abs(error_real_mm))} too {'large' if error_real_mm > 0 else 'small'} at full size"


def stock_text(answer: Answer, item: StockItem) -> str:
    """Return a stock as a sentence: what it reads as at full size, and at a second ratio."""
    voice = Words(answer)
    compare = answer.scale.compare_ratio
    size = length_text(item.size_mm, answer.system, fraction=64)
    text = f"{size} {item.item} reads as {voice.fine(item.reads_as_mm)} at {voice.ratio(answer.scale.ratio)}"
    if compare is not None and item.compare_reads_as_mm is not None:
        text += f", {voice.fine(item.compare_reads_as_mm)} at {voice.ratio(compare)}"
    return text


def place_texts(answer: Answer) -> tuple[str, ...]:
    """Return what this place and lens ask of the build: finest detail, frame, cover, and what a second ratio needs."""
    voice, scaled, lined = Words(answer), answer.scale, answer.lineup
    seen = scaled.finest_model_mm or scaled.detail_model_mm
    real = scaled.finest_real_mm or scaled.detail_real_mm
    fine = f"{voice.small(seen)} on the model, {voice.small(real)} at full size"
    frame = f"{voice.length(lined.frame_width_model_mm)} × {voice.length(lined.frame_height_model_mm)}"
    if answer.setting.place.fills == "frame" and (axis := answer.setting.move.axis) != "none":
        cover, way = (lined.cover_width_mm, "across") if axis in PANS else (lined.cover_height_mm, "up and down")
        if cover is None:
            frame += f"; the {axis} goes past 85 deg, which no flat model covers"
        else:
            frame += f"; over the {axis} it must cover {voice.length(cover)} {way}"
    texts = (f"What is seen is {fine}: finer need not be built", f"Frame at the model {frame}")
    return texts if scaled.compare_ratio is None else (*texts, _second(answer, scaled.compare_ratio))


def _second(answer: Answer, ratio: float) -> str:
    voice, scaled, run = Words(answer), answer.scale, answer.speed
    other, ideal = scaled.compare_match_distance_mm, scaled.compare_ideal_fps
    match = answer.lineup.match_distance_mm
    stands = "may stand anywhere" if other is None or math.isinf(other) else f"would stand at {voice.length(other)}"
    needs = "" if ideal is None else f" and need {voice.rate(ideal)}"
    top = f" (the mode's top is {voice.rate(run.top_fps)})" if ideal is not None and ideal > run.top_fps else ""
    at = "any distance" if math.isinf(match) else voice.length(match)
    as_set = f"{voice.ratio(scaled.ratio)} stands at {at} and needs {voice.rate(run.ideal_fps)}"
    return f"{voice.ratio(ratio)} {stands}{needs}{top}; {as_set}"
