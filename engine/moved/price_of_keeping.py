"""What it costs to keep focus or stop as they were where the distances have changed."""

from __future__ import annotations

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.moved.moved import Moved

_KEPT = (("the focus", "focus.distance"), ("the stop", "focus.stop"))


def price_of_keeping(moved: Moved) -> str:
    """Return what is lost by keeping focus or stop as they were; empty where both were solved again."""
    after, solved, words = moved.after, moved.solved, Words(moved.after)
    kept = [name for name, field in _KEPT if field not in after.auto]
    if not kept:
        return ""
    what = f"Keeping {' and '.join(kept)}"
    again = f"{words.length(solved.focus.focus_mm)} at {words.stop(solved.focus.f_number)}"
    if again == f"{words.length(after.focus.focus_mm)} at {words.stop(after.focus.f_number)}":
        return f"{what} costs nothing: solved again it would be the same"
    holds = "holds it all" if solved.focus.covers else "would not hold it all either"
    return f"{what} {_lost(after)}{_contrast(after)}; solved again, {again}, {holds}{_contrast(solved)}"


def _lost(after: Answer) -> str:
    zone, words = after.focus, Words(after)
    if zone.covers:
        return "still holds the zone"
    lost = []
    if zone.near_mm > zone.near_needed_mm:
        lost.append(f"what is nearer than {words.sharp_from(zone.near_mm)}, and {_part(after)}")
    if zone.far_mm < zone.far_needed_mm:
        farthest = words.length(zone.far_needed_mm)
        lost.append(f"what is beyond {words.sharp_to(zone.far_mm)}, and the farthest stands at {farthest}")
    return f"loses {'; '.join(lost)}"


def _part(after: Answer) -> str:
    return f"the nearest part stands at {Words(after).length(after.focus.near_needed_mm)}"


def _contrast(of: Answer) -> str:
    contrast = of.focus.contrast
    return "" if contrast is None else f" (worst contrast {Words(of).percent(contrast.worst)})"
