"""Help on where the lens aims and how the move goes to both sides, and on points, outlines and pieces."""

from __future__ import annotations

from forescale.engine.field_help.field_help import FieldHelp
from forescale.engine.fields.steps import By

_READ_WITH = "The program notes it where it is changed afterwards."


def _read_with(label: str, what: str, enters: str) -> FieldHelp:
    """Return the help on what a point was read in the picture with."""
    return FieldHelp(
        label=label, what=what, enters=enters, measure=_READ_WITH, leads_to=("picture.points.frame_across",)
    )


HELP: dict[str, FieldHelp] = {
    "place.aim": FieldHelp(
        label="aim",
        what="How far the lens is tilted up or down at the line-up, as 3 deg up; left out, it is level.",
        enters="It sets what the frame holds, and over a tilt axis below the lens it moves the pupil off the pan axis.",
        measure="An inclinometer on the camera's base plate, or the head's own scale after it was levelled.",
        leads_to=("picture.aim_deg", "picture.horizon_up", "slip.offset_mm"),
        step=By(0.5, 5.0),
    ),
    "place.seems_at": FieldHelp(
        label="seems at",
        what="How far off the real thing would be that the model stands for; left open, the background.",
        enters="Over the ratio it is where the model stands; slip, drift and focus still count to the background.",
        measure="Pace or tape to where the thing would stand on the real ground.",
        leads_to=("lineup.match_distance_mm", "lineup.reads_as_ratio", "lineup.hang_height_mm"),
        follows="lineup.seems_mm",
    ),
    "place.fills": FieldHelp(
        label="fills",
        what="Whether the model must reach every edge of the picture (frame), or the place shows around it (part).",
        enters="Only a model that fills the frame is held against the cover over the whole move.",
        measure="Look at the storyboard for anything of the real place beside it.",
        leads_to=("lineup.cover_width_mm", "lineup.cover_height_mm"),
    ),
    "move.start": FieldHelp(
        label="start",
        what="How far to the other side of the line-up the move begins; 0 where it begins at the line-up.",
        enters="Slip, cover and crossing time count the whole move, from start to end.",
        measure="Read the head's scale at the beginning and at the line-up.",
        leads_to=("slip.largest_slip_px", "lineup.cover_width_mm", "speed.crossing_s"),
        step=By(1.0, 5.0),
    ),
    "move.tilt_sweep": FieldHelp(
        label="tilt by end",
        what="How far the lens tilts up or down by the far end of a pan, as 3 deg up.",
        enters="The pupil swings about both axes, so no slide is right for all of it; the best is told.",
        measure="Read the head's tilt scale at the line-up and at the far end.",
        leads_to=("slip.slip_px", "slip.slide_best_mm"),
        step=By(0.5, 5.0),
    ),
    "move.travel": FieldHelp(
        label="travel",
        what="How far the camera is carried by the far end, as 2 in left; or right, up, down, forward, back.",
        enters="A carried pupil slips whatever the slide: only so much of the travel passes.",
        measure="Tape along the track, from the line-up to the far end.",
        leads_to=("slip.slip_px", "slip.travel_allowed_mm"),
    ),
    "bench.aim": FieldHelp(
        label="bench aim",
        what="How far the lens was tilted when the reading was taken; left open, as the shot aims.",
        enters="Over a tilt axis below the lens the slide without slip changes with the aim.",
        measure="The bench notes it where the aim is changed afterwards.",
        leads_to=("slip.bench.slide_for_zero_mm",),
    ),
    "survey.aim": FieldHelp(
        label="survey aim",
        what="How far the lens was tilted when the share of the frame was read; left open, as the shot aims.",
        enters="A tilted lens sees a thing of the same level distance along a longer line.",
        measure="An inclinometer on the camera's base plate.",
        leads_to=("survey.feature_width_mm", "survey.distance_mm"),
    ),
    "point.name": FieldHelp(
        label="point",
        what="What the point is called where model and place must meet.",
        enters="Misses read in the picture are entered by this name.",
        measure="Name what can be seen on both: the left end of the ridge.",
        leads_to=(),
    ),
    "point.distance": FieldHelp(
        label="point at",
        what="How far off the real point is; left open, as far as the model seems to stand.",
        enters="With aside and height it is where the point stands in the picture, and where it is built.",
        measure="Tape level from the plumb of the sensor-plane mark, or a rangefinder.",
        leads_to=("picture.points.model_distance_mm", "picture.points.frame_across"),
    ),
    "point.aside": FieldHelp(
        label="point aside",
        what="How far left or right of the line of the lens the real point is, as 14 ft left.",
        enters="With its distance it is where the point stands across the picture.",
        measure="Tape square from the line in which the lens looks.",
        leads_to=("picture.points.frame_across", "picture.points.model_aside_mm"),
    ),
    "point.height": FieldHelp(
        label="point height",
        what="How high the real point is above the background's ground; a minus sign is below it.",
        enters="With its distance it is where the point stands up and down in the picture.",
        measure="Tape it, read it off a drawing, or find it by its elevation.",
        leads_to=("picture.points.frame_up", "picture.points.model_height_mm"),
    ),
    "point.frame_across": FieldHelp(
        label="read across",
        what="Where the real point stands across the picture: a share of the width from its left edge, or 635 px.",
        enters="In place of aside: the line of sight there, followed to the point's distance.",
        measure="Freeze the recorded picture and read it against its edges, or read the cursor's pixels.",
        leads_to=("picture.points.model_aside_mm",),
    ),
    "point.frame_up": FieldHelp(
        label="read up",
        what="Where the real point stands in the picture: a share of the height from its bottom, or 714 px.",
        enters="In place of height: the line of sight there, followed to the point's distance.",
        measure="Count from the bottom edge; most viewers count pixels from the top, so take those from the height.",
        leads_to=("picture.points.model_height_mm",),
    ),
    "point.piece": FieldHelp(
        label="point's piece",
        what="The piece that the point is on; left open, it is on the model.",
        enters="The piece's ratio and place are the ones that it is built by.",
        measure="By the name of one of the pieces.",
        leads_to=("picture.points.model_distance_mm",),
    ),
    "point.camera": _read_with(
        "read camera", "The camera whose picture it was read in.", "Its frame is what was read."
    ),
    "point.mode": _read_with("read mode", "The mode that it was read in.", "Its frame and pixels are what was read."),
    "point.lens": _read_with("read lens", "The lens that it was read through.", "Its squeeze widens what was read."),
    "point.focal_length": _read_with(
        "read focal", "The focal length that it was read at.", "It sets how wide the frame sees."
    ),
    "point.focus": _read_with("read focus", "The focus that it was read at.", "The picture grows as focus comes near."),
    "point.model": _read_with("read model", "Where the model stood then.", "It tells which line-up it was read at."),
    "point.background": _read_with(
        "read backing", "Where the background stood then.", "A point without a distance stands there."
    ),
    "point.aim": _read_with("read aim", "How far the lens was tilted then.", "The line of sight is turned by it."),
    "outline.name": FieldHelp(
        label="outline",
        what="What the silhouette is called.",
        enters="A name only; no number comes of it.",
        measure="Use the name on the drawings.",
        leads_to=(),
    ),
    "outline.of": FieldHelp(
        label="outline of",
        what="Whether it is of the model, built at the ratio, or of the real place, drawn for the eye.",
        enters="A model's is drawn as it stands; a place's at the background.",
        measure="Model is what the shop cuts; place is what is there.",
        leads_to=("picture.outlines.left",),
    ),
    "outline.corners": FieldHelp(
        label="corners",
        what="The corners at full size: aside and height, with arc for one in the middle of an arc.",
        enters="They are the silhouette as the camera sees it, and by the ratio the template that is cut.",
        measure="Tape aside from the line of the lens, and heights from the background's ground.",
        leads_to=("picture.outlines.model_width_mm", "picture.outlines.top"),
    ),
    "outline.closed": FieldHelp(
        label="closed",
        what="Whether the last corner is joined to the first.",
        enters="An open one is a line such as a ridge.",
        measure="Closed for what is cut out.",
        leads_to=(),
    ),
    "outline.piece": FieldHelp(
        label="its piece",
        what="The piece that the outline is of; left open, it is of the model.",
        enters="The piece's ratio and place are the ones that it is built by.",
        measure="By the name of one of the pieces.",
        leads_to=("picture.outlines.model_width_mm",),
    ),
    "piece.name": FieldHelp(
        label="piece",
        what="What a second model in the same picture is called.",
        enters="Points and outlines name the piece that they are on.",
        measure="Use the name on the drawings.",
        leads_to=(),
    ),
    "piece.ratio": FieldHelp(
        label="piece scale",
        what="How many times smaller than the real thing the piece is.",
        enters="It sets where the piece stands and how fast its action would have to run.",
        measure="Measure the same part on the piece and on the real thing, and divide.",
        leads_to=("picture.pieces.match_distance_mm", "picture.pieces.ideal_fps"),
    ),
    "piece.stands": FieldHelp(
        label="piece at",
        what="How far off the piece stands; left open, where its ratio matches.",
        enters="With what it seems to stand at it is the size that it reads as.",
        measure="Tape level from the plumb of the sensor-plane mark.",
        leads_to=("picture.pieces.size_error",),
    ),
    "piece.seems_at": FieldHelp(
        label="piece seems",
        what="How far off the real thing would be that the piece stands for; left open, the background.",
        enters="Over its ratio it is where the piece stands.",
        measure="Pace or tape to where the thing would stand on the real ground.",
        leads_to=("picture.pieces.match_distance_mm",),
    ),
}
