"""Text in the columns of a terminal or a printer: what a user wrote made printable, measured and wrapped."""

import unicodedata
from collections.abc import Iterator
from functools import lru_cache

from forescale.engine.units.text import KEPT, words_of

# What a terminal acts upon, but for the end of a line: controls, and what turns the direction of writing about.
_ACTED_UPON = dict.fromkeys((*range(10), *range(11, 32), *range(127, 160), *range(8234, 8239)), "?")
_ACTED_UPON |= dict.fromkeys((8206, 8207, *range(8294, 8298)), "?")


def clean(text: str) -> str:
    """Return a user's text on one line with nothing in it that a terminal or a file format could act upon."""
    return "".join(char if char.isprintable() else "?" for char in " ".join(text.split()))


def powerless(text: str) -> str:
    """Return a text of several lines with nothing in it that a terminal acts upon."""
    return text.translate(_ACTED_UPON)


@lru_cache(maxsize=2048)
def width(text: str) -> int:
    """Return how many columns printable text takes: two for a wide character, none for one that combines."""
    if text.isascii():
        return len(text)
    standing = (c for c in text if not unicodedata.combining(c) and unicodedata.category(c) not in ("Me", "Mn"))
    return sum(2 if unicodedata.east_asian_width(char) in ("W", "F") else 1 for char in standing)


def pad(text: str, columns: int, *, right: bool = False) -> str:
    """Return the text filled with spaces to so many columns, on its left where it is to stand `right`."""
    fill = " " * max(columns - width(text), 0)
    return fill + text if right else text + fill


def wrap(text: str, columns: int) -> list[str]:
    """Return the text in lines of at most so many columns (two or more), none ending between a number and its unit."""
    lines: list[str] = []
    line = ""
    for piece in _pieces(text, columns):
        longer = f"{line} {piece}" if line else piece
        if width(longer) > columns:
            lines.append(line)
            longer = piece
        line = longer
    return [*lines, line] if line else lines


def hung(lead: str, text: str, start: int, columns: int) -> Iterator[str]:
    """Yield a text after its lead, with the lines that follow under its own start."""
    first, *rest = wrap(text, columns - start) or [""]
    yield lead + first
    yield from (" " * start + line for line in rest)


def widest_word(text: str) -> int:
    """Return how many columns the widest part of a text takes that should stay on one line."""
    return max(map(width, words_of(text)))


def _pieces(text: str, columns: int) -> Iterator[str]:
    """Yield the words of a text, each whole or, where no line holds it, in parts, cut where it must be."""
    for word in words_of(text):
        for part in [word] if width(word) <= columns else word.split(KEPT):
            part, piece = part.replace(KEPT, " "), ""
            if width(part) <= columns:
                yield part
                continue
            for char in part:
                if width(piece + char) > columns:
                    yield piece
                    piece = ""
                piece += char
            yield piece
