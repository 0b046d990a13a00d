"""Findings on the picture: points and outlines that the frame does not hold, points that miss, pieces that go wrong."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas.frame_rate import HEAVY_GRAVITY, LIGHT_GRAVITY, weight_shown
from forescale.engine.formulas.lineup import SIZE_NOTICED, SIZE_WRONG
from forescale.engine.solve.picture_groups import PictureAnswer, PictureOutline, PicturePiece, PicturePoint
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.units import angle_text, number_text

MOST_NAMED = 3
SHORTEST = 34  # columns of a finding in short that a narrow screen holds
GRAZES = 1e-6  # a share of the frame so small is the rounding of floats


def picture_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of points, outlines and pieces."""
    if (picture := answer.picture) is None:
        return
    yield from _points_out(picture)
    yield from _points_leave(answer, picture)
    yield from _points_miss(answer, picture)
    if answer.setting.place.fills != "frame":
        for outline in picture.outlines:
            yield from _outline_cut(outline)
        yield from _outlines_leave(answer, picture)
    for number, piece in enumerate(picture.pieces, start=1):
        yield from _piece(answer, piece, f"piece.{number}")


def beyond(left: float | None, right: float | None, bottom: float | None, top: float | None) -> tuple[str, float]:
    """Return the edge that a thing passes farthest, and by how much of the frame; not past where that is negative."""
    if left is None or right is None or bottom is None or top is None:
        return "behind the lens", math.inf
    past = {"left": -left, "right": right - 1, "bottom": -bottom, "top": top - 1}
    side = max(past, key=lambda edge: past[edge])
    return side, past[side]


def point_beyond(point: PicturePoint) -> tuple[str, float]:
    """Return the edge that a point lies beyond at the line-up, and by how much of the frame."""
    return beyond(point.frame_across, point.frame_across, point.frame_up, point.frame_up)


def _short(name: str, does: str) -> str:
    """Return what a thing does in a few words that fit a narrow screen, its name cut where it is long."""
    room = SHORTEST - len(does) - 1
    return f"{name if len(name) <= room else name[: room - 2].rstrip(' ,;:') + ' …'} {does}"


def _past(side: str, by: float) -> str:
    """Return how far past an edge a thing lies: "12 % past the top edge"."""
    return side if math.isinf(by) else f"{Words.percent(by)} past the {side} edge"


def _points_out(picture: PictureAnswer) -> Iterator[Finding]:
    """Say which points the frame does not hold at the line-up, and by how much."""
    out = [point for point in picture.points if not point.in_frame]
    if out:
        named = ", ".join(f"{point.name} ({_past(*point_beyond(point))})" for point in out[:MOST_NAMED])
        more = f" and {len(out) - MOST_NAMED} more" if len(out) > MOST_NAMED else ""
        text = f"At the line-up {named}{more} {'lies' if len(out) == 1 else 'lie'} outside the frame"
        short = _short(out[0].name, "is outside the frame")
        yield Finding("scale", "warn", "point-out-of-frame", text, "place.aim", short)


def _points_leave(answer: Answer, picture: PictureAnswer) -> Iterator[Finding]:
    """Say which points the move loses, and where."""
    gone = [point for point in picture.points if point.in_frame and point.leaves_share is not None]
    if gone:
        first = min(gone, key=lambda point: abs(point.leaves_share or 0.0))
        also = f", and {len(gone) - 1} more later" if len(gone) > 1 else ""
        text = f"The move loses {first.name} {_after(answer, first)}{also}"
        yield Finding("scale", "note", "point-leaves-frame", text, "move.sweep", _short(first.name, "leaves the frame"))


def _after(answer: Answer, thing: PicturePoint | PictureOutline) -> str:
    """Return when something leaves the frame: after so many degrees of so many, or of the way."""
    if thing.leaves_deg is None:
        return f"after {Words.percent(thing.leaves_share or 0.0)} of the travel"
    move = answer.setting.move
    if thing.leaves_deg < 0:
        return f"before the line-up, {angle_text(-thing.leaves_deg)} of {angle_text(move.start)} to that side"
    return f"after {angle_text(thing.leaves_deg)} of {angle_text(move.sweep)}"


def miss_px(point: PicturePoint) -> float:
    """Return how far a point misses, in pixels; 0 where that is not known."""
    return math.hypot(point.miss_across_px or 0.0, point.miss_up_px or 0.0)


