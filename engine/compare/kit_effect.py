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
    numbers = "; ".join(_numbers(before, after))
    first = EffectLine(None, numbers[:1].upper() + numbers[1:] if numbers else "No chief number changes")
    changed = findings_changed(before, after)
    comes = [EffectLine(finding.level, finding.text) for finding in changed.brought]
    goes = [EffectLine("ok", f"No longer: {clause(finding.text)}") for finding in changed.gone]
    return (first, *comes, *goes)


def clause(text: str) -> str:
    """Return a sentence up to its first pause, which names what it is about."""
    return min((text.split(mark, 1)[0] for mark in (": ", "; ")), key=len)


def _numbers(before: Answer, after: Answer) -> Iterator[str]:
    words = Words(after)
    yield from _changed("scale", words.ratio(before.scale.ratio), words.ratio(after.scale.ratio), "")
    stood, stands = words.length(before.lineup.model_mm), words.length(after.lineup.model_mm)
    yield from _changed("model stands at", stood, stands, "")
    old, new = before.lineup.frame_width_model_mm, after.lineup.frame_width_model_mm
    yield from _changed("frame width", words.length(old), words.length(new), _times(old, new))
    yield from _stops(before, after)
    rate, other = before.speed.fps, after.speed.fps
    yield from _changed("frame rate", words.rate(rate), words.rate(other), _times(rate, other))
    yield from _changed("ISO", number_text(before.light.iso, 7), number_text(after.light.iso, 7), "")
    lux, more = before.light.lux_needed, after.light.lux_needed
    system = after.system
    yield from _changed(
        "light needed", illuminance_text(lux, system), illuminance_text(more, system), _times(lux, more)
    )
    yield from _changed("worst contrast", _contrast(before), _contrast(after), "")
    yield from _changed("slip at the end", _slip(before), _slip(after), "")


def _stops(before: Answer, after: Answer) -> Iterator[str]:
    """Compare the stop that the zone needs, and the stop as shot, each as the lens in hand has it marked."""
    old, new = before.focus.stop_needed, after.focus.stop_needed
    if min(old, new) > 0 and math.isfinite(old) and math.isfinite(new):
        stops = 2 * math.log2(new / old)
        more = f"{Words.stops(stops)} {'more' if stops > 0 else 'less'}" if abs(stops) >= 0.05 else ""
        yield from _changed("stop needed", Words(before).stop(old), Words(after).stop(new), more)
    shot, other = Words(before).stop(before.focus.f_number), Words(after).stop(after.focus.f_number)
    yield from _changed("stop", shot, other, "")


def _times(old: float, new: float) -> str:
    if not (math.isfinite(old) and math.isfinite(new)) or min(old, new) <= 0 or abs(new / old - 1) < UNCHANGED:
        return ""
    return f"× {number_text(new / old, 3)}"


def _contrast(answer: Answer) -> str:
    contrast = answer.focus.contrast
    return "not known" if contrast is None else Words.percent(contrast.worst)


def _slip(answer: Answer) -> str:
    slip = answer.slip.slip_px
    return "not known" if slip is None else f"{number_text(slip, 2)} px"


def _changed(name: str, before: str, after: str, by: str) -> Iterator[str]:
    if before != after:
        yield f"{name} {before} → {after}{f' ({by})' if by else ''}"
