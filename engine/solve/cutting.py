"""What the bench cuts: the sizes of each part, running dimensions, what is too small, and how much of each material.

Worked out only where it is shown.
"""

from collections.abc import Iterator
from typing import NamedTuple

from forescale.engine.formulas import scale, stand
from forescale.engine.shot.sections import Part
from forescale.engine.solve.record import Answer
from forescale.engine.solve.stand_group import part_weight_kg
from forescale.engine.units import ShopLength, shop_length

MOST_PLACES = 1000  # of a repeated part that are told one by one


class Finest(NamedTuple):
    """The finest stock at hand, in mm, and what it reads as at full size."""

    item: str
    size_mm: float
    reads_as_mm: float


class Piece(NamedTuple):
    """A part on the model, in mm and kg, all of its quantity weighed.

    `pitch_error_mm` is how far off the last would stand if each were set one rounded pitch from the last; `thicken` the
    stock to take where the shop's step would leave nothing of it, None where there is none at hand.
    """

    part: str
    quantity: int
    material: str | None
    wide_mm: float | None
    deep_mm: float | None
    tall_mm: float | None
    weight_kg: float | None
    real_weight_kg: float | None
    pitch_mm: float | None
    pitch_error_mm: float | None
    too_small: bool
    thicken: Finest | None


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
    weight = part_weight_kg(part, ratio)
    wide, deep, tall, pitch = (
        None if size is None else scale.model_length_mm(size, ratio)
        for size in (part.wide, part.deep, part.tall, part.pitch)
    )
    nothing = _cut(answer, scale.model_length_mm(part.real, ratio)).mm == 0
    weighs = None if weight is None else stand.real_weight_kg(weight, ratio)
    error = None if pitch is None else scale.summed_error_mm(part.quantity, pitch, _cut(answer, pitch).mm)
    named, sizes = (part.part, part.quantity, part.material), (wide, deep, tall)
    return Piece(*named, *sizes, weight, weighs, pitch, error, nothing, finest(answer) if nothing else None)


def finest(answer: Answer) -> Finest | None:
    """Return the finest stock at hand."""
    stock = min(answer.scale.stock, key=lambda item: item.size_mm, default=None)
    return stock and Finest(*stock[:3])


def _cut(answer: Answer, mm: float) -> ShopLength:
    return shop_length(mm, answer.scale.rounding)


def _total(answer: Answer, material: str) -> Total:
    parts, ratio = [part for part in answer.setting.build if part.material == material], answer.scale.ratio
    kerf, weights, face = answer.setting.scale.kerf, [part_weight_kg(part, ratio) for part in parts], 0.0
    known = [weight for weight in weights if weight is not None]
    for part in parts:
        sizes = sorted(size for size in (part.wide, part.deep, part.tall) if size is not None)
        if len(sizes) in {1, 2}:  # `real` stands for one size left out
            sizes = sorted([*sizes, part.real])
        if sizes:
            face += part.quantity * (sizes[-1] * sizes[-2] / ratio**2 * 1e-6)
    return Total(
        material,
        pieces=sum(part.quantity for part in parts),
        length_mm=sum(part.quantity * (scale.model_length_mm(part.real, ratio) + kerf) for part in parts),
        area_m2=face,
        weight_kg=sum(known) if len(known) == len(weights) else None,
    )


class Running(NamedTuple):
    """Where repeated parts begin, from one datum: exact in mm, and as the shop cuts each."""

    part: str
    places: tuple[ShopLength, ...]
    more: int

    @property
    def exact_mm(self) -> tuple[float, ...]:
        """The places before they are rounded."""
        return tuple(place.mm - place.error_mm for place in self.places)


def running(answer: Answer) -> Iterator[Running]:
    """Yield the running dimensions of every part that has a pitch, each rounded on its own."""
    ratio = answer.scale.ratio
    for part in answer.setting.build:
        if part.pitch is not None and part.quantity > 1:
            told = min(part.quantity, MOST_PLACES)
            places = tuple(_cut(answer, scale.running_mm(place, part.pitch, ratio)) for place in range(told))
            yield Running(part.part, places, part.quantity - told)
