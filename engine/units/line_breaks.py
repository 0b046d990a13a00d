"""What no line may break: a number and its unit, a length in feet and inches."""

from __future__ import annotations

import re

KEPT = "\u00a0"
_SPACES = re.compile(rf"[^\S{KEPT}]+")
_UNITS = "ft|in|mi|mm|cm|m|km|s|ms|min|h|deg|fps|lx|fc|px|m2|ft2|Hz|MB|kg|g|lb|oz|N|lbf|stops?"
_AFTER_NUMBER = re.compile(rf"(?<=\d) (?=\d|%|(?:{_UNITS})\b)")
_BEFORE_NUMBER = re.compile(rf"(?:(?<={KEPT}ft)|(?<={KEPT}mi)|(?<={KEPT}min)|(?<=±)|(?<=ISO)|(?<=ND)) (?=\d)")


def words_of(text: str) -> list[str]:
    """Return the words between which a text may be broken; what stays together has `KEPT` between its own words."""
    spaced = _SPACES.sub(" ", text).strip(" ")
    return _BEFORE_NUMBER.sub(KEPT, _AFTER_NUMBER.sub(KEPT, spaced)).split(" ")
