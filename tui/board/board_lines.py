"""The lines above and below the panes: the shot and its kit, and what matters most now."""

from __future__ import annotations

import re

from forescale.engine.answer import Answer
from forescale.engine.findings.words import Words
from forescale.engine.mends import joined, joined_short
from forescale.engine.units.text import KEPT
from forescale.tui.glyphs import Glyphs, plain
from forescale.tui.runs import Row
from forescale.tui.session import Session
from forescale.tui.wrapped import fitted, wrapped

_CLAUSE_ENDS = re.compile("[:;,] ")


def top_row(session: Session, width: int, glyphs: Glyphs) -> Row:
    """Return the line that names the shot, its kit, and whether it is saved."""
    kit = session.state.kit
    saved = f" {glyphs.unsaved} not saved " if session.unsaved else " built-in " if session.shipped else " saved "
    names = [kit.mode.name, f"{kit.lens.name} at {Words.focal(kit.focal_mm)}" if kit.lens.is_zoom else kit.lens.name]
    if kit.head is not None:
        names.append(kit.head.name)
    title = f" {fitted(f'{session.state.shot.title}  ', max(width - len(saved) - 1, 0), glyphs)}"
    kit_text = fitted(" · ".join(names), max(width - len(title) - len(saved) - 1, 0), glyphs)
    gap = " " * max(width - len(title) - len(kit_text) - len(saved), 0)
    style = "warn" if session.unsaved else "hint"
    return ((title, "title"), (kit_text, "label"), (gap, ""), (saved, style))


def message_rows(message: str, width: int, height: int, glyphs: Glyphs) -> tuple[Row, ...]:
    """Return a message in the lines there are, cut at its end where it must be; nothing for none."""
    return tuple(((f" {line}", "value"),) for line in _lines(message, width - 2, height, glyphs))


def finding_rows(answer: Answer, width: int, height: int, glyphs: Glyphs, *, advised: bool) -> tuple[Row, ...]:
    """Return the gravest finding with its mark, `advised` with what mends it, which takes an answer or two to try."""
    first = answer.findings[0]
    mark = f" {getattr(glyphs, first.level)} "
    room, text, short = width - len(mark) - 1, first.text, first.short
    if advised:
        text, short = joined(answer, first), ""
        if len(wrapped(plain(text, glyphs), room)) > height:
            short = joined_short(answer, first)
    lines = headline(text, short, room, height, glyphs)
    return tuple(
        ((" " * len(mark) if place else mark, first.level), (line, "value")) for place, line in enumerate(lines)
    )


def headline(text: str, short: str, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return a finding in the lines there are: whole, or in short, or up to the last clause that fits."""
    for whole in (text, short):
        lines = wrapped(plain(whole, glyphs), width)
        if whole and len(lines) <= height:
            return lines
    said = plain(short or text, glyphs)
    for end in reversed([*_CLAUSE_ENDS.finditer(said)]):
        lines = wrapped(f"{said[: end.start()]}{KEPT}{plain('…', glyphs)}", width)
        if len(lines) <= height:
            return lines
    return _lines(said, width, height, glyphs)


def _lines(text: str, width: int, height: int, glyphs: Glyphs) -> list[str]:
    lines = wrapped(plain(text, glyphs), width)
    if len(lines) <= height:
        return lines
    return [*lines[: height - 1], fitted(" ".join(lines[height - 1 :]), width, glyphs)]
