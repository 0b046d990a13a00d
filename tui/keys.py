"""Every key of the board, in one place: footer, help, the list of keys and remapping all read it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from textual.binding import Binding


@dataclass(frozen=True, slots=True)
class Key:
    """One thing that a key does. `id` is its name in the configuration; `short` stands in the footer.

    What has no key of its own (`key` is empty) is done from the list of all, until the configuration gives it one.
    """

    id: str
    key: str
    action: str
    short: str
    says: str
    group: str
    wide: bool = False
    narrow: bool = False

    def binding(self) -> Binding:
        """Return what Textual is told."""
        also = {"keys": ",f2", "help": ",question_mark"}.get(self.id, "")
        keys = f"{self.key or NO_KEY}{also}"
        return Binding(keys, self.action, self.short, id=self.id, tooltip=self.says, show=False)


WIDE = 80
NO_KEY = "f24"  # which keyboards have not, and consoles do not send
GROUPS = ("Whole tasks", "Change a value", "Move about", "File", "Help")  # in the order in which they are listed

BOARD_KEYS: tuple[Key, ...] = (
    Key("pane-scale", "1", "pane('scale')", "scale", "go to the Scale pane", "Move about"),
    Key("pane-speed", "2", "pane('speed')", "speed", "go to the Speed pane", "Move about"),
    Key("pane-focus", "3", "pane('focus')", "focus", "go to the Focus zone pane", "Move about"),
    Key("pane-slip", "4", "pane('slip')", "slip", "go to the Slip check pane", "Move about"),
    Key("pane-next", "tab", "next_pane(1)", "next", "go to the next pane", "Move about"),
    Key("pane-before", "shift+tab", "next_pane(-1)", "before", "go to the pane before", "Move about"),
    Key("field-up", "up", "field(-1)", "up", "go to the field above", "Move about"),
    Key("field-down", "down", "field(1)", "down", "go to the field below", "Move about"),
    Key("pane-alone", "z", "alone", "one pane", "show this pane alone, or all four", "Move about"),
    Key("less", "left", "step(-1)", "less", "one natural step down", "Change a value"),
    Key("more", "right", "step(1)", "more", "one natural step up", "Change a value"),
    Key("much-less", "h", "step(-1, True)", "much less", "a large step down", "Change a value"),
    Key("much-more", "l", "step(1, True)", "much more", "a large step up", "Change a value"),
    Key(
        "edit",
        "enter",
        "edit",
        "type",
        "type a value; Enter takes it, Esc leaves the old one",
        "Change a value",
        True,
        True,
    ),
    Key("auto", "a", "auto", "auto", "give the field back to the program to choose", "Change a value"),
    Key("undo", "u", "undo", "undo", "undo the last change", "Change a value", True),
    Key("redo", "r", "redo", "redo", "take the undone change back", "Change a value"),
    Key(
        "moved",
        "m",
        "task('moved')",
        "moved",
        "the rig has moved: new tape distances, and what to do",
        "Whole tasks",
        True,
        True,
    ),
    Key(
        "findings",
        "f",
        "task('findings')",
        "findings",
        "everything that is to be said of the shot",
        "Whole tasks",
        True,
    ),
    Key("view", "v", "task('view')", "view", "what the lens sees: frame, place, model, points, move", "Whole tasks"),
    Key("points", "5", "task('points')", "points", "tie-in points and outlines, with the view beside", "Whole tasks"),
    Key("explain", "e", "task('explain')", "explain", "how the numbers of this pane come about", "Whole tasks"),
    Key("kit", "k", "task('kit')", "kit", "change, make and edit camera, lens and head", "Whole tasks"),
    Key("bench", "b", "task('bench')", "bench", "find the entrance pupil on the bench", "Whole tasks"),
    Key("survey", "y", "task('survey')", "survey", "sizes and distances from the picture", "Whole tasks"),
    Key(
        "line-up", "j", "task('line_up')", "line-up", "line up by the picture: what misses, what to move", "Whole tasks"
    ),
    Key("day", "6", "task('day')", "day", "sun, light, lamps, what is timed and cued", "Whole tasks"),
    Key("strips", "", "task('strips')", "strips", "one's own sharpness, from test strips", "Whole tasks"),
    Key("stops", "c", "task('stops')", "stops", "every stop beside the next: what each gains and loses", "Whole tasks"),
    Key("parts", "p", "task('parts')", "parts", "build list, stock at hand, a second scale", "Whole tasks"),
    Key("ways", "g", "task('ways')", "ways", "every way to shoot it, ranked", "Whole tasks"),
    Key(
        "margins", "d", "task('margins')", "tolerances", "how far each value may be off before it shows", "Whole tasks"
    ),
    Key("marks", "n", "task('marks')", "states", "keep this state under a name, compare, go back", "Whole tasks"),
    Key("takes", "t", "task('takes')", "takes", "log a take", "Whole tasks"),
    Key("sheet", "f5", "task('sheet')", "sheet", "see the shot sheet and save it", "Whole tasks"),
    Key("open", "o", "task('open')", "open", "open another shot, or begin a new one", "File"),
    Key("about", "i", "task('about')", "about", "title, notes and units of the shot", "File"),
    Key("save", "s", "save", "save", "save the shot", "File"),
    Key("save-as", "w", "task('save_as')", "save as", "save the shot under another name", "File"),
    Key("help", "f1", "task('help')", "help", "help for the selected field", "Help", True),
    Key("keys", "space", "task('keys')", "all", "everything that can be done, narrowed by typing", "Help", True, True),
    Key("theme", "f3", "theme", "theme", "the next theme: indoors, daylight, dark set", "Help"),
    Key("glyphs", "f4", "glyphs", "glyphs", "the next glyph table: ascii, box, full", "Help"),
    Key("quit", "q", "leave", "quit", "leave the program", "File", True, True),
)

# Letters, digits, arrows, Space, Enter, Tab, Esc and F1 to F5: multiplexers and consoles eat the rest.
USABLE = re.compile(r"[a-z0-9]|f[1-5]|space|up|down|left|right|enter|tab|shift\+tab|escape")
SHOWN_KEYS = {
    "space": "Space",
    "question_mark": "?",
    "slash": "/",
    "enter": "Enter",
    "tab": "Tab",
    "shift+tab": "Shift+Tab",
    "escape": "Esc",
    "up": "Up",
    "down": "Down",
}


def shown(key: str) -> str:
    """Return a key as it is printed on a keyboard, the first where several do the same."""
    key = key.partition(",")[0]
    if key.startswith("f") and key[1:].isdigit():
        return key.upper()
    return SHOWN_KEYS.get(key, key)


def footer_text(keys: dict[str, str], width: int) -> str:
    """Return the footer's five to seven keys, fewer on a narrow screen; `keys` are the keys in force by id."""
    chosen = [key for key in BOARD_KEYS if (key.wide if width >= WIDE else key.narrow)]
    parts = [f"{shown(keys.get(key.id, key.key))} {key.short}" for key in chosen]
    return "  ".join(parts)
