"""The answer's correction: what to move so that the points that were read to miss meet."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from forescale.engine.formulas.misses import FEWEST, MODEL, LineUp, Moves, Read, camera_moves, model_moves
from forescale.engine.formulas.parting import Pair, miss
from forescale.engine.formulas.projection import Pixels, Point
from forescale.engine.kit.kit import Kit
from forescale.engine.shot.records import Setting
from forescale.engine.solve.lens_setup import LensSetup
from forescale.engine.solve.line_up_groups import CameraMoves, CorrectionAnswer, ModelMoves, ReadPoint
from forescale.engine.solve.view import Stances, View, real_point, stances

FLAT = 0.05  # points that stray so little from a line, of their spread along it, are in one line

_Reads = dict[str, Read]


def correction_group(setting: Setting, kit: Kit, setup: LensSetup, view: View, where: str) -> CorrectionAnswer | None:
    """Return what the misses at the model's own points ask for; None where none was read. Raises BadInput."""
    return _corrections(setting, kit, setup, view, where).get(None) if setting.miss else None


def piece_corrections(
    setting: Setting, kit: Kit, setup: LensSetup, view: View, where: str
) -> dict[str | None, CorrectionAnswer]:
    """Return what the misses at the pieces' own points ask for, by the piece's name. Raises BadInput."""
    found = _corrections(setting, kit, setup, view, where) if setting.miss else {}
    return {name: one for name, one in found.items() if name is not None}


def _corrections(
    setting: Setting, kit: Kit, setup: LensSetup, view: View, where: str
) -> dict[str | None, CorrectionAnswer]:
    placed = stances(setting, kit, setup, where)
    read: dict[str | None, _Reads] = {}
    for piece, name, one in _reads(setting, kit, setup, view, placed, where):
        read.setdefault(piece, {})[name] = one
    aim, height = setup.aim_deg, setting.place.lens_height or 0.0
    return {
        piece: _corrected(
            reads, LineUp(height, aim, view.frame, setting.limits.reading_px, placed[piece].stands_mm), piece
        )
        for piece, reads in read.items()
    }


def _reads(
    setting: Setting, kit: Kit, setup: LensSetup, view: View, placed: Stances, where: str
) -> Iterator[tuple[str | None, str, Read]]:
    """Yield the piece, the name and the reading of each point whose picture can be foretold."""
    rows = {row.name: row for row in setting.point}
    for one in setting.miss:
        row = rows[one.point]
        real = real_point(row, setting, kit, setup, placed[row.piece], ("point",), where)
        pair = Pair(placed[row.piece].as_built(real, setting.place.lens_height or 0.0), real)
        if miss(pair, view.line_up, view.frame) is not None:
            yield row.piece, one.point, Read(pair, Pixels(one.across_px, one.up_px))


def _corrected(reads: _Reads, line_up: LineUp, piece: str | None) -> CorrectionAnswer:
    names, read = tuple(reads), tuple(reads.values())
    if len(read) < FEWEST:
        return CorrectionAnswer(None, None, (), ("one point is read, and two are needed at the least",), ())
    camera, model = camera_moves(read, line_up), model_moves(read, line_up)
    doubted = {place for found in (camera, model) if found is not None for place in found.doubtful}
    thing = "the model" if piece is None else piece
    return CorrectionAnswer(
        camera=None if camera is None else CameraMoves(**_values(camera)),
        model=None if model is None else ModelMoves(**_values(model)),
        doubtful=tuple(name for place, name in enumerate(names) if place in doubted),
        cannot_tell=(*_not_told(camera, "the camera", read), *_not_told(model, thing, read)),
        points=tuple(_point(place, name, one, camera, model) for place, (name, one) in enumerate(reads.items())),
    )


def _values(found: Moves) -> dict[str, Any]:
    """Return the fields of a record of moves."""
    named: dict[str, Any] = {
        "residual_px": found.residual_px,
        "left_px": found.left_px,
        "holds": found.holds,
    }
    for name, value in found.told.items():
        unit = "deg" if name in MODEL[3:] else "mm"
        named |= {f"{name}_{unit}": value, f"{name}_error_{unit}": found.errors[name]}
    return named


def _point(place: int, name: str, one: Read, camera: Moves | None, model: Moves | None) -> ReadPoint:
    left = [(None, None) if found is None else found.residuals_px[place] for found in (camera, model)]
    return ReadPoint(name, one.miss.across, one.miss.up, *left[0], *left[1])


# What cannot be told, and why

_ASKED = {
    "right": "how far {} stands aside",
    "up": "how high {} stands",
    "forward": "how far {} stands forward or back",
    "turn": "the turn of {}",
    "lean": "the lean of {}",
    "roll": "the roll of {}",
}


def _not_told(found: Moves | None, thing: str, read: Sequence[Read]) -> Iterator[str]:
    if found is None:
        yield f"no place of {thing} gives these misses: read them again"
        return
    blind = [_ASKED[name].format(thing) for name, value in found.told.items() if value is None]
    if blind:
        listed = blind[0] if len(blind) == 1 else f"{', '.join(blind[:-1])} and {blind[-1]}"
        yield f"with {_why([one.pair.built for one in read])} {listed} cannot be told"
    elif found.freedom == 0:
        yield f"with so few points nothing checks what is told of {thing}: read one more"


def _why(points: Sequence[Point]) -> str:
    """Return in words what about the read points leaves something untold."""
    count = "both" if len(points) == 2 else "all"
    farthest = max(((one, other) for one in points for other in points), key=lambda pair: math.dist(*pair))
    length = math.dist(*farthest)
    if length == 0:
        return f"{count} points at one place"
    if max(one.h for one in points) - min(one.h for one in points) < FLAT * length:
        return f"{count} points at one height"
    if len(points) == 2:
        return "two points alone"
    if all(_off_line(one, *farthest) < FLAT * length for one in points):
        return "all points in one line"
    return "these points"


def _off_line(point: Point, start: Point, end: Point) -> float:
    """Return how far a point is from the line through two others."""
    along = [b - a for a, b in zip(start[:3], end[:3], strict=True)]
    away = [b - a for a, b in zip(start[:3], point[:3], strict=True)]
    share = sum(a * b for a, b in zip(along, away, strict=True)) / sum(a * a for a in along)
    return math.hypot(*(b - share * a for a, b in zip(along, away, strict=True)))
