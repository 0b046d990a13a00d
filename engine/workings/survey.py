"""The workings of the survey group."""

from __future__ import annotations

from typing import TYPE_CHECKING

from forescale.engine.formulas.lineup import KOSCHMIEDER
from forescale.engine.workings import conventions as on
from forescale.engine.workings.figures import Figures
from forescale.engine.workings.lineup import PINHOLE
from forescale.engine.workings.values import value_text
from forescale.engine.workings.working import Working

if TYPE_CHECKING:
    from forescale.engine.answer import Answer

_by_eye = on.both(on.tape, on.always("The share is read on the recorded picture, the whole width being 1."))


def _width(of: Answer) -> str:
    say, seen, found = Figures(of), of.setting.survey, value_text("survey.feature_width_mm", of)
    if seen.feature_width is not None:
        return f"as entered: {found}"
    spread = f"{say.number(seen.frame_share or 0.0)} × {say.across(of.kit.mode.width)}"
    return f"{spread} × {say.from_pupil(of.lineup.background_mm)} / {say.mm(of.sight.image_mm)} = {found}"


def _distance(of: Answer) -> str:
    say, seen, found = Figures(of), of.setting.survey, value_text("survey.distance_mm", of)
    if seen.frame_share is None or seen.feature_width is None:
        return f"that of the background, as taped: {found}"
    picture = f"({say.number(seen.frame_share)} × {say.across(of.kit.mode.width)})"
    width = say.length(seen.feature_width)
    return f"{width} × {say.mm(of.sight.image_mm)} / {picture}{say.to_tape()} = {found}"


def _rise(of: Answer) -> str:
    say = Figures(of)
    aim = of.sight.aim_deg if of.setting.survey.aim is None else of.setting.survey.aim
    level = f" × cos({say.degrees(aim)})" if aim else ""
    away = f"{say.from_pupil(of.survey.distance_mm or 0.0)}{level}"
    seen = f"{away} × tan({say.degrees(of.setting.survey.elevation or 0.0)})"
    return f"{seen} = {value_text('survey.rise_above_lens_mm', of)}"


def _height(of: Answer) -> str:
    say = Figures(of)
    lens, rise = of.setting.place.lens_height or 0.0, of.survey.rise_above_lens_mm or 0.0
    heights = f"{say.length(lens)} {'−' if rise < 0 else '+'} {say.length(abs(rise))}"
    return f"{heights} = {value_text('survey.feature_height_mm', of)}"


def _air(of: Answer) -> str:
    say = Figures(of)
    path = f"{say.from_pupil(of.lineup.background_mm)} / {say.length(of.setting.survey.visibility or 0.0)}"
    return f"exp(−{say.number(KOSCHMIEDER)} × {path}) = {value_text('survey.air_contrast', of)}"


WORKINGS = (
    Working(
        key="survey.distance_mm",
        name="survey distance",
        meaning="How far off the real thing stands: as taped, or from its known width and the share of the frame "
        "that it spans.",
        formula="W·v / (q·w)",
        put_in=_distance,
        conventions=_by_eye,
        leads_to=("survey.rise_above_lens_mm",),
        source=PINHOLE,
    ),
    Working(
        key="survey.feature_width_mm",
        name="feature width",
        meaning="How wide the real thing is: as known, or from its distance and the share of the frame that it spans.",
        formula="q·w·z/v",
        put_in=_width,
        conventions=_by_eye,
        leads_to=("survey.distance_mm",),
        source=PINHOLE,
        needs="enter the share of the frame's width that the feature spans and how far off it is, or its width",
    ),
    Working(
        key="survey.rise_above_lens_mm",
        name="rise above lens",
        meaning="How far above the lens the top of the real thing stands; a minus sign is below it.",
        formula="z · tan(elevation)",
        put_in=_rise,
        conventions=on.both(on.tape, on.always("The angle is from the level at the lens.")),
        leads_to=("survey.feature_height_mm",),
        source="trigonometry",
        needs="enter the elevation of the feature's top",
    ),
    Working(
        key="survey.feature_height_mm",
        name="feature height",
        meaning="How high the top of the real thing stands above its own ground.",
        formula="lens height + z · tan(elevation)",
        put_in=_height,
        conventions=on.always("The lens height is above the ground on which the background stands."),
        leads_to=("lineup.hang_height_mm",),
        source="trigonometry",
        needs="enter the elevation of the feature's top, and the height of the lens",
    ),
    Working(
        key="survey.air_contrast",
        name="air's contrast",
        meaning="What the air between leaves of the background's contrast. Lift the model's paint towards the colour "
        "of the haze by the rest.",
        formula=f"exp(−{KOSCHMIEDER}·D/V)",
        put_in=_air,
        conventions=on.always("Visibility is the meteorological range, at which 2 % of the contrast is left."),
        leads_to=(),
        source="Koschmieder 1924, with the 2 % threshold",
        needs="enter the visibility, and how far off the background is",
    ),
)
