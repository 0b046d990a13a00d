"""Findings on the built object, and the usual cautions, each deferring to local codes and licensed practice."""

import math
from collections.abc import Iterator
from functools import partial

from forescale.engine.findings.words import FINDINGS, Words, said
from forescale.engine.formulas import scale, stand
from forescale.engine.solve.groups import StandAnswer
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.units import WEIGHT, no_less_text

DEFER = "follow local codes and the licensed person on set"
BRIGHT_LUX = 30_000  # light of daylight's order from lamps takes lamps of high power
SUNLIT_LUX = 10_000  # where that much is there already, lamps are not what gives it
NEAR_SUN_DEG = 30.0
SWINGS_DEG = 1.0  # off plumb, from which on it is told
OVERHEAD_MM, HIGH_MM = 1800.0, 2000.0  # a hanging model over people, a lens on a platform


def built_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of what is built."""
    found, kinds, ratio = answer.stand, answer.setting.action.kinds, answer.scale.ratio
    if found is not None:
        yield from _wind(answer, found)
        if found.sway_mm is not None and found.sway_mm > found.sway_allowed_mm:
            yield said(answer, "stand-sways")
        if "falling" in kinds and found.strength_factor > 1:
            yield said(answer, "too-strong")
    lost = [item for item in answer.scale.build if item.shop.split()[0] == "0"]
    if lost:  # the shop's step leaves nothing of them
        words, finest, stock = Words(answer), min((item.size_mm for item in answer.scale.stock), default=None), ""
        if finest is not None:
            stock = f", {words.fine(finest)}, which reads as {words.fine(scale.real_length_mm(finest, ratio))}"
        yield said(answer, "too-small", count="A part" if len(lost) == 1 else f"{len(lost)} parts", stock=stock)


def _wind(answer: Answer, found: StandAnswer) -> Iterator[Finding]:
    given = answer.setting.stand
    if answer.setting.place.mount == "hangs":
        weight, _ = _weight(answer)
        swing = 0.0 if weight is None or found.wind_n is None else stand.swing_deg(found.wind_n, weight)
        if swing >= SWINGS_DEG:
            yield said(answer, "hung-wind", swing=swing, times=math.tan(math.radians(swing)))
        return
    if given.area is None:
        return
    if found.stop_gust_mm_s is None or found.tips_at_mm_s is None or found.slides_at_mm_s is None:
        lacks = {
            "the weight": found.held_kg is None,
            "the height of the area's middle": given.area_height is None,
            "the foot's depth": given.lee is None and given.foot_deep is None,
        }
        yield said(answer, "stand-open", lacks=" and ".join(what for what, missing in lacks.items() if missing))
        return
    way = "tips" if found.tips_at_mm_s <= found.slides_at_mm_s else "slides"
    in_wind = partial(said, answer, way=way, margin=stand.SAFETY)
    if found.holds is False and given.gust is not None:
        no_foot = found.ballast_needed_kg is not None and math.isinf(found.ballast_needed_kg)
        yield in_wind("stand-falls", foot="; its foot has no depth" if no_foot else "")
    elif not math.isinf(found.stop_gust_mm_s) and found.stop_mean_mm_s is not None:
        yield in_wind("stand-wind")


def caution_findings(answer: Answer) -> Iterator[Finding]:
    """Yield the cautions that this shot calls for."""
    caution = partial(said, answer, defer=DEFER)
    action, place, hang = answer.setting.action, answer.setting.place, answer.lineup.hang_height_mm
    mount, lens = place.mount, place.lens_height
    kinds = dict.fromkeys((*action.kinds, *["fire"] * (action.fire_width is not None)))  # that burns, whatever it is
    yield from (caution(f"caution-{kind}") for kind in kinds if f"caution-{kind}" in FINDINGS)
    if "smoke" in kinds:
        yield caution("caution-fog")
    if answer.stand is not None:
        gust, stops = answer.stand.stop_gust_mm_s, ""
        if gust is not None and not math.isinf(gust):
            stops = f"; stop and clear people at a gust of {Words(answer).wind_to(gust)}"
        yield caution("caution-stand", stops=stops)
    if mount == "hangs" or (mount is None and hang is not None and hang > OVERHEAD_MM):
        yield caution("caution-overhead", what=hung(answer) if mount else "If anything hangs overhead")
    if lens is not None and lens > HIGH_MM:
        yield caution("caution-height")
    sun, lit = answer.sun, answer.light
    if sun is not None and sun.up and sun.nearest_to_axis_deg is not None and sun.nearest_to_axis_deg <= NEAR_SUN_DEG:
        yield caution("caution-sun", near=math.ceil(sun.nearest_to_axis_deg))
    if lit.lamps or (lit.lux_with_nd > BRIGHT_LUX and (lit.available_lux is None or lit.available_lux < SUNLIT_LUX)):
        yield caution("caution-lamps")


def hung(answer: Answer) -> str:
    """Return that the model hangs, and the whole weight of it that is known."""
    weight, count = _weight(answer)
    if weight is None:
        return "The model hangs, its weight not given"
    left_out = f" ({count} part{'s'[: count - 1]} not weighed)" if count else ""
    return f"The model hangs, {no_less_text(weight, WEIGHT, answer.system)}{left_out} and its rigging"


def _weight(answer: Answer) -> tuple[float | None, int]:
    """Return the model's weight in kg as given, else of its parts, and how many of these are not weighed."""
    given, of_parts = answer.setting.stand.weight, answer.stand
    if given is not None or of_parts is None:
        return given, 0
    return of_parts.parts_weight_kg, of_parts.unweighed
