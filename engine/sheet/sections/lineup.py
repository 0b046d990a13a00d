"""Rig and line-up: where the model stands, how it reads there, and how far off anything may be."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.sheet.blocks import Row, Section
from forescale.engine.sheet.voice import Voice
from forescale.engine.units import number_text


def section(voice: Voice) -> Section:
    """Return the line-up."""
    pixels = number_text(voice.of.setting.move.tolerance)
    return Section("Rig and line-up", tuple(_rows(voice)), f"what may be off is what {pixels} px of slip allows")


def _rows(voice: Voice) -> Iterator[Row]:
    lined, place = voice.of.lineup, voice.of.setting.place
    if math.isfinite(lined.match_distance_mm):
        yield Row(
            "Exact match at",
            voice.length(lined.match_distance_mm),
            f"for {voice.ratio(voice.of.scale.ratio)}",
        )
        yield Row("Reads as", voice.ratio(lined.reads_as_ratio), voice.too(lined.size_error - 1))
    if lined.hang_height_mm is not None and place.lens_height is not None:
        yield Row("Meets at", voice.length(lined.hang_height_mm), _level(voice))
        yield from _to_scale(voice, "Height to scale", lined.hang_height_mm, lined.scaled_height_mm)
    if lined.foot_height_mm is not None:
        yield Row("Table height", voice.length(lined.foot_height_mm), "the model's, over the background's ground")
        yield from _to_scale(voice, "Ground to scale", lined.foot_height_mm, lined.scaled_foot_height_mm)
    frame = f"{voice.length(lined.frame_width_model_mm)} × {voice.length(lined.frame_height_model_mm)}"
    yield Row("Frame at the model", frame, "across × up")
    if place.fills == "frame":
        yield from _cover(voice)
    yield Row("Camera may drift", voice.within(lined.drift_tolerance_mm))
    yield Row("Model may be off", voice.within(lined.place_tolerance_mm), "along the lens axis")


def _cover(voice: Voice) -> Iterator[Row]:
    """Yield what a model must reach that fills the frame over the whole move."""
    wide, high = voice.of.lineup.cover_width_mm, voice.of.lineup.cover_height_mm
    if wide is None or high is None:
        yield Row("Model must cover", "endless", "the move passes 85° off the model's plane")
    else:
        yield Row("Model must cover", f"{voice.length(wide)} × {voice.length(high)}", "over the whole move, if flat")


def _to_scale(voice: Voice, label: str, sight_mm: float, scaled_mm: float | None) -> Iterator[Row]:
    """Yield a height to scale, where it differs from the one that meets by more slip than may pass."""
    answer = voice.of
    passes = answer.setting.move.tolerance * answer.kit.mode.pixel_up_mm * answer.setup.model_mm / answer.setup.image_mm
    if scaled_mm is not None and abs(scaled_mm - sight_mm) > passes:
        yield Row(label, voice.exactly(scaled_mm), "by its ratio; above is where it meets in the picture")


def _level(voice: Voice) -> str:
    """Return how high the point to meet stands on the model, against the lens: what a rigger can sight along."""
    above = (voice.of.lineup.hang_height_mm or 0.0) - (voice.of.setting.place.lens_height or 0.0)
    if abs(above) < 0.5:
        return "on the model, level with the lens"
    return f"on the model, {voice.length(abs(above))} {'above' if above > 0 else 'below'} the lens"
