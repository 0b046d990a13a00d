"""The colours: indoors, in daylight, and on a dark set."""

from __future__ import annotations

from textual.theme import Theme

FORESCALE_THEMES: tuple[Theme, ...] = (
    Theme(
        name="indoors",
        primary="#5fafd7",
        secondary="#87afaf",
        accent="#d7af5f",
        warning="#ffaf00",
        error="#ff5f5f",
        success="#5faf5f",
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
        primary="#b43c28",
        secondary="#8c2d1e",
        accent="#d75f00",
        warning="#ff8700",
        error="#ff3c00",
        success="#af8700",
        foreground="#c83c28",
        background="#000000",
        surface="#000000",
        panel="#1c0000",
        dark=True,
    ),
)
