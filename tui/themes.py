"""The colours: indoors, in daylight, and on a dark set.

On a dark set areas are dark and letters are red, which leaves the eyes used to the dark; the verdicts are brightest.
"""

from __future__ import annotations

from textual.theme import Theme

FORESCALE_THEMES: tuple[Theme, ...] = (
    Theme(
        name="indoors",
        primary="#5fafd7",
        secondary="#87afaf",
        accent="#d7af5f",
        warning="#ffaf00",
        error="#ff8787",
        success="#5fbf5f",
        foreground="#d0d0d0",
        background="#121212",
        surface="#1c1c1c",
        panel="#303030",
        dark=True,
    ),
    Theme(
        name="daylight",
        primary="#000087",
        secondary="#303030",
        accent="#000000",
        warning="#870000",
        error="#af0000",
        success="#005f00",
        foreground="#000000",
        background="#ffffff",
        surface="#ffffff",
        panel="#d0d0d0",
        dark=False,
    ),
    Theme(
        name="dark-set",
        primary="#e5694f",
        secondary="#d9553f",
        accent="#ff8a3c",
        warning="#ffb866",
        error="#ffd9b0",
        success="#ff9a4d",
        foreground="#ff7a5c",
        background="#000000",
        surface="#000000",
        panel="#1c0000",
        dark=True,
    ),
)
