"""What each task is for and how it is done, by the name of its screen; F1 shows it with the task's keys."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TaskHelp:
    """What a task is for, in two or three sentences, and how it is done, a step each."""

    what: str
    steps: tuple[str, ...]


TASK_HELP: dict[str, TaskHelp] = {
    "AboutScreen": TaskHelp(
        "What the shot is called, what is noted of it, and the units in which it is shown. A number without a unit "
        "is read in those units too.",
        ("Go up or down to a row and press Enter.", "Type the title, the notes, or the word imperial or metric."),
    ),
    "BenchScreen": TaskHelp(
        "The bench finds the lens's entrance pupil by watching how a near thing slips against a far one while the "
        "head turns. Where the slide stands at the zero of that slip, the lens turns about its pupil and nothing "
        "slips.",
        (
            "Put up a near stick and a far one and line them up; g tells how, with this shot's numbers.",
            "Set the slide, turn by the sweep, and log the slip: p counted in pixels, t off a tape, e by eye. Plus is "
            "where the near one outran the far one.",
            "Do so at three places of the slide or more; the program says which to read next.",
            "Press z to set the shot's slide to the zero, and s to store the pupil in the lens's profile.",
        ),
    ),
    "BenchGuideScreen": TaskHelp(
        "How the bench is done, in six steps with the numbers of this shot: what to put up, how to line it up, turn "
        "and read.",
        ("Go down to read on.", "g or Esc goes back to the readings."),
    ),
    "ComeBackScreen": TaskHelp(
        "How the camera comes back to where it stood, after lunch or another day: marks on things that stay, with a "
        "tape to each then and now, or with their places in the picture now. By tapes the camera's place is told, by "
        "four marks in the picture its turn as well.",
        (
            "While the camera stands right, press a and put up four marks, 3 to 7 metres off and on several sides, "
            "some high and some low; tape each straight from the sensor-plane mark.",
            "On coming back set the camera down roughly, and type the tape now, or where the picture has each mark.",
            "Do what is said below, read again, and stop when nothing is left to do. n leaves all that was read out.",
        ),
    ),
    "CompareScreen": TaskHelp(
        "Two states of the shot held against each other. Only what differs stands here: what is set, then the "
        "answers, then what is to be said of one of the two alone.",
        ("Go down to read on.", "On a narrow screen 1 and 2 say which of the two a value belongs to."),
    ),
    "DayScreen": TaskHelp(
        "What the day does to the shot: where the sun stands hour by hour and when it comes back to where it stood for "
        "the plate, what lamps give, and when things fall and are called. Never look at the sun through a lens.",
        (
            "Press n for this machine's day, time and offset; type latitude and longitude: the next shot keeps them.",
            "Give the bearing of the lens, or where it sees the sun and when.",
            "Press l for a lamp and c for a cue, and answer field by field; Enter alone leaves one out.",
            "Read the strip and the lists below; Tab goes there.",
        ),
    ),
    "EffectScreen": TaskHelp(
        "All that the choice or change under this page would make of the shot: its chief numbers and what is to be "
        "said of it.",
        ("Go down to read on.", "Esc goes back to the choice; nothing was changed by reading."),
    ),
    "ElsewhereScreen": TaskHelp(
        "Another program, or another copy of this one, has changed the shot's file since it was opened here. Nothing "
        "is written until it is decided whose is to stand; the takes of both are kept whichever it is.",
        (
            "Go down to see what differs, yours first.",
            "k saves yours over the file, g takes what the file holds, w saves yours under another name.",
            "Esc goes back with nothing saved.",
        ),
    ),
    "ExplainScreen": TaskHelp(
        "How each number comes about: what it means, its formula, this shot's numbers put in, what it leads to and "
        "where the formula is from.",
        (
            "Go up or down to a number: its working stands beside it, or below.",
            "Tab goes to the working where it is longer than its room, and back.",
            "The pane's numbers come first, as it shows them; those of the other panes follow.",
            "Press / to find a number by any words that are told of it; on the board / does so at once.",
        ),
    ),
    "FindingsScreen": TaskHelp(
        "All that is to be said of the shot, the gravest first: what cannot work, what to look at, what is good to "
        "know. Each says what is so and what mends it.",
        (
            "Go up or down to a finding, or to one of its remedies below it. Each remedy was tried: behind it stands "
            "what it costs.",
            "d does the selected remedy, or the first of the selected finding; u takes it back.",
            "Enter goes to the field on the board where it is mended.",
        ),
    ),
    "KeysScreen": TaskHelp(
        "Everything that the board can do, whole tasks first, each with its key.",
        (
            "Type a few letters of what you want: only what has them stays in the list.",
            "Go up or down to one; Enter does it.",
            "On a wide screen the last column has the name by which a key is changed, the line below the file.",
        ),
    ),
    "KitScreen": TaskHelp(
        "The shelves of cameras, lenses and heads, and which of them the shot uses. What the selected row would "
        "change of the shot stands below before it is taken.",
        (
            "Tab goes on to the next shelf; up and down go to a row.",
            "Enter puts it into the shot; f sets a zoom's focal length.",
            "To make one of your own press n for a new one, c for a copy of the selected one, or e to edit it; a "
            "built-in one is copied first.",
        ),
    ),
    "LeavingScreen": TaskHelp(
        "The shot has changes that its file does not hold. It is asked once what is to become of them.",
        (
            "Press s to save and leave, d to leave without the changes, Esc to stay.",
            "Takes are kept all the same. Redo brings back what was left when the shot is opened again, until "
            "something else is left so or saved.",
        ),
    ),
    "LimitsScreen": TaskHelp(
        "What a way to shoot it may cost at most, what it must show, what is to stay as it is, and what counts "
        "first. The search of ways goes by these; they are kept with the shot.",
        (
            "Go up or down to a limit and press Enter.",
            "Type its value; with nothing typed it goes back to the usual one.",
            "Esc goes back, and the ways are searched again.",
        ),
    ),
    "LineUpScreen": TaskHelp(
        "How model and place are brought together in the picture: type by how many pixels the model misses at each "
        "point, and be told how to move the camera, or the model instead, and how sure that is. Turning the head moves "
        "both alike and mends nothing.",
        (
            "Go to a point and press Enter: type the miss in recorded pixels, right and up, as 4 -2 or 4 left 2 up. "
            "Two points tell the camera; three the model with its turns; four and five show a misread one.",
            "Move the camera, or the model, as told; then press c or m. The readings are kept as a saved state, and "
            "the shot follows a camera that was moved.",
            "Read the misses again until they are as small as you can read.",
            "Tab draws the misses in the frame: as read, and what each of the two would leave.",
        ),
    ),
    "MarginsScreen": TaskHelp(
        "How far off each value may be, less or more, before something else is to be said of the shot. What has the "
        "least room for a careful hand's error stands first: tape that with the most care.",
        (
            "Go up or down to a value: what turns first is said below.",
            "Enter goes to its field on the board.",
        ),
    ),
    "MarksScreen": TaskHelp(
        "A saved state keeps all that is set for the shot under a name, to compare with later or to go back to. Each "
        "is shown with what differs from now.",
        (
            "Press k and type a name to keep the present state.",
            "Enter holds the selected state against now; c on one and then on another holds those two together.",
            "Press g to go back to the selected state. That is one change, which undo takes away.",
        ),
    ),
    "MovedScreen": TaskHelp(
        "For when camera or model have moved: all new tape distances go in together, and the program then says what "
        "to do on set. Until then nothing changes on the board, and the state before is saved.",
        (
            "Go to each distance that was re-measured and type it: Enter or a digit begins, left and right step it. "
            "Enter takes it and goes on to the next row.",
            "Say with f and s whether focus mark and stop are to stay or be solved again.",
            "Press w to work out what to do.",
        ),
    ),
    "OpenScreen": TaskHelp(
        "The shots there are, your own and the built-in ones. What is not saved of the present shot is kept, and "
        "comes back when it is opened again.",
        (
            "Go up or down to a shot; Enter opens it.",
            "Press p to type the path of a file.",
            "Press n to begin a new shot: its title, then how far off the background is.",
        ),
    ),
    "PartsScreen": TaskHelp(
        "What is to be built, by its size in the real place and on the model; the stock at hand, and what it would "
        "be at full size; and what this place asks of the build.",
        (
            "Press a to add a part: its name, then its full size. Enter changes the selected cell.",
            "Tab goes on to the stock at hand, and to the place.",
            "Press o for the step that the shop cuts to, c to see a second scale beside the first, w to ask what "
            "stock some full size needs.",
            "Press m for the sizes, the material and the pitch of the selected part, h for whether the model stands.",
        ),
    ),
    "PartScreen": TaskHelp(
        "Sizes, material, density and pitch of one part, a field a row; below, what it is cut to and what it weighs.",
        ("Go up or down to a field; Enter types it, x leaves it out.",),
    ),
    "ProfileScreen": TaskHelp(
        "A camera, a lens or a head of your own, a field a row. What the selected field is, and what the changes "
        "would make of the shot, stand below.",
        (
            "Go up or down to a field; Enter types it.",
            "On a camera a adds a mode, on a lens a pupil row; Tab goes to the next of them, x takes one away.",
            "Press s to save. Until then the shot goes by the old profile; what is not saved is kept, also when you "
            "go back.",
        ),
    ),
    "SaveAsScreen": TaskHelp(
        "Saves the shot under another name, which is its file from then on. The file that it came from stays as it is.",
        (
            "Type a plain name to keep it among your own shots, or a path for a file anywhere else; Enter saves.",
            "Where a file is there already, Enter once more writes over it.",
            "Names that other systems cannot hold are refused, with the reason.",
        ),
    ),
    "SheetScreen": TaskHelp(
        "The shot on paper: all that is set, all answers and all that is to be said. It can be saved as text, as a "
        "drawing to scale, as pages to print, and as templates at true size.",
        (
            "Go down to read on.",
            "Press t for text, d for the drawing, p for pages to print, c for the build list, j for every number.",
            "Press y for templates: parts, rods to set out by, scale rules and the survey cut-out; h says how far from "
            "the eye that is held.",
            "Type the file's name; Enter saves it, and once more writes over a file that is there already.",
        ),
    ),
    "StripScreen": TaskHelp(
        "How much blur passes for sharp is one's own: it is found from markers at known distances, photographed at a "
        "focus and a stop, and looked at as the picture will be. It is kept with the mode of the camera.",
        (
            "Put markers a hundredth of the distance apart about where sharpness should end, near and far.",
            "Press a and give what was used, then the last marker on either side that looks sharp and the first that "
            "does not.",
            "Photograph what is said next, three strips or more; take a doubtful one away by x or do it again.",
            "Press s to store what was found in the mode, and m to let this shot go by it.",
        ),
    ),
    "StandScreen": TaskHelp(
        "Whether the model stands in the wind: its area, weight, foot and ballast, and a pull test for its sway. First "
        "estimates, for the licensed person on set to check.",
        (
            "Go up or down to a field; Enter types it, x leaves it out.",
            "Below stands what it comes to, first of all the gust at which to stop and clear people.",
        ),
    ),
    "StopsScreen": TaskHelp(
        "Every stop of the lens beside the next: what each holds sharp, its contrast, and the light that it needs. "
        "The cursor begins at the one that is set.",
        (
            "Go up or down to a stop: what it gains and loses is said below.",
            "Enter sets it; a gives the stop back to the program.",
        ),
    ),
    "SurveyScreen": TaskHelp(
        "Sizes, distances and heights that cannot be taped, from the picture and an inclinometer. How the "
        "selected field is measured stands under the fields, and below that what they give.",
        (
            "Go up or down to a field; Enter types what was read; x leaves it out.",
            "A reading is of one thing: a begins another, left and right go from one to the next.",
            "A reading keeps the lens, the mode and the place that it was read with; k counts all as read with what "
            "the shot has now.",
            "On a low screen Tab goes on to what the fields give.",
            "Press d to make the distance found the background's, h to make the height found the tie-in height, w to "
            "put the width found on the build list.",
        ),
    ),
    "TakesScreen": TaskHelp(
        "The log of takes: when each was, what was set, whether it was good, and a note. Opening the log logs "
        "nothing; the takes stand on the sheet too.",
        (
            "Press t when a take was made: it is logged with all as it is set now.",
            "Press g to judge the selected take: good, no good, and not judged yet again.",
            "Enter types its note, w what the weather was and m how the model was; x deletes it.",
            "All that was set is stored with the take: n holds it beside now, c on one and then on another holds those "
            "two together, b sets everything as it was. Parts, bench, survey and limits stay as they are.",
        ),
    ),
    "TaskKeysScreen": TaskHelp(
        "All that the task beneath can do, with its keys; its footer may have no room for some.",
        ("Type a few letters of what you want, or go up or down to it; Enter does it.",),
    ),
    "ViewScreen": TaskHelp(
        "What the lens sees at the line-up, to scale, from the same projection as every number.",
        (
            "The box is the frame. Dotted lines are the place, full ones the model as it stands; digits are the tie-in "
            "points, beside them where the model has each.",
            "Wide dots are the horizon, the table's edge, and the frame at the ends of the move.",
        ),
    ),
    "PointsScreen": TaskHelp(
        "Tie-in points, where model and place must meet, and outlines of both, at full size as seen from the camera. "
        "The view shows where each stands in the frame.",
        (
            "Press a for a point: its name, then 14 ft left, 31 ft, or its place in the picture as 0.31, 0.62 or "
            "635 px, 714 px, counted from the left edge and from the bottom.",
            "Tab goes on to the outlines; n begins one, corner after corner, with arc behind the middle of an arc; "
            "o says whether it is of the model or of the place.",
            "h and l step the selected aside or the height, Enter types both, or the name where that is selected; e "
            "and d move the row, x takes it away.",
            "A wide screen has where each is built: to scale, and on the line of sight where the model stands.",
        ),
    ),
    "WaysScreen": TaskHelp(
        "Every way to shoot it with the kit at hand, the best first by what counts in the limits. A way is a camera, "
        "a lens, a ratio and a place; what it trades stands below.",
        (
            "Press l to say what a way may cost and what counts first; o lets vary what the shot has set.",
            "Left and right go to a column and t sorts by it; / keeps the rows that have certain words.",
            "Press n to see which ways fail, and why.",
            "Enter puts the selected way on the board; undo there brings the old one back.",
        ),
    ),
    "WholeScreen": TaskHelp(
        "What stands below a table, with nothing cut: for a screen that has no room for all of it.",
        ("Down reads on.", "Esc goes back to the table."),
    ),
    "WhatToDoScreen": TaskHelp(
        "What to do on set now that the rig has moved, the most important first. It is on the board already; the "
        "state before is saved.",
        (
            "Do what the list says from the top.",
            "Press p, f or s to leave the model, the focus mark or the stop as they are, or to change them after all: "
            "the list is worked out again.",
            "Esc goes back to the board; u undoes it all and goes back to the distances.",
        ),
    ),
}
