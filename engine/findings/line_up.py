"""Findings on what was read at the line-up and on coming back."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.line_up_words import camera_says, model_says, way_back
from forescale.engine.findings.words import Words
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.units import number_text


def find(answer: Answer) -> Iterator[Finding]:
    """Yield what to move where points were read to miss, and the way back where marks were read."""
    yield from _misses(answer)
    yield from _way_back(answer)


def _misses(answer: Answer) -> Iterator[Finding]:
    found, words, passes = answer.correction, Words(answer), answer.setting.move.tolerance
    if found is None or not found.points:
        return
    longest = max(math.hypot(point.across_px, point.up_px) for point in found.points)
    if longest <= passes:
        text = f"The points that were read meet within {words.at_least(longest)} px"
        yield Finding("scale", "note", "line-up-meets", text, "place.model", text)
        return
    ways = [camera_says(words, found.camera)] if found.camera is not None and found.camera.holds else []
    ways += [model_says(words, found.model)] if found.model is not None and found.model.holds else []
    mend = ", or ".join(ways) or "no one move mends all of it: read the misses again, the worst first"
    worst = f"Model and place miss each other by {number_text(longest, 2)} px"
    yield Finding("scale", "warn", "line-up-misses", f"{worst}: {mend}", "place.model", worst)


def _way_back(answer: Answer) -> Iterator[Finding]:
    found = answer.come_back
    text = None if found is None else way_back(Words(answer), found)
    if text is not None:
        yield Finding(
            "scale", "note", "come-back", f"To come back: {text}", "place.model", "Witness marks tell the way"
        )
