"""What may bring points and outlines into the frame, keep them there, and make model and place meet."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.formulas.projection import Frame
from forescale.engine.mends.placing import stood_at
from forescale.engine.solve.record import Answer, Finding, Mend
from forescale.engine.solve.view import view_of
from forescale.engine.units import number_text, rounded_up

SPARE = 0.01  # of the frame, left around what is brought in
STEEPEST_DEG = 80.0


def held(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the aim that holds everything, the lens that would, and the turn to either side."""
    if of.picture is None:
        return
    edges = [(point.frame_across, point.frame_up) for point in of.picture.points]
    for outline in of.picture.outlines:
        edges += [(outline.left, outline.top), (outline.right, outline.bottom)]
    across = [x for x, _ in edges if x is not None]
    up = [y for _, y in edges if y is not None]
    frame = view_of(of.setting, of.kit, of.setup).frame
    if not up:
        return
    if aim := _aim(of, frame, min(up), max(up)):
        yield Mend("", {"place.aim": aim})
    widest = max(2 * abs(share - 0.5) for share in (*across, *up))
    if widest > 1:
        focal = of.kit.focal_mm / (widest * (1 + SPARE))
        if of.kit.lens.is_zoom and focal >= of.kit.lens.shortest:
            yield Mend("", {"kit.focal_length": f"{number_text(focal, 4)} mm"}, "another focal length: line up anew")
        farther = f"{number_text(rounded_up(widest), 3)} times as far off"
        yield Mend(f"take a lens of {focal:.0f} mm or shorter, or stand {farther}")
    side = max((0.5 - min(across), max(across) - 0.5), default=0.0) if across else 0.0
    if side > 0.5 and max(across) - min(across) < 1 - SPARE:
        middle = (max(across) + min(across)) / 2 - 0.5
        turn = math.degrees(math.atan(middle * frame.width_mm / frame.image_mm))
        yield Mend(f"turn the head {abs(turn):.1f}° to the {'right' if turn > 0 else 'left'} and line up anew")


def _aim(of: Answer, frame: Frame, low: float, high: float) -> str | None:
    """Return the aim that brings what lies between two shares of the height into the frame; None where none does."""
    if high - low >= 1 - 2 * SPARE or (low >= 0 and high <= 1):
        return None
    over, under = high - (1 - SPARE), SPARE - low
    step = over if over > under else -under
    turned = math.degrees(math.atan(step * frame.height_mm / frame.image_mm))
    aim = of.setup.aim_deg + math.copysign(rounded_up(abs(turned), 2), turned)
    return f"{number_text(abs(aim), 4)} deg {'up' if aim > 0 else 'down'}" if abs(aim) <= STEEPEST_DEG else None


def shorter_move(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield the sweep and the start at which the frame still holds every point, or every outline of the model."""
    if of.picture is None:
        return
    if finding.code == "point-leaves-frame":
        left = [point.leaves_deg for point in of.picture.points if point.in_frame]
    else:
        left = [outline.leaves_deg for outline in of.picture.outlines if outline.of == "model"]
    turns = [turn for turn in left if turn is not None]
    ahead, behind = [turn for turn in turns if turn > 0], [-turn for turn in turns if turn < 0]
    changes: dict[str, str | None] = {}
    if ahead:
        changes["move.sweep"] = f"{number_text(math.floor(min(ahead) * 100) / 100, 5)} deg"
    if behind:
        changes["move.start"] = f"{number_text(math.floor(min(behind) * 100) / 100, 5)} deg"
    if changes:
        yield Mend("", changes)


def meet(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the place at which the model matches; where that is so, each point is a matter of the model's build."""
    if math.isfinite(of.lineup.match_distance_mm):
        yield Mend("", stood_at(of, of.lineup.match_distance_mm))
    yield Mend("move the model's point to the line of sight, or build it to scale and line up in the picture")


def cut(of: Answer, finding: Finding) -> Iterator[Mend]:
    """Yield what brings an outline into the frame, or what there is to say of one that may well be cut."""
    yield from held(of, finding)
    yield Mend("let the frame cut it, where nobody is to see it whole")
