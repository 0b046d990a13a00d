"""The workings of the scale group, the build list and the stock."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures, listed
from forescale.engine.workings.speed import ideal_rate
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import told

if TYPE_CHECKING:
    from forescale.engine.answer import Answer
    from forescale.engine.solve.groups import BuildItem, StockItem

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
    spread = f"{say.mm(of.kit.mode.pixel_mm)} × {say.from_pupil(of.lineup.model_mm)} / {say.mm(of.setup.image_mm)}"
    return f"{spread} = {value_text('scale.detail_model_mm', of)}"


def _detail_real(of: Answer) -> str:
    say = Figures(of)
    small = say.exact(of.scale.detail_model_mm)
    return f"{small} × {say.number(of.scale.ratio)} = {value_text('scale.detail_real_mm', of)}"


def _finest(of: Answer) -> str:
    say, seen = Figures(of), of.scale.finest_model_mm or 0.0
    lines = of.setup.model_mm / (2 * seen * of.setup.image_mm) if seen else 0.0
    distance, image = say.exact(of.setup.model_mm), say.exact(of.setup.image_mm)
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
    told("scale.ratio", _ratio, on.both(on.full_size, on.always("D and d count from the entrance pupil."))),
    told(
        "scale.inches_per_foot",
        lambda of: f"12 in / {Figures(of).number(of.scale.ratio)} = {value_text('scale.inches_per_foot', of)}",
        on.full_size,
    ),
    told("scale.build.quantity", _parts(lambda _, item: f"as entered, {item.quantity}"), on.entered),
    told("scale.build.real_mm", _parts(lambda say, item: f"as entered, {say.length(item.real_mm)}"), on.full_size),
    told("scale.build.model_mm", _parts(_model), on.full_size),
    told("scale.build.shop", _parts(_cut), _shop),
    told(
        "scale.build.shop_error_real_mm",
        _parts(_cut_error),
        on.both(on.full_size, on.always("A minus sign is a part cut too small.")),
    ),
    told("scale.stock.size_mm", _stocks(lambda say, item: f"as entered, {say.exact(item.size_mm)}"), on.entered),
    told("scale.stock.reads_as_mm", _stocks(_reads_as), on.full_size),
    told("scale.detail_model_mm", _detail, on.both(_pixel, on.picture)),
    told("scale.detail_real_mm", _detail_real, on.both(_pixel, on.full_size)),
    told("scale.finest_model_mm", _finest, on.both(_pixel, on.picture)),
    told("scale.finest_real_mm", _finest_real, on.both(_pixel, on.full_size)),
    told("scale.compare_ratio", lambda of: f"as entered: {value_text('scale.compare_ratio', of)}", on.full_size),
    told("scale.build.compare_shop", _parts(_compare_cut), _shop),
    told(
        "scale.build.compare_shop_error_real_mm",
        _parts(_compare_cut_error),
        on.both(on.full_size, on.always("A minus sign is a part cut too small.")),
    ),
    told("scale.stock.compare_reads_as_mm", _stocks(_compare_reads_as), on.full_size),
    told("scale.compare_match_distance_mm", _compare_match, on.tape),
    told(
        "scale.compare_ideal_fps",
        lambda of: ideal_rate(of, of.scale.compare_ratio or 1.0, "scale.compare_ideal_fps"),
        on.plain,
    ),
)
