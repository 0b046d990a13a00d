"""What a split-field close-up lens over the model would hold, where no stop of the lens holds the whole zone."""

from __future__ import annotations

import math
from dataclasses import dataclass

from forescale.engine.formulas import focus
from forescale.engine.solve.focus_zone import holds
from forescale.engine.solve.record import Answer

_DECIMALS = (1, 2, 3)  # to which a power may be asked for, the coarsest that holds the model first


@dataclass(frozen=True, slots=True)
class SplitField:
    """A close-up lens of `dioptres`, and what is sharp through it at the lens's smallest stop; distances on the tape.

    The lens behind it is focused at `focus_mm`, which splits the background's own zone; `holds_background` tells
    whether that is then sharp, and `holds_model` whether the model is, from its nearest part to its plane.
    `wanted_dioptres` is the power that holds the model, None where the model is too deep for any.
    """

    dioptres: float
    focus_mm: float
    f_number: float
    near_mm: float
    far_mm: float
    holds_background: bool
    holds_model: bool
    wanted_dioptres: float | None


def split_field(answer: Answer) -> SplitField | None:
    """Return the split-field lens that the answer asks for, and what it does; None where it asks for none."""
    setup, lens, power = answer.setup, answer.kit.lens, answer.focus.split_dioptres
    if power is None:
        return None
    back, far = setup.background_mm, setup.far_mm
    even = math.inf if math.isinf(back) else focus.zone_focus_mm(back, far)
    mark, f_number = max(even, lens.close_focus - setup.pupil.ahead_mm), lens.f_numbers[-1]

    focal, own = answer.kit.focal_mm, setup.pupil_magnification

    def zone(dioptres: float) -> tuple[float, float]:
        return focus.zone_through_close_up_mm(dioptres, mark, focal, f_number, setup.coc_mm, own)

    def holds_model(dioptres: float) -> bool:
        nearest, farthest = zone(dioptres)
        return dioptres > 0 and nearest <= setup.near_mm and setup.model_mm <= farthest

    middle = 500 / setup.near_mm + 500 / setup.model_mm - 1000 / mark
    powers = (round(middle, decimals) for decimals in _DECIMALS)
    sharp = zone(power)
    return SplitField(
        dioptres=power,
        focus_mm=setup.on_lens(mark),
        f_number=f_number,
        near_mm=setup.tape(sharp[0]),
        far_mm=setup.tape(sharp[1]),
        holds_background=holds(f_number, focus.stop_for_limits(back, far, mark, focal, setup.coc_mm, own)),
        holds_model=holds_model(power),
        wanted_dioptres=next(filter(holds_model, powers), None),
    )
