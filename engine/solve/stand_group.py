"""The answer's stand group: weight, wind, ballast, sway, and what a copy has of strength."""

import math

from forescale.engine.formulas import scale, stand
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import Setting
from forescale.engine.shot.sections import Part
from forescale.engine.shot.sections import Stand as StandSet
from forescale.engine.solve.groups import StandAnswer
from forescale.engine.solve.lens_setup import LensSetup
from forescale.engine.solve.scale_lineup import slip_across_mm


def part_weight_kg(part: Part, ratio: float) -> float | None:
    """Return what all of a part weigh on the model; None where density or more than one size is not given."""
    sizes = [size for size in (part.wide, part.deep, part.tall) if size is not None]
    if len(sizes) == 2:
        sizes.append(part.real)
    if part.density is None or len(sizes) < 3:
        return None
    wide, deep, tall = (scale.model_length_mm(size, ratio) for size in sizes)
    return part.quantity * stand.weight_kg(wide, deep, tall, part.density, part.solid)


def stand_group(setting: Setting, kit: Kit, setup: LensSetup) -> StandAnswer | None:
    """Return whether the model stands; None where the shot says nothing of it and nothing falls."""
    given, ratio = setting.stand, setup.ratio
    weights = [part_weight_kg(part, ratio) for part in setting.build]
    parts_kg = sum(weight for weight in weights if weight is not None) or None
    if given == StandSet() and parts_kg is None and "falling" not in setting.action.kinds:
        return None
    weight = parts_kg if given.weight is None else given.weight
    held = None if weight is None else weight + given.ballast
    wind = None if given.area is None or given.gust is None else stand.wind_force_n(given.gust, given.area)
    lee = given.lee if given.lee is not None else None if given.foot_deep is None else given.foot_deep / 2
    tips = slides = None  # the gusts at which it would tip and slide
    if given.area is not None and held is not None:
        slides = stand.gust_mm_s(stand.sliding_force_n(held, given.friction), given.area)
        if lee is not None and given.area_height is not None:
            push = stand.tipping_force_n(held, lee, given.area_height)
            tips = math.inf if math.isinf(push) else stand.gust_mm_s(push, given.area)
    stops = None if tips is None or slides is None else min(tips, slides)
    needed = None
    if wind is not None and lee is not None and given.area_height is not None:
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
        gust_reads_mm_s=None if given.gust is None else stand.reads_as_wind_mm_s(given.gust, ratio),
        sway_mm=sway,
        sway_sudden_mm=None if sway is None else 2 * sway,
        sway_allowed_mm=slip_across_mm(setting, kit.mode, kit.lens) * setup.model_mm / setup.image_mm,
        holds=None if stops is None or given.gust is None else given.gust <= stops * (1 + 1e-9),
    )
