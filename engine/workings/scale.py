"""The workings of the scale group, the build list and the stock."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures, listed
from forescale.engine.workings.speed import FROUDE, ideal_rate
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import DEFINITION, PRACTICE, Working

if TYPE_CHECKING:
    from forescale.engine.answer import Answer
    from forescale.engine.solve.groups import BuildItem, StockItem

_NEEDS_PART = "add a part to the build list"
_NEEDS_STOCK = "add a stock at hand"
_NEEDS_OTHER = "enter a second ratio to compare"
_shop = on.always("Rounded to the shop's step; a half step goes down, so that a part is never cut too long.")
_pixel = on.always("One pixel at the model's match plane. A squeezed picture is coarser across.")


def _ratio(of: Answer) -> str:
    chosen, place = value_text("scale.ratio", of), of.setting.place
    if "scale.ratio" not in of.auto:
        return f"set to {chosen}"
    if place.model is not None and math.isfinite(place.background):
        asked = value_text("lineup.reads_as_ratio", of)
        return f"the taped places ask for {asked}, and the customary ratio nearest to it is {chosen}"
    served = value_text("speed.largest_ratio", of)
    return f"the top rate serves {served} at most; the largest customary S within it and in focus: {chosen}"


def _compare_match(of: Answer) -> str:
    say = Figures(of)
    place = f"{say.from_pupil(of.lineup.seems_mm)} / {say.number(of.scale.compare_ratio or 1.0)}{say.to_tape()}"
    return f"{place} = {value_text('scale.compare_match_distance_mm', of)}"


def _detail(of: Answer) -> str:
    say = Figures(of)
    spread = f"{say.mm(of.kit.mode.pixel_mm)} × {say.from_pupil(of.lineup.model_mm)} / {say.mm(of.sight.image_mm)}"
    return f"{spread} = {value_text('scale.detail_model_mm', of)}"


def _detail_real(of: Answer) -> str:
    say = Figures(of)
    small = say.exact(of.scale.detail_model_mm)
    return f"{small} × {say.number(of.scale.ratio)} = {value_text('scale.detail_real_mm', of)}"


def _finest(of: Answer) -> str:
    say, seen = Figures(of), of.scale.finest_model_mm or 0.0
    lines = of.sight.model_mm / (2 * seen * of.sight.image_mm) if seen else 0.0
    distance, image = say.exact(of.sight.model_mm), say.exact(of.sight.image_mm)
    told = value_text("scale.finest_model_mm", of)
    return f"{distance} / (2 × {say.number(lines)} line pairs/mm × {image}) = {told}"


def _finest_real(of: Answer) -> str:
    say = Figures(of)
    small = say.exact(of.scale.finest_model_mm or 0.0)
    return f"{small} × {say.number(of.scale.ratio)} = {value_text('scale.finest_real_mm', of)}"


def _parts(write: Callable[[Figures, BuildItem], str]) -> Callable[[Answer], str]:
    """Return what puts in the first few parts, each after its name."""
    return lambda of: listed([f"{item.part}: {write(Figures(of), item)}" for item in of.scale.build])


def _stocks(write: Callable[[Figures, StockItem], str]) -> Callable[[Answer], str]:
    return lambda of: listed([f"{item.item}: {write(Figures(of), item)}" for item in of.scale.stock])


def _model(say: Figures, item: BuildItem) -> str:
    return f"{say.length(item.real_mm)} / {say.number(say.of.scale.ratio)} = {say.exact(item.model_mm)}"


def _cut(say: Figures, item: BuildItem) -> str:
    return f"{say.exact(item.model_mm)} to the nearest {say.of.scale.rounding}, {item.shop}"


def _cut_error(say: Figures, item: BuildItem) -> str:
    off = f"({item.shop} − {say.exact(item.model_mm)}) × {say.number(say.of.scale.ratio)}"
    return f"{off} = {say.small(item.shop_error_real_mm)}"


def _compare_cut(say: Figures, item: BuildItem) -> str:
    other = say.number(say.of.scale.compare_ratio or 1.0)
    return f"{say.length(item.real_mm)} / {other} to the nearest {say.of.scale.rounding}, {item.compare_shop}"


def _compare_cut_error(say: Figures, item: BuildItem) -> str:
    ratio = say.of.scale.compare_ratio or 1.0
    off = f"({item.compare_shop} − {say.exact(item.real_mm / ratio)}) × {say.number(ratio)}"
    return f"{off} = {say.small(item.compare_shop_error_real_mm or 0.0)}"


def _reads_as(say: Figures, item: StockItem) -> str:
    return f"{say.exact(item.size_mm)} × {say.number(say.of.scale.ratio)} = {say.length(item.reads_as_mm)}"


def _compare_reads_as(say: Figures, item: StockItem) -> str:
    other = say.number(say.of.scale.compare_ratio or 1.0)
    return f"{say.exact(item.size_mm)} × {other} = {say.length(item.compare_reads_as_mm or 0.0)}"


WORKINGS = (
    Working(
        key="scale.ratio",
        name="scale ratio",
        meaning="How many times smaller than the real thing the model is built.",
        formula="1:S; left open, the customary ratio nearest to D/d, or the largest S that the top rate serves",
        put_in=_ratio,
        conventions=on.both(on.full_size, on.always("D and d count from the entrance pupil.")),
        leads_to=("scale.inches_per_foot", "scale.build.model_mm", "lineup.match_distance_mm", "speed.ideal_fps"),
        source="ISO 5455:1979 for the metric ratios; architect's and modelling scales: common practice, no source",
    ),
    Working(
        key="scale.inches_per_foot",
        name="inches to foot",
        meaning="The same ratio as a shop says it: how many inches on the model stand for a foot.",
        formula="12 / S",
        put_in=lambda of: f"12 in / {Figures(of).number(of.scale.ratio)} = {value_text('scale.inches_per_foot', of)}",
        conventions=on.full_size,
        leads_to=(),
        source=DEFINITION,
    ),
    Working(
        key="scale.build.quantity",
        name="pieces",
        meaning="How many of a part are to be built.",
        formula="as entered",
        put_in=_parts(lambda _, item: f"as entered, {item.quantity}"),
        conventions=on.entered,
        leads_to=(),
        source=DEFINITION,
        needs=_NEEDS_PART,
    ),
    Working(
        key="scale.build.real_mm",
        name="real size",
        meaning="The size of a part in the real place.",
        formula="as entered",
        put_in=_parts(lambda say, item: f"as entered, {say.length(item.real_mm)}"),
        conventions=on.full_size,
        leads_to=("scale.build.model_mm",),
        source=DEFINITION,
        needs=_NEEDS_PART,
    ),
    Working(
        key="scale.build.model_mm",
        name="model size",
        meaning="The size that a part has on the model, before the shop rounds it.",
        formula="real / S",
        put_in=_parts(_model),
        conventions=on.full_size,
        leads_to=("scale.build.shop", "scale.build.shop_error_real_mm"),
        source=DEFINITION,
        needs=_NEEDS_PART,
    ),
    Working(
        key="scale.build.shop",
        name="shop size",
        meaning="The size that the shop cuts a part to.",
        formula="model size to the nearest step of the shop",
        put_in=_parts(_cut),
        conventions=_shop,
        leads_to=("scale.build.shop_error_real_mm",),
        source=PRACTICE,
        needs=_NEEDS_PART,
    ),
    Working(
        key="scale.build.shop_error_real_mm",
        name="rounding's cost",
        meaning="What the shop's rounding is worth at full size.",
        formula="(shop size − model size) · S",
        put_in=_parts(_cut_error),
        conventions=on.both(on.full_size, on.always("A minus sign is a part cut too small.")),
        leads_to=(),
        source=DEFINITION,
        needs=_NEEDS_PART,
    ),
    Working(
        key="scale.stock.size_mm",
        name="stock size",
        meaning="The thickness or width of material at hand.",
        formula="as entered",
        put_in=_stocks(lambda say, item: f"as entered, {say.exact(item.size_mm)}"),
        conventions=on.entered,
        leads_to=("scale.stock.reads_as_mm",),
        source=DEFINITION,
        needs=_NEEDS_STOCK,
    ),
    Working(
        key="scale.stock.reads_as_mm",
        name="stock reads as",
        meaning="What a stock at hand stands for at full size.",
        formula="size · S",
        put_in=_stocks(_reads_as),
        conventions=on.full_size,
        leads_to=(),
        source=DEFINITION,
        needs=_NEEDS_STOCK,
    ),
    Working(
        key="scale.detail_model_mm",
        name="finest on model",
        meaning="What one pixel covers at the model: the finest detail that the picture can show.",
        formula="p·d/v",
        put_in=_detail,
        conventions=on.both(_pixel, on.picture),
        leads_to=("scale.detail_real_mm",),
        source="perspective of a pinhole at the entrance pupil",
    ),
    Working(
        key="scale.detail_real_mm",
        name="finest full size",
        meaning="The same pixel at full size.",
        formula="p·d/v · S",
        put_in=_detail_real,
        conventions=on.both(_pixel, on.full_size),
        leads_to=(),
        source="perspective of a pinhole at the entrance pupil",
    ),
    Working(
        key="scale.finest_model_mm",
        name="finest seen",
        meaning="The finest line on the model that lens and pixels still show; what is finer need not be built.",
        formula="d / (2·q·v), q the first frequency whose contrast, a pixel counted, falls to 10 %, 1/(2p) at most",
        put_in=_finest,
        conventions=on.both(_pixel, on.picture),
        leads_to=("scale.finest_real_mm",),
        source="H. H. Hopkins, Proc. R. Soc. A 231 (1955); 10 % is common practice, no source",
    ),
    Working(
        key="scale.finest_real_mm",
        name="finest in real",
        meaning="The same line at full size: what is finer in the real place may be left off the model.",
        formula="finest seen · S",
        put_in=_finest_real,
        conventions=on.both(_pixel, on.full_size),
        leads_to=(),
        source="H. H. Hopkins, Proc. R. Soc. A 231 (1955); 10 % is common practice, no source",
    ),
    Working(
        key="scale.compare_ratio",
        name="second ratio",
        meaning="Another ratio to hold beside the one in use.",
        formula="as entered",
        put_in=lambda of: f"as entered: {value_text('scale.compare_ratio', of)}",
        conventions=on.full_size,
        leads_to=(
            "scale.build.compare_shop",
            "scale.build.compare_shop_error_real_mm",
            "scale.stock.compare_reads_as_mm",
            "scale.compare_match_distance_mm",
            "scale.compare_ideal_fps",
        ),
        source=DEFINITION,
        needs=_NEEDS_OTHER,
    ),
    Working(
        key="scale.build.compare_shop",
        name="shop, 2nd ratio",
        meaning="The size that the shop would cut a part to at the second ratio.",
        formula="real / second S, to the nearest step of the shop",
        put_in=_parts(_compare_cut),
        conventions=_shop,
        leads_to=("scale.build.compare_shop_error_real_mm",),
        source=PRACTICE,
        needs=f"{_NEEDS_OTHER}, and {_NEEDS_PART}",
    ),
    Working(
        key="scale.build.compare_shop_error_real_mm",
        name="rounding, 2nd",
        meaning="What the shop's rounding is worth at full size at the second ratio.",
        formula="(second shop size − real / second S) · second S",
        put_in=_parts(_compare_cut_error),
        conventions=on.both(on.full_size, on.always("A minus sign is a part cut too small.")),
        leads_to=(),
        source=DEFINITION,
        needs=f"{_NEEDS_OTHER}, and {_NEEDS_PART}",
    ),
    Working(
        key="scale.stock.compare_reads_as_mm",
        name="stock, 2nd ratio",
        meaning="What a stock at hand would stand for at the second ratio.",
        formula="size · second S",
        put_in=_stocks(_compare_reads_as),
        conventions=on.full_size,
        leads_to=(),
        source=DEFINITION,
        needs=f"{_NEEDS_OTHER}, and {_NEEDS_STOCK}",
    ),
    Working(
        key="scale.compare_match_distance_mm",
        name="place, 2nd ratio",
        meaning="Where a model of the second ratio would stand to match the background.",
        formula="D / second S",
        put_in=_compare_match,
        conventions=on.tape,
        leads_to=(),
        source="a shrink about the entrance pupil: perspective of a pinhole",
        needs=_NEEDS_OTHER,
    ),
    Working(
        key="scale.compare_ideal_fps",
        name="rate, 2nd ratio",
        meaning="The ideal frame rate at the second ratio.",
        formula="playback × √(second S) × heft",
        put_in=lambda of: ideal_rate(of, of.scale.compare_ratio or 1.0, "scale.compare_ideal_fps"),
        conventions=on.plain,
        leads_to=(),
        source=FROUDE,
        needs=_NEEDS_OTHER,
    ),
)
