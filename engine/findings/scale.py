"""Findings on scale and line-up."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words, moves
from forescale.engine.formulas.lineup import SIZE_NOTICED, SIZE_WRONG
from forescale.engine.shot.records import TILTS
from forescale.engine.solve.record import Answer, Finding, Level


def scale_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of ratio, place, height, and cover."""
    yield from _ratio(answer)
    yield from _size(answer)
    yield from _height(answer)
    yield from _cover(answer)


def _ratio(answer: Answer) -> Iterator[Finding]:
    if "scale.ratio" not in answer.auto:
        return
    words, ratio, place = Words(answer), answer.scale.ratio, answer.setting.place
    if place.model is not None and math.isfinite(answer.lineup.seems_mm):
        asked = words.ratio(answer.lineup.reads_as_ratio)
        why = (
            f"the taped places ask for {asked}, and this is the customary ratio "
            f"nearest to it; it stands exactly at {words.length(answer.lineup.match_distance_mm)}"
        )
        short = f"the customary ratio nearest to {asked}"
    else:
        why = (
            f"the smallest model that {words.rate(answer.speed.top_fps)} can make heavy and that can stand "
            f"where {answer.kit.lens.name} still focuses"
        )
        short = f"smallest that {words.rate(answer.speed.top_fps)} can make heavy"
    chosen = f"{words.ratio(ratio)} was chosen"
    yield Finding("scale", "note", "ratio-chosen", f"{chosen}: {why}", "scale.ratio", f"{chosen}: {short}")


def _size(answer: Answer) -> Iterator[Finding]:
    words, lined = Words(answer), answer.lineup
    if math.isinf(lined.seems_mm):
        yield Finding(
            "scale",
            "note",
            "no-size-to-match",
            "The background is at infinity, so there is no size to match: the model may stand wherever focus allows",
            "place.background",
            "Background at infinity: no size to match, focus sets the place",
        )
        return
    wrong = lined.size_error - 1
    if abs(wrong) < SIZE_NOTICED:
        return
    looks = words.too(wrong)
    against = "against a background at" if answer.setting.place.seems_at is None else "for what would stand at"
    text = (
        f"At {words.length(lined.model_mm)} the model reads as {words.ratio(lined.reads_as_ratio)} {against} "
        f"{words.length(lined.seems_mm)}, so it looks {looks} for {words.ratio(answer.scale.ratio)}"
    )
    level: Level = "stop" if abs(wrong) >= SIZE_WRONG else "warn"
    yield Finding("scale", level, "size-mismatch", text, "place.model", f"Model {looks}")


def _height(answer: Answer) -> Iterator[Finding]:
    place = answer.setting.place
    if place.feature_height is not None and place.lens_height is None:
        text = "The height of the feature is given but not that of the lens: tape the lens height to know the hang"
        short = "Lens height missing: tape it to know the hang"
        yield Finding("scale", "note", "lens-height-missing", text, "place.lens_height", short)


def _cover(answer: Answer) -> Iterator[Finding]:
    words, move = Words(answer), answer.setting.move
    if not moves(answer) or not answer.scale.build or answer.setting.place.fills != "frame":
        return
    pan = move.axis not in TILTS
    cover = answer.lineup.cover_width_mm if pan else answer.lineup.cover_height_mm
    if cover is None:
        text = "The move passes 85° off the model's plane, which no flat model can fill"
        short = "Move passes 85° off the model"
        yield Finding("scale", "warn", "cover-endless", text, "move.sweep", short)
        return
    widest = max(item.model_mm for item in answer.scale.build)
    if widest < cover:
        text = (
            f"Over the move the frame sees {words.length(cover)} {'across' if pan else 'up and down'} at the model, "
            f"and the largest part built is {words.length(widest)}: check that no edge of it comes into the picture, "
            "or build on"
        )
        short = f"Move sees {words.length(cover)}: largest part is {words.length(widest)}"
        yield Finding("scale", "note", "cover-wider", text, "build", short)
