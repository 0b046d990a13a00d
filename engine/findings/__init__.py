"""What is to be said of an answer: each finding one sentence with its numbers, the gravest first."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.findings import (
    cautions,
    day_light,
    focus,
    frame,
    light,
    line_up,
    picture,
    scale,
    slip,
    speed,
    stand,
    sun_time,
    survey,
)
from forescale.engine.solve.record import LEVELS, Answer, Finding, Pane

_FINDERS = (
    scale.find,
    stand.find,
    survey.find,
    speed.find,
    light.find,
    day_light.find,
    sun_time.find,
    focus.find,
    slip.find,
    cautions.find,
    frame.find,
    line_up.find,
    picture.find,
)
_ALL_WELL: dict[Pane, tuple[str, str]] = {
    "scale": ("The model matches the background in size where it stands", "Model and background match in size"),
    "speed": ("The rate, the move and the light hold together", "Rate, move and light hold together"),
    "focus": ("Model and background are both held sharp", "Model and background are held sharp"),
    "slip": ("The model will not slide against the background", "Model holds against the background"),
}
_NOT_TOLD = frozenset({"no-size-to-match"})  # where this is said, its pane cannot be called well


def find(answer: Answer) -> tuple[Finding, ...]:
    """Return the findings on an answer, the gravest first, in the order of the panes within a level."""
    found = [finding for finder in _FINDERS for finding in finder(answer)]
    found.extend(_well(found))
    return tuple(sorted(found, key=lambda finding: LEVELS.index(finding.level)))


def _well(found: list[Finding]) -> Iterator[Finding]:
    """Say of each pane on which nothing is amiss that all is well."""
    amiss = {finding.pane for finding in found if finding.level in {"warn", "stop"} or finding.code in _NOT_TOLD}
    for pane, (text, short) in _ALL_WELL.items():
        if pane not in amiss:
            yield Finding(pane, "ok", f"{pane}-ok", text, short=short)
