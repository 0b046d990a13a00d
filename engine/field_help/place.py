"""Help on the fields of kit, scale, build list, stock and place."""

from __future__ import annotations

from forescale.engine.field_help.field_help import FieldHelp
from forescale.engine.fields.steps import By, Rungs
from forescale.engine.formulas.scale import STANDARD_RATIOS

HELP: dict[str, FieldHelp] = {
    "kit.camera": FieldHelp(
        label="camera",
        what="The camera, by the name of its profile.",
        enters="Its modes give the sensor's size, its pixels, the rates it runs at and its base film speed.",
        measure="Read sizes and rates off the maker's sheet, or film a ruler square to the lens to check the width.",
        leads_to=("speed.rates", "focus.coc_mm", "lineup.frame_width_model_mm"),
    ),
    "kit.mode": FieldHelp(
        label="mode",
        what="The recording mode of the camera.",
        enters="A faster mode often crops the sensor: frame, pixels and the blur allowed all change with it.",
        measure="Choose on the camera what is chosen here; check that the picture's edges agree.",
        leads_to=("speed.top_fps", "focus.coc_mm", "lineup.frame_width_model_mm", "scale.detail_model_mm"),
    ),
    "kit.lens": FieldHelp(
        label="lens",
        what="The lens, by the name of its profile.",
        enters="It brings its focal length, stops, loss, closest focus, squeeze, and where its entrance pupil stands.",
        measure="Read them off the barrel; find the entrance pupil on the bench.",
        leads_to=("focus.focal_length_mm", "focus.f_number", "slip.pupil_ahead_mm"),
    ),
    "kit.focal_length": FieldHelp(
        label="focal length",
        what="What a zoom is set to; a prime has only one.",
        enters="Longer takes in less, blurs more and magnifies slip.",
        measure="Read the zoom's ring, and tape the ring down: it must not move again.",
        leads_to=("focus.focal_length_mm", "focus.hyperfocal_mm", "lineup.frame_width_model_mm"),
        step=By(1.0, 10.0),
        follows="focus.focal_length_mm",
    ),
    "kit.head": FieldHelp(
        label="head",
        what="The pan-and-tilt head with a slide along the lens, by the name of its profile.",
        enters="The lens must turn about its entrance pupil. The trade says nodal point, but that is another place in "
        "the lens: the entrance pupil is the right one.",
        measure="With the slide at 0, measure from the pan axis to the sensor-plane mark, and the height and lead of "
        "the tilt axis.",
        leads_to=("slip.offset_mm", "slip.slide_for_zero_mm"),
    ),
    "scale.ratio": FieldHelp(
        label="scale",
        what="How many times smaller than the real thing the model is, as 1:24 or 1/2 in = 1 ft.",
        enters="It sets every size that is built, where the model stands, and by its root the frame rate.",
        measure="Measure the same part on the model and on the real thing, and divide. Left open, the program chooses.",
        leads_to=("scale.ratio", "lineup.match_distance_mm", "speed.ideal_fps"),
        step=Rungs(STANDARD_RATIOS),
        chosen="scale.ratio",
    ),
    "scale.rounding": FieldHelp(
        label="shop step",
        what="The step that the shop cuts to.",
        enters="Every part of the build list is rounded to it, and what that is worth at full size is shown.",
        measure="Ask the shop what its rules and saws hold.",
        leads_to=("scale.build.shop", "scale.build.shop_error_real_mm"),
    ),
    "scale.compare": FieldHelp(
        label="second scale",
        what="A second ratio to hold beside the first.",
        enters="Parts, stock, place and rate are shown at both; nothing else changes.",
        measure="Try the next customary ratio up or down before the wood is bought.",
        leads_to=("scale.compare_ratio", "scale.compare_match_distance_mm", "scale.compare_ideal_fps"),
        step=Rungs(STANDARD_RATIOS),
    ),
    "build.part": FieldHelp(
        label="part",
        what="What the part is called on the build list.",
        enters="A name only; no number comes of it.",
        measure="Use the name that the shop uses.",
        leads_to=(),
    ),
    "build.real": FieldHelp(
        label="real size",
        what="The size of the part in the real place.",
        enters="Divided by the ratio it is the size to build.",
        measure="Tape it, read it off a drawing, or find it in the picture with the survey.",
        leads_to=("scale.build.real_mm", "scale.build.model_mm"),
    ),
    "build.quantity": FieldHelp(
        label="pieces",
        what="How many of the part are to be built.",
        enters="It is carried to the build list; no size depends on it.",
        measure="Count those that the frame sees over the whole move, and spares for each take.",
        leads_to=("scale.build.quantity",),
    ),
    "stock.item": FieldHelp(
        label="stock",
        what="What the material at hand is called.",
        enters="A name only; no number comes of it.",
        measure="Use the name on the rack.",
        leads_to=(),
    ),
    "stock.size": FieldHelp(
        label="stock size",
        what="The thickness or width of the material at hand.",
        enters="Times the ratio it is what it stands for at full size.",
        measure="Calipers; a sheet is often thinner than its name says.",
        leads_to=("scale.stock.size_mm", "scale.stock.reads_as_mm"),
    ),
    "place.model": FieldHelp(
        label="model at",
        what="How far off the plane of the model stands that must match the background.",
        enters="Background over model, both from the entrance pupil, is the ratio that the model reads as.",
        measure="Tape from the sensor-plane mark on the camera, along the lens axis. Left open, it is where the ratio "
        "matches.",
        leads_to=("lineup.model_mm", "lineup.reads_as_ratio", "lineup.size_error"),
        chosen="lineup.model_mm",
    ),
    "place.model_near": FieldHelp(
        label="nearest part",
        what="How far off the nearest part of the model in frame is; left open, that of the model.",
        enters="The focus zone starts here.",
        measure="Tape from the sensor-plane mark; think of what falls or rolls towards the lens.",
        leads_to=("focus.near_needed_mm", "focus.focus_mm", "focus.stop_needed"),
        follows="focus.near_needed_mm",
    ),
    "place.background": FieldHelp(
        label="background",
        what='How far off the real thing stands that the model must match; "inf" for sky or far hills.',
        enters="Over the ratio it is where the model stands.",
        measure="Tape it, pace it off, use a rangefinder or a map, or find it from a known width with the survey.",
        leads_to=("lineup.background_mm", "lineup.match_distance_mm", "lineup.reads_as_ratio"),
    ),
    "place.background_far": FieldHelp(
        label="far side",
        what="How far off the farthest thing is that must be sharp; left open, that of the background.",
        enters="The focus zone ends here.",
        measure="A rangefinder or a map; past the hyperfocal a rough figure does.",
        leads_to=("focus.far_needed_mm", "focus.focus_mm", "focus.stop_needed"),
        follows="focus.far_needed_mm",
    ),
    "place.lens_height": FieldHelp(
        label="lens height",
        what="How high the lens is above the ground that the background stands on.",
        enters="The model is a shrink about the lens, so the horizon stays at lens height and all else moves to it.",
        measure="Tape from the lens axis to the ground; where the ground slopes, level across to the background's.",
        leads_to=("lineup.hang_height_mm", "lineup.foot_height_mm", "survey.feature_height_mm"),
    ),
    "place.feature_height": FieldHelp(
        label="meet height",
        what="How high in the real place the point is that the model must meet, such as a roof line.",
        enters="With lens height and ratio it gives how high that point of the model is built or hung.",
        measure="Tape it, read it off a drawing, or find it by its elevation with the survey.",
        leads_to=("lineup.hang_height_mm",),
    ),
}
