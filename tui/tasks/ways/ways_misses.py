"""The ways that fail as a table, with the reason in few words where there is no room for all of them."""

from __future__ import annotations

from collections.abc import Sequence

from forescale.engine.options import Miss, Outcome
from forescale.engine.options.rejections import REASONS, Reason
from forescale.engine.units import ratio_text
from forescale.tui.tasks.frame.columns import Column
from forescale.tui.tasks.ways.ways_listing import Listing, listing
from forescale.tui.tasks.ways.ways_words import in_app

BRIEF: dict[Reason, str] = {
    "build": "part too large",
    "rate": "lacks the rate",
    "gravity": "mode too slow",
    "inside": "inside the lens",
    "match": "wrong size",
    "move": "no room to turn",
    "close": "will not focus",
    "stop": "lacks the stop",
    "small": "fills too little",
    "large": "fills too much",
    "zone": "not all sharp",
    "light": "too dark",
}
WANTED = ({"mode", "camera", "why"}, {"mode", "why"}, {"mode"})


def misses_listing(misses: Sequence[Miss], width: int) -> Listing:
    """Return the table of the ways that fail."""
    spelt_out = {reason: why.spelt(in_app) for reason, why in REASONS.items()}
    return listing(_columns(misses, spelt_out), _columns(misses, BRIEF), width, WANTED)


def _columns(misses: Sequence[Miss], reasons: dict[Reason, str]) -> list[Column]:
    return [
        Column("lens", "lens", tuple(miss.lens_at.lens.name for miss in misses)),
        Column("mm", "mm", tuple(f"{miss.lens_at.focal_mm:g}" for miss in misses)),
        Column("scale", "scale", tuple(ratio_text(miss.ratio) for miss in misses), 1),
        Column("mode", "mode", tuple(miss.in_mode.mode.name for miss in misses), 2),
        Column("camera", "camera", tuple(miss.in_mode.camera.name for miss in misses), 4),
        Column("why", "why it fails", tuple(reasons[miss.reason] for miss in misses), 3),
    ]


def miss_text(miss: Miss) -> str:
    """Return a way that fails, whole, and why."""
    mode, lens = miss.in_mode, miss.lens_at
    kit = f"{mode.camera.name}, {mode.mode.name}, {lens.lens.name} at {lens.focal_mm:g} mm"
    return f"{kit}, {ratio_text(miss.ratio)}: {REASONS[miss.reason].spelt(in_app)}."


def misses_said(outcome: Outcome, listed: int) -> str:
    """Return how many ways fail for what."""
    failing = outcome.searched - outcome.working
    if not failing:
        return f"None of {outcome.searched} ways fails"
    shares = ", ".join(f"{row.count} {BRIEF[row.code]}" for row in outcome.dropped)
    only = f"; the first {listed} are listed" if listed < failing else ""
    return f"{failing} of {outcome.searched} ways fail ({shares}){only}"
