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
        yield Row("Reads where it stands", voice.ratio(lined.reads_as_ratio), voice.too(lined.size_error - 1))
    if lined.hang_height_mm is not None and place.lens_height is not None:
        yield Row("Height of the point", voice.length(lined.hang_height_mm), _level(voice))
    if lined.foot_height_mm is not None:
        yield Row(
            "Ground of the model", voice.length(lined.foot_height_mm), "table height, over the background's ground"
        )
    frame = f"{voice.length(lined.frame_width_model_mm)} × {voice.length(lined.frame_height_model_mm)}"
    yield Row("Frame at the model", frame, "across × up")
    if lined.cover_width_mm is None or lined.cover_height_mm is None:
        yield Row("Model must cover", "endless", "the move passes 85° off the model's plane")
    elif voice.of.speed.move_set_time_s is not None:
        cover = f"{voice.length(lined.cover_width_mm)} × {voice.length(lined.cover_height_mm)}"
        yield Row("Model must cover", cover, "over the whole move, if flat")
    yield Row("Camera may drift aside", voice.within(lined.drift_tolerance_mm))
    yield Row("Model may be off", voice.within(lined.place_tolerance_mm), "along the lens axis")


def _level(voice: Voice) -> str:
    """Return how high the point to meet stands on the model, against the lens: what a rigger can sight along."""
    above = (voice.of.lineup.hang_height_mm or 0.0) - (voice.of.setting.place.lens_height or 0.0)
    if abs(above) < 0.5:
        return "on the model, level with the lens"
    return f"on the model, {voice.length(abs(above))} {'above' if above > 0 else 'below'} the lens"
