"""The built model: weight, wind, sway and strength; and, worked out only where it is shown, what the bench cuts."""

import math
from collections.abc import Iterator
from typing import NamedTuple

from forescale.engine.formulas import scale, stand
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import Setting
from forescale.engine.shot.sections import Part
from forescale.engine.shot.sections import Stand as StandSet
from forescale.engine.solve.groups import SpeedAnswer, StandAnswer
from forescale.engine.solve.lens_setup import LensSetup
from forescale.engine.solve.record import Answer
from forescale.engine.solve.scale_lineup import slip_across_mm
from forescale.engine.units import ShopLength, shop_length

MOST_PLACES = 1000  # of a repeated part that are told one by one


def part_weight_kg(part: Part, ratio: float) -> float | None:
    """Return what all of a part weigh on the model; None where its density or a size is not known."""
    wide, deep, tall = part.sizes
    if part.density is None or wide is None or deep is None or tall is None:
        return None
    return part.quantity * stand.weight_kg(wide / ratio, deep / ratio, tall / ratio, part.density, part.solid)


def stand_group(setting: Setting, kit: Kit, setup: LensSetup, speeds: SpeedAnswer) -> StandAnswer | None:
    """Return whether the model stands, of what hangs nothing of its foot; None where nothing is said and none falls."""
    given, ratio = setting.stand, setup.ratio
    hangs = setting.place.mount == "hangs"
    weights = [part_weight_kg(part, ratio) for part in setting.build]
    parts_kg = sum(weight for weight in weights if weight is not None) or None
    if given == StandSet() and parts_kg is None and "falling" not in setting.action.kinds:
        return None
    weight = parts_kg if given.weight is None else given.weight
    held = None if weight is None or hangs else weight + given.ballast
    wind = None if given.area is None or given.gust is None else stand.wind_force_n(given.gust, given.area)
    lee = given.foot_deep / 2 if given.lee is None and given.foot_deep is not None else given.lee
    tips = slides = None  # the gusts at which it would tip and slide
    if given.area is not None and held is not None:
        slides = stand.gust_mm_s(stand.sliding_force_n(held, given.friction), given.area)
        if lee is not None and given.area_height is not None:
            push = stand.tipping_force_n(held, lee, given.area_height)
            tips = math.inf if math.isinf(push) else stand.gust_mm_s(push, given.area)
    stops = None if tips is None or slides is None else min(tips, slides)
    needed = None
    if wind is not None and lee is not None and given.area_height is not None and not hangs:
        needed = stand.held_kg_needed(wind, lee, given.area_height, given.friction)
    sway = None
    if wind is not None and given.pull is not None and given.moves is not None:
        sway = stand.sway_mm(given.moves, given.pull, wind)
    return StandAnswer(
        strength_factor=stand.strength_factor(ratio, given.specific_strength),
        crack_factor=stand.crack_factor(ratio, given.specific_strength),
        parts_weight_kg=parts_kg,
        unweighed=sum(weight is None for weight in weights),
        real_weight_kg=None if parts_kg is None else stand.real_weight_kg(parts_kg, ratio),
        held_kg=held,
        wind_n=wind,
        held_needed_kg=needed,
        ballast_needed_kg=None if needed is None or weight is None else max(needed - weight, 0.0),
        tips_at_mm_s=tips,
        slides_at_mm_s=slides,
        stop_gust_mm_s=stops,
        stop_mean_mm_s=None if stops is None else stops / stand.GUST_OVER_MEAN,
        gust_reads_mm_s=(
            None if given.gust is None else stand.reads_as_wind_mm_s(given.gust, ratio, speeds.time_factor)
        ),
        sway_mm=sway,
        sway_sudden_mm=None if sway is None else 2 * sway,
        sway_allowed_mm=slip_across_mm(setting, kit.mode, kit.lens) * setup.model_mm / setup.image_mm,
        holds=None if stops is None or given.gust is None else given.gust <= stops * (1 + 1e-9),
    )


class Finest(NamedTuple):
    """The finest stock at hand, in mm, and what it reads as at full size."""

    item: str
    size_mm: float
    reads_as_mm: float


