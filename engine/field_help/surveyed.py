"""Help on the fields of the survey, and on what readings keep that they were taken with."""

from __future__ import annotations

from forescale.engine.field_help.field_help import FieldHelp
from forescale.engine.fields.steps import By

_SIZES = ("survey.feature_width_mm", "survey.distance_mm")
_HEIGHTS = ("survey.rise_above_lens_mm", "survey.feature_height_mm")

SURVEY_HELP: dict[str, FieldHelp] = {
    "survey.name": FieldHelp(
        label="called",
        what="What the reading is of: the tower, the near gate.",
        enters="It tells the readings apart on the sheet; it changes no number.",
        measure="Any words will do; left empty, readings are numbered.",
        leads_to=(),
    ),
    "survey.frame_share": FieldHelp(
        label="frame share",
        what="The part of the frame's width, or of its height, that the real thing spans, 1 being all of it.",
        enters="With the distance it gives the size, or with the size the distance.",
        measure="Freeze the picture and read it near its middle: 22 %, 450 px, 22 % of the height.",
        leads_to=_SIZES,
        step=By(0.01, 0.1),
    ),
    "survey.share_of": FieldHelp(
        label="share of",
        what="Which side of the frame the share is of.",
        enters="A share of the height goes with the feature's height, one of the width with its width.",
        measure="Type it behind the share: 22 % of the height.",
        leads_to=_SIZES,
    ),
    "survey.feature_width": FieldHelp(
        label="feature width",
        what="How wide the real thing is, where it is known.",
        enters="With its share of the frame's width it gives its distance.",
        measure="A door, a wagon or a person standing there makes a yardstick.",
        leads_to=_SIZES,
    ),
    "survey.feature_height": FieldHelp(
        label="known height",
        what="How high the real thing is above its ground, where it is known.",
        enters="With its share of the frame's height, or its elevation and the lens height, it gives its distance.",
        measure="A staff of known height held upright there makes a yardstick, and so does a person.",
        leads_to=("survey.distance_mm", "survey.feature_height_mm"),
    ),
    "survey.elevation": FieldHelp(
        label="elevation",
        what="The angle from the level up to the feature's top, at the lens; a minus sign is down.",
        enters="With the distance it gives how high the top is.",
        measure="An inclinometer held at the lens, or a tilt head levelled and read.",
        leads_to=_HEIGHTS,
        step=By(0.5, 5.0),
        first=10.0,
    ),
    "survey.elevation_nearer": FieldHelp(
        label="from nearer",
        what="The elevation of the same top, read from nearer by at the same height.",
        enters="The two angles and the way between them give the distance.",
        measure="Walk straight towards it until the angle has grown by a third or more, and read again.",
        leads_to=("survey.distance_mm", *_HEIGHTS),
        step=By(0.5, 5.0),
    ),
    "survey.nearer_by": FieldHelp(
        label="nearer by",
        what="By how much nearer the second elevation was read.",
        enters="It is the base on which the two angles stand.",
        measure="Tape from the first place to the second, straight towards the thing.",
        leads_to=("survey.distance_mm", *_HEIGHTS),
    ),
    "survey.visibility": FieldHelp(
        label="visibility",
        what="How far one can see through the air.",
        enters="It gives what the air leaves of the background's contrast, to be matched in the model's paint.",
        measure="The weather report, or the farthest dark hill that can just be told from the sky: 8 km by 2 %.",
        leads_to=("survey.air_contrast",),
        step=By(1e6, 5e6),
    ),
    "survey.visibility_by": FieldHelp(
        label="seen by",
        what="How much of the contrast is left at the visibility told: 5 % of a weather report's, or 2 %.",
        enters="With 2 % left the air takes more over the same distance.",
        measure="A weather report means 5 %; a dark hill that can just be told from the sky is nearer to 2 %.",
        leads_to=("survey.air_contrast",),
    ),
}
# What a reading keeps: a label, what it is, and how it tells.
_KEPT: dict[str, tuple[str, str, str]] = {
    "camera": ("camera", "The camera that the reading was taken with", "Its pixels are that camera's."),
    "mode": ("mode", "The mode that the reading was taken in", "Shares and pixels are those of that mode's picture."),
    "lens": ("lens", "The lens that the reading was taken with", "The picture is that lens's, from its own pupil."),
    "focal_length": (
        "focal",
        "The focal length it was taken at",
        "The picture is as large as it made it.",
    ),
    "focus": (
        "focus",
        "The focus mark at which it was taken",
        "The picture grows a little with nearer focus.",
    ),
    "model": ("model", "How far off the model stood when the reading was taken", "It tells whether the rig has moved."),
    "background": (
        "backing",
        "How far off the background was taped when the reading was taken",
        "The reading counts on that distance.",
    ),
    "lens_height": (
        "lens up",
        "How high the lens stood when the reading was taken",
        "A top's height counts from there.",
    ),
}


def _kept(section: str, label: str, names: tuple[str, ...], leads_to: str) -> dict[str, FieldHelp]:
    return {
        f"{section}.{name}": FieldHelp(
            label=f"{label} {_KEPT[name][0]}",
            what=f"{_KEPT[name][1]}; left open, as the shot has it.",
            enters=_KEPT[name][2],
            measure=f"The {section} notes it where that is changed afterwards; k there counts all as taken now.",
            leads_to=(leads_to,),
        )
        for name in names
    }


HELP = (
    SURVEY_HELP
    | _kept("survey", "taken", tuple(_KEPT), "survey.distance_mm")
    | _kept("bench", "bench", ("camera", "mode", "focus"), "slip.bench.slide_for_zero_mm")
)
