"""Findings on the survey: the air, and readings that the tape, or a rig that has moved on, speaks against."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas.lineup import tape_error_mm
from forescale.engine.solve.groups import SurveyReading
from forescale.engine.solve.record import Answer, Finding

CLEAR_AIR = 0.98  # from here on no eye tells a difference
SURE = 2.0  # standard errors apart, from which on two distances are not one


def survey_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of each reading, named where there are several."""
    for number, reading in enumerate(answer.survey.readings, start=1):
        named = reading_name(answer, number)
        if reading.fault is not None:
            text, short = f"{named} gives nothing: {reading.fault}", f"{named}: read it again"
            yield Finding("scale", "warn", "survey-fault", text, _share(number), short)
            continue
        if reading.moved_on:
            moved = " and ".join(reading.moved_on)
            text = f"{named} was read before the {moved} was re-measured, and says how things lay from there"
            short, by_hand = f"{named} was read from elsewhere", "read it again from here"
            yield Finding("scale", "note", "survey-moved", text, _share(number), short, by_hand)
        yield from _air(answer, reading, named)
    if answer.survey.readings and not answer.survey.moved_on:
        yield from _disagrees(answer, answer.survey)


def _share(number: int) -> str:
    """Return the field of a reading's share, the first without its number."""
    return "survey.frame_share" if number == 1 else f"survey.{number}.frame_share"


def reading_name(answer: Answer, number: int) -> str:
    """Return what a reading is called: its name, or its number where there are several."""
    readings = answer.survey.readings
    called = readings[number - 1].name if number <= len(readings) else ""
    return f'Survey "{called}"' if called else "The survey" if len(readings) < 2 else f"Survey reading {number}"


def _air(answer: Answer, reading: SurveyReading, named: str) -> Iterator[Finding]:
    left, distance, words = reading.air_contrast, reading.distance_mm, Words(answer)
    if left is None or distance is None or left >= CLEAR_AIR:
        return
    alone = len(answer.survey.readings) < 2
    of = "the background's contrast" if alone else f"the contrast of {named.partition(' ')[2]}"
    taken = words.percent(1 - left)
    text = f"Over {words.length(distance)} the air leaves {words.percent(left)} of {of}"
    by_hand = f"lift the model's paint {taken} of the way to the colour of the haze"
    yield Finding("scale", "note", "air", text, "survey.visibility", f"Air takes {taken} of the contrast", by_hand)


def _disagrees(answer: Answer, found: SurveyReading) -> Iterator[Finding]:
    """Say where the distance that the first reading gives and the tape cannot both be so."""
    distance, error, taped = found.distance_mm, found.distance_error_mm, answer.lineup.background_mm
    if found.distance_by == "tape" or distance is None or error is None or math.isinf(taped):
        return
    if abs(distance - taped) > SURE * math.hypot(error, tape_error_mm(taped)):
        words = Words(answer)
        seen_at, taped_at = words.length(distance), words.length(taped)
        text = f"The survey puts it at {seen_at} {words.give_or_take(error)}, and the background is taped at {taped_at}"
        short, by_hand = (
            f"Survey and tape disagree: {seen_at} against {taped_at}",
            "read the survey again, or tape again",
        )
        yield Finding("scale", "note", "survey-stale", text, "survey.frame_share", short, by_hand)
