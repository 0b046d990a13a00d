"""The day as a strip: hour by hour how high the sun stands and from where it shines, and when the light matches."""

from forescale.engine.answer import Answer
from forescale.engine.formulas.sun import from_bearing_deg
from forescale.engine.solve.sun_group import path_of_day, side_of
from forescale.tui.glyphs import Glyphs, plain

LABEL = 8
LEAST, MOST = 24, 96  # columns of the strip itself: an hour to a quarter of one


def draw(answer: Answer, width: int, glyphs: Glyphs) -> list[str]:
    """Return the strip: hours, the sun's height, its side, the same light, now; empty for no sun or too little room."""
    found, there = answer.sun, answer.setting.sun
    steps = max((step for step in (24, 48, 96) if step <= min(width - LABEL, MOST)), default=0)
    if found is None or steps < LEAST:
        return []
    day = path_of_day(there, steps)[:steps]
    hours, matches = [" "] * steps, [" "] * steps
    for hour in range(0, 24, 3):
        place = hour * steps // 24
        hours[place : place + 2] = f"{hour:<2}"
    for first, last in found.windows:
        start, end = ((int(text[:2]) * 60 + int(text[3:])) * steps // 1440 for text in (first, last))
        matches[start : end + 1] = "=" * (min(end, steps - 1) + 1 - start)
    heights = "".join(str(int(seen.elevation_deg // 10)) if seen.elevation_deg > 0 else "." for _, seen in day)
    rows = [("hour", "".join(hours[:steps])), ("sun x10°", heights)]
    facing = found.facing_deg
    if facing is not None:
        sides = (_side(from_bearing_deg(sun.azimuth_deg, facing)) if sun.elevation_deg > 0 else "." for _, sun in day)
        rows.append(("from", "".join(sides)))
    now = " " * int((there.time or 0.0) * steps / 86_400) + "^"
    rows += [("as now" if there.plate_time is None else "matches", "".join(matches)), ("now", now)]
    legend = [] if facing is None else ["A ahead, B behind, L left, R right of the lens"]
    return [plain(line, glyphs) for line in (*(f"{label:<{LABEL}}{row}".rstrip() for label, row in rows), *legend)]


def _side(from_lens_deg: float) -> str:
    side = side_of(from_lens_deg)
    return "A" if "ahead" in side else "B" if "behind" in side else "R" if "right" in side else "L"
