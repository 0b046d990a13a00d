"""Survey and place: what is taped, and what is read from the picture."""

from __future__ import annotations

from collections.abc import Iterator

from forescale.engine.sheet.blocks import Row, Section
from forescale.engine.sheet.voice import Voice
from forescale.engine.units import angle_text


def section(voice: Voice) -> Section:
    """Return the tape distances, the heights and the survey."""
    note = "distances on the tape, from the sensor-plane mark on the camera; heights above the background's ground"
    return Section("Survey and place", (*_place(voice), *_survey(voice)), note)


def _place(voice: Voice) -> Iterator[Row]:
    answer, place = voice.of, voice.of.setting.place
    yield Row("Model", voice.length(answer.lineup.model_mm), "the plane that must match", voice.chosen("place.model"))
    if place.model_near is not None:
        yield Row("Its nearest part", voice.length(place.model_near))
    yield Row("Background", voice.length(place.background), "the real thing to match")
    if place.background_far is not None:
        yield Row("Farthest to be sharp", voice.length(place.background_far))
    if place.lens_height is not None:
        yield Row("Lens height", voice.length(place.lens_height))
    if place.feature_height is not None:
        yield Row("Height of the point", voice.length(place.feature_height), "to meet, on the real thing")


def _survey(voice: Voice) -> Iterator[Row]:
    seen, found = voice.of.setting.survey, voice.of.survey
    if seen.frame_share is not None:
        yield Row("Spans, of the frame", voice.percent(seen.frame_share))
        if found.feature_width_mm is not None:
            given = seen.feature_width is not None
            yield Row(
                "Width of the real thing", voice.length(found.feature_width_mm), "" if given else "from the picture"
            )
        if seen.feature_width is not None and found.distance_mm is not None:
            yield Row("So it stands at", voice.length(found.distance_mm), "from the picture, on the tape")
    if seen.elevation is not None:
        yield Row("Its top is seen at", angle_text(seen.elevation), "above level")
    if found.rise_above_lens_mm is not None:
        yield Row("Its top, above the lens", voice.length(found.rise_above_lens_mm))
    if found.feature_height_mm is not None:
        yield Row("Its top, above ground", voice.length(found.feature_height_mm))
    if seen.visibility is not None and found.air_contrast is not None:
        yield Row("Visibility", voice.length(seen.visibility))
        yield Row("Contrast through the air", voice.percent(found.air_contrast), "left of the background's own")
