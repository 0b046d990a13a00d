"""Survey and place: what is taped, and what is read from the picture."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.sheet.blocks import Row, Section
from forescale.engine.sheet.voice import Voice
from forescale.engine.shot.records import SurveyRow
from forescale.engine.solve.groups import SurveyReading
from forescale.engine.units import angle_text


def section(voice: Voice) -> Section:
    """Return the tape distances, the heights and the survey."""
    note = "distances on the tape, from the sensor-plane mark on the camera; heights above the background's ground"
    return Section("Survey and place", (*_place(voice), *_survey(voice)), note)


def _place(voice: Voice) -> Iterator[Row]:
    answer, place = voice.of, voice.of.setting.place
    yield Row(
        "Model stands at",
        voice.length(answer.lineup.model_mm),
        "the plane that must match",
        voice.chosen("place.model"),
    )
    if place.model_near is not None:
        yield Row("Nearest part", voice.length(place.model_near))
    yield Row("Background", voice.length(place.background), "the real thing to match")
    if place.background_far is not None:
        yield Row("Far side", voice.length(place.background_far))
    if place.lens_height is not None:
        yield Row("Lens height", voice.length(place.lens_height))
    if place.feature_height is not None:
        yield Row("Meet height", voice.length(place.feature_height), "to meet, on the real thing")


def _survey(voice: Voice) -> Iterator[Row]:
    for row, found in zip(voice.of.setting.survey, voice.of.survey.readings, strict=True):
        named = f"{row.name}: " if row.name else ""
        for label, value, note in _reading(voice, row, found):
            yield Row(f"{named}{label[0].lower()}{label[1:]}" if named else label, value, note)


def _reading(voice: Voice, row: SurveyRow, found: SurveyReading) -> Iterator[tuple[str, str, str]]:
    """Yield what a reading says and gives, each with what it may be off."""

    def off(error_mm: float | None, then: str = "") -> str:
        return ", ".join(part for part in (voice.give_or_take(error_mm), then) if part)

    if found.fault is not None:
        yield "Gives nothing", "-", found.fault
        return
    if row.frame_share is not None:
        yield f"Spans, of the frame's {row.share_of}", voice.percent(row.frame_share), ""
    if row.elevation is not None:
        yield "Its top is seen at", angle_text(row.elevation), "above level"
    if row.elevation_nearer is not None and row.nearer_by is not None:
        yield "And from nearer by", angle_text(row.elevation_nearer), f"{voice.length(row.nearer_by)} nearer"
    if found.feature_width_mm is not None:
        given = row.feature_width is not None
        note = "" if given else off(found.feature_width_error_mm, "from the picture")
        yield "Width of the real thing", voice.length(found.feature_width_mm), note
    if found.distance_by != "tape" and found.distance_mm is not None:
        note = off(found.distance_error_mm, f"by {found.distance_by}, on the tape")
        yield "So it stands at", voice.length(found.distance_mm), note
    if found.rise_above_lens_mm is not None:
        yield "Its top, above the lens", voice.length(found.rise_above_lens_mm), ""
    if found.feature_height_mm is not None:
        yield "Its top, above ground", voice.length(found.feature_height_mm), off(found.feature_height_error_mm)
    if row.visibility is not None and found.air_contrast is not None:
        yield "Visibility", voice.length(row.visibility), f"{row.visibility_by} of the contrast left there"
        yield "Contrast through the air", voice.percent(found.air_contrast), "left of its own"
