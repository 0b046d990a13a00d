"""What is said in sentences: cautions together, findings with the gravest first, and the takes."""

from __future__ import annotations

from forescale.engine.answer import Answer, Finding
from forescale.engine.findings.built import DEFER
from forescale.engine.mends import joined
from forescale.engine.sheet.blocks import Remark, Row, Section, Table
from forescale.engine.sheet.cells import clean
from forescale.engine.shot.records import Shot, Take
from forescale.engine.states.takes import judged, numbered, take_text

_MARKS = {"stop": "STOP", "warn": "WARN", "note": "note", "ok": "ok"}

NO_TAKES = Section("Takes", (Row("Recorded", "none yet"),))


def is_caution(finding: Finding) -> bool:
    """Return whether a finding is a caution for safety and not a matter of the picture."""
    return finding.code.startswith("caution-")


def cautions(answer: Answer) -> Section:
    """Return the cautions."""
    found = (finding for finding in answer.findings if is_caution(finding))
    points = tuple(Remark("!", finding.text.removesuffix(f"; {DEFER}")) for finding in found)
    return Section("Cautions", points, f"{DEFER}, before anything here")


def findings(answer: Answer) -> Section:
    """Return the findings, the most important first."""
    found = (finding for finding in answer.findings if not is_caution(finding))
    return Section("Findings", tuple(_point(answer, finding) for finding in found), "the most important first")


def _point(answer: Answer, finding: Finding) -> Remark:
    return Remark(_MARKS[finding.level], clean(f"{finding.pane.capitalize()}: {joined(answer, finding)}"))


def takes(shot: Shot) -> Section:
    """Return the takes that were recorded."""
    rows = tuple(_take(number, take) for number, take in numbered(shot.take))
    heads = ("Take", "When", "Set", "Judged", "Note")
    return Section("Takes", (Table(heads, rows, frozenset({0})),)) if rows else NO_TAKES


def _take(number: int, take: Take) -> tuple[str, ...]:
    return str(number), take.time.strftime("%Y-%m-%d %H:%M"), clean(take_text(take)), judged(take), clean(take.note)
