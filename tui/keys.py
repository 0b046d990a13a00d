"""Every key of the board, in one place: footer, help, the list of keys and remapping all read it."""

import re
from typing import NamedTuple

from textual.binding import Binding


class Key(NamedTuple):
    """What a key does, by its name in the configuration; with no `key` it is done from the list of all."""

    id: str
    key: str
    action: str
    short: str
    says: str
    group: str

    def binding(self) -> Binding:
        """Return what Textual is told."""
        keys = (self.key or NO_KEY) + {"keys": ",f2", "help": ",question_mark"}.get(self.id, "")
        return Binding(keys, self.action, self.short, id=self.id, tooltip=self.says, show=False)


FOOTER = ("edit", "undo", "moved", "findings", "help", "keys", "quit")
GOES_FIRST = ("findings", "undo", "help", "moved", "edit", "keys")  # where there is no room; the way out stays
NO_KEY = "f24"  # which keyboards have not, and consoles do not send
MOVE, VALUE, TASK, FILE, HELP = "Move about", "Change a value", "Whole tasks", "File", "Help"
GROUPS = (TASK, VALUE, MOVE, FILE, HELP)  # in the order in which they are listed

BOARD_KEYS: tuple[Key, ...] = (
    Key("pane-scale", "1", "pane('scale')", "scale", "go to the Scale pane", MOVE),
    Key("pane-speed", "2", "pane('speed')", "speed", "go to the Speed pane", MOVE),
    Key("pane-focus", "3", "pane('focus')", "focus", "go to the Focus zone pane", MOVE),
    Key("pane-slip", "4", "pane('slip')", "slip", "go to the Slip check pane", MOVE),
    Key("pane-next", "tab", "next_pane(1)", "next", "go to the next pane", MOVE),
    Key("pane-before", "shift+tab", "next_pane(-1)", "before", "go to the pane before", MOVE),
    Key("field-up", "up", "field(-1)", "up", "go to the field above", MOVE),
    Key("field-down", "down", "field(1)", "down", "go to the field below", MOVE),
    Key("field-first", "home", "field(-99)", "first", "go to the first field of the pane", MOVE),
    Key("field-last", "end", "field(99)", "last", "go to the last field of the pane", MOVE),
    Key("page-on", "pagedown", "page(1)", "on", "go on to the answers that have no room on the pane", MOVE),
    Key("page-back", "pageup", "page(-1)", "back", "go back to the fields of the pane", MOVE),
    Key("pane-alone", "z", "alone", "one pane", "show this pane alone, or all four", MOVE),
    Key("less", "left", "step(-1)", "less", "one natural step down", VALUE),
    Key("more", "right", "step(1)", "more", "one natural step up", VALUE),
    Key("much-less", "h", "step(-1, True)", "much less", "a large step down", VALUE),
    Key("much-more", "l", "step(1, True)", "much more", "a large step up", VALUE),
    Key("edit", "enter", "edit", "type", "type a value; Enter takes it, Esc leaves the old one", VALUE),
    Key("auto", "a", "auto", "auto", "give the field back to the program to choose", VALUE),
    Key("mend", "7", "mend", "mend", "do the first remedy of what is said below, or offer another's", VALUE),
    Key("undo", "u", "undo", "undo", "undo the last change", VALUE),
    Key("redo", "r", "redo", "redo", "take the undone change back", VALUE),
    Key("moved", "m", "task('moved')", "moved", "the rig has moved: new tape distances, and what to do", TASK),
    Key("findings", "f", "task('findings')", "findings", "everything that is to be said of the shot", TASK),
    Key("view", "v", "task('view')", "view", "what the lens sees: frame, place, model, points, move", TASK),
    Key("points", "5", "task('points')", "points", "tie-in points and outlines, with the view beside", TASK),
    Key("explain", "e", "task('explain')", "explain", "how the numbers come about, this pane's first", TASK),
    Key("find", "slash", "task('explain', True)", "find", "find a number by any words, and how it comes about", TASK),
    Key("kit", "k", "task('kit')", "kit", "change, make and edit camera, lens and head", TASK),
    Key("bench", "b", "task('bench')", "bench", "find the entrance pupil on the bench", TASK),
    Key("survey", "y", "task('survey')", "survey", "sizes and distances from the picture", TASK),
    Key("line-up", "j", "task('line_up')", "line-up", "line up by the picture: what misses, what to move", TASK),
    Key("day", "6", "task('day')", "day", "sun, light, lamps, what is timed and cued", TASK),
    Key("strips", "", "task('strips')", "strips", "one's own sharpness, from test strips", TASK),
    Key("stops", "c", "task('stops')", "stops", "every stop beside the next: what each gains and loses", TASK),
    Key("parts", "p", "task('parts')", "parts", "build list, stock at hand, a second scale", TASK),
    Key("stand", "", "task('stand')", "stand", "will it stand: wind, weight, ballast, sway", TASK),
    Key("ways", "g", "task('ways')", "ways", "every way to shoot it, ranked", TASK),
    Key("margins", "d", "task('margins')", "tolerances", "how far each value may be off before it shows", TASK),
    Key("marks", "n", "task('marks')", "states", "keep this state under a name, compare, go back", TASK),
    Key("takes", "t", "task('takes')", "takes", "log a take", TASK),
    Key("sheet", "f5", "task('sheet')", "sheet", "see the shot sheet and save it", TASK),
    Key("open", "o", "task('open')", "open", "open another shot, or begin a new one", FILE),
    Key("about", "i", "task('about')", "about", "title, notes and units of the shot", FILE),
    Key("save", "s", "save", "save", "save the shot", FILE),
    Key("save-as", "w", "task('save_as')", "save as", "save the shot under another name", FILE),
    Key("help", "f1", "task('help')", "help", "help for the selected field", HELP),
    Key("keys", "space", "task('keys')", "all", "everything that can be done, narrowed by typing", HELP),
    Key("theme", "f3", "theme", "theme", "the next theme: indoors, daylight, dark set", HELP),
    Key("glyphs", "f4", "glyphs", "glyphs", "the next glyph table: ascii, box, full", HELP),
    Key("quit", "q", "leave", "quit", "leave the program", FILE),
)

# Letters, digits, arrows, Space, slash, Enter, Tab, Esc and F1 to F5: multiplexers and consoles eat the rest.
NAMED_KEYS = ("space", "enter", "tab", "up", "down", "left", "right", "home", "end")
USABLE = re.compile(rf"[a-z0-9]|f[1-5]|slash|pageup|pagedown|shift\+tab|escape|{'|'.join(NAMED_KEYS)}")
SHOWN_KEYS = {"question_mark": "?", "slash": "/", "shift+tab": "Shift+Tab", "escape": "Esc"}
SHOWN_KEYS |= {"pageup": "PgUp", "pagedown": "PgDn"}


def shown(key: str) -> str:
    """Return a key as it is printed on a keyboard, the first where several do the same."""
    key = key.partition(",")[0]
    if key.startswith("f") and key[1:].isdigit():
        return "" if key == NO_KEY else key.upper()
    return key.capitalize() if key in NAMED_KEYS else SHOWN_KEYS.get(key, key)


def footer_text(keys: dict[str, str], width: int) -> str:
    """Return the footer's keys, fewer on a narrow screen; `keys` are the keys in force by id."""
    says = {key.id: f"{shown(keys.get(key.id, key.key))} {key.short}" for key in BOARD_KEYS}
    footers = ("  ".join(says[name] for name in FOOTER if name not in GOES_FIRST[:gone]) for gone in range(len(FOOTER)))
    return next((footer for footer in footers if len(footer) < width), says[FOOTER[-1]])
