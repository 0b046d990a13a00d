"""Help on what is read at the line-up and on coming back: misses in the picture and witness marks."""

from __future__ import annotations

from forescale.engine.field_help.field_help import FieldHelp

_MOVES = ("correction.camera.right_mm", "correction.model.right_mm")
_BACK = ("come_back.right_mm", "come_back.up_mm", "come_back.forward_mm")
_TURNS = (*_BACK, "come_back.pan_deg")
_IN_PICTURE = "Count pixels on the recorded picture, enlarged, with the lens focused as the shot is."

HELP: dict[str, FieldHelp] = {
    "miss.point": FieldHelp(
        label="point read",
        what="The point at which the miss was read, by its name.",
        enters="Two points tell the camera, three the model with its turns, four and five show a misread one.",
        measure="Take points far apart in the picture, high and low, and at depths of their own.",
        leads_to=_MOVES,
    ),
    "miss.across_px": FieldHelp(
        label="miss across",
        what="How far the model's point stands to the right of the real one in the picture (+), or to its left (-).",
        enters="With the other misses it tells where the camera stands, or the model, against where it should.",
        measure=_IN_PICTURE,
        leads_to=_MOVES,
    ),
    "miss.up_px": FieldHelp(
        label="miss up",
        what="How far the model's point stands above the real one in the picture (+), or below it (-).",
        enters="With the other misses it tells where the camera stands, or the model, against where it should.",
        measure=_IN_PICTURE,
        leads_to=_MOVES,
    ),
    "witness.name": FieldHelp(
        label="mark",
        what="A mark on something that stays: a kerb, a wall, a post.",
        enters="Four marks tell the way back and check it; three give no check.",
        measure="Choose marks 3 to 7 m off, on several sides, some high and some low.",
        leads_to=_BACK,
    ),
    "witness.distance": FieldHelp(
        label="mark distance",
        what="The level tape to the mark along the way that the lens looks at the line-up; negative behind the camera.",
        enters="With aside and height it is the place of the mark, which the camera is found from.",
        measure="Lay a line on the ground from the plumb of the sensor-plane mark, and tape along it.",
        leads_to=_BACK,
    ),
    "witness.aside": FieldHelp(
        label="mark aside",
        what="How far the mark lies to the left or the right of that line, as 6 ft left.",
        enters="With distance and height it is the place of the mark, which the camera is found from.",
        measure="Tape square from the line to the plumb of the mark.",
        leads_to=_BACK,
    ),
    "witness.height": FieldHelp(
        label="mark height",
        what="The height of the mark above the background's ground, as the lens height counts.",
        enters="With distance and aside it is the place of the mark; marks level with the lens do not tell its height.",
        measure="A level or an inclinometer from the lens, and a tape.",
        leads_to=_BACK,
    ),
    "witness.taped": FieldHelp(
        label="tape then",
        what="The straight tape from the sensor-plane mark to the mark, when it was put up; may be left out.",
        enters="Held against the tape now, so that a tape that is always long by as much does no harm.",
        measure="Pull the tape taut from the sensor-plane mark straight to the mark.",
        leads_to=_BACK,
    ),
    "witness.taped_now": FieldHelp(
        label="tape now",
        what="The same tape now, from where the camera stands.",
        enters="By how much it has grown tells how far the camera stands from where it stood.",
        measure="With the same tape, pulled as taut, from the sensor-plane mark straight to the mark.",
        leads_to=_BACK,
    ),
    "witness.frame_across_now": FieldHelp(
        label="across now",
        what="Where the picture has the mark now: a share of the frame's width from its left, or pixels.",
        enters="Four marks in the picture tell where the camera stands and how the lens is turned.",
        measure=_IN_PICTURE,
        leads_to=_TURNS,
    ),
    "witness.frame_up_now": FieldHelp(
        label="up now",
        what="Where the picture has the mark now: a share of the frame's height from its bottom, or pixels.",
        enters="Four marks in the picture tell where the camera stands and how the lens is turned.",
        measure=_IN_PICTURE,
        leads_to=_TURNS,
    ),
    "limits.reading_px": FieldHelp(
        label="picture read",
        what="How finely a place in the picture is read, in pixels: one standard error.",
        enters="Errors of the line-up and of coming back count from it, and so does what is called a misread point.",
        measure="Read one point ten times over; about seven of ten lie so near to their mean.",
        leads_to=("correction.camera.right_error_mm", "come_back.right_error_mm"),
    ),
}
