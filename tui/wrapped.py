"""Sentences in lines of a width, broken between words but never inside a number or between it and its unit."""

from __future__ import annotations

import re
import textwrap

_KEPT = "\u00a0"
_UNITS = "ft|in|mi|mm|cm|m|km|s|ms|min|h|deg|fps|lx|fc|px|Hz|stops?"
_AFTER_NUMBER = re.compile(rf"(?<=\d) (?=\d|%|(?:{_UNITS})\b)")
_BEFORE_NUMBER = re.compile(rf"(?:(?<={_KEPT}ft)|(?<={_KEPT}mi)|(?<={_KEPT}min)|(?<=±)|(?<=ISO)|(?<=ND)) (?=\d)")


def wrapped(text: str, width: int, lead: str = "") -> list[str]:
    """Return a text after its lead in lines of at most so many columns, all but the first under the text's start."""
    joined = _BEFORE_NUMBER.sub(_KEPT, _AFTER_NUMBER.sub(_KEPT, text))
    room = width - len(lead)
    whole = " ".join(part if len(part) <= room else part.replace(_KEPT, " ") for part in joined.split(" "))
    lines = textwrap.wrap(whole, width, initial_indent=lead, subsequent_indent=" " * len(lead), break_on_hyphens=False)
    return [line.replace(_KEPT, " ") for line in lines]
