"""Findings on what the frame holds of the largest part and of the point to meet."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas.optics import half_field_deg
from forescale.engine.shot.records import TILTS
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.units import number_text, rounded_down


def frame_findings(answer: Answer) -> Iterator[Finding]:
    """Yield where the frame cannot hold the largest part upright, or the point to meet, as it is aimed."""
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
    """Say where the point to meet stands out of the frame at the line-up, or leaves it in a tilt."""
    words, setup, move = Words(answer), answer.setup, answer.setting.move
    lens, hang = answer.setting.place.lens_height, answer.lineup.hang_height_mm
    if hang is None or lens is None:
        return
    rise = math.degrees(math.atan((hang - lens) / setup.level(setup.model_mm))) - setup.aim_deg
    half = half_field_deg(answer.kit.mode.height, setup.image_mm)
    if abs(rise) > half * (1 + 1e-6):
        side, way = ("above", "up") if rise > 0 else ("below", "down")
        turn = words.at_least(abs(rise) - half)
        aimed = "With the lens level" if setup.aim_deg == 0 else "As the lens is aimed"
        away, aim = setup.level(setup.model_mm), math.radians(setup.aim_deg)
        out = abs(hang - lens - away * math.tan(aim + math.radians(math.copysign(half, rise))))
        text = (
            f"{aimed}, the point to meet lies {words.length(out)} {side} the frame at the model: tilt the lens {way} "
            f"by {turn}° or more, or take a shorter lens"
        )
        short = f"Point to meet is {side} the frame: tilt {way} {turn}° or more"
        yield Finding("scale", "note", "meet-out-of-frame", text, "place.aim", short)
    elif move.axis in TILTS:
        left = half + (rise if move.axis == "tilt" else -rise)  # up carries the frame past a point that stands low
        if left < move.sweep:
            after = number_text(rounded_down(left), 2)
            text = (
                f"Begun as the lens is aimed, the {move.axis} loses the point to meet after {after}° of "
                f"{number_text(move.sweep, 3)}°: begin it from farther the other way, or turn less"
            )
            short = f"Point to meet lost after {after}°"
            yield Finding("scale", "note", "meet-leaves-frame", text, "move.sweep", short)
