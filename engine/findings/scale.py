"""Findings on ratio, size, height and cover, and on what the frame holds of the largest part and the point to meet."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words, moves
from forescale.engine.formulas.lineup import SIZE_NOTICED, SIZE_WRONG
from forescale.engine.formulas.optics import half_field_deg
from forescale.engine.shot.sections import TILTS
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.units import number_text, rounded_down

SHORTEST_MM = 8.0  # of lenses that keep lines straight (common practice, no source)


def scale_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of ratio, place, height, and cover."""
    if "scale.ratio" in answer.auto:
        yield _ratio_chosen(answer)
    yield from _size(answer)
    place = answer.setting.place
    if place.feature_height is not None and place.lens_height is None:
        text = "The height of the feature is given but not that of the lens"
        short, by_hand = "Lens height missing", "tape the lens height to know the hang"
        yield Finding("scale", "note", "lens-height-missing", text, "place.lens_height", short, by_hand)
    if moves(answer) and answer.scale.build and place.fills == "frame":
        yield from _cover(answer)


def _ratio_chosen(answer: Answer) -> Finding:
    words, place = Words(answer), answer.setting.place
    if place.model is not None and math.isfinite(answer.lineup.seems_mm):
        asked = words.ratio(answer.lineup.reads_as_ratio)
        why = (
            f"the taped places ask for {asked}, and this is the customary ratio "
            f"nearest to it; it stands exactly at {words.exactly(answer.lineup.match_distance_mm)}"
        )
        short = f"the customary ratio nearest to {asked}"
    else:
        heavy = f"that {words.rate(answer.speed.top_fps)} can make heavy"
        why = f"the smallest model {heavy} and that can stand where {answer.kit.lens.name} still focuses"
        short = f"smallest {heavy}"
    chosen = f"{words.ratio(answer.scale.ratio)} was chosen"
    return Finding("scale", "note", "ratio-chosen", f"{chosen}: {why}", "scale.ratio", f"{chosen}: {short}")


def _size(answer: Answer) -> Iterator[Finding]:
    words, lined = Words(answer), answer.lineup
    if math.isinf(lined.seems_mm):
        text = "The background is at infinity, so there is no size to match: the model may stand wherever focus allows"
        short = "Background at infinity: no size to match, focus sets the place"
        yield Finding("scale", "note", "no-size-to-match", text, "place.background", short)
        return
    wrong = lined.size_error - 1
    if abs(wrong) >= SIZE_NOTICED:
        looks = words.too(wrong)
        against = "against a background at" if answer.setting.place.seems_at is None else "for what would stand at"
        text = (
            f"At {words.length(lined.model_mm)} the model reads as {words.ratio(lined.reads_as_ratio)} {against} "
            f"{words.length(lined.seems_mm)}, so it looks {looks} for {words.ratio(answer.scale.ratio)}"
        )
        level: Level = "stop" if abs(wrong) >= SIZE_WRONG else "warn"
        yield Finding("scale", level, "size-mismatch", text, "place.model", f"Model {looks}")


def _cover(answer: Answer) -> Iterator[Finding]:
    words, pan = Words(answer), answer.setting.move.axis not in TILTS
    cover = answer.lineup.cover_width_mm if pan else answer.lineup.cover_height_mm
    widest = max(item.model_mm for item in answer.scale.build)
    if cover is None:
        text = "The move passes 85° off the model's plane, which no flat model can fill"
        by_hand, short = "build a curve", "Move passes 85° off the model"
        yield Finding("scale", "warn", "cover-endless", text, "move.sweep", short, by_hand)
    elif widest < cover:
        text = (
            f"Over the move the frame sees {words.length(cover)} {'across' if pan else 'up and down'} at the model, "
            f"and the largest part built is {words.length(widest)}"
        )
        short = f"Move sees {words.length(cover)}: largest part is {words.length(widest)}"
        by_hand = "check that no edge of it comes into the picture, or build on"
        yield Finding("scale", "note", "cover-wider", text, "build", short, by_hand)


def frame_findings(answer: Answer) -> Iterator[Finding]:
    """Yield where the frame cannot hold the largest part upright, or the point to meet, as it is aimed."""
    words, height = Words(answer), answer.lineup.frame_height_model_mm
    largest = max((item.model_mm for item in answer.scale.build), default=0.0)
    if largest > height:
        text = (
            f"The largest part built is {words.length(largest)}, and the frame is {words.length(height)} high at the "
            "model: if the part stands upright, not all of it is in the picture at once"
        )
        short = f"Upright, a part of {words.length(largest)} passes the frame's height"
        by_hand, focal = "let the frame cut it", answer.kit.focal_mm * height / largest
        if focal >= SHORTEST_MM:
            by_hand += f", or take a lens of {rounded_down(focal):g} mm or shorter"
        yield Finding("scale", "note", "over-frame", text, "build", short, by_hand)
    lens, hang = answer.setting.place.lens_height, answer.lineup.hang_height_mm
    if hang is not None and lens is not None:
        yield from _meeting(answer, hang - lens)


def rise_deg(answer: Answer, over_lens_mm: float) -> float:
    """Return by how much the point to meet stands above where the lens is aimed, as seen from it."""
    setup = answer.setup
    return math.degrees(math.atan(over_lens_mm / setup.level(setup.model_mm))) - setup.aim_deg


def _meeting(answer: Answer, over_lens_mm: float) -> Iterator[Finding]:
    """Say where the point to meet stands out of the frame at the line-up, or leaves it in a tilt."""
    words, setup, move = Words(answer), answer.setup, answer.setting.move
    rise, half = rise_deg(answer, over_lens_mm), half_field_deg(answer.kit.mode.height, setup.image_mm)
    if abs(rise) > half * (1 + 1e-6):
        side = "above" if rise > 0 else "below"
        aimed = "With the lens level" if setup.aim_deg == 0 else "As the lens is aimed"
        edge = math.tan(math.radians(setup.aim_deg) + math.radians(math.copysign(half, rise)))
        out = words.length(abs(over_lens_mm - setup.level(setup.model_mm) * edge))
        text, short = f"{aimed}, the tie-in point lies {out} {side} the frame at the model", f"Tie-in point is {side}"
        by_hand = "take a shorter lens"
        yield Finding("scale", "note", "meet-out-of-frame", text, "place.aim", f"{short} the frame", by_hand)
    elif move.axis in TILTS:
        left = half + (rise if move.axis == "tilt" else -rise)  # up carries the frame past a point that stands low
        if left < move.sweep:
            after = f"after {number_text(rounded_down(left), 2)}°"
            turn = f"{after} of {number_text(move.sweep, 3)}°"
            text = f"Begun as the lens is aimed, the {move.axis} loses the tie-in point {turn}"
            yield Finding("scale", "note", "meet-leaves-frame", text, "move.sweep", f"Tie-in point lost {after}")
