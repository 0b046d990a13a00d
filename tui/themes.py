"""The colours indoors, in daylight, and on a dark set, where letters are red and the verdicts are brightest."""

from typing import Any

from textual.theme import Theme

_NAMES = ("indoors", "daylight", "dark-set")
_TINTS = {  # of each theme in turn
    "primary": ("#5fafd7", "#000087", "#e5694f"),
    "secondary": ("#87afaf", "#303030", "#d9553f"),
    "accent": ("#d7af5f", "#000000", "#ff8a3c"),
    "warning": ("#ffaf00", "#870000", "#ffb866"),
    "error": ("#ff8787", "#af0000", "#ffd9b0"),
    "success": ("#5fbf5f", "#005f00", "#ff9a4d"),
    "foreground": ("#d0d0d0", "#000000", "#ff7a5c"),
    "background": ("#121212", "#ffffff", "#000000"),
    "surface": ("#1c1c1c", "#ffffff", "#000000"),
    "panel": ("#303030", "#d0d0d0", "#1c0000"),
}
COLOURS: dict[str, Any] = {name: {role: tints[at] for role, tints in _TINTS.items()} for at, name in enumerate(_NAMES)}
FORESCALE_THEMES = tuple(Theme(name, dark=name != "daylight", **colours) for name, colours in COLOURS.items())
