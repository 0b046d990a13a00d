"""Findings on the built object: will it stand, will it fall right, can it be cut, will its plume rise; and cautions.

The cautions are the usual ones where the work can hurt someone; each defers to local codes and licensed practice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas import scale, stand
from forescale.engine.solve.groups import StandAnswer
from forescale.engine.solve.record import Answer, Finding, Pane
from forescale.engine.units import number_text, wind_text

METRE_A_SECOND = 1000.0
DEFER = "follow local codes and the licensed person on set"
BRIGHT_LUX = 30_000  # light of daylight's order from lamps takes lamps of high power
SUNLIT_LUX = 10_000  # where that much is there already, lamps are not what gives it
NEAR_SUN_DEG = 30.0
OVERHEAD_MM, HIGH_MM = 1800.0, 2000.0  # a hanging model over people, a lens on a platform
BY_KIND = {
    "fire": "Fire: clear the ground, keep extinguishers and a fire watch by, and a way out open",
    "smoke": "Smoke: keep the air moving, keep people out of the plume, warn whoever may see it",
    "falling": "Falling and collapsing things: mark the fall zone, clear it, one person calls the drop",
    "water": "Water near power: keep it off lamps, cables and batteries, and feed them through a breaker",
    "driven": "Machinery and roads: keep hands and hair out of moving parts, and traffic off the track",
}


def built_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of what is built."""
    if answer.stand is not None:
        yield from _wind(answer, answer.stand)
        yield from _sway(answer, answer.stand)
        yield from _strength(answer, answer.stand)
    yield from _plume(answer)
    yield from _too_small(answer)


def _wind(answer: Answer, found: StandAnswer) -> Iterator[Finding]:
    given, system = answer.setting.stand, answer.system
    if given.area is None:
        return
    if found.stop_gust_mm_s is None or found.tips_at_mm_s is None or found.slides_at_mm_s is None:
        lacks = {
            "the weight": found.held_kg is None,
            "the height of the area's middle": given.area_height is None,
            "the foot's depth": given.lee is None and given.foot_deep is None,
        }
        text, short = "The wind at which to stop is not known", "Wind to stop at not known"
        by_hand = f"give {' and '.join(what for what, is_missing in lacks.items() if is_missing)}"
        yield Finding("scale", "note", "stand-open", text, "stand.area", short, by_hand)
        return
    stops = wind_text(found.stop_gust_mm_s, system)
    way = "tips" if found.tips_at_mm_s <= found.slides_at_mm_s else "slides"
    if found.holds is False and given.gust is not None:
        text = f"In a gust of {wind_text(given.gust, system)} the model {way}, which it holds only to {stops}"
        if found.ballast_needed_kg is not None and math.isinf(found.ballast_needed_kg):
            text += ": its foot has no depth"
        short = f"Model {way} in the gusts: it holds to {stops}"
        yield Finding("scale", "stop", "stand-falls", text, "stand.ballast", short, "guy it")
    elif not math.isinf(found.stop_gust_mm_s) and found.stop_mean_mm_s is not None:
        mean = wind_text(found.stop_mean_mm_s, system)
        text = (
            f"The model stands to a gust of {stops}, where it {way}: stop there and clear people; a mean reading of "
            f"{mean} over open land has such gusts in it"
        )
        yield Finding("scale", "note", "stand-wind", text, "stand.gust", f"Stop at gusts of {stops}, clear people")


def _sway(answer: Answer, found: StandAnswer) -> Iterator[Finding]:
    if found.sway_mm is None or found.sway_sudden_mm is None or found.sway_mm <= found.sway_allowed_mm:
        return
    words = Words(answer)
    moves, sudden = words.small(found.sway_mm), words.small(found.sway_sudden_mm)
    allowed = words.no_more(found.sway_allowed_mm)
    text = f"In the gust the top sways {moves} ({sudden} if it comes at once); {allowed} across the axis shows"
    yield Finding("scale", "warn", "stand-sways", text, "stand.gust", f"It sways {moves}, {allowed} shows", "guy it")


def _strength(answer: Answer, found: StandAnswer) -> Iterator[Finding]:
    if "falling" not in answer.setting.action.kinds or found.strength_factor <= 1:
        return
    times, crack = number_text(found.strength_factor, 2), number_text(found.crack_factor, 2)
    text = f"Against its own weight the model is {times} times too strong, {crack} where a crack decides"
    weaken = (
        "weaken it to break, but not in the wind, and hold what is weakened by a second restraint until the cue, "
        "nobody under it"
    )
    yield Finding("scale", "note", "too-strong", text, "stand.specific_strength", f"Too strong {times} times", weaken)


