"""What the lens sees: its aim, where points are built and how they miss, outlines and pieces."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.sheet.blocks import Block, Row, Section, Table
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.voice import Voice
from forescale.engine.solve.picture_groups import PictureAnswer, PictureOutline, PicturePoint
from forescale.engine.units import angle_text, number_text

_NOTE = "at the line-up; aside from the line of the lens, heights over the background's ground, misses right and high +"


def section(voice: Voice) -> Section | None:
    """Return the picture, where the shot says something of it."""
    found = voice.of.picture
    return None if found is None else Section("What the lens sees", tuple(_blocks(voice, found)), _NOTE)


def _blocks(voice: Voice, found: PictureAnswer) -> Iterator[Block]:
    way = "level" if found.aim_deg == 0 else f"{angle_text(abs(found.aim_deg))} {'up' if found.aim_deg > 0 else 'down'}"
    yield Row("Aim", way, "at the line-up")
    field = f"{angle_text(found.field_across_deg)} × {angle_text(found.field_up_deg)}"
    yield Row("Angle of view", field, "across × up")
    yield Row("Horizon", voice.percent(found.horizon_up), "of the frame's height, from its bottom")
    if found.points:
        yield _to_scale(voice, found.points)
        yield _as_it_stands(voice, found.points)
    if found.outlines:
        yield _outlines(voice, found)
    if found.pieces:
        yield _pieces(voice, found)


def _to_scale(voice: Voice, points: tuple[PicturePoint, ...]) -> Table:
    rows = (
        (
            clean(one.name),
            _length(voice, one.model_distance_mm),
            _aside(voice, one.model_aside_mm),
            _length(voice, one.model_height_mm),
            _held(voice, one),
        )
        for one in points
    )
    return Table(("Built to scale", "Distance", "Aside", "Height", "In the frame"), tuple(rows))


def _held(voice: Voice, thing: PicturePoint | PictureOutline) -> str:
    """Return whether the frame holds a point or how much of an outline at the line-up, and where the move loses it."""
    if thing.leaves_share is None or not thing.in_frame:
        return thing.in_frame if isinstance(thing.in_frame, str) else "yes" if thing.in_frame else "no"
    turn = None if thing.leaves_deg is None else angle_text(abs(thing.leaves_deg))
    return f"to {turn or voice.percent(thing.leaves_share)}{' before' if thing.leaves_share < 0 else ''}"


def _as_it_stands(voice: Voice, points: tuple[PicturePoint, ...]) -> Table:
    rows = (
        (
            clean(one.name),
            _length(voice, one.stands_mm),
            _aside(voice, one.sight_aside_mm),
            _length(voice, one.sight_height_mm),
            _px(one.miss_across_px),
            _px(one.miss_up_px),
            _px(one.slip_px),
        )
        for one in points
    )
    heads = ("In sight, as it stands", "Distance", "Aside", "Height", "Right px", "High px", "Slips px")
    return Table(heads, tuple(rows), frozenset({4, 5, 6}))


def _outlines(voice: Voice, found: PictureAnswer) -> Table:
    rows = (
        (
            clean(one.name),
            one.of,
            _length(voice, one.model_width_mm),
            _length(voice, one.model_height_mm),
            _held(voice, one),
            _px(one.edge_blur_px),
            "-" if one.overlap_mm is None else voice.small(one.overlap_mm),
        )
        for one in found.outlines
    )
    heads = ("Outline", "Of", "Wide", "High", "Held", "Blur px", "Overlap")
    return Table(heads, tuple(rows), frozenset({5}))


def _pieces(voice: Voice, found: PictureAnswer) -> Table:
    rows = (
        (
            clean(one.name),
            voice.ratio(one.ratio),
            voice.length(one.stands_mm),
            voice.length(one.match_distance_mm),
            voice.rate(one.ideal_fps),
            "yes" if one.sharp else "no",
            _px(one.slip_px),
        )
        for one in found.pieces
    )
    heads = ("Piece", "Scale", "Stands", "Match", "Wants", "Sharp", "Slips px")
    return Table(heads, tuple(rows), frozenset({6}))


def _length(voice: Voice, mm: float | None) -> str:
    return "-" if mm is None else voice.length(mm)


def _aside(voice: Voice, mm: float | None) -> str:
    if mm is None:
        return "-"
    return "0" if abs(mm) < 0.5 else f"{voice.length(abs(mm))} {'right' if mm > 0 else 'left'}"


def _px(px: float | None) -> str:
    return "-" if px is None else number_text(px if abs(px) >= 0.05 else 0.0, 2)
