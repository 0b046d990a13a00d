"""What was read at the line-up, and the way back to where the camera stood."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.findings.line_up import come_back_says, correction_says
from forescale.engine.sheet.blocks import Block, Remark, Section, Table
from forescale.engine.sheet.cells import clean
from forescale.engine.sheet.voice import Voice
from forescale.engine.solve.line_up_groups import CorrectionAnswer
from forescale.engine.units import number_text

_NOTE = "± is two standard errors"


def correction(voice: Voice) -> Section | None:
    """Return what the misses ask for, the model's own points first, then each piece's."""
    found = [("the model", voice.of.correction)]
    if voice.of.picture is not None:
        found += [(piece.name, piece.correction) for piece in voice.of.picture.pieces]
    blocks = [block for thing, one in found if one is not None for block in _blocks(voice, one, clean(thing))]
    return Section("Line-up by the picture", tuple(blocks), f"what is to be moved; {_NOTE}") if blocks else None


def _blocks(voice: Voice, found: CorrectionAnswer, thing: str) -> Iterator[Block]:
    if found.points:
        heads = ("Point", "Across px", "Up px", "By camera", "By model")
        rows = tuple(
            (
                clean(point.point),
                number_text(point.across_px, 4),
                number_text(point.up_px, 4),
                _pair(point.camera_across_px, point.camera_up_px),
                _pair(point.model_across_px, point.model_up_px),
            )
            for point in found.points
        )
        yield Table(heads, rows, frozenset({1, 2, 3, 4}))
    for text in correction_says(voice.of, found, thing):
        yield Remark("-", clean(text))


def _pair(across: float | None, up: float | None) -> str:
    if across is None or up is None:
        return "-"
    return f"{number_text(round(across, 1), 3)} {number_text(round(up, 1), 3)}"


def come_back(voice: Voice) -> Section | None:
    """Return the way back by the witness marks."""
    found = voice.of.come_back
    if found is None:
        return None
    points = tuple(Remark("-", clean(text)) for text in come_back_says(voice.of, found))
    return Section("Coming back", points, f"what to do to stand as before; {_NOTE}")
