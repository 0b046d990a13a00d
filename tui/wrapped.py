"""Sentences in lines of a width, broken between words but never inside a number or between it and its unit."""

from __future__ import annotations

import textwrap

from engine.unbroken import KEPT, words_of


def wrapped(text: str, width: int, lead: str = "") -> list[str]:
    """Return a text after its lead in lines of at most so many columns, all but the first under the text's start."""
    room = width - len(lead)
    whole = " ".join(word if len(word) <= room else word.replace(KEPT, " ") for word in words_of(text))
    lines = textwrap.wrap(whole, width, initial_indent=lead, subsequent_indent=" " * len(lead), break_on_hyphens=False)
    return [line.replace(KEPT, " ") for line in lines]
