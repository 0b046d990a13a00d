"""Findings on what the frame holds. The shot does not say where the lens aims, so none of them calls it wrong."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.shot.records import TILTS
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.units import number_text, rounded_down


def find(answer: Answer) -> Iterator[Finding]:
    """Yield where the frame cannot hold the largest part upright, or the point to meet, from a lens that is level."""
    yield from _largest(answer)
    yield from _meeting(answer)


def _largest(answer: Answer) -> Iterator[Finding]:
    words, height = Words(answer), answer.lineup.frame_height_model_mm
    largest = max((item.model_mm for item in answer.scale.build), default=0.0)
    if largest > height:
        text = (
            f"The largest part built is {words.length(largest)}, and the frame is {words.length(height)} high at the "
            "model: if the part stands upright, not all of it is in the picture at once"
        )
        short = f"Upright, a part of {words.length(largest)} passes the frame's height"
        yield Finding("scale", "note", "over-frame", text, "build", short)


def _meeting(answer: Answer) -> Iterator[Finding]:
    """Say where the point to meet stands out of the frame as the move begins, or leaves it in a tilt."""
    words, height, move = Words(answer), answer.lineup.frame_height_model_mm, answer.setting.move
    lens, hang, distance = answer.setting.place.lens_height, answer.lineup.hang_height_mm, answer.sight.model_mm
    if hang is None or lens is None:
        return
    rise, half = math.degrees(math.atan((hang - lens) / distance)), math.degrees(math.atan(height / 2 / distance))
    out = abs(hang - lens) - height / 2
    if out > 1e-6 * height:
        side, way = ("above", "up") if rise > 0 else ("below", "down")
        turn = words.at_least(abs(rise) - half)
        text = (
            f"With the lens level, the point to meet lies {words.length(out)} {side} the frame at the model: tilt the "
            f"lens {way} by {turn}° or more, or take a shorter lens"
        )
        short = f"Point to meet is {side} the frame: tilt {way} {turn}° or more"
        yield Finding("scale", "note", "meet-out-of-frame", text, "place.feature_height", short)
    elif move.axis in TILTS:
        left = half + (rise if move.axis == "tilt" else -rise)  # up carries the frame past a point that stands low
        if left < move.sweep:
            after = number_text(rounded_down(left), 2)
            text = (
                f"If the {move.axis} begins with the lens level, the point to meet leaves the frame after {after}° of "
                f"{number_text(move.sweep, 3)}°: begin it from farther the other way, or turn less"
            )
            short = f"Begun level, the move loses the point to meet after {after}°"
            yield Finding("scale", "note", "meet-leaves-frame", text, "move.sweep", short)
