"""Angles with a side (51.2 deg N, 40 deg left), times of day and offsets from UTC: from text to floats, and back.

North, east and right are +; a time of day is counted in s from midnight, an offset in s.
"""

import re

from forescale.engine.units.quantities import EntryError, parse_angle, parse_time, quoted
from forescale.engine.units.text import hours_text, in_full

Sides = tuple[str, str]  # + and −
NORTH_SOUTH: Sides = ("N", "S")
EAST_WEST: Sides = ("E", "W")
RIGHT_LEFT: Sides = ("right", "left")
_WORDS = {"north": "N", "south": "S", "east": "E", "west": "W"}
_CLOCK = re.compile(r"(\d{1,2})[:.h](\d{2})(?:[:.](\d{2}))?")
DAY_S = 86400


def parse_sided(text: object, sides: Sides, bare_unit: str | None = None) -> float:
    """An angle with its side behind it, in degrees: `51.2 deg N`; a sign does as well. Raises EntryError."""
    like = f"51.2 deg {sides[1]}"
    if not isinstance(text, str):
        raise EntryError(f"{text} has no unit and no side", f"write it like {like}")
    *words, last = text.split() or [""]
    side = next((side for side in sides if _WORDS.get(last.lower(), last).lower() == side.lower()), None)
    if side is None:
        if text.strip()[:1] not in {"+", "-"} and parse_angle(text, bare_unit) != 0:
            raise EntryError(f"{quoted(text)}: say on which side, {sides[0]} or {sides[1]}", f"write it like {like}")
        return parse_angle(text, bare_unit)
    if words and words[0][:1] in {"+", "-"}:
        raise EntryError(f"{quoted(text)}: a sign and a side together may mean either", f"write it like {like}")
    value = parse_angle(" ".join(words), bare_unit)
    return -value if side == sides[1] else value


def sided_text(value: float, sides: Sides) -> str:
    """An angle with its side, every digit of it: "51.2 deg N"."""
    return f"{in_full(abs(value))} deg {sides[value < 0]}"


def parse_clock(text: object) -> float:
    """A time of day, in s from midnight: `10:30`, `10:30:20`, `9.05`. Raises EntryError."""
    match = _CLOCK.fullmatch(text.strip()) if isinstance(text, str) else None
    if match is None:
        raise EntryError(f"{quoted(str(text))}: not a time of day", "write it like 10:30")
    hours, minutes, seconds = (int(part or 0) for part in match.groups())
    if hours > 23 or minutes > 59 or seconds > 59:
        raise EntryError(f"{quoted(str(text))}: a day has no such time", "write it like 10:30, up to 23:59:59")
    return hours * 3600.0 + minutes * 60 + seconds


def clock_text(seconds: float) -> str:
    """A time of day: "10:30", or "10:30:20" where it has seconds; it turns over at midnight."""
    whole = round(seconds) % DAY_S
    return f"{whole // 3600:02}:{whole // 60 % 60:02}" + (f":{whole % 60:02}" if whole % 60 else "")


def parse_offset(text: object, bare_unit: str | None = None) -> float:
    """An offset from UTC in s: `+1 h`, `-3 h 30 min`, `+5:30`. Raises EntryError."""
    if not isinstance(text, str):
        raise EntryError(f"{text} has no unit", "write the offset from UTC like +1 h")
    sign, clock = (-1, text.strip()[1:]) if text.strip()[:1] in {"-", "−"} else (1, text.strip().lstrip("+"))
    return sign * (parse_clock(clock) if ":" in clock else parse_time(clock, bare_unit))


def offset_text(seconds: float) -> str:
    """An offset from UTC: "+1 h", "-3 h 30 min"."""
    return ("-" if seconds < 0 else "+") + (hours_text(seconds) or "0 h")
