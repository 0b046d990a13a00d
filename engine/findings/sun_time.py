"""Findings on the sun, and on what is timed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from forescale.engine.findings.words import Words
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.units import number_text

if TYPE_CHECKING:
    from forescale.engine.solve.day_groups import SunAnswer, TimingAnswer

NOT_TOLD = {"latitude": "latitude", "longitude": "longitude", "time": "time", "utc_offset": "offset from UTC"}
LONGER = 1.02  # a fall that is longer than what is shown of it by less is not cut


def sun_time_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of the sun, of falls and of cues."""
    there = answer.setting.sun
    if answer.sun is not None:
        yield from _sun(answer, answer.sun)
    elif there.date is not None:
        lacks = [label for name, label in NOT_TOLD.items() if getattr(there, name) is None]
        text = f"To know where the sun stands on {there.date.isoformat()}, give {' and '.join(lacks)}"
        yield Finding("speed", "note", "sun-open", text, "sun.latitude", f"Sun not known: give {lacks[0]}")
    if answer.timing is not None:
        yield from _timing(answer, answer.timing)


def _sun(answer: Answer, sun: SunAnswer) -> Iterator[Finding]:
    if not sun.up:
        text = (
            f"The sun is down at the time set: it rises at {sun.rise or 'no time'} and sets at {sun.set or 'no time'}"
        )
        yield Finding("speed", "note", "sun-down", text, "sun.time", "The sun is down at the time set")
        return
    if sun.in_frame:
        moves = "in the move" if answer.setting.move.sweep else "as it is aimed"
        text = f"The sun's disc comes into the picture {moves}: {degrees(sun.elevation_deg)}° up, {sun.side}"
        yield Finding("speed", "warn", "sun-in-frame", text, "sun.time", "The sun comes into the picture")
    if sun.rig_shadow is not None and sun.rig_shadow.in_frame:
        words, shadow = Words(answer), sun.rig_shadow
        hand = "right" if shadow.aside_mm > 0 else "left"
        reach = f"reaches {words.length(shadow.up_mm)} up" if shadow.up_mm > 0 else "ends on the ground before"
        text = (
            "The rig's shadow falls into the picture: where the model stands it lies "
            f"{words.length(abs(shadow.aside_mm))} to the {hand} and {reach}"
        )
        yield Finding("speed", "warn", "rig-shadow", text, "sun.time", "The rig's shadow is in the picture")
    if answer.setting.sun.plate_time is not None:
        yield from _plate(answer, sun)


def degrees(value: float) -> str:
    """Return an angle of the sun in degrees, as finely as anyone can tell it."""
    return number_text(value, 3)


def _plate(answer: Answer, sun: SunAnswer) -> Iterator[Finding]:
    """Say when the day matches the plate's light, where the time in hand does not."""
    if not sun.windows:
        near = sun.nearest_today
        best = min(sun.nearest_on, key=lambda one: 180.0 if one.misses_deg is None else one.misses_deg)
        off = (
            "the sun stays down"
            if near.misses_deg is None
            else f"it misses by {degrees(near.misses_deg)}° at {near.time}"
        )
        later = (
            "" if best.misses_deg is None else f"; in 30 days the best is {best.date}, by {degrees(best.misses_deg)}°"
        )
        text = f"On this day the sun never comes within 5° of where it stood in the plate: {off}{later}"
        yield Finding("speed", "warn", "light-never-matches", text, "sun.date", "Sun never as in the plate today")
        return
    now = clock_of(answer)
    if not any(first <= now <= last for first, last in sun.windows):
        spells = " and ".join(f"{first} to {last}" for first, last in sun.windows)
        text = f"At {now} the sun is not where it stood in the plate; it is within 5° from {spells}"
        yield Finding(
            "speed", "warn", "light-not-now", text, "sun.time", "Not the plate's light: " + " to ".join(sun.windows[0])
        )


def clock_of(answer: Answer) -> str:
    """Return the time in hand to the minute, as the windows are told."""
    minutes = round((answer.setting.sun.time or 0.0) / 60)
    return f"{minutes // 60:02}:{minutes % 60:02}"


def _timing(answer: Answer, timed: TimingAnswer) -> Iterator[Finding]:
    screen = answer.speed.screen_time_s
    if timed.fall_screen_s is not None and timed.fall_screen_s > screen * LONGER:
        took, shown = number_text(timed.fall_screen_s, 3), number_text(screen, 3)
        text = f"The fall takes {took} s on screen, longer than the {shown} s that are shown of it"
        yield Finding("speed", "warn", "fall-cut", text, "action.screen_time", f"Fall takes {took} s on screen")
    if timed.topple_set_s is not None:
        text = (
            "A real stack breaks between a third and half of its height as it topples, and a stiff model does not: cut "
            f"it part through where it is to break; it falls in {number_text(timed.topple_set_s, 3)} s on set"
        )
        short = "A model stack falls unbroken: cut it part through"
        yield Finding("speed", "note", "topple-whole", text, "action.topple", short)
    late = [cue for cue in timed.cues if cue.screen_s > screen * LONGER]
    if late:
        text = (
            f'The cue "{late[0].name}" comes at {number_text(late[0].screen_s, 3)} s on screen, after the '
            f"{number_text(screen, 3)} s that are shot"
        )
        yield Finding("speed", "warn", "cue-late", text, "action.screen_time", "A cue comes after the shot's end")
