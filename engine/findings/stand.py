"""Findings on the built object: will it stand, will it fall right, can it be cut, will its plume rise."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas import scale, similarity, stand
from forescale.engine.solve.groups import StandAnswer
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.units import WEIGHT, measure_text, number_text, wind_text

METRE_A_SECOND = 1000.0


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
        missing = _missing(answer, found)
        text = f"To know the wind at which to stop, give {missing}"
        yield Finding(
            "scale", "note", "stand-open", text, "stand.area", "Wind to stop at not known: weight or foot missing"
        )
        return
    stops = wind_text(found.stop_gust_mm_s, system)
    way = "tips" if found.tips_at_mm_s <= found.slides_at_mm_s else "slides"
    if found.holds is False and given.gust is not None:
        gust = wind_text(given.gust, system)
        text = f"In a gust of {gust} the model {way}, which it holds only to {stops}{_ballast(answer, found)}"
        short = f"Model {way} in the gusts: it holds to {stops}"
        yield Finding("scale", "stop", "stand-falls", text, "stand.ballast", short)
    elif not math.isinf(found.stop_gust_mm_s) and found.stop_mean_mm_s is not None:
        mean = wind_text(found.stop_mean_mm_s, system)
        text = (
            f"The model stands to a gust of {stops}, where it {way}: stop there and clear people; a mean reading of "
            f"{mean} over open land has such gusts in it"
        )
        yield Finding("scale", "note", "stand-wind", text, "stand.gust", f"Stop at gusts of {stops}, clear people")


def _missing(answer: Answer, found: StandAnswer) -> str:
    given = answer.setting.stand
    lacks = {
        "the weight": found.held_kg is None,
        "the height of the area's middle": given.area_height is None,
        "the foot's depth": given.lee is None and given.foot_deep is None,
    }
    return " and ".join(what for what, is_missing in lacks.items() if is_missing)


def _ballast(answer: Answer, found: StandAnswer) -> str:
    if found.ballast_needed_kg is None:
        return ""
    if math.isinf(found.ballast_needed_kg):
        return ": its foot has no depth, guy it"
    return f": {measure_text(_up(found.ballast_needed_kg), WEIGHT, answer.system)} of ballast in all would hold it"


def _up(kg: float) -> float:
    """Return a weight that three digits do not make less."""
    return kg * 1.005


def _sway(answer: Answer, found: StandAnswer) -> Iterator[Finding]:
    if found.sway_mm is None or found.sway_sudden_mm is None or found.sway_mm <= found.sway_allowed_mm:
        return
    words = Words(answer)
    moves, allowed = words.small(found.sway_mm), words.no_more(found.sway_allowed_mm)
    sudden = words.small(found.sway_sudden_mm)
    text = f"In the gust the top sways {moves} ({sudden} if it comes at once); {allowed} across the axis shows: guy it"
    yield Finding("scale", "warn", "stand-sways", text, "stand.gust", f"It sways {moves}, {allowed} shows: guy it")


def _strength(answer: Answer, found: StandAnswer) -> Iterator[Finding]:
    if "falling" not in answer.setting.action.kinds or found.strength_factor <= 1:
        return
    times, crack = number_text(found.strength_factor, 2), number_text(found.crack_factor, 2)
    text = (
        f"Against its own weight the model is {times} times too strong, {crack} where a crack decides: weaken it to "
        "break, but not in the wind, and hold what is weakened by a second restraint until the cue"
    )
    yield Finding(
        "scale", "note", "too-strong", text, "stand.specific_strength", f"Too strong {times} times: weaken it to break"
    )


def _plume(answer: Answer) -> Iterator[Finding]:
    kinds, ratio, system = answer.setting.action.kinds, answer.scale.ratio, answer.system
    if "smoke" not in kinds and "fire" not in kinds:
        return
    less = number_text(1 / similarity.heat_share(ratio), 2)
    reads = wind_text(stand.reads_as_wind_mm_s(METRE_A_SECOND, ratio), system)
    calm = wind_text(METRE_A_SECOND * (1 + 1e-9), system)
    slower = number_text(1 / similarity.exit_speed_share(ratio), 2)
    text = (
        f"Let out {less} times less smoke, {slower} times more slowly, as much lighter than "
        f"the air as the real plume, or it will not rise in scale time: cold smoke is right for ground fog alone; wind "
        f"of {calm} on the set reads as {reads}"
    )
    yield Finding(
        "speed",
        "note",
        "smoke-plume",
        text,
        "scale.ratio",
        f"Smoke must be as light as the real: {less} times less of it",
    )


def _too_small(answer: Answer) -> Iterator[Finding]:
    """Say of parts that the shop's step leaves nothing of."""
    lost = [item for item in answer.scale.build if item.shop.split()[0] == "0"]
    if not lost:
        return
    words, stock = Words(answer), min((item.size_mm for item in answer.scale.stock), default=None)
    count = "A part" if len(lost) == 1 else f"{len(lost)} parts"
    text = f"{count} of the build list would be cut to nothing at {answer.scale.rounding}: thicken to the finest stock"
    if stock is not None:
        text += f", {words.fine(stock)}, which reads as {words.fine(scale.real_length_mm(stock, answer.scale.ratio))}"
    text += ", or paint it"
    yield Finding("scale", "note", "too-small", text, "scale.rounding", "Too small to cut: thicken it, or paint it")
