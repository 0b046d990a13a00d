"""What a terminal can show: ASCII, what the Linux console's one font has, or all; and sentences in lines of a width."""

import re
import unicodedata
from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from forescale.engine.sheet.cells import width as columns_of
from forescale.engine.sheet.cells import wrap


class _Table(NamedTuple):
    """One table; beside each glyph stand its signs in all three: one column wide but `break_mark`, which is two."""

    name: str  # and from here on: ascii box full
    horizontal: str = "- ─ ─"
    vertical: str = "| │ │"
    top_left: str = "+ ┌ ┌"
    top_right: str = "+ ┐ ┐"
    bottom_left: str = "+ └ └"
    bottom_right: str = "+ ┘ ┘"
    tee_left: str = "+ ┤ ┤"
    tee_down: str = "+ ┬ ┬"
    tee_up: str = "+ ┴ ┴"
    cross: str = "+ ┼ ┼"
    heavy: str = "= ═ ═"
    dot: str = ". · ·"
    shade_light: str = ": ░ ░"
    shade: str = "% ▒ ▒"
    solid: str = "# █ █"
    right: str = "> → →"
    up: str = "^ ↑ ↑"
    down: str = ": ↓ ↓"
    ok: str = "+ + ✓"
    note: str = "- · •"
    warn: str = "! ! ▲"
    stop: str = "X X ✗"
    unsaved: str = "* * ●"
    pointer: str = "> » ▸"
    point: str = "* ■ ●"
    other_point: str = "o o ○"
    break_mark: str = "// // //"


class Glyphs(_Table):
    """A table with the lettering, which is the same in every drawing."""

    lens, model, nearest, focus, background, farthest, axis, pupil, slide, zero, ideal, rate = "LMNFBEAPSZIR"


GLYPHS: dict[str, Glyphs] = {
    name: Glyphs(name, *(signs.split()[at] for signs in _Table._field_defaults.values()))
    for at, name in enumerate(("ascii", "box", "full"))
}
ASCII, BOX, FULL = GLYPHS.values()

_PRINTABLE_ASCII = frozenset(map(chr, range(0x20, 0x7F)))
# Accented letters count as safe: a font that lacks one shows its plain letter.
_LATIN_LETTERS = frozenset(map(chr, range(0xC0, 0x100)))
SAFE_ON_CONSOLE: frozenset[str] = _PRINTABLE_ASCII | _LATIN_LETTERS | frozenset("─│┌┐└┘├┤┬┴┼═░▒█■←↑→↓°±²½¼·µ×÷«»£")

_DUMB_TERMINALS = frozenset({"dumb", "unknown", "vt100", "vt102", "vt220", "vt320"})


def choose(name: str | None, environ: Mapping[str, str], encoding: str) -> Glyphs:
    """Return the table `name`, or the one that suits TERM, locale and encoding."""
    if name is not None:
        return GLYPHS[name]
    term = environ.get("TERM", "")
    # Where no locale is set the output's encoding alone decides.
    locale = next((environ[name] for name in ("LC_ALL", "LC_CTYPE", "LANG") if environ.get(name)), encoding)
    told = (encoding, locale.partition(".")[2].partition("@")[0] or locale)
    if term in _DUMB_TERMINALS or any(re.sub("[-_]", "", each.lower()) != "utf8" for each in told):
        return ASCII
    return BOX if term == "linux" else FULL


_NOT_ON_CONSOLE = {
    "–": "-", "—": "-", "−": "-", "‘": "'", "’": "'", "“": '"', "”": '"', "…": "...", "√": "sqrt ", "∞": "infinity",
    "λ": "lambda", "≈": "~", "≤": "<=", "≥": ">=", "¾": "3/4", "³": "^3", "•": "-", "\u00a0": " ",
}  # fmt: skip
_NOT_IN_ASCII = _NOT_ON_CONSOLE | {
    "×": "x", "÷": "/", "°": " deg", "±": "+/-", "²": "^2", "½": "1/2", "¼": "1/4", "·": ".", "µ": "u", "«": "<<",
    "»": ">>", "£": "GBP ", "ß": "ss", "æ": "ae", "Æ": "Ae", "ø": "o", "Ø": "O", "←": "<-", "→": "->", "↑": "^",
    "↓": "v",
}  # fmt: skip
_STAND_INS = {"ascii": _NOT_IN_ASCII, "box": _NOT_ON_CONSOLE}
_SHOWN = {"ascii": _PRINTABLE_ASCII | {"\n"}, "box": SAFE_ON_CONSOLE | {"\n"}}
_BREAKS = frozenset("\n\u00a0")
_MIXED_FRACTION = re.compile(r"(?<=\d)(?=[½¼¾])")


def plain(text: str, glyphs: Glyphs) -> str:
    """Return text with what a table cannot show spelt out, 1½ as 1 1/2, "?" for what has no stand-in or would act."""
    if not text.isprintable():
        text = "".join(char if char.isprintable() or char in _BREAKS else "?" for char in text)
    if glyphs.name not in _STAND_INS or text.isascii():
        return text
    stand_ins, shown = _STAND_INS[glyphs.name], _SHOWN[glyphs.name]
    apart = _MIXED_FRACTION.sub(" ", text)
    return "".join(stand_ins.get(char) or _nearest_letter(char, shown) for char in apart)


def _nearest_letter(char: str, shown: frozenset[str]) -> str:
    letters = [part for part in (char, *unicodedata.normalize("NFKD", char)) if part in shown]
    return char if char in shown else "".join(letters) or "?"


# In lines of a width, broken between words but never inside a number or between it and its unit


def wrapped(text: str, width: int, lead: str = "") -> list[str]:
    """Return a text after its lead in lines of at most so many columns, all but the first under the text's start."""
    before = columns_of(lead)
    lines = _wrapped(text, max(width - before, 1))
    return [f"{' ' * before if place else lead}{line}" for place, line in enumerate(lines)]


@lru_cache(maxsize=1024)  # most sentences of the board are the same after a step as before it
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


def in_lines(text: str, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return text in the table's glyphs, in at most so many lines, cut at its end where it must be."""
    lines = wrapped(plain(text, glyphs), width)
    if len(lines) <= height:
        return lines
    return [*lines[: height - 1], fitted(" ".join(lines[height - 1 :]), width, glyphs)]
