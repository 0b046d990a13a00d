"""What brings model and place together at the points that were read, and the camera back to where it stood."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.findings.line_up_words import camera_says, model_says, way_back
from forescale.engine.findings.words import Words
from forescale.engine.solve.record import Answer, Finding, Mend


def together(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the moves of the camera and of the model that explain the misses."""
    found, words = of.correction, Words(of)
    if found is None:
        return
    if found.camera is not None and found.camera.holds:
        yield Mend(camera_says(words, found.camera))
    if found.model is not None and found.model.holds:
        yield Mend(model_says(words, found.model))
    for name in found.doubtful:
        yield Mend(f'read "{name}" again: the other points gainsay it')


def back(of: Answer, _finding: Finding) -> Iterator[Mend]:
    """Yield the way back to where the camera stood."""
    text = None if of.come_back is None else way_back(Words(of), of.come_back)
    if text is not None:
        yield Mend(text)
