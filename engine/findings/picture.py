"""Findings on the picture: points and outlines that the frame does not hold, points that miss, pieces that go wrong."""

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, TypeVar

from forescale.engine.findings.words import Words, said
from forescale.engine.formulas.frame_rate import HEAVY_GRAVITY, LIGHT_GRAVITY, weight_shown
from forescale.engine.formulas.lineup import SIZE_NOTICED, SIZE_WRONG
from forescale.engine.solve.picture_groups import PictureAnswer, PictureOutline, PicturePiece, PicturePoint
from forescale.engine.solve.record import Answer, Finding, Level
from forescale.engine.units import angle_text, number_text

MOST_NAMED = 3
SHORTEST = 34  # columns of a finding in short that a narrow screen holds
GRAZES = 1e-6  # a share of the frame so small is the rounding of floats

_Seen = TypeVar("_Seen", PicturePoint, PictureOutline)


def picture_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of points, outlines and pieces."""
    if (picture := answer.picture) is None:
        return
    places = {row.name: number for number, row in enumerate(answer.setting.point, start=1)}
    for point in picture.lost:
        name, field = point.name[:1].upper() + point.name[1:], f"point.{places[point.name]}.frame_across"
        yield said(
            answer, "point-lost", field=field, short=short_of(name, "tells nothing"), name=name, fault=point.fault
        )
    out = [point for point in picture.points if not point.in_frame]
    if out:
        beyonds = [beyond(*[one.frame_across] * 2, *[one.frame_up] * 2) for one in out[:MOST_NAMED]]
        named = ", ".join(f"{one.name} ({_past(*side)})" for one, side in zip(out, beyonds, strict=False))
        named += f" and {len(out) - MOST_NAMED} more" if len(out) > MOST_NAMED else ""
        short = short_of(out[0].name, "is outside the frame")
        yield said(answer, "point-out-of-frame", named=named, lie="lies" if len(out) == 1 else "lie", short=short)
    gone = _leaving(point for point in picture.points if point.in_frame)
    if gone:
        yield _leaves(answer, "point-leaves-frame", gone, "points")
    yield from _points_miss(answer, picture)
    if answer.setting.place.fills != "frame":
        for outline in picture.outlines:
            yield from _outline_cut(answer, outline)
        cut = _leaving(outline for outline in picture.outlines if outline.of == "model")
        if cut:
            names = sorted(outline.name for outline in cut[1:])[:MOST_NAMED]
            yield _leaves(answer, "outline-leaves-frame", cut, "outlines", f": then {', '.join(names)}")
    for number, piece in enumerate(picture.pieces, start=1):
        yield from _piece(answer, piece, f"piece.{number}")


def beyond(left: float | None, right: float | None, bottom: float | None, top: float | None) -> tuple[str, float]:
    """Return the edge that a thing passes farthest, and by how much of the frame; not past where that is negative."""
    if left is None or right is None or bottom is None or top is None:
        return "behind the lens", math.inf
    past = {"left": -left, "right": right - 1, "bottom": -bottom, "top": top - 1}
    side = max(past, key=lambda edge: past[edge])
    return side, past[side]


def short_of(name: str, does: str) -> str:
    """Return what a thing does in a few words that fit a narrow screen, a long name cut in front of its last word."""
    room = SHORTEST - len(does) - 1
    if len(name) <= room:
        return f"{name} {does}"
    _, _, last = name.rpartition(" ")
    end = f" … {last}" if len(last) <= room // 2 else " …"
    start = name[: room - len(end) + 1]
    return f"{(start.rpartition(' ')[0] or start[:-1]).rstrip(' ,;:')}{end} {does}"


def _past(side: str, by: float) -> str:
    """Return how far past an edge a thing lies: "12 % past the top edge"."""
    return side if math.isinf(by) else f"{Words.percent(by)} past the {side} edge"


def _leaving(things: Iterable[_Seen]) -> list[_Seen]:
    leave = [thing for thing in things if thing.leaves_share is not None]
    return sorted(leave, key=lambda thing: abs(thing.leaves_share or 0.0))


def _leaves(answer: Answer, code: str, gone: Sequence[_Seen], what: str, then: str = "") -> Finding:
    """Say which leaves first, and of how many; `then` names the later ones."""
    also, short = "", short_of(gone[0].name, "leaves the frame")
    if len(gone) > 1:
        also, short = f", the first of {len(gone)}{then}", f"{len(gone)} {what} leave the frame"
    return said(answer, code, first=gone[0].name, after=_after(answer, gone[0]), also=also, short=short)


def _after(answer: Answer, thing: PicturePoint | PictureOutline) -> str:
    """Return when something leaves the frame: after so many degrees of so many, or of the way."""
    if thing.leaves_deg is None:
        return f"after {Words.percent(thing.leaves_share or 0.0)} of the travel"
    move = answer.setting.move
    if thing.leaves_deg < 0:
        return f"before the line-up, {Words.held_to(thing.leaves_deg)} of {angle_text(move.start)} to that side"
    return f"after {Words.held_to(thing.leaves_deg)} of {angle_text(move.sweep)}"


def miss_px(point: PicturePoint) -> float:
    """Return how far a point misses, in pixels; 0 where that is not known."""
    return math.hypot(point.miss_across_px or 0.0, point.miss_up_px or 0.0)


def misses_by(point: PicturePoint, least: float) -> list[tuple[float, str]]:
    """Return how far a point misses each way, where that is no less than `least`: the pixels, and "2 px high"."""
    sides = ((point.miss_across_px or 0.0, ("right", "left")), (point.miss_up_px or 0.0, ("high", "low")))
    return [(abs(px), f"{number_text(abs(px), 2)} px {ways[px < 0]}") for px, ways in sides if abs(px) >= least]


def _points_miss(answer: Answer, picture: PictureAnswer) -> Iterator[Finding]:
    words, passes = Words(answer), answer.setting.move.tolerance
    missing = [point for point in picture.points if miss_px(point) > passes]
    if not missing:
        return
    worst = max(missing, key=miss_px)
    by = misses_by(worst, passes / 10)
    name, misses, most = worst.name[:1].upper() + worst.name[1:], " and ".join(text for _, text in by), max(by)[1]
    short = short_of(worst.name, f"misses {most}")
    if len(missing) > 1:
        of_all = f"{len(missing)} of {len(picture.points)} points miss"
        name, short = f"{of_all}, most of all {worst.name}", f"{of_all}, one {most}"
    aside = f"{words.length(abs(worst.sight_aside_mm))} {'right' if worst.sight_aside_mm > 0 else 'left'}"
    if abs(worst.sight_aside_mm) < 0.5:
        aside = "in line with the lens"
    high = "" if worst.sight_height_mm is None else f" and {words.length(worst.sight_height_mm)} up"
    yield said(answer, "points-miss", name=name, misses=misses, point=worst, aside=aside, high=high, short=short)


def _outline_cut(answer: Answer, outline: PictureOutline) -> Iterator[Finding]:
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
    past, short = f", {_past(side, by)}" if by > 0 else "", short_of(outline.name, what)
    yield said(answer, "outline-cut", level=level, name=outline.name, what=what, past=past, short=short)


def _piece(answer: Answer, piece: PicturePiece, row: str) -> Iterator[Finding]:
    wrong, gravity = piece.size_error - 1, weight_shown(piece.apparent_gravity, answer.setting.action.heft)

    def of_piece(code: str, does: str, field: str, **given: Any) -> Finding:
        return said(answer, code, field=field, piece=piece, short=short_of(piece.name, does), **given)

    if abs(wrong) >= SIZE_NOTICED and math.isfinite(piece.size_error):
        level = "stop" if abs(wrong) >= SIZE_WRONG else "warn"
        yield of_piece("piece-size", "reads wrong", f"{row}.stands", level=level, wrong=wrong)
    if answer.setting.action.scaled and not LIGHT_GRAVITY <= gravity <= HEAVY_GRAVITY:
        yield of_piece("piece-rate", "runs wrong", f"{row}.ratio", gravity=gravity)
    if not piece.sharp:
        yield of_piece("piece-soft", "is soft", f"{row}.stands")
    if piece.slip_px is not None and piece.slip_px > answer.slip.tolerance_px:
        yield of_piece("piece-slips", "slips", "")
