"""Findings on the sun, and on what is timed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from forescale.engine.findings.words import Words
from forescale.engine.solve.record import Answer, Finding
from forescale.engine.units import number_text

if TYPE_CHECKING:
    from forescale.engine.solve.sun_group import SunAnswer
    from forescale.engine.solve.timing_group import TimingAnswer

NOT_TOLD = {"latitude": "latitude", "longitude": "longitude", "time": "time", "utc_offset": "offset from UTC"}
LONGER = 1.02  # a fall that is longer than what is shown of it by less is not cut


def sun_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of the sun, of falls and of cues."""
    there = answer.setting.sun
    if answer.sun is not None:
        yield from _sun(answer, answer.sun)
    elif there.date is not None:
        lacks = [label for name, label in NOT_TOLD.items() if getattr(there, name) is None]
        text, by_hand = f"Where the sun stands on {there.date.isoformat()} is not known", f"give {' and '.join(lacks)}"
        yield Finding("speed", "note", "sun-open", text, "sun.latitude", "Sun not known", by_hand)
    if answer.timing is not None:
        yield from _timing(answer, answer.timing)


def _sun(answer: Answer, sun: SunAnswer) -> Iterator[Finding]:
    if not sun.up:
        spell = f"it rises at {sun.rise or 'no time'} and sets at {sun.set or 'no time'}"
        text, short = f"The sun is down at the time set: {spell}", "The sun is down at the time set"
        yield Finding("speed", "note", "sun-down", text, "sun.time", short)
        return
    if sun.in_frame:
        moves = "in the move" if answer.setting.move.sweep else "as it is aimed"
        text = f"The sun's disc comes into the picture {moves}: {number_text(sun.elevation_deg, 3)}° up, {sun.side}"
        yield Finding("speed", "warn", "sun-in-frame", text, "sun.time", "The sun comes into the picture")
    if (shadow := sun.rig_shadow) is not None and shadow.in_frame:
        words, hand = Words(answer), "right" if shadow.aside_mm > 0 else "left"
        reach = f"reaches {words.length(shadow.up_mm)} up" if shadow.up_mm > 0 else "ends on the ground before"
        text = (
            "The rig's shadow falls into the picture: where the model stands it lies "
            f"{words.length(abs(shadow.aside_mm))} to the {hand} and {reach}"
        )
        yield Finding("speed", "warn", "rig-shadow", text, "sun.time", "The rig's shadow is in the picture")
    if answer.setting.sun.plate_time is not None:
        yield from _plate(answer, sun)


def _plate(answer: Answer, sun: SunAnswer) -> Iterator[Finding]:
    """Say when the day matches the plate's light, where the time in hand does not."""
    now = clock_of(answer)
    if not sun.windows:
        near, best = (
            sun.nearest_today,
            min(sun.nearest_on, key=lambda one: 180.0 if one.misses_deg is None else one.misses_deg),
        )
        off, later = "the sun stays down", ""
        if near.misses_deg is not None:
            off = f"it misses by {number_text(near.misses_deg, 3)}° at {near.time}"
        if best.misses_deg is not None:
            later = f"; in 30 days the best is {best.date}, by {number_text(best.misses_deg, 3)}°"
        text = f"On this day the sun never comes within 5° of where it stood in the plate: {off}{later}"
        yield Finding("speed", "warn", "light-never-matches", text, "sun.date", "Sun never as in the plate today")
    elif not any(first <= now <= last for first, last in sun.windows):
        spells = [f"{first} to {last}" for first, last in sun.windows]
        text = f"At {now} the sun is not where it stood in the plate; it is within 5° from {' and '.join(spells)}"
        yield Finding("speed", "warn", "light-not-now", text, "sun.time", f"Not the plate's light: {spells[0]}")


def clock_of(answer: Answer) -> str:
    """Return the time in hand to the minute, as the windows are told."""
    minutes = round((answer.setting.sun.time or 0.0) / 60)
    return f"{minutes // 60:02}:{minutes % 60:02}"


def _timing(answer: Answer, timed: TimingAnswer) -> Iterator[Finding]:
    screen = answer.speed.screen_time_s
    shown = f"{number_text(screen, 3)} s"
    if timed.fall_screen_s is not None and timed.fall_screen_s > screen * LONGER:
        took = f"takes {number_text(timed.fall_screen_s, 3)} s on screen"
        text = f"The fall {took}, longer than the {shown} that are shown of it"
        yield Finding("speed", "warn", "fall-cut", text, "action.screen_time", f"Fall {took}")
    if timed.topple_set_s is not None:
        falls = f"it falls in {number_text(timed.topple_set_s, 3)} s on set"
        text = (
            "A real stack breaks between a third and half of its height as it topples, and a stiff model does not; "
            f"{falls}"
        )
        short, by_hand = "A model stack falls unbroken", "cut it part through where it is to break"
        yield Finding("speed", "note", "topple-whole", text, "action.topple", short, by_hand)
    late = [cue for cue in timed.cues if cue.screen_s > screen * LONGER]
    if late:
        comes = f'The cue "{late[0].name}" comes at {number_text(late[0].screen_s, 3)} s on screen'
        text, short = f"{comes}, after the {shown} that are shot", "A cue comes after the shot's end"
        yield Finding("speed", "warn", "cue-late", text, "action.screen_time", short)
