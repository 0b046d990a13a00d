"""What is to be said of an answer: each finding one sentence with its numbers, the gravest first."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.findings import (
    built,
    focus,
    frame_rate,
    hair,
    light,
    line_up,
    picture,
    scale,
    slip,
    sun_time,
    survey,
)
from forescale.engine.solve.record import LEVELS, Answer, Finding, Pane

_FINDERS = (
    scale.scale_findings,
    built.built_findings,
    survey.survey_findings,
    frame_rate.frame_rate_findings,
    light.light_findings,
    sun_time.sun_findings,
    focus.focus_findings,
    slip.slip_findings,
    built.caution_findings,
    scale.frame_findings,
    line_up.line_up_findings,
    picture.picture_findings,
    hair.hair_findings,
)
_ALL_WELL: dict[Pane, tuple[str, str]] = {
    "scale": ("The model matches the background in size where it stands", "Model and background match in size"),
    "speed": ("", ""),  # by what is known of the three
    "focus": ("Model and background are both held sharp", "Model and background are held sharp"),
    "slip": ("The model will not slide against the background", "Model holds against the background"),
}
_NOT_TOLD = frozenset({"no-size-to-match", *hair.CODES})  # where this is said, its pane cannot be called well


def findings_on(answer: Answer) -> tuple[Finding, ...]:
    """Return the findings on an answer, the gravest first, in the order of the panes within a level."""
    found = [finding for finder in _FINDERS for finding in finder(answer)]
    found.extend(_well(answer, found))
    return tuple(sorted(found, key=lambda finding: LEVELS.index(finding.level)))


def _well(answer: Answer, found: list[Finding]) -> Iterator[Finding]:
    """Say of each pane on which nothing is amiss, nor holds by a hair, that all is well."""
    amiss = {finding.pane for finding in found if finding.level in {"warn", "stop"} or finding.code in _NOT_TOLD}
    for pane, (text, short) in _ALL_WELL.items():
        if pane not in amiss:
            text, short = (text, short) if pane != "speed" else _together(answer)
            yield Finding(pane, "ok", f"{pane}-ok", text, short=short)


def _together(answer: Answer) -> tuple[str, str]:
    """Return what holds of rate, move and light: those that are known."""
    known = {"rate": True, "move": answer.speed.crossing_s is not None, "light": answer.light.over_stops is not None}
    names, untold = ([name for name, told in known.items() if told is wanted] for wanted in (True, False))
    if len(names) == 1:
        return "The rate holds; of move and light nothing is known", "The rate holds"
    listed = f"{', '.join(names[:-1])} and {names[-1]}"
    rest = f"; of the {untold[0]} nothing is known" if untold else ""
    return f"The {listed} hold together{rest}".replace(", move", ", the move").replace(" and ", " and the "), (
        f"{listed[0].upper()}{listed[1:]} hold together"
    )
