"""Text in the columns of a terminal or a printer: what a user wrote made printable, measured and wrapped."""

from __future__ import annotations

import unicodedata


def clean(text: str) -> str:
    """Return a user's text on one line with nothing in it that a terminal or a file format could act upon."""
    return "".join(char if char.isprintable() else "?" for char in " ".join(text.split()))


def width(text: str) -> int:
    """Return how many columns printable text takes: two for a wide character, none for one that combines."""
    if text.isascii():
        return len(text)
    return sum(_width(char) for char in text)


def _width(char: str) -> int:
    if unicodedata.combining(char) or unicodedata.category(char) in {"Me", "Mn"}:
        return 0
    return 2 if unicodedata.east_asian_width(char) in {"W", "F"} else 1


def pad(text: str, columns: int, *, right: bool = False) -> str:
    """Return the text filled with spaces to so many columns, on its left where it is to stand `right`."""
    fill = " " * max(columns - width(text), 0)
    return fill + text if right else text + fill


def wrap(text: str, columns: int) -> list[str]:
    """Return the text in lines of at most so many columns (two or more), broken at spaces where it can be.

    Nothing gives no line.
    """
    lines: list[str] = []
    line = ""
    for word in text.split():
        for piece in _pieces(word, columns):
            longer = f"{line} {piece}" if line else piece
            if width(longer) > columns:
                lines.append(line)
                longer = piece
            line = longer
    return [*lines, line] if line else lines


def _pieces(word: str, columns: int) -> list[str]:
    """Return a word whole, or cut where it is wider than a line."""
    if width(word) <= columns:
        return [word]
    pieces = [""]
    for char in word:
        if width(pieces[-1] + char) > columns:
            pieces.append("")
        pieces[-1] += char
    return pieces
