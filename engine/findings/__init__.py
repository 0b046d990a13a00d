"""What is to be said of an answer: each finding one sentence with its numbers, the gravest first."""

from collections.abc import Iterator
from typing import get_args

from forescale.engine.findings.built import built_findings, caution_findings
from forescale.engine.findings.day import day_findings
from forescale.engine.findings.focus import CODES, focus_findings, hair_findings
from forescale.engine.findings.frame_rate import frame_rate_findings
from forescale.engine.findings.light import light_findings
from forescale.engine.findings.line_up import line_up_findings
from forescale.engine.findings.picture import picture_findings
from forescale.engine.findings.scale import frame_findings, scale_findings, survey_findings
from forescale.engine.findings.slip import slip_findings
from forescale.engine.findings.words import Words, listed, said
from forescale.engine.formulas.light import STOPS_SEEN
from forescale.engine.solve.record import LEVELS, Answer, Finding, Pane

_FINDERS = (
    scale_findings, built_findings, survey_findings, frame_rate_findings, light_findings, day_findings, focus_findings,
    slip_findings, caution_findings, frame_findings, line_up_findings, picture_findings, hair_findings,
)  # fmt: skip
_FIRST, _LAST = ("caution-", "inside-close-focus", "stop-beyond-lens"), {"past-best-stop", "stand-sways"}
_NOT_TOLD = frozenset({"no-size-to-match", *CODES})  # where this is said, its pane cannot be called well


def findings_on(answer: Answer) -> tuple[Finding, ...]:
    """Return the findings on an answer, the gravest first, in the panes' order within a level.

    Before the other notes stand the cautions, before what fails in the picture what the lens cannot be set to, and
    behind it what only softens it or is guyed.
    """
    found = [finding for finder in _FINDERS for finding in finder(answer)]
    found.extend(_well(answer, found))

    def rank(one: Finding) -> tuple[int, bool, bool]:
        return LEVELS.index(one.level), not one.code.startswith(_FIRST), one.code in _LAST

    return tuple(sorted(found, key=rank))


def _well(answer: Answer, found: list[Finding]) -> Iterator[Finding]:
    """Say of each pane on which nothing is amiss, nor holds by a hair, that all is well."""
    amiss = {finding.pane for finding in found if finding.level in {"warn", "stop"} or finding.code in _NOT_TOLD}
    for pane in get_args(Pane):
        if pane not in amiss:
            text, short = _together(answer) if pane == "speed" else ("", "")
            yield said(answer, f"{pane}-ok", text=text, short=short)


def _together(answer: Answer) -> tuple[str, str]:
    over, known = answer.light.over_stops, {"rate": True, "move": answer.speed.crossing_s is not None}
    much = over is not None and over >= STOPS_SEEN
    known |= {} if much else {"light": over is not None}
    names, untold = ([name for name, told in known.items() if told is wanted] for wanted in (True, False))
    rest = f"; of {' and '.join(untold) if untold[1:] else f'the {untold[0]}'} nothing is known" if untold else ""
    rest += f"; the light is {Words.stops(over or 0.0)} over" if much else ""
    if len(names) == 1:
        return f"The rate holds{rest}", "The rate holds"
    told = listed(names)
    text = f"The {told} hold together{rest}".replace(", move", ", the move").replace(" and ", " and the ")
    return text, f"{told[0].upper()}{told[1:]} hold together"
