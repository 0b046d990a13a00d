"""What in the picture the zone leaves soft, since it lies nearer or farther along the lens than what was taped.

The zone counts where the lens axis meets what is taped. A lens that looks up has what stands low nearer to it: a plane
so far off, level, lies Z = z / cos τ / (1 − tan β · tan τ) along the lens where the frame has it at the angle β from
its middle, τ the aim. So with points off to the zone's ends: where each is built it must be sharp too.
"""

import math
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from forescale.engine.formulas.contrast import blur_disk_mm
from forescale.engine.solve.record import Answer
from forescale.engine.solve.view import stances

NOTICED = 1.01  # times the blur allowed, from which on it is told


class Soft(NamedTuple):
    """A thing that is soft, its blur in pixels, and the tape of what lies on the axis as far along the lens, mm."""

    name: str
    blur_px: float
    tape_mm: float
    is_near: bool


def soft_things(answer: Answer) -> list[Soft]:
    """Return what is built or outlined and is soft where the frame has it at the line-up, the softest first."""
    return sorted(_soft(answer, _things(answer)), key=lambda soft: -soft.blur_px)


def soft_at_edge(answer: Answer) -> Soft | None:
    """Return what stands as near as the nearest part, at the frame's edge that an aimed lens has nearest, if soft."""
    near, aim = answer.setup.level(answer.setup.near_mm), answer.setup.aim_deg
    edge = ("the bottom", 0.0) if aim > 0 else ("the top", 1.0)
    return next(_soft(answer, [(edge[0], near, edge[1])] if aim else []), None)


def _things(answer: Answer) -> Iterator[tuple[str, float, float]]:
    """Yield each thing with how far off it stands, level from the pupil, and where the frame has it, up from 0 to 1."""
    picture, setup, rows = answer.picture, answer.setup, answer.setting.outline
    if picture is None:
        return
    height_px, ahead = answer.kit.mode.height_px, setup.level(setup.pupil.ahead_mm)
    taped = {row.name: row.distance for row in answer.setting.point}
    for point in picture.points:
        if point.in_frame and point.frame_up is not None and point.miss_up_px is not None:
            yield f"{point.name} on the model", point.stands_mm - ahead, point.frame_up + point.miss_up_px / height_px
            if (distance := taped[point.name]) is not None:
                yield f"{point.name} in the place", distance - ahead, point.frame_up
    placed = stances(answer.setting, answer.kit, setup)
    for row, seen in zip(rows, picture.outlines, strict=True):
        if seen.in_frame != "none" and seen.bottom is not None and seen.top is not None:
            away = placed[row.piece].stands_mm if row.of == "model" else setup.level(setup.background_mm)
            yield f"{row.name} low in the frame", away, max(seen.bottom, 0.0)
            yield f"{row.name} high in the frame", away, min(seen.top, 1.0)


def _soft(answer: Answer, things: Iterable[tuple[str, float, float]]) -> Iterator[Soft]:
    setup, kit = answer.setup, answer.kit
    slope, half = math.tan(math.radians(setup.aim_deg)), kit.mode.height / setup.image_mm
    for name, away, up in things:
        along = setup.along(away + setup.level(setup.pupil.ahead_mm)) / (1 - (up - 0.5) * half * slope)
        blur = blur_disk_mm(along, setup.focus_mm, kit.focal_mm, setup.f_number, setup.pupil_magnification)
        if blur > setup.coc_mm * NOTICED:
            yield Soft(name, blur / kit.mode.pixel_mm, setup.tape(along), along < setup.focus_mm)
