"""Standing the model elsewhere: its nearest part comes along by as much as the ratio builds it deep."""

from __future__ import annotations

from forescale.engine.findings.words import Words
from forescale.engine.solve.record import Answer


def stood_at(of: Answer, tape_mm: float, ratio: float | None = None) -> dict[str, str | None]:
    """Return the changes that stand the model at a tape distance, to a sixteenth or a millimetre; `ratio` if another.

    The nearest part, where one is taped, keeps its depth at full size.
    """
    words, near = Words(of), of.setting.place.model_near
    changes: dict[str, str | None] = {"place.model": words.exactly(tape_mm)}
    if near is not None:
        deep = max(of.lineup.model_mm - near, 0.0) * (1.0 if ratio is None else of.scale.ratio / ratio)
        changes["place.model_near"] = words.exactly(tape_mm - deep) if deep < tape_mm else None
    return changes