def _plume(answer: Answer) -> Iterator[Finding]:
    kinds, ratio, system = answer.setting.action.kinds, answer.scale.ratio, answer.system
    if "smoke" not in kinds and "fire" not in kinds:
        return
    less = number_text(1 / scale.heat_share(ratio), 2)
    reads = wind_text(stand.reads_as_wind_mm_s(METRE_A_SECOND, ratio), system)
    calm = wind_text(METRE_A_SECOND * (1 + 1e-9), system)
    slower = number_text(1 / scale.exit_speed_share(ratio), 2)
    text = (
        f"Let out {less} times less smoke, {slower} times more slowly, as much lighter than "
        f"the air as the real plume, or it will not rise in scale time: cold smoke is right for ground fog alone; wind "
        f"of {calm} on the set reads as {reads}"
    )
    short = f"Smoke must be as light as the real: {less} times less of it"
    yield Finding("speed", "note", "smoke-plume", text, "scale.ratio", short)


def _too_small(answer: Answer) -> Iterator[Finding]:
    """Say of parts that the shop's step leaves nothing of."""
    lost = [item for item in answer.scale.build if item.shop.split()[0] == "0"]
    if not lost:
        return
    words, stock = Words(answer), min((item.size_mm for item in answer.scale.stock), default=None)
    count = "A part" if len(lost) == 1 else f"{len(lost)} parts"
    text = f"{count} of the build list would be cut to nothing at {answer.scale.rounding}"
    thicken = "thicken to the finest stock"
    if stock is not None:
        reads = words.fine(scale.real_length_mm(stock, answer.scale.ratio))
        thicken += f", {words.fine(stock)}, which reads as {reads}"
    by_hand = f"{thicken}, or paint it"
    yield Finding("scale", "note", "too-small", text, "scale.rounding", "Too small to cut", by_hand)


def caution_findings(answer: Answer) -> Iterator[Finding]:
    """Yield the cautions that this shot calls for."""
    kinds, lens, hang = answer.setting.action.kinds, answer.setting.place.lens_height, answer.lineup.hang_height_mm
    for kind in (kind for kind in kinds if kind in BY_KIND):
        yield _caution("speed", f"caution-{kind}", BY_KIND[kind])
    if "smoke" in kinds:
        text = "Dry-ice fog is carbon dioxide: it lies where people kneel; air it, no pits"
        yield _caution("speed", "caution-fog", text)
    if answer.stand is not None:
        text, stops = "Wind and falling weight: hold the model by a second restraint, nobody under it or downwind", ""
        if answer.stand.stop_gust_mm_s is not None and not math.isinf(answer.stand.stop_gust_mm_s):
            stops = f"; stop and clear people at a gust of {wind_text(answer.stand.stop_gust_mm_s, answer.system)}"
        yield _caution("scale", "caution-stand", f"{text}{stops}")
    if hang is not None and lens is not None and hang > OVERHEAD_MM:
        text = "If anything hangs overhead: rated rigging, a second line, nobody under it"
        yield _caution("scale", "caution-overhead", text)
    if lens is not None and lens > HIGH_MM:
        yield _caution("scale", "caution-height", "The camera stands high: guard the platform, tie off what can fall")
    sun, lit = answer.sun, answer.light
    if sun is not None and sun.up and sun.nearest_to_axis_deg is not None and sun.nearest_to_axis_deg <= NEAR_SUN_DEG:
        text = (
            f"Sun within {sun.nearest_to_axis_deg:.0f}° of the lens axis: never look at it through the lens, "
            "which burns eyes, and as a burning glass shutter and sensor; cap it between takes"
        )
        yield _caution("speed", "caution-sun", text)
    if lit.lamps or (lit.lux_with_nd > BRIGHT_LUX and (lit.available_lux is None or lit.available_lux < SUNLIT_LUX)):
        text = "Lamps of high power: heat, ultraviolet and heavy current near the model"
        yield _caution("speed", "caution-lamps", text)


def _caution(pane: Pane, code: str, text: str) -> Finding:
    return Finding(pane, "note", code, f"{text}; {DEFER}")
