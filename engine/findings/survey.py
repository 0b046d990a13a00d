"""Findings on the survey: the air, and readings that the tape, or a rig that has moved on, speaks against."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import Words
from forescale.engine.formulas.survey import tape_error_mm
from forescale.engine.solve.groups import SurveyReading
from forescale.engine.solve.record import Answer, Finding

CLEAR_AIR = 0.98  # from here on no eye tells a difference
SURE = 2.0  # standard errors apart, from which on two distances are not one


def survey_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of each reading, named where there are several."""
    for number, reading in enumerate(answer.survey.readings, start=1):
        named = reading_name(answer, number)
        if reading.fault is not None:
            text = f"{named} gives nothing: {reading.fault}"
            yield Finding("scale", "warn", "survey-fault", text, "survey.frame_share", f"{named}: read it again")
            continue
        yield from _moved_on(reading, named)
        yield from _air(answer, reading, named)
    if answer.survey.readings and not answer.survey.moved_on:
        yield from _disagrees(answer, answer.survey)


def reading_name(answer: Answer, number: int) -> str:
    """Return what a reading is called: its name, or its number where there are several."""
    readings = answer.survey.readings
    called = readings[number - 1].name if number <= len(readings) else ""
    return f'Survey "{called}"' if called else "The survey" if len(readings) < 2 else f"Survey reading {number}"


def _moved_on(reading: SurveyReading, named: str) -> Iterator[Finding]:
    if not reading.moved_on:
        return
    what = " and ".join(reading.moved_on)
    text = (
        f"{named} was read before the {what} was taped anew, and says how things lay from there: read it again from "
        "here, or count it as read from here with k in the survey"
    )
    yield Finding("scale", "note", "survey-moved", text, "survey.frame_share", f"{named}: read again from here")


def _air(answer: Answer, reading: SurveyReading, named: str) -> Iterator[Finding]:
    left, distance = reading.air_contrast, reading.distance_mm
    if left is None or distance is None or left >= CLEAR_AIR:
        return
    of = (
        "the background's contrast" if len(answer.survey.readings) < 2 else f"the contrast of {named.partition(' ')[2]}"
    )
    taken = Words(answer).percent(1 - left)
    text = (
        f"Over {Words(answer).length(distance)} the air leaves {Words(answer).percent(left)} of {of}: lift the model's "
        f"paint {taken} of the way to the colour of the haze"
    )
    short = f"Air takes {taken} of the contrast: lift the paint towards the haze"
    yield Finding("scale", "note", "air", text, "survey.visibility", short)


def _disagrees(answer: Answer, found: SurveyReading) -> Iterator[Finding]:
    """Say where the distance that the first reading gives and the tape cannot both be so."""
    distance, error, taped = found.distance_mm, found.distance_error_mm, answer.lineup.background_mm
    if found.distance_by == "tape" or distance is None or error is None or math.isinf(taped):
        return
    if abs(distance - taped) > SURE * math.hypot(error, tape_error_mm(taped)):
        words = Words(answer)
        seen_at, taped_at = words.length(distance), words.length(taped)
        text = (
            f"The survey puts it at {seen_at} {words.give_or_take(error)}, and the background is taped at "
            f"{taped_at}: read the survey again, or tape again"
        )
        short = f"Survey and tape disagree: {seen_at} against {taped_at}"
        yield Finding("scale", "note", "survey-stale", text, "survey.frame_share", short)
