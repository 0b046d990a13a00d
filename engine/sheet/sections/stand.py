"""Will it stand, will it fall right: weight, wind, ballast, sway, strength."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.sheet.blocks import Row, Section
from forescale.engine.sheet.voice import Voice
from forescale.engine.solve.groups import StandAnswer
from forescale.engine.units import FORCE, WEIGHT, measure_text, number_text, wind_text


def section(voice: Voice) -> Section | None:
    """Return what makes the model stand; None where the shot says nothing of it."""
    found = voice.of.stand
    if found is None:
        return None
    rows = (*_weight(voice, found), *_wind(voice, found), *_sway(voice, found), *_strength(found))
    return Section("Will it stand", rows, "first estimates, for the licensed person on set to check")


def _weight(voice: Voice, found: StandAnswer) -> Iterator[Row]:
    system = voice.of.system
    if found.parts_weight_kg is not None and found.real_weight_kg is not None:
        stands_for = f"stands for {measure_text(found.real_weight_kg, WEIGHT, system)}"
        lacking = f"; {found.unweighed} parts not weighed" if found.unweighed else ""
        yield Row("The parts weigh", measure_text(found.parts_weight_kg, WEIGHT, system), stands_for + lacking)
    if found.held_kg is not None:
        yield Row("On the foot", measure_text(found.held_kg, WEIGHT, system), "model and ballast")


def _wind(voice: Voice, found: StandAnswer) -> Iterator[Row]:
    system, gust = voice.of.system, voice.of.setting.stand.gust
    if found.wind_n is not None and gust is not None:
        yield Row("Push of the gust", measure_text(found.wind_n, FORCE, system), f"at {wind_text(gust, system)}")
    if (ballast := found.ballast_needed_kg) is not None:
        told = "guy it" if math.isinf(ballast) else measure_text(ballast * 1.005, WEIGHT, system)
        yield Row("Ballast needed", told, "to hold 1.5 times that push")
    for label, mm_s in (("Tips at", found.tips_at_mm_s), ("Slides at", found.slides_at_mm_s)):
        if mm_s is not None:
            yield Row(label, "no wind" if math.isinf(mm_s) else wind_text(mm_s, system), "gust")
    if found.stop_gust_mm_s is not None and found.stop_mean_mm_s is not None:
        mean = f"gust; a mean reading of {wind_text(found.stop_mean_mm_s, system)} has such gusts"
        yield Row("STOP AND CLEAR AT", wind_text(found.stop_gust_mm_s, system), mean)
    if found.gust_reads_mm_s is not None:
        yield Row("The gust reads as", wind_text(found.gust_reads_mm_s, system), "on smoke and cloth")


def _sway(voice: Voice, found: StandAnswer) -> Iterator[Row]:
    if found.sway_mm is not None and found.sway_sudden_mm is not None:
        yield Row("Sways in the gust", voice.small(found.sway_mm), f"{voice.small(found.sway_sudden_mm)} when sudden")
        along = voice.within(voice.of.lineup.place_tolerance_mm)
        yield Row("What may pass", voice.within(found.sway_allowed_mm), f"across; {along} along the axis")


def _strength(found: StandAnswer) -> Iterator[Row]:
    crack = f"{number_text(found.crack_factor, 2)} times where a crack decides"
    yield Row("Too strong", f"{number_text(found.strength_factor, 2)} times", f"against its own weight; {crack}")
