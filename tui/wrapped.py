"""Sentences in lines of a width, broken between words but never inside a number or between it and its unit."""

from __future__ import annotations

import textwrap

from forescale.engine.units.line_breaks import KEPT, words_of
from forescale.tui.glyphs import Glyphs, plain


def wrapped(text: str, width: int, lead: str = "") -> list[str]:
    """Return a text after its lead in lines of at most so many columns, all but the first under the text's start.

    A window too narrow for any word gets a letter a line.
    """
    width = max(width, len(lead) + 1)
    room = width - len(lead)
    whole = " ".join(word if len(word) <= room else word.replace(KEPT, " ") for word in words_of(text))
    lines = textwrap.wrap(whole, width, initial_indent=lead, subsequent_indent=" " * len(lead), break_on_hyphens=False)
    return [line.replace(KEPT, " ") for line in lines]


def fitted(text: str, width: int, glyphs: Glyphs) -> str:
    """Return text in the table's glyphs, cut between words to a width, but never within a length."""
    shown, end = plain(text, glyphs), plain("…", glyphs)
    if len(shown) <= width:
        return shown
    room = width - len(end) - 1
    if room <= 0:
        return ""
    cut = wrapped(shown, room)[0]
    if not shown.removeprefix(cut).startswith(" "):  # what must not be broken is longer than the room
        cut = cut.rpartition(" ")[0]
    return f"{cut.rstrip(' ,;:·')} {end}" if cut else end
