"""Findings on the sun, and on what is timed: falls and cues."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from forescale.engine.findings.words import Words, said
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.units import number_text
from forescale.engine.units.compass import clock_text

if TYPE_CHECKING:
    from forescale.engine.solve.sun_group import SunAnswer

NOT_TOLD = {"latitude": "latitude", "longitude": "longitude", "time": "time", "utc_offset": "offset from UTC"}
LONGER = 1.02  # a fall that is longer than what is shown of it by less is not cut


def day_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of the sun, of falls and of cues."""
    there = answer.setting.sun
    if answer.sun is not None:
        yield from _sun(answer, answer.sun)
    elif there.date is not None:
        lacks = " and ".join(label for name, label in NOT_TOLD.items() if getattr(there, name) is None)
        yield said(answer, "sun-open", lacks=lacks)
    timed, longest = answer.timing, answer.speed.screen_time_s * LONGER
    if timed is not None and timed.fall_screen_s is not None and timed.fall_screen_s > longest:
        yield said(answer, "fall-cut")
    if timed is not None and timed.topple_set_s is not None:
        yield said(answer, "topple-whole")
    if late := [cue for cue in (timed.cues if timed else ()) if cue.screen_s > longest]:
        yield said(answer, "cue-late", cue=late[0])


def _sun(answer: Answer, sun: "SunAnswer") -> Iterator[Finding]:
    if not sun.up:
        yield said(answer, "sun-down", rise=sun.rise or "no time", set=sun.set or "no time")
        return
    if sun.in_frame:
        yield said(answer, "sun-in-frame", moves="in the move" if answer.setting.move.sweep else "as it is aimed")
    if (shadow := sun.rig_shadow) is not None and shadow.in_frame:
        reach = f"reaches {Words(answer).length(shadow.up_mm)} up" if shadow.up_mm > 0 else "ends on the ground before"
        hand = "right" if shadow.aside_mm > 0 else "left"
        yield said(answer, "rig-shadow", aside=abs(shadow.aside_mm), hand=hand, reach=reach)
    if answer.setting.sun.plate_time is None:
        return
    now = clock_text(answer.setting.sun.time or 0.0)
    if not sun.windows:
        near = sun.nearest_today
        best = min(sun.nearest_on, key=lambda one: 180.0 if one.misses_deg is None else one.misses_deg)
        off, later = "the sun stays down", ""
        if near.misses_deg is not None:
            off = f"it misses by {number_text(near.misses_deg, 3)} deg at {near.time}"
        if best.misses_deg is not None:
            later = f"; in 30 days the best is {best.date}, by {number_text(best.misses_deg, 3)} deg"
        yield said(answer, "light-never-matches", off=off, later=later)
    elif not any(first <= now <= last for first, last in sun.windows):
        spells = [f"{first} to {last}" for first, last in sun.windows]
        yield said(answer, "light-not-now", now=now, spells=" and ".join(spells), first=spells[0])