class Piece(NamedTuple):
    """A part on the model, in mm and kg, all of its quantity weighed."""

    part: str
    quantity: int
    material: str | None
    wide_mm: float | None
    deep_mm: float | None
    tall_mm: float | None
    weight_kg: float | None
    real_weight_kg: float | None
    pitch_mm: float | None
    pitch_error_mm: float | None  # of the last, were each set one rounded pitch from the last
    too_small: bool  # the shop's step leaves nothing of it
    thicken: Finest | None  # the stock to take then, None where there is none at hand


class Total(NamedTuple):
    """How much of a material the list takes: lengths end to end with a cut after each, faces, weight where known."""

    material: str
    pieces: int
    length_mm: float
    area_m2: float
    weight_kg: float | None


class Cutting(NamedTuple):
    """The pieces, and the totals of each material."""

    pieces: tuple[Piece, ...]
    totals: tuple[Total, ...]


def cutting(answer: Answer) -> Cutting:
    """Return what the bench cuts."""
    parts = answer.setting.build
    names = dict.fromkeys(part.material for part in parts if part.material)
    return Cutting(tuple(_piece(answer, part) for part in parts), tuple(_total(answer, name) for name in names))


def _piece(answer: Answer, part: Part) -> Piece:
    ratio = answer.scale.ratio
    weight, sizes = part_weight_kg(part, ratio), (*part.sizes, part.pitch)
    wide, deep, tall, pitch = (None if size is None else scale.model_length_mm(size, ratio) for size in sizes)
    nothing = _cut(answer, scale.model_length_mm(part.real, ratio)).mm == 0
    weighs = None if weight is None else stand.real_weight_kg(weight, ratio)
    error = None if pitch is None else scale.summed_error_mm(part.quantity, pitch, _cut(answer, pitch).mm)
    named = (part.part, part.quantity, part.material)
    return Piece(*named, wide, deep, tall, weight, weighs, pitch, error, nothing, finest(answer) if nothing else None)


def finest(answer: Answer) -> Finest | None:
    """Return the finest stock at hand."""
    stock = min(answer.scale.stock, key=lambda item: item.size_mm, default=None)
    return stock and Finest(*stock[:3])


def _cut(answer: Answer, mm: float) -> ShopLength:
    return shop_length(mm, answer.scale.rounding)


def _total(answer: Answer, material: str) -> Total:
    ratio, kerf = answer.scale.ratio, answer.setting.scale.kerf
    parts = [part for part in answer.setting.build if part.material == material]
    weights = [part_weight_kg(part, ratio) for part in parts]
    known = [weight for weight in weights if weight is not None]
    face = 0.0
    for part in parts:
        sizes = sorted(size for size in part.sizes if size is not None)
        if len(sizes) == 1 and part.other is not None:
            sizes = sorted([*sizes, part.other])
        if len(sizes) > 1:
            face += part.quantity * (sizes[-1] * sizes[-2] / ratio**2 * 1e-6)
    return Total(
        material,
        pieces=sum(part.quantity for part in parts),
        length_mm=sum(part.quantity * (scale.model_length_mm(part.real, ratio) + kerf) for part in parts),
        area_m2=face,
        weight_kg=sum(known) if len(known) == len(weights) else None,
    )


class Running(NamedTuple):
    """Where repeated parts begin, from one datum: exact in mm, and as the shop cuts each; `last` beyond them too."""

    part: str
    places: tuple[ShopLength, ...]
    more: int
    last: ShopLength


def running(answer: Answer) -> Iterator[Running]:
    """Yield the running dimensions of every part that has a pitch, each rounded on its own."""
    ratio = answer.scale.ratio
    for part in answer.setting.build:
        if part.pitch is not None and part.quantity > 1:
            told = min(part.quantity, MOST_PLACES)
            along = (scale.running_mm(place, part.pitch, ratio) for place in (*range(told), part.quantity - 1))
            *places, last = (_cut(answer, mm) for mm in along)
            yield Running(part.part, tuple(places), part.quantity - told, last)
