"""The lines above and below the panes: the shot and its kit, and what matters most now."""

from __future__ import annotations

import textwrap

from engine.answer import Answer
from tui.glyphs import Glyphs, plain
from tui.runs import Row, clipped
from tui.session import Session


def top_row(session: Session, width: int, glyphs: Glyphs) -> Row:
    """Return the line that names the shot, its kit, and whether it is saved."""
    kit = session.state.kit
    saved = f" {glyphs.unsaved} not saved " if session.unsaved else " shipped " if session.shipped else " saved "
    names = [kit.mode.name, f"{kit.lens.name} at {kit.focal_mm:g} mm" if kit.lens.is_zoom else kit.lens.name]
    if kit.head is not None:
        names.append(kit.head.name)
    title = fitted(f" {session.state.shot.title}  ", max(width - len(saved), 0), glyphs)
    kit_text = fitted(" · ".join(names), max(width - len(title) - len(saved) - 1, 0), glyphs)
    gap = " " * max(width - len(title) - len(kit_text) - len(saved), 0)
    style = "warn" if session.unsaved else "hint"
    return ((title, "title"), (kit_text, "label"), (gap, ""), (saved, style))


def message_rows(message: str, width: int, height: int, glyphs: Glyphs) -> tuple[Row, ...]:
    """Return a message in the lines there are, cut at its end where it must be; nothing for none."""
    lines = textwrap.wrap(plain(message, glyphs), width - 2)
    if len(lines) > height:
        lines = [*lines[: height - 1], fitted(" ".join(lines[height - 1 :]), width - 2, glyphs)]
    return tuple(((f" {line}", "value"),) for line in lines)


def finding_rows(answer: Answer, width: int, height: int, glyphs: Glyphs) -> tuple[Row, ...]:
    """Return the gravest finding with its mark."""
    first = answer.findings[0]
    mark = f" {getattr(glyphs, first.level)} "
    lines = headline(first.text, first.short, width - len(mark) - 1, height, glyphs)
    head: Row = ((mark, first.level), (lines[0], "value"))
    return (head, *(((" " * len(mark) + line, "value"),) for line in lines[1:]))


def fitted(text: str, width: int, glyphs: Glyphs) -> str:
    """Return text in the table's glyphs, cut between words to a width."""
    shown = plain(text, glyphs)
    return shown if len(shown) <= width else plain(clipped(text, max(width - 2, 0)), glyphs)


def headline(text: str, short: str, width: int, height: int, glyphs: Glyphs) -> list[str]:
    """Return a finding in the lines there are: whole, or in short, or up to the last clause that fits."""
    for whole in (text, short):
        lines = textwrap.wrap(plain(whole, glyphs), width)
        if whole and len(lines) <= height:
            return lines
    for end in (": ", "; ", ", "):
        lines = textwrap.wrap(plain(f"{(short or text).split(end, 1)[0]} …", glyphs), width)
        if len(lines) <= height:
            return lines
    return [*lines[: height - 1], fitted(" ".join(lines[height - 1 :]), width, glyphs)]