def _points_miss(answer: Answer, picture: PictureAnswer) -> Iterator[Finding]:
    """Say where the model as it stands misses the place, and where its point would have to be."""
    passes = answer.setting.move.tolerance
    missing = [point for point in picture.points if miss_px(point) > passes]
    if not missing:
        return
    worst = max(missing, key=miss_px)
    of = f"{len(missing)} of {len(picture.points)} points miss, most of all" if len(missing) > 1 else ""
    parts = [
        f"{number_text(abs(px), 2)} px {ways[px < 0]}"
        for px, ways in ((worst.miss_across_px or 0.0, ("right", "left")), (worst.miss_up_px or 0.0, ("high", "low")))
        if abs(px) >= passes / 10
    ]
    name = worst.name if of else worst.name[:1].upper() + worst.name[1:]
    text = f"{of} {name} misses by {' and '.join(parts)} as the model stands: {_belongs(answer, worst)}".strip()
    by_hand = "move the model's point to the line of sight, or build it to scale and line up in the picture"
    yield Finding(
        "scale", "warn", "points-miss", text, "place.model", _short(worst.name, "misses as it stands"), by_hand
    )


def _belongs(answer: Answer, point: PicturePoint) -> str:
    """Return where on the model a point would meet as it stands."""
    words = Words(answer)
    aside = f"{words.length(abs(point.sight_aside_mm))} {'right' if point.sight_aside_mm > 0 else 'left'}"
    if abs(point.sight_aside_mm) < 0.5:
        aside = "in line with the lens"
    high = "" if point.sight_height_mm is None else f" and {words.length(point.sight_height_mm)} up"
    return f"{words.length(point.stands_mm)} off it would meet {aside}{high}"


def _outline_cut(outline: PictureOutline) -> Iterator[Finding]:
    """Say which edge of the frame cuts the model at the line-up, and by how much; its foot may well lie below."""
    side, by = beyond(outline.left, outline.right, outline.bottom, outline.top)
    if outline.in_frame == "all" or outline.of == "place" or (by <= GRAZES and outline.in_frame != "none"):
        return
    above = beyond(outline.left, outline.right, 0.5, outline.top)
    grave = above[1] > GRAZES
    if grave and side == "bottom":
        side, by = above
    level: Level = "warn" if grave or outline.in_frame == "none" else "note"
    what = "lies wholly outside the frame" if outline.in_frame == "none" else "is cut by the frame"
    text = f"At the line-up {outline.name} {what}{f', {_past(side, by)}' if by > 0 else ''}"
    by_hand = "let the frame cut it, where nobody is to see it whole"
    yield Finding("scale", level, "outline-cut", text, "place.aim", _short(outline.name, what), by_hand)


def _outlines_leave(answer: Answer, picture: PictureAnswer) -> Iterator[Finding]:
    """Say which outlines of the model, held whole at the line-up, the move cuts, and where."""
    gone = [one for one in picture.outlines if one.of == "model" and one.leaves_share is not None]
    if gone:
        first = min(gone, key=lambda one: abs(one.leaves_share or 0.0))
        also = sorted(one.name for one in gone if one is not first)[:MOST_NAMED]
        later = f", and later {', '.join(also)}" if also else ""
        text = f"The move cuts {first.name} {_after(answer, first)}{later}"
        short = _short(first.name, "leaves the frame")
        yield Finding("scale", "note", "outline-leaves-frame", text, "move.sweep", short)


def _piece(answer: Answer, piece: PicturePiece, row: str) -> Iterator[Finding]:
    """Say where a piece reads, runs or focuses wrong, or slips."""
    words, wrong = Words(answer), piece.size_error - 1
    stands = f"At {words.length(piece.stands_mm)} {piece.name}"
    if abs(wrong) >= SIZE_NOTICED and math.isfinite(piece.size_error):
        level: Level = "stop" if abs(wrong) >= SIZE_WRONG else "warn"
        text = f"{stands} looks {words.too(wrong)}: its {words.ratio(piece.ratio)} matches at "
        text += words.length(piece.match_distance_mm)
        yield Finding("scale", level, "piece-size", text, f"{row}.stands", _short(piece.name, "reads wrong"))
    gravity = weight_shown(piece.apparent_gravity, answer.setting.action.heft)
    if answer.setting.action.scaled and not LIGHT_GRAVITY <= gravity <= HEAVY_GRAVITY:
        text = f"What falls on {piece.name} falls {number_text(gravity, 2)} times as hard as it should: "
        wants = words.rate(piece.ideal_fps)
        text += f"{words.ratio(piece.ratio)} wants {wants}, and {words.rate(answer.speed.fps)} runs"
        yield Finding("speed", "note", "piece-rate", text, f"{row}.ratio", _short(piece.name, "runs wrong"))
    if not piece.sharp:
        zone = f"sharp is {words.sharp_from(answer.focus.near_mm)} to {words.sharp_to(answer.focus.far_mm)}"
        text = f"{stands} is not held sharp: {zone}"
        yield Finding("focus", "warn", "piece-soft", text, f"{row}.stands", _short(piece.name, "is soft"))
    if piece.slip_px is not None and piece.slip_px > answer.slip.tolerance_px:
        slips = f"parts from the background by {number_text(piece.slip_px, 2)} px over the move"
        yield Finding("slip", "warn", "piece-slips", f"{stands} {slips}", "move.slide", _short(piece.name, "slips"))
