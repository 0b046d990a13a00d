"""Sentences in lines of a width, broken between words but never inside a number or between it and its unit."""

from functools import lru_cache

from forescale.engine.sheet.cells import width as columns_of
from forescale.engine.sheet.cells import wrap
from forescale.tui.glyphs import Glyphs, plain


def wrapped(text: str, width: int, lead: str = "") -> list[str]:
    """Return a text after its lead in lines of at most so many columns, all but the first under the text's start."""
    before = columns_of(lead)
    lines = _wrapped(text, max(width - before, 1))
    return [f"{' ' * before if place else lead}{line}" for place, line in enumerate(lines)]


@lru_cache(maxsize=4096)  # most sentences of the board are the same after a step as before it
def _wrapped(text: str, width: int) -> tuple[str, ...]:
    return tuple(wrap(text, width))


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
    if cut.count("(") > cut.count(")"):  # what is begun in brackets is not cut within them
        cut = cut[: cut.rindex("(")]
    return f"{cut.rstrip(' ,;:·')} {end}" if cut else end
