"""What a shot has to cut: outlines, faces of parts, rods to set out by, the card to hold up at the place."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from forescale.engine.formulas.setting_out import cutout_size_mm
from forescale.engine.formulas.tiles import extent
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.templates.figure import Figure, face_figure, outline_figure, rod_figure
from forescale.engine.sheet.voice import Voice
from forescale.engine.shot.pictured import OutlineRow
from forescale.engine.shot.records import Part
from forescale.engine.solve.cutting import running
from forescale.engine.units import UnitSystem, shop_length

CARD_MM: dict[UnitSystem, float] = {"imperial": 609.6, "metric": 600.0}  # an arm's length, where none is given
LEAST_MM = 0.5  # nothing smaller is drawn


def figures(voice: Voice) -> tuple[Figure, ...]:
    """Return everything that can be drawn at true size."""
    return (*_outlines(voice), *_faces(voice), *_rods(voice), *_cards(voice))


def ratios(voice: Voice) -> tuple[float, ...]:
    """Return every ratio in use: the shot's, the second, those of the pieces."""
    scale, pieces = voice.of.scale, voice.of.setting.piece
    used = (scale.ratio, scale.compare_ratio, *(piece.ratio for piece in pieces))
    return tuple(dict.fromkeys(ratio for ratio in used if ratio is not None))


def _outlines(voice: Voice) -> Iterator[Figure]:
    """Yield the outlines of what is built, each at its own ratio."""
    pieces = {piece.name: piece.ratio for piece in voice.of.setting.piece}
    for row in voice.of.setting.outline:
        if row.of == "model":
            ratio = pieces.get(row.piece or "", voice.of.scale.ratio)
            yield from _outline(voice, row, f"{clean(row.name)}, outline", ratio, f"{voice.ratio(ratio)}, ")


def _outline(voice: Voice, row: OutlineRow, name: str, ratio: float, about: str) -> Iterator[Figure]:
    """Yield an outline that is large enough to be drawn, with its size."""
    figure = outline_figure(name, about, row.corners, ratio, closed=row.closed)
    left, bottom, right, top = extent(figure.cut[0])
    if max(right - left, top - bottom) >= LEAST_MM:
        yield replace(figure, about=f"{about}{_cut(voice, right - left)} × {_cut(voice, top - bottom)}")


def sides(part: Part) -> dict[str, tuple[float, float]]:
    """Return the faces of a part at full size: across, up; the full size stands for the one size that is left out."""
    wide, deep, tall = part.wide, part.deep, part.tall
    lacking = [size for size in (wide, deep, tall) if size is None]
    if len(lacking) == 1:
        wide, deep, tall = wide or part.real, deep or part.real, tall or part.real
    if len(lacking) == 2:
        return {"face": (wide or deep or part.real, tall or part.real)}
    if wide is None or deep is None or tall is None:
        return {}
    return {"front": (wide, tall), "side": (deep, tall), "top": (wide, deep)}


def _faces(voice: Voice) -> Iterator[Figure]:
    ratio = voice.of.scale.ratio
    for part in voice.of.setting.build:
        many = f", {part.quantity} of them" if part.quantity > 1 else ""
        names: dict[tuple[float, float], str] = {}
        for side, size in sides(part).items():
            names[size] = f"{names[size]} and {side}" if size in names else side
        for (across, up), side in names.items():
            wide, tall = across / ratio, up / ratio
            if min(wide, tall) >= LEAST_MM:
                about = f"{voice.ratio(ratio)}, {_cut(voice, wide)} × {_cut(voice, tall)}{many}"
                yield face_figure(f"{clean(part.part)}, {side}", about, wide, tall)


def _cut(voice: Voice, mm: float) -> str:
    return shop_length(mm, voice.of.scale.rounding).text


def _rods(voice: Voice) -> Iterator[Figure]:
    for found in running(voice.of):
        texts = [place.text for place in found.places]
        if found.exact_mm[-1] >= LEAST_MM:
            about = f"{voice.ratio(voice.of.scale.ratio)}, running from one datum, {len(texts)} to {texts[-1]}"
            yield rod_figure(f"{clean(found.part)}, setting out", about, found.exact_mm, texts)


def _cards(voice: Voice) -> Iterator[Figure]:
    """Yield what covers the real thing from where the card is held: the outlines, or the fronts of the parts."""
    setting, setup = voice.of.setting, voice.of.setup
    held = setting.scale.card or CARD_MM[voice.of.system]
    about = f"covers the real thing, held {voice.length(held)} from the eye"
    for row in setting.outline:
        distance = setup.seems_mm if row.of == "model" else setup.background_mm
        if math.isfinite(distance) and row.piece is None:
            yield from _outline(voice, row, f"{clean(row.name)}, survey cut-out", distance / held, f"{about}, ")
    if setting.outline or math.isinf(setup.seems_mm):
        return
    for part in setting.build:
        side = next(iter(sides(part).values()), (0.0, 0.0))
        wide, tall = (cutout_size_mm(size, held, setup.seems_mm) for size in side)
        if min(wide, tall) >= LEAST_MM:
            yield face_figure(f"{clean(part.part)}, survey cut-out", about, wide, tall)
