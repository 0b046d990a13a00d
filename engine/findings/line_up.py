"""Findings on what was read at the line-up and on coming back."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.line_up_words import CAMERA, HEAD, to_do
from forescale.engine.findings.words import Words
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.units import number_text


def line_up_findings(answer: Answer) -> Iterator[Finding]:
    """Yield how far points were read to miss, and that the camera stands off where marks were read."""
    found, back, words = answer.correction, answer.come_back, Words(answer)
    if found is not None and found.points:
        longest = max(math.hypot(point.across_px, point.up_px) for point in found.points)
        if longest <= answer.setting.move.tolerance:
            text = f"Model and place meet within {words.at_least(longest)} px at the points that were read"
            yield Finding(
                "scale", "note", "line-up-meets", text, "miss", f"They meet within {words.at_least(longest)} px"
            )
        else:
            text = f"Model and place were read to miss each other by {number_text(longest, 2)} px"
            short = f"Points that were read miss by {number_text(longest, 2)} px"
            yield Finding("scale", "warn", "line-up-misses", text, "miss", short)
    if back is not None and to_do(words, back, (*CAMERA, *HEAD)):
        text = "The camera stands off from where it stood when the witness marks were put up"
        yield Finding("scale", "note", "come-back", text, "witness", "The camera stands off its old place")
