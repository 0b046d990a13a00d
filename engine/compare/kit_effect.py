"""What another kit makes of a shot: its chief numbers before and after, and the findings that come and go."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from forescale.engine.answer import Answer
from forescale.engine.compare.differences import findings_changed
from forescale.engine.findings.words import Words
from forescale.engine.solve.record import Level
from forescale.engine.units import illuminance_text, number_text

UNCHANGED = 1e-6


@dataclass(frozen=True, slots=True)
class EffectLine:
    """One sentence, and how grave it is; None for plain numbers."""

    level: Level | None
    text: str


def effect(before: Answer, after: Answer) -> tuple[EffectLine, ...]:
    """Return what is so `after` and was not `before`: numbers, scale and place ahead, then what comes and what goes."""
    changes = (
        f"{name} {old} → {new}{f' ({by})' if by else ''}"
        for name, old, new, by in _numbers(before, after)
        if old != new
    )
    numbers = "; ".join(changes)
    first = EffectLine(None, numbers[:1].upper() + numbers[1:] if numbers else "No chief number changes")
    said = findings_changed(before, after)
    comes = [EffectLine(finding.level, finding.text) for finding in said.brought]
    goes = [EffectLine("ok", f"No longer: {clause(finding.text)}") for finding in said.gone]
    return (first, *comes, *goes)


def clause(text: str) -> str:
    """Return a sentence up to its first pause, which names what it is about."""
    return min((text.split(mark, 1)[0] for mark in (": ", "; ")), key=len)


def _numbers(before: Answer, after: Answer) -> Iterator[tuple[str, str, str, str]]:
    """Yield each chief number: its name, how it was and is told, and how far it went; stops as the lens has them."""
    old, new, system = Words(before), Words(after), after.system
    yield "scale", old.ratio(before.scale.ratio), new.ratio(after.scale.ratio), ""
    yield "model at", new.length(before.lineup.model_mm), new.length(after.lineup.model_mm), ""
    was, now = before.lineup.frame_width_model_mm, after.lineup.frame_width_model_mm
    yield "frame width", new.length(was), new.length(now), _times(was, now)
    was, now = before.focus.stop_needed, after.focus.stop_needed
    if min(was, now) > 0 and math.isfinite(was) and math.isfinite(now):
        stops = 2 * math.log2(now / was)
        more = f"{Words.stops(stops)} {'more' if stops > 0 else 'less'}" if abs(stops) >= 0.05 else ""
        yield "stop needed", old.stop(was), new.stop(now), more
    yield "stop", old.stop(before.focus.f_number), new.stop(after.focus.f_number), ""
    was, now = before.speed.fps, after.speed.fps
    yield "frame rate", new.rate(was), new.rate(now), _times(was, now)
    yield "ISO", number_text(before.light.iso, 7), number_text(after.light.iso, 7), ""
    was, now = before.light.lux_with_nd, after.light.lux_with_nd
    yield "light needed", illuminance_text(was, system), illuminance_text(now, system), _times(was, now)
    yield "worst contrast", _contrast(before), _contrast(after), ""
    yield "slip at the end", _slip(before), _slip(after), ""


def _contrast(answer: Answer) -> str:
    contrast = answer.focus.contrast
    return "not known" if contrast is None else Words.percent(contrast.worst)


def _slip(answer: Answer) -> str:
    slip = answer.slip.slip_px
    return "not known" if slip is None else f"{number_text(slip, 2)} px"


def _times(old: float, new: float) -> str:
    if not (math.isfinite(old) and math.isfinite(new)) or min(old, new) <= 0 or abs(new / old - 1) < UNCHANGED:
        return ""
    return f"× {number_text(new / old, 3)}"
