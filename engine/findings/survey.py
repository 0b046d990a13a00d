"""Findings on the survey: the air, and readings that the tape, or a rig that has moved on, speaks against."""

from __future__ import annotations

import math
from collections.abc import Iterator

from forescale.engine.findings.words import said
from forescale.engine.formulas.lineup import tape_error_mm
from forescale.engine.solve.record import Answer, Finding

CLEAR_AIR = 0.98  # from here on no eye tells a difference
SURE = 2.0  # standard errors apart, from which on two distances are not one


def survey_findings(answer: Answer) -> Iterator[Finding]:
    """Yield what is to be said of each reading, named where there are several."""
    for number, reading in enumerate(answer.survey.readings, start=1):
        named = reading_name(answer, number)
        field = f"survey.{'' if number == 1 else f'{number}.'}frame_share"
        if reading.fault is not None:
            yield said(answer, "survey-fault", field=field, named=named, fault=reading.fault)
            continue
        if reading.moved_on:
            yield said(answer, "survey-moved", field=field, named=named, moved=" and ".join(reading.moved_on))
        left, distance = reading.air_contrast, reading.distance_mm
        if left is not None and distance is not None and left < CLEAR_AIR:
            alone = len(answer.survey.readings) < 2
            of = "the background's contrast" if alone else f"the contrast of {named.partition(' ')[2]}"
            yield said(answer, "air", taken=1 - left, distance=distance, left=left, of=of)
    found, taped = answer.survey, answer.lineup.background_mm
    put, error = found.distance_mm, found.distance_error_mm
    if not found.readings or found.moved_on or found.distance_by == "tape" or put is None or error is None:
        return
    if not math.isinf(taped) and abs(put - taped) > SURE * math.hypot(error, tape_error_mm(taped)):
        yield said(answer, "survey-stale")  # what the first reading gives and the tape cannot both be so


def reading_name(answer: Answer, number: int) -> str:
    """Return what a reading is called: its name, or its number where there are several."""
    readings = answer.survey.readings
    called = readings[number - 1].name if number <= len(readings) else ""
    return f'Survey "{called}"' if called else "The survey" if len(readings) < 2 else f"Survey reading {number}"
